/**
 * `npm run kill -- KIND --rounds N --seed S --shard I/N --database sqlite|postgres`: kill rounds of one kind, each round the same for
 * the same seed whatever the shard. What is done is kept in tmp/kill, by commit; started again, it goes on. Prints a line of JSON, and
 * ends with 1 at the first round in which something is lost or torn.
 */
import { appendFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { startPostgres } from '../support/postgres.ts';
import { commitNow } from './bench.ts';
import { KINDS, type Kind } from './kinds.ts';
import { buildWork, durationOf, killRound, makeRing, type Told } from './rounds.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));

function options() {
  const { positionals, values } = parseArgs({
    allowPositionals: true,
    options: {
      rounds: { type: 'string', default: '200' },
      seed: { type: 'string', default: '1' },
      shard: { type: 'string', default: '1/1' },
      database: { type: 'string', default: 'sqlite' },
    },
  });
  const kind = KINDS.find((one) => one === positionals[0]);
  const shard = /^([1-9]\d*)\/([1-9]\d*)$/.exec(values.shard);
  if (!kind || !shard || !/^\d+$/.test(values.rounds) || !['sqlite', 'postgres'].includes(values.database)) {
    console.error(
      `Say which: npm run kill -- ${KINDS.join('|')} --rounds 200 --seed 1 --shard 1/1 --database sqlite|postgres`,
    );
    process.exit(2);
  }
  const [at, of] = [Number(shard[1]), Number(shard[2])];
  const numbers = Array.from({ length: Number(values.rounds) }, (_, n) => n).filter((n) => n % of === at - 1);
  return { kind, database: values.database, seed: Number(values.seed), shard: values.shard, numbers };
}

async function main(): Promise<void> {
  const { kind, database, seed, shard, numbers } = options();
  const commit = commitNow(root);
  const folder = join(root, 'tmp/kill', commit);
  mkdirSync(folder, { recursive: true });
  const report = join(folder, `${kind}-${database}-seed-${seed}-shard-${shard.replace('/', '-of-')}.jsonl`);
  const told = existsSync(report)
    ? readFileSync(report, 'utf8')
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line) as Told)
    : [];
  const done = new Set(told.map(({ round }) => round));
  const started = performance.now();
  const server = database === 'postgres' ? startPostgres({ fsync: true }) : undefined;
  if (typeof server === 'string') throw new Error(server);
  const place = mkdtempSync(join(tmpdir(), 'rigworthy-kill-'));
  try {
    const program = await buildWork();
    const ring = await makeRing(place, server?.url);
    const durationMs = await durationOf(kind as Kind, program, ring);
    for (const number of numbers) {
      if (done.has(number)) continue;
      const one = await killRound(kind as Kind, number, { seed, program, ring, durationMs });
      told.push(one);
      appendFileSync(report, `${JSON.stringify(one)}\n`);
    }
    const midway = told.filter(({ met }) => met === 'midway').length;
    const seconds = Math.round((performance.now() - started) / 1000);
    console.log(
      JSON.stringify({
        kind,
        database,
        rounds: told.length,
        midway,
        durationMs: Math.round(durationMs),
        seed,
        shard,
        commit,
        seconds,
      }),
    );
  } finally {
    rmSync(place, { recursive: true, force: true });
    server?.stop();
  }
}

await main();
