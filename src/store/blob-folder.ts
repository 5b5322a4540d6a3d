import { randomBytes } from 'node:crypto';
import { constants, mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { storeError } from './problems.ts';

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

  /** Durable once it returns: written under another name, flushed, renamed, and the folder flushed. */
  async write(hash: string, content: Uint8Array): Promise<void> {
    if (await this.has(hash)) return;
    const path = this.#fileOf(hash);
    await mkdir(dirname(path), { recursive: true, mode: 0o700 });
    const temporary = `${path}.${randomBytes(6).toString('hex')}.part`;
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

  /** A copy of its own in another folder (no second name for the same bytes: damage here must not be damage there). */
  async copyTo(other: BlobFolder, hash: string): Promise<void> {
    if (await other.has(hash)) return;
    const content = await this.read(hash);
    if (!content) throw storeError('store.damaged', this.#fileOf(hash), 'a photo or paper is missing');
    await other.write(hash, content);
  }
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
