import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import yauzl from 'yauzl';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { BLOB_BYTES_MAX, blobHash } from '../blob.ts';
import { ABOUT_FILE, type About, aboutSchema, LOGBOOK_FILE } from './about.ts';
import { LIMITS, unsafe } from './limits.ts';

/** An archive that was read whole and is what it says. */
export interface OpenArchive {
  readonly about: About;
  /** Bytes of the logbook's lines. */
  readonly logbookBytes: number;
  /** Writes the logbook's lines into a file. */
  unpackLogbook(to: string): Promise<void>;
  photo(name: string): Promise<Buffer>;
  close(): Promise<void>;
}

const damaged = (where: string, what: string): Problem => ({
  code: 'store.archive-damaged',
  what,
  where,
  expected: 'an archive as `rigworthy export FILE.zip` or the page makes it',
  next: 'Take another; nothing was changed.',
});

/**
 * Opens an archive and reads all of it: every part it lists is there and has its sum, and none is larger than the directory
 * says, which is looked at first. Problems: `store.archive-damaged`, `store.archive-unsafe` (beyond the bounds of `LIMITS`).
 */
export async function openArchive(file: string): Promise<Result<OpenArchive>> {
  let zip: yauzl.ZipFile;
  try {
    zip = await open(file);
  } catch (error) {
    return fail(damaged(file, `This is no ZIP file that is whole: ${(error as Error).message}`));
  }
  try {
    const listed = await partsOf(zip);
    const beyond = unsafe(listed, zip.fileSize);
    if (beyond) return await closed(zip, fail({ ...damaged(file, beyond), code: 'store.archive-unsafe' }));
    const parts: Parts = new Map(listed.map((part) => [part.fileName, part]));
    const about = await aboutOf(zip, parts);
    if (!about) return await closed(zip, fail(damaged(file, `There is no ${ABOUT_FILE} of ours in it`)));
    const wrong = await wrongWith(zip, parts, about);
    if (wrong) return await closed(zip, fail(damaged(file, wrong)));
    return ok({
      about,
      logbookBytes: parts.get(LOGBOOK_FILE)!.uncompressedSize,
      unpackLogbook: async (to) =>
        pipeline(await stream(zip, parts.get(LOGBOOK_FILE)!), createWriteStream(to, { mode: 0o600 })),
      photo: (name) => whole(zip, parts.get(name)!, BLOB_BYTES_MAX),
      close: async () => zip.close(),
    });
  } catch (error) {
    return closed(zip, fail(damaged(file, `It cannot be read whole: ${(error as Error).message}`)));
  }
}

type Parts = ReadonlyMap<string, yauzl.Entry>;

async function wrongWith(zip: yauzl.ZipFile, parts: Parts, about: About): Promise<string | undefined> {
  const book = parts.get(LOGBOOK_FILE);
  if (!book) return `${LOGBOOK_FILE} is missing`;
  if (about.entries > LIMITS.entries) return `It has ${about.entries} entries; at most ${LIMITS.entries} are taken in`;
  const hash = createHash('sha256');
  let lines = 0;
  for await (const part of await stream(zip, book)) {
    hash.update(part as Buffer);
    for (const byte of part as Buffer) if (byte === 10) lines++;
  }
  if (hash.digest('hex') !== about.logbook || lines !== about.entries) return `${LOGBOOK_FILE} is not what was written`;
  if (new Set(about.photos.map(({ file }) => file)).size < about.photos.length) return 'A photo is listed twice';
  for (const { file, sha256 } of about.photos) {
    const part = parts.get(file);
    if (!part) return `${file} is missing`;
    if (blobHash(await whole(zip, part, BLOB_BYTES_MAX)) !== sha256) return `${file} is not what was written`;
  }
  return undefined;
}

async function aboutOf(zip: yauzl.ZipFile, parts: Parts): Promise<About | undefined> {
  const part = parts.get(ABOUT_FILE);
  if (!part) return undefined;
  return aboutSchema.safeParse(JSON.parse((await whole(zip, part, LIMITS.aboutBytes)).toString('utf8'))).data;
}

async function closed<T>(zip: yauzl.ZipFile, result: T): Promise<T> {
  zip.close();
  return result;
}

function open(file: string): Promise<yauzl.ZipFile> {
  return new Promise((resolve, reject) =>
    yauzl.open(file, { autoClose: false, lazyEntries: true }, (error, zip) => (error ? reject(error) : resolve(zip))),
  );
}

function partsOf(zip: yauzl.ZipFile): Promise<yauzl.Entry[]> {
  return new Promise((resolve, reject) => {
    const parts: yauzl.Entry[] = [];
    zip.on('error', reject);
    zip.on('end', () => resolve(parts));
    zip.on('entry', (entry: yauzl.Entry) => {
      parts.push(entry);
      if (parts.length > LIMITS.parts) reject(new Error(`there are more than ${LIMITS.parts} files in it`));
      else zip.readEntry();
    });
    zip.readEntry();
  });
}

function stream(zip: yauzl.ZipFile, part: yauzl.Entry): Promise<Readable> {
  return new Promise((resolve, reject) =>
    zip.openReadStream(part, (error, opened) => (error ? reject(error) : resolve(opened))),
  );
}

/** A part in memory; one that is, or turns out, larger than `most` is not read. */
async function whole(zip: yauzl.ZipFile, part: yauzl.Entry, most: number): Promise<Buffer> {
  if (part.uncompressedSize > most) throw new Error(`${part.fileName} is too large`);
  const read: Buffer[] = [];
  for await (const piece of await stream(zip, part)) read.push(piece as Buffer);
  return Buffer.concat(read);
}
