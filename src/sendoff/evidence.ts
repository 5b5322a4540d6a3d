import type { Upkeep } from '../catalog/index.ts';
import type { PartState, WorkFact } from '../logbook/index.ts';
import type { Context } from './context.ts';

interface Dated {
  readonly on: string;
  readonly entry: { readonly id: string };
}

/** Whether `a` is the newer word: of a later day, or written later on the same. */
export const isNewer = (a: Dated, b: Dated): boolean => a.on > b.on || (a.on === b.on && a.entry.id > b.entry.id);

/** The newest good work on a part that counts for an upkeep: its own, or that of an upkeep that covers it. */
export function lastGood({ catalog }: Pick<Context, 'catalog'>, part: PartState, upkeep: Upkeep): WorkFact | null {
  return (catalog.upkeepsOf.get(part.kind) ?? [])
    .filter((other) => other.id === upkeep.id || other.covers.includes(upkeep.id))
    .flatMap((other) => part.work.get(other.id) ?? [])
    .filter((work) => work.outcome === 'good')
    .reduce<WorkFact | null>((last, work) => (last === null || isNewer(work, last) ? work : last), null);
}
