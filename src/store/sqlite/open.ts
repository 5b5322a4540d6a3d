import { closeSync, existsSync, linkSync, mkdirSync, openSync, readSync, rmSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Sqlite, { type Database } from 'better-sqlite3';
import { fail, ok, type Result } from '../../problem/index.ts';
import { makeOwnerOnly } from '../owner-only.ts';
import { storeProblem } from '../problems.ts';
import { clearAbandoned, partOf } from '../temporary.ts';
import { failureOf } from './failure.ts';
import { keepVersion, syncNow } from './keep-version.ts';
import { APPLICATION_ID, migrate, SCHEMA_VERSION, versionOf } from './schema.ts';
import { isLogDamaged } from './wal.ts';

export interface OpenOptions {
  /** Make the file when there is none. */
  readonly create: boolean;
  readonly readonly?: boolean;
}

/** How long a writer waits for another process's transaction. */
const BUSY_MS = 10_000;

/**
 * Opens a store's file, removing what killed processes left beside it, and making or migrating it as needed. What is not ours, is cut short or is newer is left untouched.
 *
 * Problems: `store.missing`, `store.foreign`, `store.truncated`, `store.newer`, `store.damaged`, `store.unwritable`, `store.busy`.
 */
export function openFile(file: string, options: OpenOptions): Result<Database> {
  try {
    if (!options.readonly) clearAbandoned(dirname(file));
    if (!existsSync(file)) {
      if (!options.create) return fail(storeProblem('store.missing', file));
      createFile(file);
    }
    const seen = recognise(file);
    if (!seen.ok) return seen;
    return options.readonly ? ok(open(file, { readonly: true })) : ok(openToWrite(file, seen.value));
  } catch (error) {
    return fail(storeProblem(failureOf(error), file, (error as Error).message));
  }
}

function open(file: string, options: Sqlite.Options): Database {
  const db = new Sqlite(file, { timeout: BUSY_MS, fileMustExist: true, ...options });
  db.pragma('foreign_keys = ON');
  db.pragma('trusted_schema = OFF');
  db.pragma('cell_size_check = ON');
  return db;
}

function openToWrite(file: string, version: number): Database {
  for (const end of ['', '-wal', '-shm']) makeOwnerOnly(file + end);
  const db = open(file, {});
  try {
    db.pragma('journal_mode = WAL');
    // FULL, not the usual NORMAL of WAL: an acknowledged entry must survive a power cut.
    db.pragma('synchronous = FULL');
    if (version < SCHEMA_VERSION) {
      keepVersion(db, file, version);
      migrate(db);
    }
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** The file appears whole or not at all: an empty file is therefore always a sign of damage, never a beginning. */
function createFile(file: string): void {
  mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  const temporary = partOf(file);
  try {
    closeSync(openSync(temporary, 'wx', 0o600));
    const db = new Sqlite(temporary);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    // Already here, since two processes that switch an old file to WAL at once would find each other in the way.
    db.pragma('journal_mode = WAL');
    db.pragma('synchronous = FULL');
    migrate(db);
    db.close();
    try {
      linkSync(temporary, file);
    } catch (error) {
      // Another process was quicker: its file is as good.
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  } finally {
    rmSync(temporary, { force: true });
  }
  syncNow(dirname(file));
}

/** Says whose file it is, without changing a byte of it: its schema version, or why it is not opened. */
function recognise(file: string): Result<number> {
  const header = Buffer.alloc(100);
  const fd = openSync(file, 'r');
  const read = readSync(fd, header, 0, 100, 0);
  closeSync(fd);
  const magic = Buffer.from('SQLite format 3\0', 'latin1');
  if (read === 0) return fail(storeProblem('store.truncated', file, 'it is empty'));
  if (!header.subarray(0, Math.min(read, 16)).equals(magic.subarray(0, Math.min(read, 16))))
    return fail(storeProblem('store.foreign', file));
  if (read < 100) return fail(storeProblem('store.truncated', file, `only ${read} bytes of its header are there`));
  // The header's layout: https://www.sqlite.org/fileformat2.html#the_database_header
  const application = header.readUInt32BE(68);
  if (application !== APPLICATION_ID)
    return fail(storeProblem('store.foreign', file, 'it is a database of another program'));
  const log = statSync(`${file}-wal`, { throwIfNoEntry: false });
  // With a write-ahead log at hand the header may rightly be behind or ahead of the rest; SQLite puts them together.
  const logged = log !== undefined && log.size > 0;
  if (logged && isLogDamaged(`${file}-wal`))
    return fail(storeProblem('store.damaged', file, 'its write-ahead log is not what was written'));
  const cut = logged ? 0 : missingBytes(file, header);
  if (cut > 0) return fail(storeProblem('store.truncated', file, `${cut} bytes are missing at its end`));
  const version = logged ? versionInLog(file) : header.readUInt32BE(60);
  return version > SCHEMA_VERSION
    ? fail(
        storeProblem(
          'store.newer',
          file,
          `its version is ${version}, this program knows versions up to ${SCHEMA_VERSION}`,
        ),
      )
    : ok(version);
}

function versionInLog(file: string): number {
  const db = new Sqlite(file, { readonly: true, fileMustExist: true, timeout: BUSY_MS });
  try {
    return versionOf(db);
  } finally {
    db.close();
  }
}

/** Bytes that the header promises and the file lacks. */
function missingBytes(file: string, header: Buffer): number {
  const pageSize = header.readUInt16BE(16) === 1 ? 65536 : header.readUInt16BE(16);
  const pages = header.readUInt32BE(24) === header.readUInt32BE(92) ? header.readUInt32BE(28) : 0;
  return pages * pageSize - statSync(file).size;
}
