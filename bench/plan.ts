/**
 * Plan one instance from a file and print one JSON line: `{"cost", "bound", "milliseconds", "visits"}`.
 * Usage: `npm run bench:plan -- FILE.json [MILLISECONDS]` (default 2,000; less when the plan is proven sooner).
 */
import { readFileSync } from 'node:fs';
import { instanceFromJson, optimise } from '../src/plan/optimise/index.ts';
import { unwrap } from '../src/problem/index.ts';

const [file, budget = '2000'] = process.argv.slice(2);
if (file === undefined || !(Number(budget) > 0)) {
  console.error('Usage: npm run bench:plan -- FILE.json [MILLISECONDS]');
  process.exit(2);
}
const instance = unwrap(instanceFromJson(JSON.parse(readFileSync(file, 'utf8'))));
const clock = (): number => performance.now();
const started = clock();
const { cost, bound, visits } = unwrap(optimise(instance, { clock, budgetMilliseconds: Number(budget) }));
const milliseconds = Math.round((clock() - started) * 10) / 10;
console.log(JSON.stringify({ cost: Math.round(cost * 1e6) / 1e6, bound, milliseconds, visits }));
