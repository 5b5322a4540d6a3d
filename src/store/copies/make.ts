import { existsSync } from 'node:fs';
import { readdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Problem, ProblemError } from '../../problem/index.ts';
import { syncFolder } from '../blob-folder.ts';
import type { CheckReport, Store } from '../store.ts';
import { copyName, madeAt } from './name.ts';
import { expired } from './rotation.ts';
import { fileHash, type Manifest, manifestOf, readManifest, verifyCopy } from './verify.ts';

export interface Copy {
  readonly file: string;
  /** Milliseconds since 1970. */
  readonly madeAt: number;
}

/** Copies in a folder, newest first. */
export async function listCopies(folder: string): Promise<Copy[]> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [] as string[];
    throw error;
  });
  return names
    .flatMap((name) => {
      const ms = madeAt(name);
      return ms === undefined ? [] : [{ file: join(folder, name), madeAt: ms }];
    })
    .sort((a, b) => b.madeAt - a.madeAt);
}

/**
 * Makes a copy in `folder` while the store goes on, reads it back whole, notes what it holds, and lets old copies go. A copy
 * that does not pass is removed and no old one is let go.
 *
 * Rejects with a `ProblemError`: those of the store, and those of `verifyCopy`.
 */
export async function makeCopy(store: Store, folder: string, now: number): Promise<Copy & { report: CheckReport }> {
  const file = join(folder, copyName(now));
  await store.backup(file);
  const verified = await verifyCopy(file);
  if (!verified.ok) {
    await rm(file, { force: true });
    throw new ProblemError(verified.problems);
  }
  const { rigs, blobs } = verified.value;
  const manifest: Manifest = {
    madeAt: new Date(now).toISOString(),
    from: store.place.where,
    sha256: await fileHash(file),
    rigs: [...rigs],
    blobs,
  };
  const part = `${manifestOf(file)}.part`;
  await writeFile(part, `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600, flush: true });
  await rename(part, manifestOf(file));
  await syncFolder(folder);
  await rotate(folder);
  return { file, madeAt: now, report: verified.value };
}

async function rotate(folder: string): Promise<void> {
  const copies = await listCopies(folder);
  const gone = new Set(expired(copies.map((copy) => copy.madeAt)));
  for (const { file, madeAt } of copies) {
    if (!gone.has(madeAt)) continue;
    await rm(file);
    await rm(manifestOf(file), { force: true });
  }
}

/** The newest copy that passes, and what is wrong with those that are newer. */
export async function newestGoodCopy(
  folder: string,
): Promise<{ copy?: Copy; bad: { file: string; problems: readonly Problem[] }[] }> {
  const bad: { file: string; problems: readonly Problem[] }[] = [];
  for (const copy of await listCopies(folder)) {
    const verified = await verifyCopy(copy.file);
    if (verified.ok) return { copy, bad };
    bad.push({ file: copy.file, problems: verified.problems });
  }
  return { bad };
}

const DAY_MS = 86_400_000;

/** Whether a copy should be made: none of the last day, or, at a start, something written since the newest. */
export async function copyDue(store: Store, folder: string, now: number, atStart: boolean): Promise<boolean> {
  const newest = (await listCopies(folder))[0];
  if (!newest || now - newest.madeAt >= DAY_MS) return true;
  if (!atStart || !existsSync(manifestOf(newest.file))) return atStart;
  const then = await readManifest(newest.file);
  const heads = (await store.rigs()).map(({ rig, entries }) => `${rig} ${entries}`);
  return JSON.stringify(heads) !== JSON.stringify(then?.rigs.map(({ rig, entries }) => `${rig} ${entries}`));
}
