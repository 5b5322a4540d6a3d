import type { Catalog, Upkeep } from './types.ts';

/** Upkeeps of the spring opening or the autumn lay-up, in working order. */
export function seasonUpkeeps(catalog: Catalog, season: 'spring' | 'autumn'): Upkeep[] {
  return [...catalog.upkeeps.values()]
    .filter((upkeep) => upkeep.seasonOrder?.[season] !== undefined)
    .sort((a, b) => a.seasonOrder![season]! - b.seasonOrder![season]!);
}
