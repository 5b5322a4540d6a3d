import { dirname, join } from 'node:path';
import type { PoolClient } from 'pg';
import { ACCOUNT_TABLES } from '../accounts/tables.ts';
import { blobHash } from '../blob.ts';
import { BlobFolder } from '../blob-folder.ts';
import { storeError } from '../problems.ts';
import { makeWhole } from '../sqlite/backup.ts';
import { SqliteWriter } from '../sqlite/copy.ts';
import type { BackupOptions } from '../store.ts';
import { rowsOf } from './check.ts';

/** Copies everything as of one moment into a new SQLite store. */
export async function backupTables(
  client: PoolClient,
  s: string,
  target: string,
  options: BackupOptions = {},
): Promise<void> {
  await makeWhole(target, async (temporary) => {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    const copy = new SqliteWriter(temporary);
    try {
      const { rows: rigs } = await client.query<{ rig: string; epoch: string; head: number }>(
        `SELECT rig, epoch, head FROM ${s}.rigs`,
      );
      for (const rig of rigs) {
        copy.rig(rig);
        for await (const row of rowsOf(client, s, rig.rig)) copy.entry(row);
      }
      for (const table of ACCOUNT_TABLES) copy.rows(table, (await client.query(`SELECT * FROM ${s}.${table}`)).rows);
      await copyBlobs(
        client,
        s,
        copy,
        options.withoutBlobs ? undefined : new BlobFolder(join(dirname(target), 'blobs')),
      );
    } finally {
      copy.close();
      await client.query('ROLLBACK');
    }
  });
}

async function copyBlobs(
  client: PoolClient,
  s: string,
  copy: SqliteWriter,
  folder: BlobFolder | undefined,
): Promise<void> {
  const { rows } = await client.query<{ rig: string; hash: string; type: string; bytes: number }>(
    `SELECT rig, hash, type, bytes FROM ${s}.blobs`,
  );
  for (const row of rows) {
    const there = await folder?.read(row.hash);
    if (folder && (!there || blobHash(there) !== row.hash)) {
      const one = await client.query<{ content: Buffer }>(
        `SELECT content FROM ${s}.blobs WHERE rig = $1 AND hash = $2`,
        [row.rig, row.hash],
      );
      const { content } = one.rows[0]!;
      if (blobHash(content) !== row.hash)
        throw storeError('store.damaged', row.hash, 'a photo or paper is not what was kept');
      await folder.replace(row.hash, content);
    }
    copy.blob(row);
  }
}
