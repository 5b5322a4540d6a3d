import { ENTRY_VERSION, type Entry, readEntry, writeEntry } from '../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { sealOf } from './digest.ts';
import { idConflict, storeError } from './problems.ts';

/** A record that this version cannot read, kept as it came: for devices that can, and for this program once it is newer. */
export interface RawRecord {
  readonly rig: string;
  readonly id: string;
  readonly raw: unknown;
}

/** An entry ready to be kept: its text is the same for the same content. */
export interface Line {
  readonly rig: string;
  readonly id: string;
  readonly line: string;
}

/** What a kept line holds: an entry of today's version, or a record that cannot be read. */
export type Kept = { readonly entry: Entry } | { readonly raw: unknown; readonly problems: readonly Problem[] };

const isRaw = (record: Entry | RawRecord): record is RawRecord => 'raw' in record;
/** A raw record lies within an object of its own, so that no reader takes it for an entry that was checked. */
const WRAP = 'newer';

/** Entries as lines, each once. Problems: `store.id-conflict`, where two of them share an id and differ. */
export function linesOf(entries: readonly (Entry | RawRecord)[]): Result<Line[]> {
  const lines = new Map<string, Line>();
  const taken: Problem[] = [];
  for (const entry of entries) {
    const text = isRaw(entry) ? JSON.stringify({ [WRAP]: entry.raw }) : writeEntry(entry);
    const line: Line = { rig: entry.rig, id: entry.id, line: text };
    const key = `${line.rig} ${line.id}`;
    const same = lines.get(key);
    if (!same) lines.set(key, line);
    else if (!isSameLine(same.line, line.line)) taken.push(idConflict(line.id));
  }
  return taken.length ? fail(...(taken as [Problem, ...Problem[]])) : ok([...lines.values()]);
}

/** The same content: what was kept raw may be handed in again by a program that reads it. */
export function isSameLine(a: string, b: string): boolean {
  return a === b || ((isWrapped(a) || isWrapped(b)) && sortedText(unwrapped(a)) === sortedText(unwrapped(b)));
}

const isWrapped = (line: string): boolean => line.startsWith(`{"${WRAP}":`);
const unwrapped = (line: string): unknown => {
  const parsed = JSON.parse(line) as Record<string, unknown>;
  return isWrapped(line) ? parsed[WRAP] : parsed;
};

/** JSON with the keys of every object in order. What is kept nests no deeper than an entry may. */
function sortedText(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}

/**
 * What a kept line holds. An entry of today's version was checked against the schema before it was kept, so a line whose seal is
 * right needs no second check; an older version is upcast; a newer one, or what was kept raw, is read if it can be by now.
 * Throws `store.damaged` where the line is not what was kept.
 */
export function keptOf(row: { line: string; via: string; seal: Uint8Array }, where: string): Kept {
  if (!sealOf(row.via, row.line).equals(row.seal))
    throw storeError('store.damaged', where, 'an entry is not what was written');
  const raw = unwrapped(row.line);
  if (!isWrapped(row.line) && (raw as Entry).v === ENTRY_VERSION) return { entry: raw as Entry };
  const read = readEntry(raw, where);
  return read.ok ? { entry: read.value } : { raw, problems: read.problems };
}

/** Whether a line is an entry, or a raw record, of this id and rig. */
export function belongs(line: string, id: string, rig: string): boolean {
  const { id: own, rig: ownRig } = unwrapped(line) as { id?: unknown; rig?: unknown };
  return own === id && ownRig === rig;
}
