import { existsSync, readdirSync } from 'node:fs';
import { constants, mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { blobHash } from './blob.ts';
import { storeError } from './problems.ts';
import { clearAbandoned, partOf } from './temporary.ts';

/** Files by content: `ab/abcdef…`. A file is there whole or not at all. */
export class BlobFolder {
  readonly path: string;

  constructor(path: string) {
    this.path = path;
  }

  #fileOf(hash: string): string {
    return join(this.path, hash.slice(0, 2), hash);
  }

  async has(hash: string): Promise<boolean> {
    return stat(this.#fileOf(hash)).then(
      () => true,
      () => false,
    );
  }

  async read(hash: string): Promise<Buffer | undefined> {
    return readFile(this.#fileOf(hash)).catch((error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT') return undefined;
      throw error;
    });
  }

  /**
   * Durable once it returns: written under another name, flushed, renamed, and the folder flushed.
   * Returns false where it was there already.
   */
  async write(hash: string, content: Uint8Array): Promise<boolean> {
    if (await this.has(hash)) return false;
    await this.replace(hash, content);
    return true;
  }

  /** As `write`, over what is there. */
  async replace(hash: string, content: Uint8Array): Promise<void> {
    const path = this.#fileOf(hash);
    await makeFolderDurably(dirname(path));
    const temporary = partOf(path);
    try {
      const file = await open(temporary, 'wx', 0o600);
      try {
        await file.writeFile(content);
        await file.sync();
      } finally {
        await file.close();
      }
      await rename(temporary, path);
    } catch (error) {
      await rm(temporary, { force: true });
      throw error;
    }
    await syncFolder(dirname(path));
  }

  async remove(hash: string): Promise<void> {
    await rm(this.#fileOf(hash), { force: true });
  }

  /**
   * A copy of its own in another folder (no second name for the same bytes: damage here must not be damage there). What is there
   * and is not what it should be is replaced.
   */
  async copyTo(other: BlobFolder, hash: string): Promise<void> {
    const there = await other.read(hash);
    if (there && blobHash(there) === hash) return;
    const content = await this.read(hash);
    if (!content) throw storeError('store.damaged', this.#fileOf(hash), 'a photo or paper is missing');
    if (blobHash(content) !== hash)
      throw storeError('store.damaged', this.#fileOf(hash), 'a photo or paper is not what was kept');
    await other.replace(hash, content);
  }
}

/** Makes a folder where there is none, and its name durable. */
export async function makeFolderDurably(path: string): Promise<void> {
  const first = await mkdir(path, { recursive: true, mode: 0o700 });
  if (first === undefined) return;
  for (let made = path; ; made = dirname(made)) {
    await syncFolder(dirname(made));
    if (made === first) return;
  }
}

/** Removes what a killed process left half written. */
export function clearAbandonedBlobs(path: string): void {
  for (const name of existsSync(path) ? readdirSync(path) : []) clearAbandoned(join(path, name));
}

/** Makes the names in a folder durable. */
export async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, constants.O_RDONLY);
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}
