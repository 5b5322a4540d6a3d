import { createHash } from 'node:crypto';
import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import Sqlite, { type Database } from 'better-sqlite3';
import { storeError } from '../problems.ts';
import { partOf } from '../temporary.ts';
import { versionOf } from './schema.ts';

/**
 * Keeps a file as it is before an upgrade, as `….version-N`: made under another name, read back, flushed and then named, so that
 * what has the name is whole. One that is there and not whole is replaced; a whole one of another content is kept, as
 * `….version-N.1` and so on.
 *
 * Throws `store.damaged` where what was made does not read back as what it was made from.
 */
export function keepVersion(db: Database, file: string, version: number): void {
  const kept = `${file}.version-${version}`;
  const content = contentOf(db);
  const there = existsSync(kept) ? contentOfFile(kept, version) : undefined;
  if (there === content) return;
  const part = partOf(kept);
  try {
    closeSync(openSync(part, 'wx', 0o600));
    db.prepare('VACUUM INTO ?').run(part);
    syncNow(part);
    if (contentOfFile(part, version) !== content)
      throw storeError('store.damaged', file, `what was kept of version ${version} does not read back`);
    if (there !== undefined) renameSync(kept, freeName(kept));
    renameSync(part, kept);
  } finally {
    for (const end of ['', '-journal', '-wal', '-shm']) rmSync(part + end, { force: true });
  }
  syncNow(dirname(file));
}

function freeName(name: string): string {
  for (let n = 1; ; n++) if (!existsSync(`${name}.${n}`)) return `${name}.${n}`;
}

/** SHA-256 over every row of every table in the order of their keys; undefined where the file is not whole or of another version. */
function contentOfFile(file: string, version: number): string | undefined {
  try {
    const db = new Sqlite(file, { readonly: true, fileMustExist: true });
    try {
      const isWhole = db.pragma('integrity_check(1)', { simple: true }) === 'ok' && versionOf(db) === version;
      return isWhole ? contentOf(db) : undefined;
    } finally {
      db.close();
    }
  } catch {
    return undefined;
  }
}

function contentOf(db: Database): string {
  const hash = createHash('sha256');
  const tables = db
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' ORDER BY name")
    .pluck()
    .all() as string[];
  for (const table of tables) {
    hash.update(`${table}\n`);
    const keys = db
      .prepare('SELECT name FROM pragma_table_info(?) WHERE pk > 0 ORDER BY pk')
      .pluck()
      .all(table) as string[];
    const order = keys.length ? ` ORDER BY ${keys.map((key) => `"${key}"`).join(', ')}` : '';
    for (const row of db.prepare(`SELECT * FROM "${table}"${order}`).raw().iterate() as Iterable<unknown[]>) {
      for (const value of row) {
        const bytes = Buffer.isBuffer(value) ? value : Buffer.from(String(value));
        // Lengths keep "ab" + "c" from being "a" + "bc".
        hash.update(`${typeof value} ${bytes.length} `).update(bytes);
      }
    }
  }
  return hash.digest('hex');
}

/** Makes a file's content, or the names in a folder, durable. */
export function syncNow(path: string): void {
  const fd = openSync(path, 'r');
  try {
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
}
