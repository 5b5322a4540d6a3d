import { execFileSync, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { createWriteStream, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeEntry } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { openStore } from '../../src/store/index.ts';
import { entryNumber, Folder } from '../support/keeping.ts';

const ENTRIES = 100_000;
/** The larger file is larger than all the memory the program may have. */
const MEMORY_MIB = 72;
const root = fileURLToPath(new URL('../../', import.meta.url));
/** At its end the program says how much memory it ever had, in kibibytes (getrusage). */
const SAY_MEMORY = `--import=data:text/javascript,${encodeURIComponent(
  "process.on('exit',()=>process.stderr.write('maxrss '+process.resourceUsage().maxRSS+String.fromCharCode(10)))",
)}`;

let folder: Folder;
beforeAll(() => {
  execFileSync(process.execPath, ['scripts/build.mjs'], { cwd: root });
  folder = new Folder();
}, 240_000);
afterAll(() => folder.remove());

async function bookOf(entries: number): Promise<string> {
  const path = folder.file(`${entries}.jsonl`);
  const file = createWriteStream(path);
  for (let n = 0; n < entries; n++) {
    const line = writeEntry(entryNumber(n, 'marigold', `reading ${n} ${'and what was seen '.repeat(60)}`));
    if (!file.write(`${line}\n`)) await once(file, 'drain');
  }
  file.end();
  await once(file, 'finish');
  return path;
}

const run = (argv: readonly string[]) =>
  spawnSync(
    process.execPath,
    [`--max-old-space-size=${MEMORY_MIB}`, SAY_MEMORY, join(root, 'bin/rigworthy.mjs'), ...argv],
    {
      cwd: root,
      encoding: 'utf8',
    },
  );
const memoryOf = (said: string): number => Number(/maxrss (\d+)/.exec(said)![1]) / 1024;

describe(`rigworthy import, in ${MEMORY_MIB} MiB of memory`, () => {
  it(`takes in ${ENTRIES} entries with progress, and no more memory than a quarter of them`, async () => {
    const memory: number[] = [];
    for (const entries of [ENTRIES / 4, ENTRIES]) {
      const book = await bookOf(entries);
      const data = folder.file(`data-${entries}`);
      const done = run(['import', book, '--as-is', '--data', data, '--json']);
      expect([done.status, done.error]).toEqual([0, undefined]);
      expect(JSON.parse(done.stdout)).toMatchObject({ added: entries, known: 0, rigs: ['marigold'] });
      expect(done.stderr.match(/^(Read|Written): [\d,]+ lines$/gm)!.length).toBe(2 * Math.floor(entries / 10_000));
      memory.push(memoryOf(done.stderr));
      if (entries < ENTRIES) continue;
      expect(statSync(book).size).toBeGreaterThan(MEMORY_MIB * 1024 * 1024);
      const store = unwrap(await openStore({ folder: data }));
      expect(await store.check()).toMatchObject({ ok: true, rigs: [{ entries: ENTRIES }] });
      await store.close();
    }
    console.info(`import: ${memory.map(Math.round).join(' and ')} MiB for a quarter and for all`);
    // What the engine takes for itself varies by some tens of MiB; four times the file is no more than that.
    expect(memory[1]! - memory[0]!).toBeLessThan(48);
  });

  it('refuses to judge so many one by one, and says how they come in', () => {
    const done = run(['import', folder.file(`${ENTRIES}.jsonl`), '--data', folder.file('judged'), '--json']);
    expect(done.status).toBe(2);
    expect(JSON.parse(done.stdout).problems).toMatchObject([{ code: 'cli.import-unjudged' }]);
  });
});
