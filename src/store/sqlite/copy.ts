import Sqlite, { type Database, type Statement } from 'better-sqlite3';
import type { LineRow } from '../check.ts';
import { APPLICATION_ID, migrate } from './schema.ts';

export interface RigRow {
  readonly rig: string;
  readonly epoch: string;
  readonly head: number;
}

export interface BlobRow {
  readonly rig: string;
  readonly hash: string;
  readonly type: string;
  readonly bytes: number;
}

/** A new store's file, filled row by row in one transaction that `close` commits. */
export class SqliteWriter {
  readonly #db: Database;
  readonly #rig: Statement<[string, string, number]>;
  readonly #entry: Statement<[string, number, string, string, string, Uint8Array]>;
  readonly #blob: Statement<[string, string, string, number]>;

  constructor(file: string) {
    this.#db = new Sqlite(file);
    this.#db.pragma(`application_id = ${APPLICATION_ID}`);
    migrate(this.#db);
    this.#rig = this.#db.prepare('INSERT INTO rigs (rig, epoch, head) VALUES (?, ?, ?)');
    this.#entry = this.#db.prepare('INSERT INTO entries (rig, seq, id, line, via, seal) VALUES (?, ?, ?, ?, ?, ?)');
    this.#blob = this.#db.prepare('INSERT INTO blobs (rig, hash, type, bytes) VALUES (?, ?, ?, ?)');
    this.#db.exec('BEGIN');
  }

  rig({ rig, epoch, head }: RigRow): void {
    this.#rig.run(rig, epoch, head);
  }

  entry({ rig, seq, id, line, via, seal }: LineRow): void {
    this.#entry.run(rig, seq, id, line, via, seal);
  }

  blob({ rig, hash, type, bytes }: BlobRow): void {
    this.#blob.run(rig, hash, type, bytes);
  }

  /** Rows of an account table, as they are. */
  rows(table: string, rows: readonly Readonly<Record<string, unknown>>[]): void {
    for (const row of rows) {
      const columns = Object.keys(row);
      this.#db
        .prepare(`INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`)
        .run(...Object.values(row));
    }
  }

  close(): void {
    this.#db.exec('COMMIT');
    this.#db.close();
  }
}
