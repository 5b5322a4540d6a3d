import type {
  Catalog,
  HazardCaution,
  KitItem,
  Limit,
  Mishap,
  PartKind,
  PlausibleRange,
  RigFact,
  SetUp,
  Source,
  Upkeep,
} from './types.ts';

/** A checked catalog as plain lists, to be put down as JSON and read again without its schema. */
export interface CatalogLists {
  readonly sources: readonly Source[];
  readonly partKinds: readonly PartKind[];
  readonly setups: readonly SetUp[];
  readonly upkeeps: readonly Upkeep[];
  readonly mishaps: readonly Mishap[];
  readonly kit: readonly KitItem[];
  readonly rigFacts: readonly RigFact[];
  readonly ranges: readonly PlausibleRange[];
  readonly limits: readonly Limit[];
  readonly hazards: readonly HazardCaution[];
}

/** The lists of a catalog as it ships: without an owner's changes for single parts. */
export function listsOf(catalog: Catalog): CatalogLists {
  return {
    sources: [...catalog.sources.values()],
    partKinds: [...catalog.partKinds.values()],
    setups: [...catalog.setups.values()],
    upkeeps: [...catalog.upkeeps.values()],
    mishaps: [...catalog.mishaps.values()],
    kit: [...catalog.kit.values()],
    rigFacts: [...(catalog.rigFacts?.values() ?? [])],
    ranges: [...(catalog.ranges?.values() ?? [])],
    limits: [...catalog.limits.values()],
    hazards: [...catalog.hazards.values()],
  };
}

const byId = <T extends { readonly id: string }>(items: readonly T[]): Map<string, T> =>
  new Map(items.map((item) => [item.id, item]));

/** The catalog of its lists. They are taken as checked: `loadCatalog` made them. */
export function catalogOfLists(lists: CatalogLists): Catalog {
  const upkeepsOf = new Map<string, Upkeep[]>(lists.partKinds.map((kind) => [kind.id, []]));
  for (const upkeep of lists.upkeeps) upkeepsOf.get(upkeep.part)?.push(upkeep);
  return {
    sources: byId(lists.sources),
    partKinds: byId(lists.partKinds),
    setups: byId(lists.setups),
    upkeeps: byId(lists.upkeeps),
    upkeepsOf,
    mishaps: byId(lists.mishaps),
    kit: byId(lists.kit),
    rigFacts: byId(lists.rigFacts),
    ranges: byId(lists.ranges),
    limits: byId(lists.limits),
    hazards: new Map(lists.hazards.map((hazard) => [hazard.id, hazard])),
  };
}
