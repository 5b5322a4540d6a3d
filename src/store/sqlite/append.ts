import type { Database } from 'better-sqlite3';
import { type Problem, ProblemError } from '../../problem/index.ts';
import { newEpoch, writeCursor } from '../cursor.ts';
import { sealOf } from '../digest.ts';
import type { Line } from '../lines.ts';
import { idConflict } from '../problems.ts';
import type { Appended } from '../store.ts';

/** Writes lines inside a transaction that the caller has begun. Throws a `ProblemError` (ids taken) before anything is written. */
export type Writer = (lines: readonly Line[], via: string, dryRun: boolean) => Appended;

interface Head {
  readonly epoch: string;
  head: number;
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
      else if (there.line !== line.line) taken.push(idConflict(line.id));
    }
    if (taken.length) throw new ProblemError(taken);
    const heads = new Map<string, Head>();
    for (const line of lines) {
      if (heads.has(line.rig)) continue;
      let head = headOf.get(line.rig);
      if (!head) {
        head = { epoch: newEpoch(), head: 0 };
        if (!dryRun) begin.run(line.rig, head.epoch);
      }
      heads.set(line.rig, head);
    }
    for (const { rig, id, line } of fresh) {
      const head = heads.get(rig)!;
      head.head += 1;
      if (!dryRun) insert.run(rig, head.head, id, line, via, sealOf(via, line));
    }
    if (!dryRun && fresh.length) for (const [rig, { head }] of heads) move.run(head, rig);
    const cursors = new Map([...heads].map(([rig, { epoch, head }]) => [rig, writeCursor(epoch, head)]));
    return { added: fresh.length, known: lines.length - fresh.length, cursors };
  };
}
