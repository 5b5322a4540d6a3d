/**
 * `npm run flips -- --flips N --seed S`: flips single bits, N in all, in the database, its log, photos and copies. Prints a line of JSON
 * with each that was neither found nor harmless, and ends with 1 if there is one.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { commitNow } from './bench.ts';
import { AREAS, flip, makeFlipBench } from './flips.ts';

const { values } = parseArgs({
  options: { flips: { type: 'string', default: '500' }, seed: { type: 'string', default: '1' } },
});
const seed = Number(values.seed);
const each = Math.ceil(Number(values.flips) / AREAS.length);
const place = mkdtempSync(join(tmpdir(), 'rigworthy-flips-'));
const missed: string[] = [];
const counts: Record<string, { found: number; harmless: number }> = {};
const bench = await makeFlipBench(place);
for (const area of AREAS) {
  const count = { found: 0, harmless: 0 };
  counts[area] = count;
  for (let number = 0; number < each; number++) {
    try {
      count[await flip(area, number, seed, bench)]++;
    } catch (error) {
      missed.push((error as Error).message);
    }
  }
}
rmSync(place, { recursive: true, force: true });
const commit = commitNow(fileURLToPath(new URL('../../', import.meta.url)));
console.log(JSON.stringify({ flips: each * AREAS.length, seed, commit, counts, missed }, null, 2));
process.exitCode = missed.length ? 1 : 0;
