import type { Catalog, Upkeep } from '../catalog/index.ts';
import { setUpUnits } from './set-ups.ts';

/** What the working order is made from. */
export interface OrderedJob {
  readonly upkeep: Upkeep;
  readonly place: string;
  readonly minutes: number;
  readonly setups: readonly string[];
  /** Wheels it is done at, by place; its own place unless said. */
  readonly wheels?: readonly string[];
}

/**
 * The jobs of one day in working order: what must come first comes first, then whatever needs the fewest set-ups that do not stand
 * yet, so that each is made once and used up before the next. With the minute at which each ends.
 *
 * A precedence that cannot be kept (two jobs that each want to come after the other cannot load from the catalog) throws.
 */
export function workOrder<J extends OrderedJob>(
  jobs: readonly J[],
  catalog: Catalog,
): { readonly job: J; readonly endsAtMinute: number }[] {
  const left = [...jobs];
  const standing = new Set<string>();
  const unitsOf = (job: J) => setUpUnits(catalog, job.setups, job.wheels ?? [job.place]);
  const ordered: { job: J; endsAtMinute: number }[] = [];
  let minute = 0;
  const waiting = (job: J): boolean =>
    left.some((other) => other !== job && job.upkeep.goesAfter.includes(other.upkeep.id));
  while (left.length) {
    const ready = left.filter((job) => !waiting(job));
    if (ready.length === 0) throw new Error(`jobs wait for each other: ${left.map((job) => job.upkeep.id).join(', ')}`);
    const missing = (job: J): number => unitsOf(job).filter(({ key }) => !standing.has(key)).length;
    const shared = (job: J): number => unitsOf(job).filter(({ key }) => standing.has(key)).length;
    const next = ready.reduce((best, job) => {
      const by =
        missing(job) - missing(best) ||
        shared(best) - shared(job) ||
        job.upkeep.id.localeCompare(best.upkeep.id) ||
        job.place.localeCompare(best.place);
      return by < 0 ? job : best;
    });
    for (const { key, minutes } of unitsOf(next)) {
      if (standing.has(key)) continue;
      standing.add(key);
      minute += minutes;
    }
    minute += next.minutes;
    ordered.push({ job: next, endsAtMinute: minute });
    left.splice(left.indexOf(next), 1);
  }
  return ordered;
}
