import { type ChildProcess, spawn } from 'node:child_process';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unwrap } from '../../src/problem/index.ts';
import { openStore, type Target } from '../../src/store/index.ts';
import { entryNumber, Folder } from '../support/keeping.ts';
import { startPostgres } from '../support/postgres.ts';

/** Rounds in which a writer is killed; in every twentieth all four are, at once. */
const ROUNDS = 200;
const WRITERS = 4;
/** On two idle cores each takes half a minute; on busy ones it takes what it takes. */
const TIMEOUT_MS = 600_000;
const root = fileURLToPath(new URL('../../', import.meta.url));
const built = `${root}tmp/kill-writer`;

/** Built once: two hundred starts of a compiler would be most of the test. */
beforeAll(async () => {
  await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: fileURLToPath(new URL('kill-writer.ts', import.meta.url)),
      outDir: built,
      emptyOutDir: true,
      rollupOptions: { output: { entryFileNames: 'writer.mjs' } },
    },
  });
});

/** A writer that is started again after each kill, a few entries before where it was: those are sent twice. */
class Writer {
  readonly acknowledged = new Set<number>();
  #process: ChildProcess | undefined;
  #exited: Promise<void> = Promise.resolve();
  #rest = '';
  readonly errors: string[] = [];

  constructor(
    readonly target: Target,
    readonly number: number,
  ) {}

  start(): void {
    const first = Math.max(0, this.acknowledged.size - 7);
    const child = spawn(
      process.execPath,
      [`${built}/writer.mjs`, JSON.stringify(this.target), String(this.number), String(first)],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    this.#process = child;
    this.#rest = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      const lines = (this.#rest + text).split('\n');
      this.#rest = lines.pop()!;
      for (const line of lines) this.acknowledged.add(Number(line));
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => this.errors.push(text));
    this.#exited = new Promise((resolve) => child.once('close', () => resolve()));
  }

  async kill(): Promise<void> {
    this.#process!.kill('SIGKILL');
    await this.#exited;
  }

  /** Waits until it has written something since now. */
  async works(): Promise<void> {
    const before = this.acknowledged.size;
    for (let waited = 0; this.acknowledged.size === before; waited += 5) {
      if (waited > 20_000 || this.errors.length)
        throw new Error(`writer ${this.number} does not get on: ${this.errors.join('')}`);
      await wait(5);
    }
  }
}

/** Kills writers round after round; `disturb` may do more in a round. */
async function killRounds(
  target: Target,
  disturb: (round: number) => Promise<void> = async () => undefined,
): Promise<void> {
  const store = unwrap(await openStore(target));
  await store.close();
  const writers = Array.from({ length: WRITERS }, (_, number) => new Writer(target, number));
  for (const writer of writers) writer.start();
  for (let round = 0; round < ROUNDS; round++) {
    const killed = round % 20 === 19 ? writers : [writers[round % WRITERS]!];
    await Promise.all(killed.map((writer) => writer.works()));
    await disturb(round);
    // Not in step with the writer's own rhythm.
    await wait((round * 7) % 23);
    await Promise.all(killed.map((writer) => writer.kill()));
    if (round < ROUNDS - 1) for (const writer of killed) writer.start();
  }
  await Promise.all(writers.map((writer) => writer.kill()));

  expect(writers.flatMap(({ errors }) => errors)).toEqual([]);
  const after = unwrap(await openStore(target));
  const report = await after.check();
  expect(report.problems).toEqual([]);
  const found: string[] = [];
  let cursor: string | undefined;
  for (let more = true; more; ) {
    const page = unwrap(await after.readSince('marigold', cursor, 5000));
    found.push(...page.entries.map(({ entry }) => entry.id));
    ({ cursor, more } = page);
  }
  const ids = new Set(found);
  expect(found.length, 'none twice').toBe(ids.size);
  const acknowledged = writers.flatMap(({ number, acknowledged }) =>
    [...acknowledged].map((n) => entryNumber(number * 10_000_000 + n).id),
  );
  expect(acknowledged.length).toBeGreaterThan(ROUNDS);
  expect(
    acknowledged.filter((id) => !ids.has(id)),
    'every acknowledged entry is there',
  ).toEqual([]);
  await after.close();
}

describe(`${ROUNDS} rounds of kill -9 while ${WRITERS} writers append`, () => {
  it(
    'SQLite: every acknowledged entry is there, none twice, the check is clean',
    async () => {
      const folder = new Folder();
      await killRounds({ folder: folder.path });
      folder.remove();
    },
    TIMEOUT_MS,
  );

  const server = startPostgres({ fsync: true });
  if (typeof server === 'string') {
    it('PostgreSQL cannot be tested here', () => {
      console.warn(`PostgreSQL was NOT tested: ${server}`);
      expect(server).not.toBe('');
    });
  } else {
    afterAll(server.stop);
    it(
      'PostgreSQL: the same, with the server itself killed five times on the way',
      async () => {
        await killRounds({ database: server.url }, async (round) => {
          if (round % 40 === 20) await server.crash();
        });
      },
      TIMEOUT_MS,
    );
  }
});
