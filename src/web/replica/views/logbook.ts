import { ENTRY_KINDS, type Entry, type RigState, sortRecords } from '../../../logbook/index.ts';
import type { Keeper } from '../keeper.ts';
import { type EntryLine, entryLine } from './entry-text.ts';
import { labelOf } from './form-fields.ts';
import { kindTitle } from './form-kinds.ts';
import { type Told, toldBy } from './told.ts';

/** What is looked for: words that must all be said, and a kind of entry (empty: all). */
export interface LogbookQuery {
  readonly words: string;
  readonly kind: string;
}

/** A stretch of the logbook, newest first. */
export interface LogbookPage {
  readonly total: number;
  readonly from: number;
  readonly lines: readonly EntryLine[];
  /** The years of what was found, newest first, each with the place of its first line. */
  readonly years: readonly { readonly year: string; readonly at: number }[];
}

/** What cannot be true or cannot be read: kept, and counting for nothing. */
export interface AsideView {
  /** Newest first: those nobody decided about, then those that were rejected. */
  readonly lines: readonly EntryLine[];
  /** Records in no words but their own: why they cannot be read, and the record. */
  readonly unread: readonly { readonly id: string | null; readonly why: string; readonly raw: string }[];
}

export interface EntryView {
  readonly line: EntryLine;
  readonly kindTitle: string;
  /** When it was written down, as instant. */
  readonly at: string;
  readonly fields: readonly (readonly [name: string, value: string])[];
  readonly strikable: boolean;
}

export const kindsOffered = (): { value: string; label: string }[] =>
  ENTRY_KINDS.map((kind) => ({ value: kind, label: kindTitle(kind) }));

interface Found {
  readonly state: RigState;
  readonly query: string;
  readonly entries: readonly Entry[];
  readonly years: LogbookPage['years'];
}

let found: Found | undefined;
const said = new WeakMap<Entry, string>();

/** From `from` on, so many lines of what the query finds. Finding is done once a query and state. */
export function logbookPage(keeper: Keeper, query: LogbookQuery, from: number, count: number): LogbookPage {
  const told = toldBy(keeper);
  const key = `${query.kind} ${query.words}`;
  if (found?.state !== keeper.state || found.query !== key) {
    const entries = find(told, query);
    found = { state: keeper.state, query: key, entries, years: yearsOf(entries) };
  }
  return {
    total: found.entries.length,
    from,
    lines: found.entries.slice(from, from + count).map((entry) => entryLine(told, entry)),
    years: found.years,
  };
}

function yearsOf(entries: readonly Entry[]): { year: string; at: number }[] {
  const years: { year: string; at: number }[] = [];
  entries.forEach(({ on }, at) => {
    const year = on.slice(0, 4);
    if (years.at(-1)?.year !== year) years.push({ year, at });
  });
  return years;
}

function find(told: Told, { words, kind }: LogbookQuery): Entry[] {
  const wanted = words
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  return ordered(told.state).filter((entry) => {
    // What devices sign is for `verify`; it is shown to whoever asks for it.
    if (kind === '' ? entry.kind === 'witness' : entry.kind !== kind) return false;
    if (wanted.length === 0) return true;
    const text = textOf(told, entry);
    return wanted.every((word) => text.includes(word));
  });
}

const inOrder = new WeakMap<RigState, readonly Entry[]>();

/** Newest first. Sorted once a state: every letter that is typed looks through it again. */
function ordered(state: RigState): readonly Entry[] {
  const known = inOrder.get(state);
  if (known) return known;
  const sorted = [...state.entries.values()].sort((a, b) =>
    a.on < b.on ? 1 : a.on > b.on ? -1 : a.id < b.id ? 1 : -1,
  );
  inOrder.set(state, sorted);
  return sorted;
}

/** All that can be searched for in an entry; names of parts and upkeeps as they were when first searched. */
function textOf(told: Told, entry: Entry): string {
  const known = said.get(entry);
  if (known !== undefined) return known;
  const { head, more, day, by } = entryLine(told, entry);
  const text = `${head} ${more} ${day} ${by} ${entry.on}`.toLowerCase();
  said.set(entry, text);
  return text;
}

/** So much of a record is shown. */
const RAW_SHOWN = 2000;

export async function asideView(keeper: Keeper): Promise<AsideView> {
  const told = toldBy(keeper);
  const lines = [...keeper.state.aside.values()].map(({ entry }) => entryLine(told, entry));
  const late = (line: EntryLine): string => `${line.aside?.rejected ? '0' : '1'} ${line.on} ${line.id}`;
  const { newer, doubtful } = sortRecords(await keeper.books.unreadOf(keeper.rig));
  return {
    lines: lines.sort((a, b) => (late(a) < late(b) ? 1 : -1)),
    unread: [...newer, ...doubtful].map(({ id, problems, raw }) => ({
      id,
      why: problems.map(({ what }) => what).join('. '),
      raw: JSON.stringify(raw).slice(0, RAW_SHOWN),
    })),
  };
}

export function entryView(keeper: Keeper, id: string): EntryView | null {
  const entry = keeper.state.entries.get(id);
  if (!entry) return null;
  const line = entryLine(toldBy(keeper), entry);
  return {
    line,
    kindTitle: kindTitle(entry.kind),
    at: entry.at,
    fields: flat(entry.body, ''),
    strikable: entry.kind !== 'strike' && line.struck === null,
  };
}

/** The body of an entry as it was written, field by field. */
function flat(value: unknown, path: string): [string, string][] {
  if (value === null || typeof value !== 'object') return [[path, String(value)]];
  const record = value as Record<string, unknown>;
  if ('unit' in record && 'value' in record) return [[path, `${record.value} ${record.unit}`]];
  return Object.entries(record).flatMap(([name, inner]) => {
    const label = /^\d+$/.test(name) ? String(Number(name) + 1) : labelOf(name);
    return flat(inner, path === '' ? label : `${path}, ${label.toLowerCase()}`);
  });
}
