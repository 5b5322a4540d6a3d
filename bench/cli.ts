/**
 * How long the built command line takes to begin: its help, and the outlook of the demo rig, against Node doing nothing in the same run.
 * Usage: `npx tsx bench/cli.ts [RUNS]` (default 9 each, in turns; the middle one is told). Build first.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const RUNS = Number(process.argv[2] ?? 9);
const program = fileURLToPath(new URL('../bin/rigworthy.mjs', import.meta.url));
const told: readonly (readonly [what: string, args: readonly string[], aim?: number])[] = [
  ['node, doing nothing', ['-e', '0']],
  ['rigworthy --help', [program, '--help'], 300],
  ['rigworthy outlook --demo', [program, 'outlook', '--demo']],
];

const taken = told.map((): number[] => []);
for (let n = 0; n < RUNS; n++)
  for (const [i, [what, args]] of told.entries()) {
    const begun = performance.now();
    const { status, stderr } = spawnSync(process.execPath, [...args], { stdio: ['ignore', 'ignore', 'pipe'] });
    if (status !== 0) throw new Error(`${what} ended with ${status}: ${stderr}`);
    taken[i]!.push(performance.now() - begun);
  }
const middle = taken.map((runs) => runs.sort((a, b) => a - b)[runs.length >> 1]!);
for (const [i, [what, , aim]] of told.entries()) {
  const ms = middle[i]!;
  const judged = aim === undefined ? '' : `   aim ≤ ${aim} ms: ${ms <= aim ? 'met' : 'MISSED'}`;
  console.log(
    `${what.padEnd(26)} ${ms.toFixed(0).padStart(6)} ms   ${(ms / middle[0]!).toFixed(1)} times nothing${judged}`,
  );
}
