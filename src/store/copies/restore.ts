import { randomBytes } from 'node:crypto';
import { copyFileSync, existsSync, linkSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { fail, ok, type Result, unwrap } from '../../problem/index.ts';
import { type AccessRestored, carryOnSqlite } from '../accounts/carry.ts';
import { MOMENTARY_TABLES } from '../accounts/tables.ts';
import { BlobFolder, clearAbandonedBlobs, syncFolder } from '../blob-folder.ts';
import { newEpoch } from '../cursor.ts';
import { FILE_NAME, type Target } from '../open.ts';
import { storeProblem } from '../problems.ts';
import { checkFile } from '../sqlite/check.ts';
import { failureOf, translated } from '../sqlite/failure.ts';
import { syncNow } from '../sqlite/keep-version.ts';
import { openFile } from '../sqlite/open.ts';
import type { CheckReport, Restored } from '../store.ts';
import { clearAbandoned, placeIn } from '../temporary.ts';
import { verifyCopy } from './verify.ts';

/**
 * Puts a copy back: verified first, built and checked in a new place, then swapped in; what was there is kept beside it. Every
 * rig gets a new epoch, so that readers start over instead of missing entries, and hand in again what only they have.
 *
 * Problems: those of `verifyCopy` (the copy is not good), `store.in-use` (a program has the data open), `store.full`,
 * and those of opening.
 */
export async function restoreCopy(copy: string, target: Target, now: number): Promise<Result<Restored>> {
  const verified = await verifyCopy(copy);
  if (!verified.ok) return verified;
  if ('folder' in target) return restoreFolder(copy, target.folder, now);
  const { restoreTables } = await import('../postgres/restore.ts');
  return restoreTables(copy, target, now);
}

async function restoreFolder(copy: string, folder: string, now: number): Promise<Result<Restored>> {
  const file = join(folder, FILE_NAME);
  if (existsSync(file) && inUse(file)) {
    return fail({
      code: 'store.in-use',
      what: 'A program has this data open',
      where: file,
      next: 'Stop it, then try again. Nothing was changed.',
    });
  }
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  clearAbandoned(folder);
  clearAbandonedBlobs(join(folder, 'blobs'));
  // Before photos are put there.
  const isNew = !isUsed(folder);
  const place = placeIn(folder, 'restoring');
  mkdirSync(place, { mode: 0o700 });
  try {
    const fresh = join(place, FILE_NAME);
    const blobs = new BlobFolder(join(folder, 'blobs'));
    await build(copy, fresh, blobs);
    const report = await checkPlace(fresh, blobs);
    if (!report.ok) return report;
    const access = settleAccess(fresh, file, isNew, { from: basename(copy), now });
    const replaced = existsSync(file) ? setAside(file, folder, now) : undefined;
    syncNow(fresh);
    renameSync(fresh, file);
    await syncFolder(folder);
    return ok({ report: report.value, access, ...(replaced ? { replaced } : {}) });
  } catch (error) {
    return { ok: false, problems: translated(error, folder).problems };
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
}

/** The copy with new epochs, and its blobs: missing ones written, damaged ones written over. */
async function build(copy: string, fresh: string, blobs: BlobFolder): Promise<void> {
  copyFileSync(copy, fresh);
  const db = new Sqlite(fresh);
  try {
    db.pragma('synchronous = FULL');
    db.pragma('journal_mode = WAL');
    const renew = db.prepare('UPDATE rigs SET epoch = ? WHERE rig = ?');
    const rigs = db.prepare('SELECT rig FROM rigs').pluck().all() as string[];
    db.transaction(() => {
      for (const rig of rigs) renew.run(newEpoch(), rig);
      // Somebody signed out since the copy was made stays signed out.
      for (const table of MOMENTARY_TABLES) db.prepare(`DELETE FROM ${table}`).run();
    })();
    const from = new BlobFolder(join(dirname(copy), 'blobs'));
    for (const hash of db.prepare('SELECT DISTINCT hash FROM blobs').pluck().all() as string[]) {
      await from.copyTo(blobs, hash);
    }
  } finally {
    db.close();
  }
}

/** Who may come in to the new file: as it was in the place before, so that nobody who was shut out since comes back. */
function settleAccess(
  fresh: string,
  file: string,
  isNew: boolean,
  told: { readonly from: string; readonly now: number },
): AccessRestored {
  const to = unwrap(openFile(fresh, { create: false }));
  try {
    if (!existsSync(file)) return carryOnSqlite(to, { kind: isNew ? 'new' : 'unreadable' }, told);
    const opened = openFile(file, { create: false, readonly: true });
    if (!opened.ok) return carryOnSqlite(to, { kind: 'unreadable' }, told);
    try {
      return carryOnSqlite(to, { kind: 'readable', access: opened.value }, told);
    } catch (error) {
      failureOf(error);
      return carryOnSqlite(to, { kind: 'unreadable' }, told);
    } finally {
      opened.value.close();
    }
  } finally {
    to.close();
  }
}

/** A data folder without its file is no new place: something was given and taken away in it. */
const isUsed = (folder: string): boolean =>
  readdirSync(folder).some((name) => name === 'copies' || name === 'blobs' || name.startsWith('replaced-'));

async function checkPlace(file: string, blobs: BlobFolder): Promise<Result<CheckReport>> {
  const opened = openFile(file, { create: false });
  if (!opened.ok) return opened;
  try {
    const report = await checkFile(opened.value, blobs);
    return report.ok ? ok(report) : fail(storeProblem('store.damaged', file, report.problems[0]!.what));
  } finally {
    opened.value.close();
  }
}

/**
 * Whether a program has the file open. Leaving the write-ahead mode needs the file to oneself; when that succeeds, all that the
 * log held is in the file. A file too damaged to ask counts as free: its programs notice that it was replaced.
 */
function inUse(file: string): boolean {
  try {
    const db = new Sqlite(file, { fileMustExist: true, timeout: 200 });
    try {
      db.pragma('journal_mode = DELETE');
      return false;
    } finally {
      db.close();
    }
  } catch (error) {
    return failureOf(error) === 'store.busy';
  }
}

/** Keeps the old file and its log in a folder of their own. The old file keeps its name too, until the new one takes it over. */
function setAside(file: string, folder: string, now: number): string {
  const name = new Date(now).toISOString().replaceAll(':', '').slice(0, 17);
  const replaced = join(folder, `replaced-${name}Z-${randomBytes(2).toString('hex')}`);
  mkdirSync(replaced, { mode: 0o700 });
  for (const end of ['-wal', '-shm']) {
    if (!existsSync(file + end)) continue;
    copyFileSync(file + end, join(replaced, FILE_NAME + end));
  }
  linkSync(file, join(replaced, FILE_NAME));
  for (const name of readdirSync(replaced)) syncNow(join(replaced, name));
  for (const made of [replaced, folder]) syncNow(made);
  // A log beside a file that it does not belong to would be played into it.
  for (const end of ['-wal', '-shm']) rmSync(file + end, { force: true });
  return replaced;
}
