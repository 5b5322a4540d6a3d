import { createHash } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream as WebStream } from 'node:stream/web';
import { Decrypter, Encrypter, generateX25519Identity, identityToRecipient } from 'age-encryption';
import Sqlite from 'better-sqlite3';
import { fail, ok, ProblemError, type Result } from '../../problem/index.ts';
import { clearAbandonedBlobs, makeFolderDurably, syncFolder } from '../blob-folder.ts';
import { storeError, storeProblem } from '../problems.ts';
import type { Store } from '../store.ts';
import { partOf, temporaryFolder } from '../temporary.ts';
import { fileHash, type Manifest, readManifest } from './manifest.ts';
import { changed, readWhole, type WholeCopy } from './verify.ts';

type Encrypted = NonNullable<Manifest['encrypted']>;

/** Photos encrypted to one recipient; those of another are beside them. */
const photosFolder = (folder: string, recipient: string): string =>
  join(folder, `blobs-${createHash('sha256').update(recipient).digest('hex').slice(0, 16)}`);

const photoFile = (folder: string, hash: string): string => join(folder, hash.slice(0, 2), `${hash}.age`);

/**
 * Copies the store into a private temporary folder, reads that back whole, and encrypts it to `part`, and photos that are not there
 * yet to their folder. Everything is encrypted to a second key as well, which is nowhere but in this process's memory: with it
 * what was written is decrypted once and compared.
 *
 * Rejects with a `ProblemError`: those of the store and of `readWhole`, `store.damaged` (what was encrypted does not come back).
 */
export async function encryptCopy(
  store: Store,
  part: string,
  target: { readonly folder: string; readonly recipient: string; readonly earlier: readonly string[] },
): Promise<WholeCopy & { encrypted: Encrypted }> {
  const place = await temporaryFolder('copy');
  try {
    const clear = join(place, 'copy.sqlite');
    await store.backup(clear, { withoutBlobs: true });
    const rigOf = photosIn(clear);
    const read = async (hash: string): Promise<Buffer | undefined> => {
      const blob = await store.getBlob(rigOf.get(hash)!, hash);
      return blob && Buffer.from(blob.content);
    };
    const whole = await readWhole(clear, { read });
    if (!whole.ok) throw new ProblemError(whole.problems);
    const keys = await Keys.make(target.recipient);
    await keys.encryptFile(clear, part);
    const photos = await encryptPhotos([...rigOf.keys()].sort(), read, target, keys);
    const { recipient } = target;
    return { ...whole.value, encrypted: { recipient, sha256: await fileHash(clear), photos } };
  } finally {
    await rm(place, { recursive: true, force: true });
  }
}

/** A rig of each photo. */
function photosIn(file: string): Map<string, string> {
  const db = new Sqlite(file, { readonly: true });
  try {
    const rows = db.prepare('SELECT hash, rig FROM blobs').all() as { hash: string; rig: string }[];
    return new Map(rows.map(({ hash, rig }) => [hash, rig]));
  } finally {
    db.close();
  }
}

async function encryptPhotos(
  hashes: readonly string[],
  read: (hash: string) => Promise<Buffer | undefined>,
  {
    folder,
    recipient,
    earlier,
  }: { readonly folder: string; readonly recipient: string; readonly earlier: readonly string[] },
  keys: Keys,
): Promise<Encrypted['photos']> {
  const to = photosFolder(folder, recipient);
  clearAbandonedBlobs(to);
  const known = new Map<string, string>();
  for (const copy of earlier) {
    const { encrypted } = (await readManifest(copy)) ?? {};
    if (encrypted?.recipient === recipient) for (const { hash, sha256 } of encrypted.photos) known.set(hash, sha256);
  }
  const photos: Encrypted['photos'] = [];
  for (const hash of hashes) {
    const file = photoFile(to, hash);
    const there = known.has(hash) ? await fileHash(file).catch(() => undefined) : undefined;
    if (there === undefined || there !== known.get(hash)) await encryptPhoto(file, hash, await read(hash), keys);
    photos.push({ hash, sha256: await fileHash(file) });
  }
  return photos;
}

async function encryptPhoto(file: string, hash: string, content: Buffer | undefined, keys: Keys): Promise<void> {
  if (!content) throw storeError('store.damaged', hash, 'a photo or paper is missing');
  await makeFolderDurably(dirname(file));
  const part = partOf(file);
  try {
    await keys.encrypt([content], part, hash);
    await rename(part, file);
    await syncFolder(dirname(file));
  } finally {
    await rm(part, { force: true });
  }
}

/** The recipient, and a key of the moment to read back with. */
class Keys {
  readonly #encrypter: Encrypter;
  readonly #decrypter: Decrypter;

  private constructor(encrypter: Encrypter, decrypter: Decrypter) {
    this.#encrypter = encrypter;
    this.#decrypter = decrypter;
  }

