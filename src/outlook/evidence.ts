import { type Catalog, type Upkeep, upkeepsOfPart } from '../catalog/index.ts';
import { dayNumber, isPlainDate, monthRange } from '../dates/index.ts';
import type { Entry, OdometerTrack, PartState, ReadingFact, WorkFact } from '../logbook/index.ts';
import { totalMilesAt } from '../logbook/index.ts';

/** When an upkeep was last done on a part, and where the odometer stood. */
export interface LastDone {
  readonly on: string;
  readonly day: number;
  readonly outcome: 'good' | 'failed';
  /** How it counts as done: by work, or because the part was fitted new. */
  readonly how: 'work' | 'fitted new';
  readonly entry: Entry;
  /** Total miles then; null where no odometer is known. `exact` is false where it had to be read off between two readings. */
  readonly miles: { readonly total: number; readonly exact: boolean; readonly entry: Entry } | null;
}

const older = (a: { readonly on: string; readonly entry: Entry }, b: { readonly on: string; readonly entry: Entry }) =>
  a.on < b.on ? -1 : a.on > b.on ? 1 : a.entry.id < b.entry.id ? -1 : 1;

/** What was written of the part that is on the rig now, not of the one it replaced earlier on the same day. */
function ofThisOne({ fit }: PartState, fact: { readonly on: string; readonly entry: Entry }): boolean {
  return !fit.body.isNew || fact.on > fit.on || fact.entry.id >= fit.id;
}

/** Work that counts for `upkeep` on a part: its own, and that of upkeeps that cover it. Oldest first. */
export function workFor(part: PartState, upkeep: Upkeep, catalog: Catalog): readonly WorkFact[] {
  const found: WorkFact[] = [];
  const take = (id: string): void => {
    for (const work of part.work.get(id) ?? []) if (ofThisOne(part, work)) found.push(work);
  };
  take(upkeep.id);
  for (const other of upkeepsOfPart(catalog, part.kind, part.id)) if (other.covers.includes(upkeep.id)) take(other.id);
  return found.some((work, i) => i > 0 && older(found[i - 1]!, work) > 0) ? found.sort(older) : found;
}

/** Readings of one kind taken on the part that is on the rig now. Oldest first. */
export function readingsOf(part: PartState, what: string): readonly ReadingFact[] {
  return (part.readings.get(what) ?? []).filter((reading) => ofThisOne(part, reading));
}

/** The last time an upkeep was done, or the part was fitted new; undefined where neither is on record. */
export function lastDone(
  part: PartState,
  upkeep: Upkeep,
  catalog: Catalog,
  track: OdometerTrack,
): LastDone | undefined {
  const last = workFor(part, upkeep, catalog).at(-1);
  if (last) {
    const { on, outcome, entry } = last;
    return { on, day: dayNumber(on), outcome, how: 'work', entry, miles: milesAt(track, entry) };
  }
  if (!part.fit.body.isNew) return undefined;
  const { fit } = part;
  return {
    on: fit.on,
    day: dayNumber(fit.on),
    outcome: 'good',
    how: 'fitted new',
    entry: fit,
    miles: milesAt(track, fit),
  };
}

function milesAt(track: OdometerTrack, entry: Entry): LastDone['miles'] {
  const at = totalMilesAt(track, dayNumber(entry.on), entry);
  return at ? { total: at.miles, exact: at.exact, entry: at.entry } : null;
}

/** First and last day that a label's date can mean: `2019` is any day of that year. */
export function labelRange(text: string): { readonly from: number; readonly to: number } {
  if (isPlainDate(text)) return { from: dayNumber(text), to: dayNumber(text) };
  // A day that its month has not is still that month.
  const range = monthRange(text.slice(0, 7));
  if (range.ok) return { from: dayNumber(range.value.from), to: dayNumber(range.value.to) };
  const year = text.slice(0, 4);
  return { from: dayNumber(`${year}-01-01`), to: dayNumber(`${year}-12-31`) };
}

/** The newest date on record until which this part is good for this upkeep: from a label, a stamp, a paper, or the work itself. */
export function goodThrough(
  part: PartState,
  upkeep: Upkeep,
  catalog: Catalog,
): { readonly label: string; readonly entry: Entry } | undefined {
  const found: { label: string; on: string; entry: Entry }[] = [];
  const put = (label: string, entry: Entry): void => void found.push({ label, on: entry.on, entry });
  if (part.fit.body.goodThrough) put(part.fit.body.goodThrough, part.fit);
  if (part.paper) put(part.paper.body.goodThrough, part.paper);
  for (const work of workFor(part, upkeep, catalog)) {
    if (work.goodThrough && work.outcome === 'good') put(work.goodThrough, work.entry);
  }
  return found.sort(older).at(-1);
}
