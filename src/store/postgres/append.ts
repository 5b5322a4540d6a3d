import type { PoolClient } from 'pg';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { newEpoch, writeCursor } from '../cursor.ts';
import { sealOf } from '../digest.ts';
import { isSameLine, type Line } from '../lines.ts';
import { idConflict } from '../problems.ts';
import type { Appended, Cursor } from '../store.ts';

/** Writes lines within a transaction that the caller has begun and ends: by COMMIT when the result is good, else by ROLLBACK. */
export async function appendLines(
  client: PoolClient,
  s: string,
  lines: readonly Line[],
  via: string,
): Promise<Result<Appended>> {
  const heads = new Map<string, { before: Cursor; after: Cursor }>();
  const taken: Problem[] = [];
  let added = 0;
  // In one order for everybody, so that two writers of the same rigs wait for each other and never for ever.
  for (const rig of [...new Set(lines.map((line) => line.rig))].sort()) {
    const head = await lockedHead(client, s, rig);
    const ofRig = lines.filter((line) => line.rig === rig);
    const fresh = await freshOf(client, s, rig, ofRig, taken);
    heads.set(rig, {
      before: writeCursor(head.epoch, head.head),
      after: writeCursor(head.epoch, head.head + fresh.length),
    });
    added += fresh.length;
    if (taken.length || fresh.length === 0) continue;
    await client.query(
      `INSERT INTO ${s}.entries (rig, seq, id, line, via, seal)
       SELECT $1, $2 + n, id, line, $3, seal
       FROM unnest($4::text[], $5::text[], $6::bytea[]) WITH ORDINALITY AS new (id, line, seal, n)`,
      [
        rig,
        head.head,
        via,
        fresh.map(({ id }) => id),
        fresh.map(({ line }) => line),
        fresh.map(({ line }) => sealOf(via, line)),
      ],
    );
    await client.query(`UPDATE ${s}.rigs SET head = $2 WHERE rig = $1`, [rig, head.head + fresh.length]);
  }
  if (taken.length) return fail(...(taken as [Problem, ...Problem[]]));
  return ok({ added, known: lines.length - added, heads });
}

/** The rig's row, locked until the transaction ends: numbers are given in the order in which they are committed. */
async function lockedHead(client: PoolClient, s: string, rig: string): Promise<{ epoch: string; head: number }> {
  await client.query(`INSERT INTO ${s}.rigs (rig, epoch, head) VALUES ($1, $2, 0) ON CONFLICT DO NOTHING`, [
    rig,
    newEpoch(),
  ]);
  const found = await client.query<{ epoch: string; head: number }>(
    `SELECT epoch, head FROM ${s}.rigs WHERE rig = $1 FOR UPDATE`,
    [rig],
  );
  return found.rows[0]!;
}

/** Lines that are not there yet. Those whose id is taken by another content are added to `taken`. */
async function freshOf(
  client: PoolClient,
  s: string,
  rig: string,
  lines: readonly Line[],
  taken: Problem[],
): Promise<Line[]> {
  const { rows } = await client.query<{ id: string; line: string }>(
    `SELECT id, line FROM ${s}.entries WHERE rig = $1 AND id = ANY ($2)`,
    [rig, lines.map(({ id }) => id)],
  );
  const there = new Map(rows.map(({ id, line }) => [id, line]));
  for (const { id, line } of lines) {
    const kept = there.get(id);
    if (kept !== undefined && !isSameLine(kept, line)) taken.push(idConflict(id));
  }
  return lines.filter(({ id }) => !there.has(id));
}
