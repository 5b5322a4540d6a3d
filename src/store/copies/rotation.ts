import { isToCome } from './order.ts';

/** How many copies stay: the newest few whatever their age, then the newest of each day, week and month. */
export const KEEP = { newest: 3, days: 7, weeks: 5, months: 12 } as const;

const DAY_MS = 86_400_000;
/** 1970-01-01 was a Thursday: weeks begin on Monday. */
const week = (ms: number): number => Math.floor((ms / DAY_MS + 3) / 7);
const month = (ms: number): string => new Date(ms).toISOString().slice(0, 7);

/**
 * Which of the copies made at these moments (milliseconds) may go. As time passes a copy leaves the days, then the weeks, then
 * the months; the oldest kept is about a year old. Those whose day is to come neither go nor push others out: it is not known
 * whose clock was wrong.
 */
export function expired(moments: readonly number[], now: number): number[] {
  const newestFirst = moments.filter((ms) => !isToCome(ms, now)).sort((a, b) => b - a);
  const keep = new Set(newestFirst.slice(0, KEEP.newest));
  const keepNewestOf = (bucket: (ms: number) => number | string, most: number): void => {
    const seen = new Set<number | string>();
    for (const ms of newestFirst) {
      const name = bucket(ms);
      if (seen.has(name)) continue;
      if (seen.size === most) return;
      seen.add(name);
      keep.add(ms);
    }
  };
  keepNewestOf((ms) => Math.floor(ms / DAY_MS), KEEP.days);
  keepNewestOf(week, KEEP.weeks);
  keepNewestOf(month, KEEP.months);
  return newestFirst.filter((ms) => !keep.has(ms));
}
