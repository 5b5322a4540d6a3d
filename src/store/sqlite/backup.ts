import { existsSync } from 'node:fs';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { BlobFolder, clearAbandonedBlobs, makeFolderDurably, syncFolder } from '../blob-folder.ts';
import { createOwnerOnly } from '../owner-only.ts';
import { storeError } from '../problems.ts';
import type { BackupOptions } from '../store.ts';
import { partOf } from '../temporary.ts';

/** Pages copied before writers get a turn. */
const PAGES_PER_TURN = 500;

/**
 * Copies a store's file to `target` as of one moment, with the blobs it speaks of into `blobs` beside it. The copy appears whole
 * or not at all.
 */
export async function backupFile(
  file: string,
  blobs: BlobFolder,
  target: string,
  options: BackupOptions = {},
): Promise<void> {
  clearAbandonedBlobs(blobs.path);
  await makeWhole(target, async (temporary) => {
    // A reader of its own that holds on to one moment: without it, every write of another process begins the copy anew.
    const reader = new Sqlite(file, { readonly: true });
    try {
      reader.exec('BEGIN; SELECT count(*) FROM rigs');
      await reader.backup(temporary, { progress: () => PAGES_PER_TURN });
    } finally {
      reader.close();
    }
    // Out of the write-ahead mode: a copy can then be read without a file being made beside it.
    const copy = new Sqlite(temporary);
    copy.pragma('journal_mode = DELETE');
    copy.close();
    if (!options.withoutBlobs) await copyBlobs(temporary, blobs, new BlobFolder(join(dirname(target), 'blobs')));
  });
}

/** Makes a file under another name, flushes it and gives it its own name, which must be free. */
export async function makeWhole(target: string, make: (temporary: string) => Promise<void>): Promise<void> {
  if (existsSync(target)) throw storeError('store.unwritable', target, 'there is a file of that name already');
  await makeFolderDurably(dirname(target));
  const temporary = partOf(target);
  try {
    createOwnerOnly(temporary);
    await make(temporary);
    const file = await open(temporary, 'r+');
    await file.sync();
    await file.close();
    await rename(temporary, target);
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) await rm(temporary + end, { force: true });
  }
  await syncFolder(dirname(target));
}

/** Blobs that the copied file speaks of, not those of the original: a blob added since then belongs to the next copy. */
async function copyBlobs(copy: string, from: BlobFolder, to: BlobFolder): Promise<void> {
  const db = new Sqlite(copy, { readonly: true });
  let hashes: string[];
  try {
    hashes = db.prepare('SELECT DISTINCT hash FROM blobs').pluck().all() as string[];
  } finally {
    db.close();
  }
  if (hashes.length) await mkdir(to.path, { recursive: true, mode: 0o700 });
  for (const hash of hashes) await from.copyTo(to, hash);
}
