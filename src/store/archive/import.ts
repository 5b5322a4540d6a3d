import { rm, statfs } from 'node:fs/promises';
import { join } from 'node:path';
import { fail, ok, type Result } from '../../problem/index.ts';
import { type Imported, type ImportOptions, importLines } from '../exchange.ts';
import { storeProblem } from '../problems.ts';
import type { Store } from '../store.ts';
import { clearAbandonedTemporary, temporaryFolder } from '../temporary.ts';
import { LOGBOOK_FILE } from './about.ts';
import { openArchive } from './read.ts';

export interface ImportedArchive extends Imported {
  /** Photos that are there now. */
  readonly photos: number;
  /** Photos of which the archive has other bytes or none: places were left out of it. */
  readonly photosMissing: number;
}

/** Left free in the temporary folder: it may be memory that others need, too. */
const SPARE_BYTES = 64 * 1024 * 1024;

/**
 * Takes in an archive: its entries and photos, all or none. Doing it twice is harmless. A photo whose place was left out is not
 * the photo that the logbook speaks of, and is passed over.
 *
 * Problems: `store.archive-damaged`, `store.archive-unsafe`, `store.full` (of the temporary folder), those of `importLines`.
 */
export async function importArchive(
  store: Store,
  file: string,
  options: ImportOptions,
): Promise<Result<ImportedArchive>> {
  clearAbandonedTemporary();
  const opened = await openArchive(file);
  if (!opened.ok) return opened;
  const { about, logbookBytes, unpackLogbook, photo, close } = opened.value;
  const folder = await temporaryFolder('archive');
  try {
    const { bavail, bsize } = await statfs(folder);
    if (logbookBytes + SPARE_BYTES > bavail * bsize) return fail(storeProblem('store.full', folder));
    const book = join(folder, LOGBOOK_FILE);
    await unpackLogbook(book);
    const own = about.photos.filter(({ hash, sha256 }) => hash === sha256);
    async function* contents(): AsyncGenerator<Buffer> {
      for (const { file: name } of own) yield await photo(name);
    }
    const imported = await importLines(store, book, { ...options, photos: { rig: about.rig, contents } });
    if (!imported.ok) return imported;
    const missing = about.photos.length - own.length + about.withheld.length;
    return ok({ ...imported.value, photos: own.length, photosMissing: missing });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOSPC') return fail(storeProblem('store.full', folder));
    throw error;
  } finally {
    await close();
    await rm(folder, { recursive: true, force: true });
  }
}
