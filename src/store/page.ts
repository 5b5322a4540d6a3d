import { keptOf } from './lines.ts';
import type { Page, StoredEntry } from './store.ts';

/** Most entries of one page. */
export const PAGE_MAX = 5000;

/** A page's size within its bounds. A caller outside them is our own mistake: the edges check what people ask for. */
export function pageLimit(limit: number): number {
  if (!Number.isInteger(limit) || limit < 1 || limit > PAGE_MAX)
    throw new RangeError(`a page has 1 to ${PAGE_MAX} entries, not ${limit}`);
  return limit;
}

interface Row {
  readonly seq: number;
  readonly line: string;
  readonly via: string;
  readonly seal: Uint8Array;
}

/** Rows as what they hold. Throws `store.damaged`. */
export function pageOf(rig: string, rows: readonly Row[]): Pick<Page, 'entries' | 'unread'> {
  const page: { entries: Page['entries'][number][]; unread: Page['unread'][number][] } = { entries: [], unread: [] };
  for (const row of rows) {
    const { seq, via } = row;
    const kept = keptOf(row, `${rig}, number ${seq}`);
    if ('entry' in kept) page.entries.push({ seq, entry: kept.entry, via });
    else page.unread.push({ seq, ...kept, via });
  }
  return page;
}

/** One row, where it is an entry that can be read. */
export const storedOf = (rig: string, row: Row): StoredEntry | undefined => pageOf(rig, [row]).entries[0];
