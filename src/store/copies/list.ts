import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { listCopies } from './make.ts';
import { fileHash, type Manifest, readManifest } from './manifest.ts';

export interface ListedCopy {
  readonly name: string;
  /** Milliseconds since 1970. */
  readonly madeAt: number;
  readonly bytes: number;
  /**
   * `verified`: read back whole when it was made, and still the same file. `changed`: no longer the same. `unknown`: nothing beside it
   * says what it was.
   */
  readonly state: 'verified' | 'changed' | 'unknown';
  readonly rigs: Manifest['rigs'];
  readonly encrypted: boolean;
  /** Why its name is not to be believed. */
  readonly doubt?: string;
}

/** Sums of files that have not been touched since they were read. */
const sums = new Map<string, string>();

/** The copies in a folder, newest first by what they hold, each compared with what was noted when it was made. */
export async function describeCopies(folder: string, now: number): Promise<ListedCopy[]> {
  const listed: ListedCopy[] = [];
  for (const { file, madeAt, encrypted, doubt } of await listCopies(folder, now)) {
    const found = await stat(file).catch(() => undefined);
    // Let go by another process just now.
    if (!found) continue;
    const manifest = await readManifest(file);
    const key = `${file} ${found.size} ${found.mtimeMs}`;
    if (manifest && !sums.has(key)) sums.set(key, await fileHash(file));
    const state = !manifest ? 'unknown' : sums.get(key) === manifest.sha256 ? 'verified' : 'changed';
    const rigs = manifest?.rigs ?? [];
    listed.push({
      name: basename(file),
      madeAt,
      bytes: found.size,
      state,
      rigs,
      encrypted,
      ...(doubt ? { doubt } : {}),
    });
  }
  return listed;
}
