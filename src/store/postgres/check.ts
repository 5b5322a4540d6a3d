import type { PoolClient } from 'pg';
import { blobHash } from '../blob.ts';
import { CheckFindings, checkLines, type LineRow } from '../check.ts';
import type { CheckReport } from '../store.ts';

/** Rows fetched at once. */
const CHUNK = 2000;

/** Reads everything as of one moment. */
export async function checkTables(client: PoolClient, s: string): Promise<CheckReport> {
  const findings = new CheckFindings();
  await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
  try {
    const { rows: rigs } = await client.query<{ rig: string; head: number }>(
      `SELECT rig, head FROM ${s}.rigs ORDER BY rig`,
    );
    for (const { rig, head } of rigs) await checkLines(rig, head, rowsOf(client, s, rig), findings);
    const { rows: blobs } = await client.query<{ rig: string; hash: string }>(
      `SELECT rig, hash FROM ${s}.blobs ORDER BY rig, hash`,
    );
    for (const { rig, hash } of blobs) {
      const { rows } = await client.query<{ content: Buffer; bytes: number }>(
        `SELECT content, bytes FROM ${s}.blobs WHERE rig = $1 AND hash = $2`,
        [rig, hash],
      );
      const blob = rows[0]!;
      if (blob.content.byteLength !== blob.bytes || blobHash(blob.content) !== hash)
        findings.damaged('The photo or paper is not what was kept', hash);
      else findings.blob(hash, blob.bytes);
    }
  } finally {
    await client.query('ROLLBACK');
  }
  return findings.report();
}

/** A rig's rows in the order of their ids, a chunk at a time. */
export async function* rowsOf(client: PoolClient, s: string, rig: string): AsyncGenerator<LineRow> {
  let last = '';
  for (;;) {
    const { rows } = await client.query<LineRow>(
      `SELECT rig, seq, id, line, via, seal FROM ${s}.entries WHERE rig = $1 AND id > $2 ORDER BY id LIMIT ${CHUNK}`,
      [rig, last],
    );
    yield* rows;
    if (rows.length < CHUNK) return;
    last = rows.at(-1)!.id;
  }
}