  static async make(recipient: string): Promise<Keys> {
    const ofTheMoment = await generateX25519Identity();
    const encrypter = new Encrypter();
    encrypter.addRecipient(recipient);
    encrypter.addRecipient(await identityToRecipient(ofTheMoment));
    const decrypter = new Decrypter();
    decrypter.addIdentity(ofTheMoment);
    return new Keys(encrypter, decrypter);
  }

  async encryptFile(clear: string, to: string): Promise<void> {
    await this.encrypt(createReadStream(clear), to, await fileHash(clear));
  }

  /** Writes, flushes, and reads back. Throws `store.damaged` where what comes back has another SHA-256. */
  async encrypt(clear: Iterable<Uint8Array> | AsyncIterable<Uint8Array>, to: string, sha256: string): Promise<void> {
    const stream = Readable.toWeb(Readable.from(clear, { objectMode: false })) as ReadableStream<Uint8Array>;
    const encrypted = await this.#encrypter.encrypt(stream);
    await pipeline(Readable.fromWeb(encrypted as WebStream), createWriteStream(to, { mode: 0o600 }));
    const file = await open(to, 'r+');
    await file.sync();
    await file.close();
    const hash = createHash('sha256');
    for await (const piece of await decryptStream(to, this.#decrypter)) hash.update(piece as Uint8Array);
    if (hash.digest('hex') !== sha256) throw storeError('store.damaged', to, 'what was encrypted does not come back');
  }
}

async function decryptStream(file: string, decrypter: Decrypter): Promise<Readable> {
  const input = createReadStream(file);
  try {
    return Readable.fromWeb(
      (await decrypter.decrypt(Readable.toWeb(input) as ReadableStream<Uint8Array>)) as WebStream,
    );
  } catch (error) {
    input.destroy();
    throw error;
  }
}

/**
 * What can be said of an encrypted copy without its phrase: it and its photos are as they were when they were made and read back.
 *
 * Problems: `store.copy-unknown` (nothing beside it says what it was), `store.copy-changed`.
 */
export async function verifyEncrypted(copy: string): Promise<Result<Manifest>> {
  const manifest = await readManifest(copy);
  if (!manifest?.encrypted) {
    return fail({
      ...storeProblem('store.damaged', copy),
      code: 'store.copy-unknown',
      what: 'Nothing beside this encrypted copy says what it was when it was made',
      next: 'Its `.json` file belongs beside it. With the recovery phrase it can be looked into: name it with --from.',
    });
  }
  if ((await fileHash(copy).catch(() => undefined)) !== manifest.sha256) return fail(changed(copy));
  const { recipient, photos } = manifest.encrypted;
  for (const { hash, sha256 } of photos) {
    const file = photoFile(photosFolder(dirname(copy), recipient), hash);
    if ((await fileHash(file).catch(() => undefined)) !== sha256) return fail(changed(file));
  }
  return ok(manifest);
}

/**
 * Decrypts a copy and its photos into `place`: the file of the copy in clear, to be verified and put back like any other.
 *
 * @param identity an age identity, see `identityOf`
 * Problems: `store.phrase-other` (encrypted to another recipient), `store.copy-changed` (it does not decrypt whole).
 */
export async function decryptCopy(copy: string, identity: string, place: string): Promise<Result<string>> {
  const decrypter = new Decrypter();
  decrypter.addIdentity(identity);
  const clear = join(place, 'copy.sqlite');
  const opened = await decryptFile(copy, clear, decrypter);
  if (!opened.ok) return opened;
  const manifest = await readManifest(copy);
  const recipient = await identityToRecipient(identity);
  if (manifest?.encrypted && (await fileHash(clear)) !== manifest.encrypted.sha256) return fail(changed(copy));
  const from = photosFolder(dirname(copy), recipient);
  for (const hash of photosIn(clear).keys()) {
    const to = join(place, 'blobs', hash.slice(0, 2));
    await mkdir(to, { recursive: true, mode: 0o700 });
    const photo = await decryptFile(photoFile(from, hash), join(to, hash), decrypter);
    if (!photo.ok) return photo;
  }
  return ok(clear);
}

async function decryptFile(file: string, to: string, decrypter: Decrypter): Promise<Result<true>> {
  try {
    await pipeline(await decryptStream(file, decrypter), createWriteStream(to, { mode: 0o600, flush: true }));
    return ok(true);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === 'ENOSPC') throw storeError('store.full', to);
    // The library has no code for it.
    if (/no identity matched/.test(message)) {
      return fail({
        code: 'store.phrase-other',
        what: 'This copy was encrypted to another recovery phrase',
        where: file,
        next: 'Nothing was changed. Look for the phrase of the time when it was made.',
      });
    }
    return fail(code === 'ENOENT' ? { ...changed(file), what: 'A part of this copy is missing' } : changed(file));
  }
}
