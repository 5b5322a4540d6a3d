import { type LogRatioPosterior, logRatioPosterior, logRatioPriorOfTrips } from '../chance/index.ts';
import { civilOf, dayNumber } from '../dates/index.ts';
import { odometerTrack, type RigState, type TripState, tripsOf, type VehicleRole } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { valueIn } from '../quantity/index.ts';

/**
 * What the logbook says of the owner's use: how planned miles turn out, how many miles no trip explains, and how a year is
 * spread over its months. Nothing here is random; `paths.ts` draws from it.
 */
export interface UsageModel {
  readonly role: VehicleRole;
  /** Newest odometer reading; the paths start from it. Null where there is none: no miles clock can be judged then. */
  readonly anchor: { readonly day: number; readonly totalMiles: number } | null;
  /** Gamma-distributed miles a day outside trips (for the tow vehicle: besides trips). */
  readonly hops: { readonly shape: number; readonly milesPerDay: number };
  /** Trip miles a day by month (0 January), for the time after the last planned trip. */
  readonly habitByMonth: readonly number[];
  /** True where there was no finished trip to learn from and an assumption stands in. */
  readonly habitAssumed: boolean;
}

/** A trip not finished yet. */
export interface TripModel {
  readonly id: string;
  readonly name: string;
  readonly leave: number;
  /** Last day of the trip. */
  readonly back: number;
  readonly plannedMiles: number;
  readonly chance: number;
  readonly nights: number;
  readonly generatorHours: number;
}

/** Prior of miles a day that no trip explains, with its weight in days and the length of one hop. Assumptions. */
const HOPS_PRIOR = {
  trailer: { milesPerDay: 0.3, days: 60, hopMiles: 5 },
  tow: { milesPerDay: 25, days: 60, hopMiles: 20 },
} as const;
/** Trip miles a year where the owner has finished none yet (seasons run 5,000 to 15,000 miles). Assumption. */
const HABIT_MILES_A_YEAR = 7_500;
/** Years that the mean over all months weighs against one month's own record. */
const MONTH_SHRINKAGE_YEARS = 2;
const DAYS_A_MONTH = 365.25 / 12;

/** What is known of log(actual / planned) miles, from the owner's finished trips. */
export function tripRatio(state: RigState): LogRatioPosterior {
  const ratios = tripsOf(state).flatMap(({ plan, done }) => {
    const planned = valueIn(plan.body.miles, 'mi');
    const actual = done ? valueIn(done.body.miles, 'mi') : 0;
    return planned > 0 && actual > 0 ? [actual / planned] : [];
  });
  return unwrap(logRatioPosterior(logRatioPriorOfTrips, ratios));
}

/** Trips planned and not finished that return on or after `from`, by day of leaving. */
export function tripsAhead(state: RigState, from: number): TripModel[] {
  return tripsOf(state)
    .filter((trip) => !trip.done && dayNumber(trip.plan.body.return) >= from)
    .map(({ id, plan: { body } }) => {
      const leave = dayNumber(body.leave);
      const back = dayNumber(body.return);
      return {
        id,
        name: body.name,
        leave,
        back,
        plannedMiles: valueIn(body.miles, 'mi'),
        chance: body.chance,
        nights: body.nights ?? back - leave,
        generatorHours: body.generatorHours ?? 0,
      };
    });
}

const finished = (trip: TripState): trip is TripState & { done: NonNullable<TripState['done']> } =>
  trip.done !== undefined;

/** The model of one vehicle's use. `nowDay`: today as a day number. */
export function usageModel(state: RigState, role: VehicleRole, nowDay: number): UsageModel {
  const { points, newest } = odometerTrack(state, role);
  const past = tripsOf(state)
    .filter(finished)
    .map(({ done }) => ({
      left: dayNumber(done.body.left),
      back: dayNumber(done.body.back),
      miles: valueIn(done.body.miles, 'mi'),
    }));
  const first = points[0];
  let unexplained = 0;
  let idleDays = 0;
  if (first && newest && newest.day > first.day) {
    const within = past.filter((trip) => trip.left >= first.day && trip.back <= newest.day);
    const explained = within.reduce((sum, trip) => sum + trip.miles, 0);
    const away = role === 'trailer' ? within.reduce((sum, trip) => sum + trip.back - trip.left + 1, 0) : 0;
    unexplained = Math.max(0, newest.totalMiles - first.totalMiles - explained);
    idleDays = Math.max(0, newest.day - first.day - away);
  }
  const prior = HOPS_PRIOR[role];
  const shape = (prior.milesPerDay * prior.days + unexplained) / prior.hopMiles;
  return {
    role,
    anchor: newest ? { day: newest.day, totalMiles: newest.totalMiles } : null,
    hops: { shape, milesPerDay: (shape * prior.hopMiles) / (prior.days + idleDays) },
    habitByMonth: habit(past, nowDay),
    habitAssumed: past.length === 0,
  };
}

/** Trip miles a day by month: the owner's own, each month shrunk to the mean of all. */
function habit(past: readonly { left: number; back: number; miles: number }[], nowDay: number): number[] {
  if (past.length === 0) return new Array<number>(12).fill(HABIT_MILES_A_YEAR / 365.25);
  const byMonth = new Array<number>(12).fill(0);
  for (const { left, back, miles } of past) {
    const share = miles / (back - left + 1);
    for (let day = left; day <= back; day++) byMonth[civilOf(day).month - 1]! += share;
  }
  const firstDay = Math.min(...past.map((trip) => trip.left));
  // Whole years on record, so that a record of one summer is not taken for a year of summers.
  const years = Math.max(1, Math.round((nowDay - firstDay) / 365.25));
  const overall = byMonth.reduce((sum, miles) => sum + miles, 0) / 12 / years;
  return byMonth.map(
    (miles) => (miles + MONTH_SHRINKAGE_YEARS * overall) / (years + MONTH_SHRINKAGE_YEARS) / DAYS_A_MONTH,
  );
}
