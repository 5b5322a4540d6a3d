import type { Catalog, Upkeep } from '../catalog/index.ts';
import { dayNumber, monthRange } from '../dates/index.ts';
import type { Entry, OdometerTrack, PartState, WorkFact } from '../logbook/index.ts';
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
  readonly goodThrough?: string;
}

/** Work that counts for `upkeep` on a part: its own, and that of upkeeps that cover it. Oldest first. */
export function workFor(part: PartState, upkeep: Upkeep, catalog: Catalog): readonly WorkFact[] {
  const own = part.work.get(upkeep.id) ?? [];
  const covering = (catalog.upkeepsOf.get(part.kind) ?? []).filter((other) => other.covers.includes(upkeep.id));
  if (covering.length === 0) return own;
  const all = [...own, ...covering.flatMap((other) => part.work.get(other.id) ?? [])];
  return all.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.entry.id < b.entry.id ? -1 : 1));
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
    return {
      on: last.on,
      day: dayNumber(last.on),
      outcome: last.outcome,
      how: 'work',
      entry: last.entry,
      miles: milesAt(track, last.entry),
      ...(last.goodThrough ? { goodThrough: last.goodThrough } : {}),
    };
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
  if (text.length === 4) return { from: dayNumber(`${text}-01-01`), to: dayNumber(`${text}-12-31`) };
  if (text.length === 7) {
    const range = monthRange(text);
    if (range.ok) return { from: dayNumber(range.value.from), to: dayNumber(range.value.to) };
  }
  return { from: dayNumber(text), to: dayNumber(text) };
}

/** The newest date on record until which this part is good for this upkeep: from a label, a stamp, a paper, or the work itself. */
export function goodThrough(
  part: PartState,
  upkeep: Upkeep,
  catalog: Catalog,
): { readonly label: string; readonly entry: Entry } | undefined {
  const found: { label: string; entry: Entry }[] = [];
  if (part.fit.body.goodThrough) found.push({ label: part.fit.body.goodThrough, entry: part.fit });
  if (part.paper) found.push({ label: part.paper.body.goodThrough, entry: part.paper });
  for (const work of workFor(part, upkeep, catalog)) {
    if (work.goodThrough && work.outcome === 'good') found.push({ label: work.goodThrough, entry: work.entry });
  }
  return found
    .sort((a, b) => (a.entry.on < b.entry.on ? -1 : a.entry.on > b.entry.on ? 1 : a.entry.id < b.entry.id ? -1 : 1))
    .at(-1);
}
