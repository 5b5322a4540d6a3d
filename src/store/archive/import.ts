import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ok, type Result, unwrap } from '../../problem/index.ts';
import { type Imported, type ImportOptions, importLines } from '../exchange.ts';
import type { Store } from '../store.ts';
import { LOGBOOK_FILE } from './about.ts';
import { openArchive } from './read.ts';

export interface ImportedArchive extends Imported {
  /** Photos that are there now. */
  readonly photos: number;
  /** Photos of which the archive has other bytes or none: places were left out of it. */
  readonly photosMissing: number;
}

/**
 * Takes in an archive: its entries, all or none, then its photos. Doing it twice is harmless. A photo whose place was left out is not the
 * photo that the logbook speaks of, and is passed over.
 *
 * Problems: `store.archive-damaged`, those of `importLines`.
 */
export async function importArchive(
  store: Store,
  file: string,
  options: ImportOptions,
): Promise<Result<ImportedArchive>> {
  const opened = await openArchive(file);
  if (!opened.ok) return opened;
  const { about, unpackLogbook, photo, close } = opened.value;
  const folder = await mkdtemp(join(tmpdir(), 'rigworthy-archive-'));
  try {
    const book = join(folder, LOGBOOK_FILE);
    await unpackLogbook(book);
    const imported = await importLines(store, book, options);
    if (!imported.ok) return imported;
    const own = about.photos.filter(({ hash, sha256 }) => hash === sha256);
    for (const { file: name } of own) unwrap(await store.putBlob(about.rig, await photo(name)));
    const missing = about.photos.length - own.length + about.withheld.length;
    return ok({ ...imported.value, photos: own.length, photosMissing: missing });
  } finally {
    await close();
    await rm(folder, { recursive: true, force: true });
  }
}
