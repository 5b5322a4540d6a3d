import type { Path } from './document.ts';
import type {
  Catalog,
  Hazard,
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

/** Something read but not yet checked against the rest, and where it stands. */
export interface Item<T> {
  readonly value: T;
  /** `file:line` of a field inside it. */
  readonly where: (...path: Path) => string;
}

/** Everything read, before the references are checked. */
export interface Draft {
  readonly sources: Map<string, Item<Source>>;
  readonly parts: Map<string, Item<PartKind>>;
  readonly setups: Map<string, Item<SetUp>>;
  readonly upkeeps: Map<string, Item<Upkeep>>;
  readonly mishaps: Map<string, Item<Mishap>>;
  readonly kit: Map<string, Item<KitItem>>;
  readonly rigFacts: Map<string, Item<RigFact>>;
  readonly ranges: Map<string, Item<PlausibleRange>>;
  readonly limits: Map<string, Item<Limit>>;
  readonly hazards: Map<Hazard, Item<HazardCaution>>;
  /** `section/id` of items that failed their own check: known by name, so that one mistake is not told twice. */
  readonly broken: Set<string>;
}

export function emptyDraft(): Draft {
  return {
    sources: new Map(),
    parts: new Map(),
    setups: new Map(),
    upkeeps: new Map(),
    mishaps: new Map(),
    kit: new Map(),
    rigFacts: new Map(),
    ranges: new Map(),
    limits: new Map(),
    hazards: new Map(),
    broken: new Set(),
  };
}

function values<K extends string, T>(items: ReadonlyMap<K, Item<T>>): Map<K, T> {
  return new Map([...items].map(([id, item]) => [id, item.value]));
}

/** The catalog of a draft whose references hold. */
export function catalogOf(draft: Draft): Catalog {
  const upkeepsOf = new Map<string, Upkeep[]>([...draft.parts.keys()].map((part) => [part, []]));
  for (const { value } of draft.upkeeps.values()) upkeepsOf.get(value.part)?.push(value);
  return {
    sources: values(draft.sources),
    partKinds: values(draft.parts),
    setups: values(draft.setups),
    upkeeps: values(draft.upkeeps),
    upkeepsOf,
    mishaps: values(draft.mishaps),
    kit: values(draft.kit),
    rigFacts: values(draft.rigFacts),
    ranges: values(draft.ranges),
    limits: values(draft.limits),
    hazards: values(draft.hazards),
  };
}

/** A draft again, for adding the owner's own things to a catalog and checking the whole. */
export function draftOf(catalog: Catalog): Draft {
  const items = <K extends string, T>(map: ReadonlyMap<K, T>, section: string) =>
    new Map([...map].map(([id, value]) => [id, { value, where: () => `catalog ${section} ${id}` }]));
  return {
    sources: items(catalog.sources, 'source'),
    parts: items(catalog.partKinds, 'part'),
    setups: items(catalog.setups, 'set-up'),
    upkeeps: items(catalog.upkeeps, 'upkeep'),
    mishaps: items(catalog.mishaps, 'mishap'),
    kit: items(catalog.kit, 'kit item'),
    rigFacts: items(catalog.rigFacts ?? new Map(), 'rig fact'),
    ranges: items(catalog.ranges ?? new Map(), 'range'),
    limits: items(catalog.limits, 'limit'),
    hazards: items(catalog.hazards, 'hazard'),
    broken: new Set(),
  };
}
