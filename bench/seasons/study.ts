import { GROUPS, type Statement, type season, type TripStatement } from './calibrate.ts';
import { HABITS, type Habit, YEARS } from './value.ts';
import { type Tally, totalOf } from './wear.ts';

/** A share with its standard error, seasons taken as what is drawn anew: several statements of one season go together. */
export interface Share {
  readonly share: number;
  readonly error: number;
  readonly count: number;
}

function shareOf(seen: readonly { readonly season: number; readonly hit: boolean }[]): Share {
  const bySeason = new Map<number, { n: number; hits: number }>();
  for (const { season: of, hit } of seen) {
    const sums = bySeason.get(of) ?? { n: 0, hits: 0 };
    bySeason.set(of, { n: sums.n + 1, hits: sums.hits + (hit ? 1 : 0) });
  }
  const hits = seen.filter(({ hit }) => hit).length;
  const share = hits / seen.length;
  // Of a ratio of sums over seasons, by the spread of its residuals.
  const squares = [...bySeason.values()].reduce((sum, { n, hits: h }) => sum + (h - share * n) ** 2, 0);
  return { share, error: Math.sqrt(squares) / seen.length, count: seen.length };
}

export const LEVELS = [0.1, 0.5, 0.9] as const;
export const BANDS: readonly (readonly [number, number])[] = [
  [0, 0.05],
  [0.05, 0.2],
  [0.2, 0.4],
  [0.4, 0.6],
  [0.6, 0.8],
  [0.8, 0.95],
  [0.95, 1.001],
];

export interface Calibration {
  readonly seasons: number;
  /** By group (`all` first): at each stated level, how many came true by then. */
  readonly dates: readonly { readonly group: string; readonly levels: readonly Share[] }[];
  /** The same at every twentieth, for the plot. */
  readonly curves: readonly { readonly group: string; readonly shares: readonly number[] }[];
  /** Trip chances by band: the mean of what was said, and how many ran out. Certainties of either kind apart. */
  readonly trips: readonly { readonly band: readonly [number, number]; readonly said: number; readonly came: Share }[];
  readonly never: Share;
  readonly surely: Share;
}

export function calibrate(seasons: readonly ReturnType<typeof season>[]): Calibration {
  const statements: readonly Statement[] = seasons.flatMap((one) => one.statements);
  const trips: readonly TripStatement[] = seasons.flatMap((one) => one.trips);
  const groups = ['all', ...GROUPS].map((group) => ({
    group,
    of: group === 'all' ? statements : statements.filter((statement) => statement.group === group),
  }));
  const by = (of: readonly Statement[], level: number): Share =>
    shareOf(of.map(({ season: s, place }) => ({ season: s, hit: place <= level })));
  const came = (of: readonly TripStatement[]): Share =>
    shareOf(of.map(({ season: s, ranOut }) => ({ season: s, hit: ranOut })));
  const open = trips.filter(({ chance }) => chance > 0 && chance < 1);
  return {
    seasons: seasons.length,
    dates: groups.map(({ group, of }) => ({ group, levels: LEVELS.map((level) => by(of, level)) })),
    curves: groups.map(({ group, of }) => ({
      group,
      shares: Array.from({ length: 21 }, (_, k) => by(of, k / 20).share),
    })),
    trips: BANDS.map((band) => {
      const of = open.filter(({ chance }) => chance >= band[0] && chance < band[1]);
      return { band, said: of.reduce((sum, { chance }) => sum + chance, 0) / of.length, came: came(of) };
    }),
    never: came(trips.filter(({ chance }) => chance === 0)),
    surely: came(trips.filter(({ chance }) => chance === 1)),
  };
}

/** One habit over all seasons, a year: mean and standard error of the mean. */
export interface HabitResult {
  readonly habit: Habit;
  readonly total: Mean;
  readonly work: Mean;
  readonly failures: Mean;
  readonly hours: Mean;
  readonly yardDays: Mean;
  readonly roadside: Mean;
  readonly roadsideSafety: Mean;
  /** What it costs more than the plan, and how many roadside failures more it has, season by season. */
  readonly more: Mean;
  readonly moreRoadside: Mean;
}

export interface Mean {
  readonly mean: number;
  readonly error: number;
}

function meanOf(values: readonly number[]): Mean {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  const variance = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1);
  return { mean, error: Math.sqrt(variance / values.length) };
}

export function compareHabits(runs: readonly Record<Habit, Tally>[]): HabitResult[] {
  const plan = runs.map((run) => run[HABITS[0]]);
  return HABITS.map((habit) => {
    const tallies = runs.map((run) => run[habit]);
    const aYear = (of: (tally: Tally) => number): Mean => meanOf(tallies.map((tally) => of(tally) / YEARS));
    return {
      habit,
      total: aYear(totalOf),
      work: aYear((tally) => totalOf(tally) - tally.failureMoney),
      failures: aYear((tally) => tally.failureMoney),
      hours: aYear((tally) => tally.minutes / 60),
      yardDays: aYear((tally) => tally.yardDays),
      roadside: aYear((tally) => tally.roadside),
      roadsideSafety: aYear((tally) => tally.roadsideSafety),
      more: meanOf(tallies.map((tally, i) => (totalOf(tally) - totalOf(plan[i]!)) / YEARS)),
      moreRoadside: meanOf(tallies.map((tally, i) => (tally.roadside - plan[i]!.roadside) / YEARS)),
    };
  });
}
