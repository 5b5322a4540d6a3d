/** Kill rounds: a process is killed at a moment that a seed gives, then everything is looked at, then the work is done to its end. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { makeBench } from './bench.ts';
import { type Kind, prepare, type Ring, type Round } from './kinds.ts';
import { doWork } from './work.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const built = join(root, 'tmp/kill');

export interface Told {
  readonly round: number;
  /** After the work began. */
  readonly killedAfterMs: number;
  /** Where the kill met it. */
  readonly met: 'midway' | 'after the end';
}

/** Built once: a start of a compiler for each round would be most of the time. */
export async function buildWork(): Promise<string> {
  const name = `work-${process.pid}.mjs`;
  await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: fileURLToPath(new URL('work.ts', import.meta.url)),
      outDir: built,
      emptyOutDir: false,
      rollupOptions: { output: { entryFileNames: name } },
    },
  });
  return join(built, name);
}

export async function makeRing(folder: string, database: string | undefined): Promise<Ring> {
  const temporary = join(folder, 'tmp');
  mkdirSync(temporary, { recursive: true });
  process.env.TMPDIR = temporary;
  return { bench: await makeBench(folder), database };
}

/** A number in [0, 1) that is the same for the same words, whatever shard asks. */
export function chanceOf(...words: readonly (string | number)[]): number {
  return createHash('sha256').update(words.join(' ')).digest().readUInt32BE(0) / 2 ** 32;
}

interface Ran {
  readonly ended: boolean;
  readonly tookMs: number;
  readonly said: string;
}

/** Starts the work and kills it so long after it began; `Infinity`: lets it end. */
function run(program: string, { work }: Round, afterMs: number): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [program, JSON.stringify(work)], { stdio: ['ignore', 'pipe', 'pipe'] });
    let began = 0;
    let ended = 0;
    let said = '';
    let timer: NodeJS.Timeout | undefined;
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      if (text.includes('begin')) {
        began = performance.now();
        if (afterMs < Number.POSITIVE_INFINITY) timer = setTimeout(() => child.kill('SIGKILL'), afterMs);
      }
      if (text.includes('end')) ended = performance.now();
    });
    child.once('error', reject);
    child.once('close', () => {
      clearTimeout(timer);
      resolve({ ended: ended > 0, tookMs: ended - began, said });
    });
  });
}

/** How long the work takes when nobody kills it, in milliseconds: the middle of three, and a tenth more. */
export async function durationOf(kind: Kind, program: string, ring: Ring): Promise<number> {
  const took: number[] = [];
  for (let n = 0; n < 3; n++) {
    const round = await prepare(kind, n, ring);
    const { ended, tookMs, said } = await run(program, round, Number.POSITIVE_INFINITY);
    if (!ended) throw new Error(`${kind} does not come to its end: ${said}`);
    await round.check('done');
    await round.clear();
    took.push(tookMs);
  }
  return took.sort((a, b) => a - b)[1]! * 1.1;
}

export async function killRound(
  kind: Kind,
  number: number,
  { seed, program, ring, durationMs }: { seed: number; program: string; ring: Ring; durationMs: number },
): Promise<Told> {
  const round = await prepare(kind, number, ring);
  const killedAfterMs = Math.round(chanceOf(seed, kind, number) * durationMs * 10) / 10;
  const { ended, said } = await run(program, round, killedAfterMs);
  try {
    if (said) throw new Error(`it failed before it was killed: ${said}`);
    await round.check(ended ? 'done' : 'killed');
    await doWork({
      ...round.work,
      ...('now' in round.work ? { now: round.work.now + 5000 } : {}),
    } as Round['work']).catch((error: Error) => {
      throw new Error(`afterwards it cannot be done: ${error.message}`);
    });
    await round.check('again');
  } catch (error) {
    throw new Error(
      `${kind}, round ${number}, seed ${seed}, killed after ${killedAfterMs} ms: ${(error as Error).message}`,
    );
  }
  await round.clear();
  return { round: number, killedAfterMs, met: ended ? 'after the end' : 'midway' };
}
