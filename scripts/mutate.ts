/**
 * `npm run mutate -- ROOM [--seed S] [--most N] [--shard i/n] [--concurrency N] [--fresh]`: whether the tests of a room fall when its
 * code is changed. Runs in batches; a run that was broken off goes on where it was. When all mutants chosen have run, the score goes to
 * `docs/internals/mutation.md`, and the survivors to `.mutation/ROOM/survivors.txt`.
 */

import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { EQUIVALENT_SHARE_MOST, isEquivalent, readEquivalents } from './mutate/equivalents.ts';
import { choose, type Mutant, readMutants } from './mutate/mutants.ts';
import { scoreOf, writeRow } from './mutate/report.ts';
import { filesUnder, type MutationRoom, mutationRooms, root } from './mutate/rooms.ts';
import { runStryker } from './mutate/stryker.ts';

/** Mutants between two savings of the results. */
const BATCH = 100;

function refuse(message: string): never {
  console.error(message);
  process.exit(2);
}
function whole(text: string, name: string): number {
  const value = Number(text);
  return Number.isSafeInteger(value) && value >= 0
    ? value
    : refuse(`--${name}: a whole number is expected, not "${text}".`);
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    seed: { type: 'string', default: '1' },
    most: { type: 'string' },
    shard: { type: 'string', default: '1/1' },
    concurrency: { type: 'string', default: '1' },
    fresh: { type: 'boolean', default: false },
  },
});
const name = positionals[0] ?? '';
const room: MutationRoom =
  mutationRooms[name]?.() ?? refuse(`Which room? One of: ${Object.keys(mutationRooms).join(', ')}.`);
const seed = whole(values.seed, 'seed');
const most = values.most === undefined ? Number.POSITIVE_INFINITY : whole(values.most, 'most');
const [shard, shards] = values.shard.split('/').map((part) => whole(part, 'shard')) as [number, number];
if (!(shard >= 1 && shard <= shards)) refuse('--shard: expected i/n with i from 1 to n, such as 2/3.');

const git = (...args: string[]) => execFileSync('git', args, { cwd: root, encoding: 'utf8' }).trim();

/**
 * Digest of all a result rests on besides the mutated sources and the room's tests, which Stryker compares itself. When it changes,
 * no earlier result holds.
 */
function surroundings(): string {
  const own = new Set([...room.mutate, ...room.tests]);
  const rest = ['src', 'catalog', 'build', 'demo', 'test/support', 'test/data', 'package-lock.json']
    .flatMap(filesUnder)
    .filter((file) => !own.has(file) && !file.startsWith('src/web/'));
  const hash = createHash('sha256').update(JSON.stringify(room.mutate));
  for (const file of rest) hash.update(`${file}\0`).update(readFileSync(join(root, file)));
  return hash.digest('hex');
}

const folder = join(root, '.mutation', name);
mkdirSync(folder, { recursive: true });
const keyFile = join(folder, 'surroundings');
const key = surroundings();
const results = join(folder, 'results.json');
if (values.fresh || !existsSync(keyFile) || readFileSync(keyFile, 'utf8') !== key) rmSync(results, { force: true });
writeFileSync(keyFile, key);

const run = (places: readonly string[]) =>
  runStryker(room, places, folder, Math.max(1, whole(values.concurrency, 'concurrency')));
const sampled = () => choose(readMutants(results), seed, most);

console.log(`Listing the mutants of ${name} …`);
await run([]);
const all = readMutants(results).length;
const mine = () => sampled().filter((_, i) => i % shards === shard - 1);
const waiting = () =>
  mine()
    .filter((mutant) => mutant.status === null)
    .map((mutant) => mutant.place);
const count = mine().length;
const known = count - waiting().length;
console.log(
  `${all} mutants, ${all > most ? `${most} chosen by seed ${seed}` : 'all chosen'}, ${count} in this shard, ${known} of them known from before.`,
);
// A later batch may drop the result of an earlier one, when a test covers other mutants than it did: ask anew each time.
for (let batches = 0; waiting().length > 0; batches++) {
  if (batches > 2 * Math.ceil(count / BATCH))
    refuse('Results are lost again and again: a test is not the same each time it runs.');
  await run(waiting().slice(0, BATCH));
  console.log(`${count - waiting().length} of ${count} run.`);
}

const sample = sampled();
const unrun = sample.filter((mutant) => mutant.status === null).length;
if (unrun > 0) {
  console.log(`Shard ${shard}/${shards} is done; ${unrun} mutants wait in other shards.`);
  process.exit(0);
}
const listed = readEquivalents();
const everyMutant = readMutants(results);
for (const one of listed)
  if (room.mutate.includes(one.file) && !everyMutant.some((mutant) => isEquivalent(mutant, [one])))
    console.log(`No mutant is this equivalent any more; take it out: ${one.file}: ${one.line} → ${one.replacement}`);
const equivalents = new Set(sample.filter((mutant) => isEquivalent(mutant, listed)));
const wrong = [...equivalents].filter((mutant) => mutant.status === 'Killed' || mutant.status === 'Timeout');
const score = scoreOf(sample, all, equivalents);
const survivors = sample.filter((m) => m.status !== 'Killed' && m.status !== 'Timeout' && !equivalents.has(m));
const shown = (m: Mutant) =>
  `${m.file}:${m.lineNumber} ${m.mutator} ${m.status}\n    ${m.line}\n  - ${m.original}\n  + ${m.replacement}`;
const report = join(folder, 'survivors.txt');
writeFileSync(
  report,
  `${survivors
    .toSorted((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.lineNumber - b.lineNumber))
    .map(shown)
    .join('\n\n')}\n`,
);
const dirty = git('status', '--porcelain', '--', 'src', 'test', 'catalog') === '' ? '' : ' and changes';
const commit = `${git('rev-parse', '--short=10', 'HEAD')}${dirty}`;
writeRow(name, { commit, tree: git('rev-parse', '--short=10', `HEAD:src/${name}`) }, seed, score);
console.log(
  `${name}: ${(score.share * 100).toFixed(1)} % (${score.killed} killed, ${score.timedOut} timed out, ${score.survived} survived, ${score.equivalent} equivalent). Survivors: ${report}`,
);
if (wrong.length > 0) refuse(`Called equivalent, but a test falls:\n${wrong.map(shown).join('\n')}`);
if (equivalents.size > EQUIVALENT_SHARE_MOST * sample.length)
  refuse(
    `${equivalents.size} of ${sample.length} are called equivalent; at most ${EQUIVALENT_SHARE_MOST * 100} % may be.`,
  );
