import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import yazl from 'yazl';
import { ok, ProblemError, unwrap } from '../../problem/index.ts';
import { blobHash } from '../blob.ts';
import { exportLines } from '../exchange.ts';
import { photoToShow } from '../pictures.ts';
import { storeError } from '../problems.ts';
import type { Store } from '../store.ts';
import { clearAbandonedTemporary, temporaryFolder } from '../temporary.ts';
import { ABOUT_FILE, type About, LOGBOOK_FILE } from './about.ts';
import { type OpenArchive, openArchive } from './read.ts';

export interface ArchiveOptions {
  readonly rig: string;
  /** Photos as they were handed in, with where they were taken. */
  readonly withPlaces: boolean;
  /** Milliseconds since 1970. */
  readonly now: number;
}

export interface MadeArchive {
  readonly file: string;
  readonly about: About;
  /** Takes the file away again. */
  readonly remove: () => Promise<void>;
}

/**
 * One rig's logbook and photos as a ZIP file in a temporary folder, read back whole before it counts: `logbook.jsonl` as `export` writes
 * it, `photos/` by their names' hash, `about.json` with the sums. One photo is in memory at a time.
 *
 * Rejects with a `ProblemError`: those of the store.
 */
export async function makeArchive(store: Store, options: ArchiveOptions): Promise<MadeArchive> {
  clearAbandonedTemporary();
  const folder = await temporaryFolder('archive');
  const remove = (): Promise<void> => rm(folder, { recursive: true, force: true });
  try {
    const file = join(folder, 'archive.zip');
    await write(store, options, folder, file, true);
    const opened = await openArchive(file);
    if (opened.ok) return { file, about: await aboutOf(opened.value), remove };
    if (opened.problems[0]!.code !== 'store.archive-unsafe') throw new ProblemError(opened.problems);
    // Lines so much alike that, packed, they would look like a bomb.
    await rm(file);
    await write(store, options, folder, file, false);
    return { file, about: await aboutOf(unwrap(await openArchive(file))), remove };
  } catch (error) {
    await remove();
    if ((error as NodeJS.ErrnoException).code === 'ENOSPC') throw storeError('store.full', folder);
    throw error;
  }
}

async function write(
  store: Store,
  { rig, withPlaces, now }: ArchiveOptions,
  folder: string,
  file: string,
  compress: boolean,
): Promise<void> {
  const book = join(folder, LOGBOOK_FILE);
  const { entries, sha256 } = await writeLines(store, rig, book);
  const about: About = {
    format: 'rigworthy-archive',
    version: 1,
    rig,
    madeAt: new Date(now).toISOString(),
    entries,
    logbook: sha256,
    places: withPlaces ? 'kept' : 'left out',
    photos: [],
    withheld: [],
  };
  const zip = new yazl.ZipFile();
  const written = pipeline(zip.outputStream, createWriteStream(file, { mode: 0o600 }));
  const mtime = new Date(now);
  zip.addFile(book, LOGBOOK_FILE, { mtime, mode: 0o600, compress });
  for (const { hash } of await store.blobsOf(rig)) {
    const blob = (await store.getBlob(rig, hash))!;
    const shown = withPlaces ? ok(blob.content) : await photoToShow(blob.content, blob.type);
    if (!shown.ok) {
      about.withheld.push({ hash, why: shown.problems[0]!.what });
      continue;
    }
    const name = `photos/${hash}.${blob.type.split('/')[1]!.replace('jpeg', 'jpg')}`;
    about.photos.push({ hash, type: blob.type, file: name, sha256: blobHash(shown.value) });
    await addWhole(zip, shown.value, name, mtime);
  }
  zip.addBuffer(Buffer.from(`${JSON.stringify(about, null, 2)}\n`), ABOUT_FILE, { mtime, mode: 0o600 });
  zip.end();
  await written;
}

/** Returns when the bytes have been taken, so that the next photo waits until this one is written. Photos are packed already. */
async function addWhole(zip: yazl.ZipFile, content: Uint8Array, name: string, mtime: Date): Promise<void> {
  const stream = Readable.from([content], { objectMode: false });
  zip.addReadStream(stream, name, { mtime, mode: 0o600, compress: false, size: content.length });
  await once(stream, 'end');
}

async function writeLines(store: Store, rig: string, file: string): Promise<{ entries: number; sha256: string }> {
  const hash = createHash('sha256');
  let entries = 0;
  async function* counted(): AsyncGenerator<string> {
    for await (const line of exportLines(store, rig)) {
      hash.update(line);
      entries++;
      yield line;
    }
  }
  await pipeline(counted, createWriteStream(file, { mode: 0o600 }));
  return { entries, sha256: hash.digest('hex') };
}

async function aboutOf({ about, close }: OpenArchive): Promise<About> {
  await close();
  return about;
}
