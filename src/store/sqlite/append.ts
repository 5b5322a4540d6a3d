import type { Database } from 'better-sqlite3';
import type { Entry } from '../../logbook/index.ts';
import { type Problem, ProblemError, unwrap } from '../../problem/index.ts';
import { newEpoch, writeCursor } from '../cursor.ts';
import { sealOf } from '../digest.ts';
import { isSameLine, type Line, linesOf } from '../lines.ts';
import { idConflict } from '../problems.ts';
import type { Appended, Cursor } from '../store.ts';

/** Writes lines inside a transaction that the caller has begun. Throws a `ProblemError` (ids taken) before anything is written. */
export type Writer = (lines: readonly Line[], via: string, dryRun: boolean) => Appended;

interface Head {
  readonly epoch: string;
  head: number;
}

interface Moved extends Head {
  readonly before: number;
}

export function writerOf(db: Database): Writer {
  const known = db.prepare<[string, string], { line: string }>('SELECT line FROM entries WHERE rig = ? AND id = ?');
  const headOf = db.prepare<[string], Head>('SELECT epoch, head FROM rigs WHERE rig = ?');
  const begin = db.prepare<[string, string]>('INSERT INTO rigs (rig, epoch, head) VALUES (?, ?, 0)');
  const insert = db.prepare<[string, number, string, string, string, Buffer]>(
    'INSERT INTO entries (rig, seq, id, line, via, seal) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const move = db.prepare<[number, string]>('UPDATE rigs SET head = ? WHERE rig = ?');

  return (lines, via, dryRun) => {
    const fresh: Line[] = [];
    const taken: Problem[] = [];
    for (const line of lines) {
      const there = known.get(line.rig, line.id);
      if (!there) fresh.push(line);
      else if (!isSameLine(there.line, line.line)) taken.push(idConflict(line.id));
    }
    if (taken.length) throw new ProblemError(taken);
    const heads = new Map<string, Moved>();
    for (const { rig } of lines) {
      if (heads.has(rig)) continue;
      let there = headOf.get(rig);
      if (!there) {
        there = { epoch: newEpoch(), head: 0 };
        if (!dryRun) begin.run(rig, there.epoch);
      }
      heads.set(rig, { ...there, before: there.head });
    }
    for (const { rig, id, line } of fresh) {
      const moved = heads.get(rig)!;
      moved.head += 1;
      if (!dryRun) insert.run(rig, moved.head, id, line, via, sealOf(via, line));
    }
    if (!dryRun) for (const [rig, { head, before }] of heads) if (head > before) move.run(head, rig);
    return { added: fresh.length, known: lines.length - fresh.length, heads: cursorsOf(heads) };
  };
}

/** Writes batch after batch inside the caller's transaction. Throws what `writerOf` throws, and what `batches` throws. */
export function writeBatches(
  write: Writer,
  batches: Iterable<readonly Entry[]>,
  via: string,
): { added: number; known: number } {
  let added = 0;
  let known = 0;
  for (const entries of batches) {
    const appended = write(unwrap(linesOf(entries)), via, false);
    added += appended.added;
    known += entries.length - appended.added;
  }
  return { added, known };
}

function cursorsOf(heads: ReadonlyMap<string, Moved>): Appended['heads'] {
  const cursors = new Map<string, { before: Cursor; after: Cursor }>();
  for (const [rig, { epoch, before, head }] of heads)
    cursors.set(rig, { before: writeCursor(epoch, before), after: writeCursor(epoch, head) });
  return cursors;
}
