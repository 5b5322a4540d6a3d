/**
 * Tries the outlook and the plan on invented seasons and writes docs/calibration.md with its plots.
 * Usage: `npx tsx bench/seasons/report.ts [SEASONS] [FIRST_SEED]`; 500 seasons take some minutes of all processors.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { text } from 'node:stream/consumers';
import type { season } from './calibrate.ts';
import { pageOf } from './page.ts';
import { datesPlot, habitsPlot, tripsPlot } from './plots.ts';
import { calibrate, compareHabits } from './study.ts';
import type { seasonsOf } from './value.ts';

/** Dates are cheap to try beside plans. */
const DATES_FOR_A_PLAN = 4;

const seasons = Number(process.argv[2] ?? 500);
const first = Number(process.argv[3] ?? 500_001);

/** Seasons worked out in as many processes as there are processors. */
async function worked<T>(what: 'dates' | 'habits', count: number): Promise<T[]> {
  const share = Math.ceil(count / availableParallelism());
  const shards: Promise<string>[] = [];
  for (let at = 0; at < count; at += share) {
    const script = new URL('shard.ts', import.meta.url).pathname;
    const args = ['--import', 'tsx', script, what, String(first + at), String(Math.min(share, count - at))];
    shards.push(text(spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] }).stdout));
  }
  return (await Promise.all(shards)).flatMap((json) => JSON.parse(json) as T[]);
}

console.log(`${DATES_FOR_A_PLAN * seasons} seasons of dates …`);
const calibration = calibrate(await worked<ReturnType<typeof season>>('dates', DATES_FOR_A_PLAN * seasons));
console.log(`${seasons} seasons of habits …`);
const results = compareHabits(await worked<ReturnType<typeof seasonsOf>>('habits', seasons));

const docs = new URL('../../docs/', import.meta.url);
mkdirSync(new URL('calibration/', docs), { recursive: true });
writeFileSync(new URL('calibration/dates.svg', docs), datesPlot(calibration));
writeFileSync(new URL('calibration/trips.svg', docs), tripsPlot(calibration));
writeFileSync(new URL('calibration/habits.svg', docs), habitsPlot(results));
writeFileSync(new URL('calibration.md', docs), pageOf(seasons, first, calibration, results));
