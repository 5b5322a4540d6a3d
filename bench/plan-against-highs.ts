/**
 * Time to a proven gap of 2 %, 1 % and 0.5 %: this planner against HiGHS (WebAssembly, one thread, `mip_rel_gap`), on the same instances in
 * the same process. Usage: `npx tsx bench/plan-against-highs.ts [LIMIT_SECONDS] [JOBS,SLOTS,SETUPS,SEED[,tight] …]`.
 * Ours: the middle of three runs after a warm start of the process, reading the instance included. HiGHS: one run for each gap; where it
 * meets the limit, its time is a lower bound (marked >) and so is the ratio, and tighter gaps are not tried.
 */
import loadHighs from 'highs';
import { createSearch, instanceFromJson, type PlanInstance } from '../src/plan/optimise/index.ts';
import { unwrap } from '../src/problem/index.ts';
import { planInstance } from '../test/support/plan-instance.ts';
import { planProgram } from '../test/support/plan-program.ts';

const GAPS = [0.02, 0.01, 0.005];
const DEFAULT_SET = ['20,8,5,2', '40,12,6,3', '80,18,8,2', '20,8,5,3,tight', '40,12,6,2,tight', '80,18,8,3,tight'];
const [limitText = '20', ...named] = process.argv.slice(2);
const limitSeconds = Number(limitText);

function instanceNamed(name: string): PlanInstance {
  const [jobs = 0, slots = 0, setups = 0, seed = 0] = name.split(',').slice(0, 4).map(Number);
  return unwrap(instanceFromJson(planInstance(jobs, slots, setups, seed, name.endsWith(',tight'))));
}

/** Milliseconds until each gap is proven; Infinity for those not reached within the limit. */
function ourTimes(instance: PlanInstance): number[] {
  const times = GAPS.map(() => Number.POSITIVE_INFINITY);
  const started = performance.now();
  const search = unwrap(createSearch(instance));
  for (;;) {
    search.run(() => true);
    const elapsed = performance.now() - started;
    const gap = (search.cost - search.bound) / Math.abs(search.cost);
    GAPS.forEach((wanted, k) => {
      if (gap <= wanted) times[k] = Math.min(times[k] as number, elapsed);
    });
    if (search.done || elapsed > limitSeconds * 1000 || Number.isFinite(times.at(-1))) return times;
  }
}

function middle(runs: number[][]): number[] {
  return GAPS.map((_, k) => runs.map((times) => times[k] as number).sort((a, b) => a - b)[runs.length >> 1] as number);
}

function format(milliseconds: number, met: boolean): string {
  if (!Number.isFinite(milliseconds)) return `not in ${limitSeconds} s`;
  return `${met ? '> ' : ''}${milliseconds < 10 ? milliseconds.toFixed(1) : Math.round(milliseconds)} ms`;
}

const highs = await loadHighs();
const warm = performance.now();
while (performance.now() - warm < 3000)
  for (const name of ['20,8,5,901,tight', '40,12,6,902', '40,12,6,903,tight', '80,18,8,904'])
    ourTimes(instanceNamed(name));
console.log('instance            gap    ours             HiGHS            ratio');
const ratios: number[] = [];
for (const name of named.length > 0 ? named : DEFAULT_SET) {
  const instance = instanceNamed(name);
  const ours = middle([0, 1, 2].map(() => ourTimes(instance)));
  const program = planProgram(instance);
  let met = false;
  let theirs = 0;
  GAPS.forEach((gap, k) => {
    if (!met) {
      const started = performance.now();
      const solved = highs.solve(program, { output_flag: false, mip_rel_gap: gap, time_limit: limitSeconds });
      theirs = performance.now() - started;
      met = solved.Status !== 'Optimal';
    }
    const ratio = theirs / (ours[k] as number);
    if (Number.isFinite(ours[k])) ratios.push(ratio);
    const cells = [
      name.padEnd(18),
      `${gap * 100} %`.padStart(6),
      format(ours[k] as number, false).padEnd(15),
      format(theirs, met).padEnd(15),
    ];
    const shown = Number.isFinite(ours[k]) ? `${met ? '> ' : ''}${ratio.toFixed(0)}` : '–';
    console.log(`${cells.join('  ')}  ${shown}`);
  });
}
const geometric = Math.exp(ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0) / ratios.length);
console.log(
  `HiGHS takes ${geometric.toFixed(0)} times as long (geometric mean; limits count as they stand, gaps we did not prove are left out), at least ${Math.min(...ratios).toFixed(0)} times.`,
);
