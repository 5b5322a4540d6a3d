import type { Database } from 'better-sqlite3';
import { accountLogSql, accountTablesSql } from '../accounts/tables.ts';

/** `RigW`: says in the file's header whose file it is. */
export const APPLICATION_ID = 0x52696757;

/**
 * Step `n` brings a file from version `n` to `n + 1`. Forward only; a step that was released is never edited.
 * Every key begins with the rig, as in the PostgreSQL schema.
 */
export const migrations: readonly string[] = [
  `
  CREATE TABLE rigs (
    rig TEXT NOT NULL PRIMARY KEY,
    epoch TEXT NOT NULL,
    head INTEGER NOT NULL CHECK (head >= 0)
  ) STRICT, WITHOUT ROWID;

  CREATE TABLE entries (
    rig TEXT NOT NULL REFERENCES rigs (rig),
    seq INTEGER NOT NULL CHECK (seq > 0),
    id TEXT NOT NULL,
    line TEXT NOT NULL,
    via TEXT NOT NULL,
    seal BLOB NOT NULL CHECK (length(seal) = 32),
    PRIMARY KEY (rig, seq)
  ) STRICT, WITHOUT ROWID;

  CREATE UNIQUE INDEX entries_by_id ON entries (rig, id);

  CREATE TABLE blobs (
    rig TEXT NOT NULL,
    hash TEXT NOT NULL CHECK (length(hash) = 64),
    type TEXT NOT NULL,
    bytes INTEGER NOT NULL CHECK (bytes >= 0),
    PRIMARY KEY (rig, hash)
  ) STRICT, WITHOUT ROWID;
  `,
  accountTablesSql({ text: 'TEXT', s: '', end: ' STRICT, WITHOUT ROWID' }),
  `
  CREATE TABLE thumbnails (
    rig TEXT NOT NULL,
    hash TEXT NOT NULL,
    content BLOB NOT NULL,
    PRIMARY KEY (rig, hash)
  ) STRICT;
  `,
  accountLogSql({ text: 'TEXT', s: '', end: ' STRICT, WITHOUT ROWID' }),
];

export const SCHEMA_VERSION = migrations.length;

export function versionOf(db: Database): number {
  return db.pragma('user_version', { simple: true }) as number;
}

/** Brings the file to `to`, each step in one transaction. Another process may be doing the same: who comes second finds it done. */
export function migrate(db: Database, to = SCHEMA_VERSION): void {
  db.transaction(() => {
    for (let version = versionOf(db); version < to; version++) {
      db.exec(migrations[version]!);
      db.pragma(`user_version = ${version + 1}`);
    }
  }).immediate();
}
