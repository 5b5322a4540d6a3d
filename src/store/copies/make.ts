import { existsSync } from 'node:fs';
import { readdir, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { type Problem, ProblemError, type Result } from '../../problem/index.ts';
import { BlobFolder, clearAbandonedBlobs, makeFolderDurably, syncFolder } from '../blob-folder.ts';
import { storeError } from '../problems.ts';
import { translated } from '../sqlite/failure.ts';
import type { CheckReport, Store } from '../store.ts';
import { clearAbandoned, clearAbandonedTemporary, partOf } from '../temporary.ts';
import { encryptCopy, verifyEncrypted } from './encrypt.ts';
import { fileHash, type Manifest, manifestOf, readManifest, writeManifest } from './manifest.ts';
import { copyName, isEncrypted, madeAt } from './name.ts';
import { type CopyContent, doubtOf, isToCome, newestFirst } from './order.ts';
import { expired, KEEP } from './rotation.ts';
import { readWhole, verifyCopy, type WholeCopy } from './verify.ts';

export interface Copy {
  readonly file: string;
  /** By the clock of then, milliseconds since 1970. */
  readonly madeAt: number;
  readonly encrypted: boolean;
  readonly content?: CopyContent | undefined;
  /** Why its name is not to be believed. */
  readonly doubt?: string | undefined;
}

/**
 * Copies in a folder, newest first by what they hold.
 *
 * @param now milliseconds since 1970: a copy of a day to come is told as doubtful.
 */
export async function listCopies(folder: string, now: number): Promise<Copy[]> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [] as string[];
    throw error;
  });
  const copies: Copy[] = [];
  for (const name of names) {
    const ms = madeAt(name);
    if (ms === undefined) continue;
    const file = join(folder, name);
    copies.push({ file, madeAt: ms, encrypted: isEncrypted(name), content: await contentOf(file) });
  }
  const ordered = newestFirst(copies, now);
  return ordered.map((copy) => ({ ...copy, doubt: doubtOf(copy, ordered, now) }));
}

/** By the copy itself, with the number from what stands beside it; by that alone where the copy cannot be read. */
async function contentOf(file: string): Promise<CopyContent | undefined> {
  const manifest = await readManifest(file);
  const noted = manifest && { rigs: manifest.rigs, blobs: manifest.blobs.count, number: manifest.number };
  if (isEncrypted(file)) return noted;
  try {
    const db = new Sqlite(file, { readonly: true, fileMustExist: true });
    try {
      const rigs = db.prepare('SELECT rig, epoch, head AS entries FROM rigs').all() as CopyContent['rigs'];
      const blobs = db.prepare('SELECT count(DISTINCT hash) FROM blobs').pluck().get() as number;
      return { rigs, blobs, number: manifest?.number };
    } finally {
      db.close();
    }
  } catch {
    return noted;
  }
}

export interface MadeCopy extends Copy {
  readonly report: CheckReport;
}

/**
 * Makes a copy in `folder` while the store goes on, reads it back whole, notes what it holds, and lets old copies go. Until it is
 * known to be good it has another name. A copy that does not pass is removed and no old one is let go.
 *
 * @param recipient a public age recipient (`age1…`): the copy and its photos are then encrypted to it.
 * Rejects with a `ProblemError`: those of the store, and those of `verifyCopy`.
 */
export async function makeCopy(store: Store, folder: string, now: number, recipient?: string): Promise<MadeCopy> {
  await makeFolderDurably(folder);
  clearAbandoned(folder);
  clearAbandonedTemporary();
  clearAbandonedBlobs(join(folder, 'blobs'));
  const file = join(folder, copyName(now, recipient !== undefined));
  if (existsSync(file)) throw storeError('store.unwritable', file, 'there is a copy of this second already');
  const earlier = await listCopies(folder, now);
  const part = partOf(file);
  try {
    const target = { folder, earlier: earlier.map((copy) => copy.file) };
    const made: WholeCopy & Pick<Manifest, 'encrypted'> =
      recipient === undefined
        ? await copyInClear(store, part)
        : await encryptCopy(store, part, { ...target, recipient });
    const manifest: Manifest = {
      madeAt: new Date(now).toISOString(),
      from: store.place.where,
      sha256: await fileHash(part),
      rigs: made.report.rigs.map((rig) => ({ ...rig, epoch: made.epochs.get(rig.rig) })),
      blobs: made.report.blobs,
      number: 1 + Math.max(0, ...earlier.map(({ content }) => content?.number ?? 0)),
      ...(made.encrypted ? { encrypted: made.encrypted } : {}),
    };
    await writeManifest(file, manifest);
    await rename(part, file);
    await syncFolder(folder);
    await rotate(folder, now);
    return { file, madeAt: now, encrypted: recipient !== undefined, report: made.report };
  } catch (error) {
    if (!existsSync(file)) await rm(manifestOf(file), { force: true });
    throw translated(error, folder);
  } finally {
    await rm(part, { force: true });
  }
}

async function copyInClear(store: Store, part: string): Promise<WholeCopy> {
  await store.backup(part);
  const whole = await readWhole(part, new BlobFolder(join(dirname(part), 'blobs')));
  if (!whole.ok) throw new ProblemError(whole.problems);
  return whole.value;
}

async function rotate(folder: string, now: number): Promise<void> {
  const copies = await listCopies(folder, now);
  const gone = new Set(
    expired(
      copies.map((copy) => copy.madeAt),
      now,
    ),
  );
  for (const { file, madeAt } of copies.slice(KEEP.newest)) {
    if (!gone.has(madeAt)) continue;
    await rm(file);
    await rm(manifestOf(file), { force: true });
  }
}

/** Newer copies that do not pass. */
export interface BadCopy {
  readonly file: string;
  readonly problems: readonly Problem[];
}

/** The newest copy that passes, what is wrong with those that are newer, and which names are not to be believed. */
export interface FoundCopy {
  readonly copy?: Copy;
  readonly bad: readonly BadCopy[];
  readonly doubtful: readonly { readonly file: string; readonly doubt: string }[];
}

/** Looks at copies from the newest on until one passes. An encrypted one passes when it is as it was when it was made and read back. */
export async function newestGoodCopy(folder: string, now: number): Promise<FoundCopy> {
  const bad: BadCopy[] = [];
  const copies = await listCopies(folder, now);
  const doubtful = copies.flatMap(({ file, doubt }) => (doubt ? [{ file, doubt }] : []));
  for (const copy of copies) {
    const verified: Result<unknown> = copy.encrypted ? await verifyEncrypted(copy.file) : await verifyCopy(copy.file);
    if (verified.ok) return { copy, bad, doubtful };
    bad.push({ file: copy.file, problems: verified.problems });
  }
  return { bad, doubtful };
}

const DAY_MS = 86_400_000;

/**
 * Whether a copy should be made: none of the last day, or, at a start, something written since the newest. A copy of a day to
 * come is none of the last day: the clock was wrong, and copies go on.
 */
export async function copyDue(store: Store, folder: string, now: number, atStart: boolean): Promise<boolean> {
  const copies = await listCopies(folder, now);
  if (!copies.some(({ madeAt }) => !isToCome(madeAt, now) && now - madeAt < DAY_MS)) return true;
  if (!atStart) return false;
  const newest = copies.find(({ content }) => content);
  const then = newest?.content?.rigs.map(({ rig, epoch, entries }) => `${rig} ${epoch}-${entries}`);
  const heads = (await store.rigs()).map(({ rig, cursor }) => `${rig} ${cursor}`);
  return JSON.stringify(heads.sort()) !== JSON.stringify(then?.sort());
}
