import { ENTRY_VERSION, type Entry, readEntry, writeEntry } from '../logbook/index.ts';
import { fail, ok, type Problem, type Result, unwrap } from '../problem/index.ts';
import { sealOf } from './digest.ts';
import { idConflict, storeError } from './problems.ts';

/** An entry ready to be kept: its text is the same for the same content. */
export interface Line {
  readonly rig: string;
  readonly id: string;
  readonly line: string;
}

/** Entries as lines, each once. Problems: `store.id-conflict`, where two of them share an id and differ. */
export function linesOf(entries: readonly Entry[]): Result<Line[]> {
  const lines = new Map<string, Line>();
  const taken: Problem[] = [];
  for (const entry of entries) {
    const line: Line = { rig: entry.rig, id: entry.id, line: writeEntry(entry) };
    const key = `${line.rig} ${line.id}`;
    const same = lines.get(key);
    if (!same) lines.set(key, line);
    else if (same.line !== line.line) taken.push(idConflict(line.id));
  }
  return taken.length ? fail(...(taken as [Problem, ...Problem[]])) : ok([...lines.values()]);
}

/**
 * A kept line as an entry of today's version. It was checked against the schema before it was kept, so a line whose seal is
 * right needs no second check; an older version is upcast, a newer one refused.
 * Throws `store.damaged` where the line is not what was kept.
 */
export function entryOf(row: { line: string; via: string; seal: Uint8Array }, where: string): Entry {
  if (!sealOf(row.via, row.line).equals(row.seal))
    throw storeError('store.damaged', where, 'an entry is not what was written');
  const raw = JSON.parse(row.line) as Entry;
  return raw.v === ENTRY_VERSION ? raw : unwrap(readEntry(raw, where));
}
