/**
 * Fills a small file system, and says what happened. Run inside a mount namespace of its own, where `folder` is a file system
 * of 1 MiB; `mount` may enlarge it. Prints one line of JSON.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { writeEntry } from '../../src/logbook/index.ts';
import { ProblemError, type Result, unwrap } from '../../src/problem/index.ts';
import {
  identityOf,
  importArchive,
  importLines,
  makeArchive,
  makeCopy,
  makePhrase,
  openStore,
  recipientOf,
  restoreCopy,
  type Store,
} from '../../src/store/index.ts';
import { APPLICATION_ID, migrate } from '../../src/store/sqlite/schema.ts';
import { entryNumber, pngNumber } from '../support/keeping.ts';

const folder = process.argv[2]!;
const data = join(folder, 'data');
const old = join(folder, 'old');
/** On another disk: what is brought in and put back. */
const outside = mkdtempSync(join(tmpdir(), 'rigworthy-outside-'));
const NOW = Date.UTC(2026, 5, 12);
const via = { via: 'a test' };
const range = (from: number, to: number, rig?: string) =>
  Array.from({ length: to - from }, (_, n) => entryNumber(from + n, rig));

/** `done`, or the code of what was told; anything else that is thrown ends the test. */
async function codeOf(act: () => Promise<Result<unknown> | unknown>): Promise<string> {
  try {
    const result = (await act()) as Result<unknown> | undefined;
    return result?.ok === false ? result.problems[0]!.code : 'done';
  } catch (error) {
    if (error instanceof ProblemError) return error.problems[0]!.code;
    throw error;
  }
}

/** A file of the first version with so many entries, as a program of then left it. */
async function oldFile(entries: number): Promise<void> {
  const store = unwrap(await openStore({ folder: join(outside, 'today') }));
  await store.append(range(0, entries), via);
  await store.close();
  mkdirSync(old);
  const from = new Sqlite(join(outside, 'today/rigworthy.sqlite'), { readonly: true });
  const to = new Sqlite(join(old, 'rigworthy.sqlite'));
  to.pragma(`application_id = ${APPLICATION_ID}`);
  migrate(to, 1);
  for (const [table, marks] of [
    ['rigs', '?, ?, ?'],
    ['entries', '?, ?, ?, ?, ?, ?'],
  ] as const)
    for (const row of from.prepare(`SELECT * FROM ${table}`).raw().all())
      to.prepare(`INSERT INTO ${table} VALUES (${marks})`).run(row as unknown[]);
  from.close();
  to.close();
}

/** What comes from the other disk: a copy, lines and an archive of another rig, each larger than the small disk. */
async function prepare() {
  const store = unwrap(await openStore({ folder: join(outside, 'data') }));
  unwrap(await store.bringIn(() => [range(0, 3000, 'wren')], via));
  await store.putBlob('wren', pngNumber(2, 900_000));
  const { file: copy } = await makeCopy(store, join(outside, 'copies'), NOW);
  const made = await makeArchive(store, { rig: 'wren', withPlaces: true, now: NOW });
  const lines = join(outside, 'wren.jsonl');
  writeFileSync(lines, `${range(0, 3000, 'wren').map(writeEntry).join('\n')}\n`);
  await store.close();
  return { copy, lines, archive: made };
}

/** Each thing that writes, one after the other. */
async function each(store: Store, from: Awaited<ReturnType<typeof prepare>>, recipient: string, at: number) {
  return {
    blob: await codeOf(() => store.putBlob('marigold', pngNumber(1, 900_000))),
    copy: await codeOf(() => makeCopy(store, join(folder, 'copies'), at)),
    encrypted: await codeOf(() => makeCopy(store, join(folder, 'copies'), at + 1000, recipient)),
    lines: await codeOf(() => importLines(store, from.lines, via)),
    archive: await codeOf(() => importArchive(store, from.archive.file, via)),
    upgrade: await codeOf(async () => {
      const opened = await openStore({ folder: old });
      if (opened.ok) await opened.value.close();
      return opened;
    }),
  };
}

async function run(): Promise<void> {
  const from = await prepare();
  await oldFile(150);
  const recipient = await recipientOf(unwrap(await identityOf(makePhrase())));
  const store = unwrap(await openStore({ folder: data }));
  let kept = 0;
  let append = 'done';
  for (; append === 'done'; kept += 50)
    append = await codeOf(async () => unwrap(await store.append(range(kept, kept + 50), via)));
  kept -= 50;
  const full = { append, ...(await each(store, from, recipient, NOW)) };
  const whileFull = await store.check();
  await store.close();
  const restoreFull = await codeOf(() => restoreCopy(from.copy, { folder: data }, NOW));
  const left = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => /part|restoring/.test(name));

  execFileSync('mount', ['-o', 'remount,size=24m', folder]);
  const again = unwrap(await openStore({ folder: data }));
  const afterRestore = await again.check();
  const appendAgain = await codeOf(async () => unwrap(await again.append([entryNumber(1_000_000)], via)));
  const space = { append: appendAgain, ...(await each(again, from, recipient, NOW + 60_000)) };
  const after = await again.check();
  await again.close();
  const upgraded = unwrap(await openStore({ folder: old }));
  const oldCheck = await upgraded.check();
  await upgraded.close();
  const restoreAgain = await codeOf(() => restoreCopy(from.copy, { folder: data }, NOW));
  await from.archive.remove();
  rmSync(outside, { recursive: true });
  console.log(
    JSON.stringify({
      kept,
      full: { ...full, restore: restoreFull },
      whileFull,
      left,
      afterRestore,
      space: { ...space, restore: restoreAgain },
      after,
      oldCheck,
    }),
  );
}

void run();
