import { chmodSync, closeSync, openSync, statSync } from 'node:fs';

/** Read and written by the owner, and by nobody else of the machine. */
const OWNER_ONLY = 0o600;

/** Makes an empty file that only its owner can read; SQLite fills one as if it were new, and gives its logs the same mode. */
export function createOwnerOnly(file: string): void {
  closeSync(openSync(file, 'wx', OWNER_ONLY));
}

/** Takes the file from everybody but its owner, where others could read it. One that is somebody else's is left as it is. */
export function makeOwnerOnly(file: string): void {
  const found = statSync(file, { throwIfNoEntry: false });
  if (!found || (found.mode & 0o077) === 0) return;
  try {
    chmodSync(file, OWNER_ONLY);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') throw error;
  }
}
