import { randomBytes } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import Sqlite, { type Database } from 'better-sqlite3';
import pg from 'pg';
import { fail, ok, ProblemError, type Result } from '../../problem/index.ts';
import { type AccessRestored, type Before, carryOnPostgres } from '../accounts/carry.ts';
import { ACCOUNT_TABLES } from '../accounts/tables.ts';
import { BlobFolder } from '../blob-folder.ts';
import type { LineRow } from '../check.ts';
import { newEpoch } from '../cursor.ts';
import { storeError, storeProblem } from '../problems.ts';
import type { BlobRow, RigRow } from '../sqlite/copy.ts';
import type { Restored } from '../store.ts';
import { checkTables } from './check.ts';
import { translated } from './failure.ts';
import { migrate, SCHEMA_NAME, SCHEMA_VERSION } from './schema.ts';
import { outliveBreaks, type PostgresTarget, withoutPassword } from './store.ts';

/** Rows sent at once. */
const CHUNK = 1000;

/** Puts a copy (a SQLite store) into a new schema, checks it, and gives it the name of the old one, which is kept under another. */
export async function restoreTables(
  copy: string,
  { database, schema = SCHEMA_NAME }: PostgresTarget,
  now: number,
): Promise<Result<Restored>> {
  const where = withoutPassword(database);
  const pool = new pg.Pool({ connectionString: database, max: 1, application_name: 'rigworthy restore' });
  outliveBreaks(pool);
  const from = new Sqlite(copy, { readonly: true });
  try {
    const client = await pool.connect();
    try {
      await dropAbandoned(client, schema);
      const place = `${schema}_new_${randomBytes(4).toString('hex')}`;
      await client.query('SELECT pg_advisory_lock(hashtext($1))', [place]);
      await migrate(client, place);
      await fill(client, place, from, new BlobFolder(join(dirname(copy), 'blobs')));
      const report = await checkTables(client, place);
      if (!report.ok) return fail(storeProblem('store.damaged', where, report.problems[0]!.what));
      const { replaced, access } = await swap(client, schema, place, { from: basename(copy), now });
      return ok({ report, access, ...(replaced ? { replaced: `schema ${replaced} of ${where}` } : {}) });
    } finally {
      client.release();
    }
  } catch (error) {
    const problem = translated(error, where);
    if (problem instanceof ProblemError) return { ok: false, problems: problem.problems };
    throw error;
  } finally {
    from.close();
    await pool.end();
  }
}

/**
 * Drops what restores that were killed had begun to fill. One that runs holds a lock of its session on the name, which the server
 * lets go when the session ends.
 */
async function dropAbandoned(client: pg.PoolClient, schema: string): Promise<void> {
  const { rows } = await client.query<{ name: string }>(
    `SELECT nspname AS name FROM pg_namespace WHERE nspname ~ ('^' || $1 || '_new_[0-9a-f]{8}$')`,
    [schema],
  );
  for (const { name } of rows) {
    const lock = await client.query<{ free: boolean }>('SELECT pg_try_advisory_lock(hashtext($1)) AS free', [name]);
    if (!lock.rows[0]!.free) continue;
    await client.query(`DROP SCHEMA ${name} CASCADE`);
    await client.query('SELECT pg_advisory_unlock(hashtext($1))', [name]);
  }
}

async function fill(client: pg.PoolClient, s: string, from: Database, blobs: BlobFolder): Promise<void> {
  await client.query('BEGIN');
  for (const { rig, head } of from.prepare('SELECT rig, head FROM rigs').all() as RigRow[]) {
    await client.query(`INSERT INTO ${s}.rigs (rig, epoch, head) VALUES ($1, $2, $3)`, [rig, newEpoch(), head]);
  }
  let rows: LineRow[] = [];
  for (const row of from.prepare('SELECT rig, seq, id, line, via, seal FROM entries').iterate() as Iterable<LineRow>) {
    rows.push(row);
    if (rows.length === CHUNK) {
      await insert(client, s, rows);
      rows = [];
    }
  }
  if (rows.length) await insert(client, s, rows);
  for (const { rig, hash, type, bytes } of from
    .prepare('SELECT rig, hash, type, bytes FROM blobs')
    .all() as BlobRow[]) {
    const content = await blobs.read(hash);
    if (!content) throw storeError('store.damaged', hash, 'a photo or paper is missing');
    await client.query(`INSERT INTO ${s}.blobs (rig, hash, type, bytes, content) VALUES ($1, $2, $3, $4, $5)`, [
      rig,
      hash,
      type,
      bytes,
      content,
    ]);
  }
  const tables = new Set(from.prepare("SELECT name FROM sqlite_master WHERE type = 'table'").pluck().all());
  for (const table of ACCOUNT_TABLES) {
    // A copy of an earlier version has not got all of them.
    if (!tables.has(table)) continue;
    for (const row of from.prepare(`SELECT * FROM ${table}`).all() as Record<string, unknown>[]) {
      const columns = Object.keys(row);
      await client.query(
        `INSERT INTO ${s}.${table} (${columns.join(', ')}) VALUES (${columns.map((_, i) => `$${i + 1}`).join(', ')})`,
        Object.values(row),
      );
    }
  }
  await client.query('COMMIT');
}

async function insert(client: pg.PoolClient, s: string, rows: readonly LineRow[]): Promise<void> {
  await client.query(
    `INSERT INTO ${s}.entries (rig, seq, id, line, via, seal)
     SELECT * FROM unnest($1::text[], $2::integer[], $3::text[], $4::text[], $5::text[], $6::bytea[])`,
    [
      rows.map((row) => row.rig),
      rows.map((row) => row.seq),
      rows.map((row) => row.id),
      rows.map((row) => row.line),
      rows.map((row) => row.via),
      rows.map((row) => row.seal),
    ],
  );
}

/**
 * In one transaction: running servers see the old rows, then the new ones. Who may come in stays as it was until then, so that nobody
 * who was shut out since comes back.
 */
async function swap(
  client: pg.PoolClient,
  schema: string,
  place: string,
  told: { readonly from: string; readonly now: number },
): Promise<{ replaced: string | undefined; access: AccessRestored }> {
  const aside = `${schema}_old_${new Date(told.now).toISOString().replaceAll(/\D/g, '').slice(0, 14)}_${randomBytes(2).toString('hex')}`;
  const { rows } = await client.query('SELECT 1 FROM pg_namespace WHERE nspname = $1', [schema]);
  const there = rows.length > 0;
  const before = there ? await readableAccess(client, schema) : ({ kind: 'new' } as const);
  await client.query('BEGIN');
  try {
    const access = await carryOnPostgres(client, place, before, told);
    if (there) await client.query(`ALTER SCHEMA ${schema} RENAME TO ${aside}`);
    await client.query(`ALTER SCHEMA ${place} RENAME TO ${schema}`);
    await client.query('COMMIT');
    return { replaced: there ? aside : undefined, access };
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  }
}

/** The schema of before as one whose account tables are all there and of today's form. */
async function readableAccess(client: pg.PoolClient, schema: string): Promise<Before<string>> {
  try {
    const version = await migrate(client, schema);
    if (version !== SCHEMA_VERSION) return { kind: 'unreadable' };
    for (const table of ACCOUNT_TABLES) await client.query(`SELECT 1 FROM ${schema}.${table} LIMIT 1`);
    return { kind: 'readable', access: schema };
  } catch (error) {
    // Tables, columns or rights that are missing; a broken connection is told as one.
    if (/^(42|3F)/.test(String((error as { code?: unknown }).code))) return { kind: 'unreadable' };
    throw error;
  }
}
