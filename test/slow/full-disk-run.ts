/**
 * Fills a small file system, and says what happened. Run inside a mount namespace of its own, where `folder` is a file system
 * of 1 MiB; `mount` may enlarge it. Prints one line of JSON.
 */
import { execFileSync } from 'node:child_process';
import { ProblemError, unwrap } from '../../src/problem/index.ts';
import { makeCopy, openStore } from '../../src/store/index.ts';
import { entryNumber, pngNumber } from '../support/keeping.ts';

const folder = process.argv[2]!;

async function codeOf(act: () => Promise<unknown>): Promise<string> {
  try {
    await act();
    return 'done';
  } catch (error) {
    if (error instanceof ProblemError) return error.problems[0]!.code;
    throw error;
  }
}

async function run(): Promise<void> {
  const store = unwrap(await openStore({ folder }));
  let kept = 0;
  let full = 'done';
  for (; full === 'done'; kept += 50) {
    const batch = Array.from({ length: 50 }, (_, i) => entryNumber(kept + i));
    full = await codeOf(async () => unwrap(await store.append(batch, { via: 'a test' })));
  }
  kept -= 50;
  const blob = await codeOf(() => store.putBlob('marigold', pngNumber(1, 900_000)));
  const copy = await codeOf(() => makeCopy(store, `${folder}/copies`, Date.UTC(2026, 5, 12)));
  const whileFull = await store.check();
  execFileSync('mount', ['-o', 'remount,size=16m', folder]);
  const again = await codeOf(async () => unwrap(await store.append([entryNumber(1_000_000)], { via: 'a test' })));
  const blobAgain = await codeOf(() => store.putBlob('marigold', pngNumber(1, 900_000)));
  const after = await store.check();
  await store.close();
  console.log(JSON.stringify({ kept, full, blob, copy, whileFull, again, blobAgain, after }));
}

void run();
