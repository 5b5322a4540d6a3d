import lists from 'virtual:catalog';
import type { Catalog, Upkeep } from '../../catalog/index.ts';

function byId<T extends { readonly id: string }>(items: readonly T[] = []): Map<string, T> {
  return new Map(items.map((item) => [item.id, item]));
}

/** The catalog as the build checked it, keyed again. */
export function shippedCatalog(): Catalog {
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
  };
}
