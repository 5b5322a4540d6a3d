import { randomBytes } from 'node:crypto';
import { fail, ok, type Result } from '../problem/index.ts';
import type { Cursor } from './store.ts';

/** A new epoch: random, so that two stores never agree on one by chance. */
export function newEpoch(): string {
  return randomBytes(8).toString('hex');
}

/** Where a rig stands of which nothing is known yet. */
export const BEGINNING = { epoch: '0'.repeat(16), head: 0 } as const;

export function writeCursor(epoch: string, seq: number): Cursor {
  return `${epoch}-${seq}`;
}

/** Problems: `store.cursor`. */
export function readCursor(cursor: Cursor): Result<{ epoch: string; seq: number }> {
  const match = /^([0-9a-f]{16})-(\d{1,15})$/.exec(cursor);
  if (!match) {
    return fail({
      code: 'store.cursor',
      what: 'This is not a cursor',
      where: cursor.slice(0, 60),
      expected: 'a cursor as an earlier read gave it',
      next: 'Read from the beginning, without a cursor.',
    });
  }
  return ok({ epoch: match[1]!, seq: Number(match[2]) });
}

/**
 * After which sequence number to read, given the rig's epoch and head now. A cursor of another epoch, or beyond the head, is
 * from before a restore: start over.
 */
export function startAfter(
  now: { epoch: string; head: number },
  cursor: Cursor | undefined,
): Result<{ after: number; restarted: boolean }> {
  if (cursor === undefined) return ok({ after: 0, restarted: false });
  const read = readCursor(cursor);
  if (!read.ok) return read;
  const known = read.value.epoch === now.epoch && read.value.seq <= now.head;
  return ok(known ? { after: read.value.seq, restarted: false } : { after: 0, restarted: true });
}
