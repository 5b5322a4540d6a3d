import type { PoolClient } from 'pg';
import { accountLogSql, accountTablesSql } from '../accounts/tables.ts';

/** The PostgreSQL schema in which the tables are, unless a target names another. */
export const SCHEMA_NAME = 'rigworthy';

/**
 * Step `n` brings the tables of schema `s` from version `n` to `n + 1`. Forward only.
 *
 * Every key of what belongs to a rig begins with the rig, the only foreign key stays within a rig, and there are no sequences,
 * triggers or keys across rigs: the tables can be distributed by `rig` as they are. Names sort by their bytes, as in SQLite.
 */
const migrations: readonly ((s: string) => string)[] = [
  (s) => `
  CREATE TABLE ${s}.rigs (
    rig text COLLATE "C" NOT NULL PRIMARY KEY,
    epoch text NOT NULL,
    head integer NOT NULL CHECK (head >= 0)
  );

  CREATE TABLE ${s}.entries (
    rig text COLLATE "C" NOT NULL REFERENCES ${s}.rigs (rig),
    seq integer NOT NULL CHECK (seq > 0),
    id text COLLATE "C" NOT NULL,
    line text NOT NULL,
    via text NOT NULL,
    seal bytea NOT NULL CHECK (length(seal) = 32),
    PRIMARY KEY (rig, seq),
    UNIQUE (rig, id)
  );

  CREATE TABLE ${s}.blobs (
    rig text COLLATE "C" NOT NULL,
    hash text COLLATE "C" NOT NULL CHECK (length(hash) = 64),
    type text NOT NULL,
    bytes integer NOT NULL CHECK (bytes >= 0),
    content bytea NOT NULL,
    PRIMARY KEY (rig, hash)
  );
  `,
  (s) => accountTablesSql({ text: 'TEXT COLLATE "C"', s: `${s}.`, end: '' }),
  (s) => `
  CREATE TABLE ${s}.thumbnails (
    rig text COLLATE "C" NOT NULL,
    hash text COLLATE "C" NOT NULL,
    content bytea NOT NULL,
    PRIMARY KEY (rig, hash)
  );
  `,
  (s) => accountLogSql({ text: 'TEXT COLLATE "C"', s: `${s}.`, end: '' }),
];

export const SCHEMA_VERSION = migrations.length;

/** Any number, the same in every process: who migrates holds this lock. */
const MIGRATION_LOCK = 0x52696757;

/** Brings the schema to today's version in one transaction; a newer one is left as it is. Returns the version found or reached. */
export async function migrate(client: PoolClient, s: string, to = SCHEMA_VERSION): Promise<number> {
  await client.query('BEGIN');
  try {
    await client.query('SELECT pg_advisory_xact_lock($1)', [MIGRATION_LOCK]);
    await client.query(`CREATE SCHEMA IF NOT EXISTS ${s}`);
    await client.query(`CREATE TABLE IF NOT EXISTS ${s}.version (version integer NOT NULL PRIMARY KEY)`);
    const found = await client.query<{ version: number }>(`SELECT max(version) AS version FROM ${s}.version`);
    let version = found.rows[0]?.version ?? 0;
    for (; version < to; version++) {
      await client.query(migrations[version]!(s));
      await client.query(`INSERT INTO ${s}.version (version) VALUES ($1)`, [version + 1]);
    }
    await client.query('COMMIT');
    return version;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  }
}
