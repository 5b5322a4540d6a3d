/**
 * `npm run roam -- [--runs N] [--seed S] [path …]`: the property tests again and again, each run with a seed of its own. Prints each
 * counterexample with its seed; each belongs into a test of its own. Ends with 1 when one fell.
 */

import { spawnSync } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

interface VitestReport {
  readonly testResults: readonly {
    readonly name: string;
    readonly message: string;
    readonly assertionResults: readonly {
      readonly fullName: string;
      readonly status: string;
      readonly failureMessages: readonly string[];
    }[];
  }[];
}

const root = fileURLToPath(new URL('../', import.meta.url));
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { runs: { type: 'string', default: '10' }, seed: { type: 'string' } },
});
const runs = Number(values.runs);
const first = values.seed === undefined ? randomInt(2 ** 31) : Number(values.seed);
if (!Number.isSafeInteger(runs) || runs < 1 || !Number.isSafeInteger(first)) {
  console.error('Expected whole numbers, such as --runs 10 --seed 479416520.');
  process.exit(2);
}

const paths = positionals.length > 0 ? positionals : ['src'];
const files = readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' })
  .map((file) => `src/${file.replaceAll('\\', '/')}`)
  .filter((file) => file.endsWith('.test.ts') && paths.some((path) => file.startsWith(path)))
  .filter((file) => readFileSync(join(root, file), 'utf8').includes('fc.assert('));
if (files.length === 0) {
  console.error(`No property test under ${paths.join(', ')}.`);
  process.exit(2);
}

// Options of a property test: `seed:` alone in its braces, or beside `numRuns`.
const OWN_SEED = /\{\s*seed: [\d_]+,?\s*\}|\{[^{}]*\bseed: [\d_]+[^{}]*numRuns|numRuns[^{}]*\bseed: [\d_]+/;
const fixed = files.filter((file) => OWN_SEED.test(readFileSync(join(root, file), 'utf8')));
if (fixed.length > 0) console.log(`A seed of their own, so they may not roam: ${fixed.join(', ')}`);

/** Runs the tests once; what fell, in words. */
function once(seed: number): readonly string[] {
  const folder = mkdtempSync(join(tmpdir(), 'rigworthy-roam-'));
  const output = join(folder, 'report.json');
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  // A slow run is no counterexample.
  const given = ['run', '--project', 'unit', '--testTimeout=300000', '--reporter=json', `--outputFile=${output}`];
  const ended = spawnSync(process.execPath, [vitest, ...given, ...files], {
    cwd: root,
    env: { ...process.env, PROPERTY_SEED: String(seed) },
    encoding: 'utf8',
  });
  try {
    const report: VitestReport = JSON.parse(readFileSync(output, 'utf8'));
    const fallen = report.testResults.flatMap((file) => {
      const name = file.name.slice(root.length);
      const failed = file.assertionResults.filter((one) => one.status === 'failed');
      const messages = failed.map((one) => `${name}: ${one.fullName}\n${one.failureMessages.join('\n')}`);
      return messages.length === 0 && file.message !== '' ? [`${name}\n${file.message}`] : messages;
    });
    return fallen.length === 0 && ended.status !== 0 ? [`The run failed outside the tests:\n${ended.stderr}`] : fallen;
  } catch {
    return [`The run did not come to its end:\n${ended.stderr}`];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

let fell = 0;
for (let run = 0; run < runs; run++) {
  const seed = (first + run) % 2 ** 31;
  const fallen = once(seed);
  fell += fallen.length;
  console.log(`seed ${seed}: ${fallen.length === 0 ? 'holds' : `${fallen.length} fell`}`);
  for (const message of fallen) console.log(`\n${message}\n\nAgain: npm run roam -- --runs 1 --seed ${seed}\n`);
}
console.log(`${runs} runs of ${files.length} files, ${fell} fell.`);
process.exit(fell === 0 ? 0 : 1);
