import { formatDate } from '../dates/index.ts';
import type { OutlookDesk } from '../desk/index.ts';
import { type RigState, vehicleOf, writeEntry } from '../logbook/index.ts';

/** What every sheet is made from. */
export interface SheetContext {
  readonly desk: OutlookDesk;
  /** `Marigold & Biscuit`. */
  readonly rig: string;
  /** The line at the foot: of what logbook it was made. */
  readonly foot: string;
  /** The same in short, for the foot of every page. */
  readonly mark: string;
}

/** The logbook as one text, the same for the same entries wherever they arrived first: what its hash is taken of. */
export function canonicalLogbook(state: RigState): string {
  return state.entries
    .inOrder()
    .map((entry) => `${writeEntry(entry)}\n`)
    .join('');
}

/** @param hash of `canonicalLogbook`, in hexadecimal (SHA-256), worked out by whoever has a hash function */
export function sheetContext(desk: OutlookDesk, hash: string): SheetContext {
  const names = (['trailer', 'tow'] as const).flatMap((role) => vehicleOf(desk.state, role)?.body.name ?? []);
  return {
    desk,
    rig: names.join(' & ') || 'Unnamed rig',
    mark: `logbook ${hash.slice(0, 12)}`,
    foot: `Made for ${formatDate(desk.now, 'day')} from a logbook of ${desk.state.entries.size} entries, SHA-256 ${hash}. Makers’ handbooks, local codes and licensed practice come first.`,
  };
}
