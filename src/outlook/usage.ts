import { type LogRatioPosterior, logRatioPosterior, logRatioPriorOfTrips } from '../chance/index.ts';
import { civilOf, DAYS_A_MONTH, DAYS_A_YEAR, dayNumber, dayOfCivil } from '../dates/index.ts';
import { expm1 } from '../elementary/index.ts';
import {
  chainOf,
  type Entry,
  type OdometerTrack,
  type RigState,
  type TripState,
  tripsOf,
  type VehicleRole,
} from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { valueIn } from '../quantity/index.ts';
import { betweenTrips, HOPS_PRIOR, type Hops, hopsOf, milesAndDays } from './hops.ts';
import { type Unwritten, unwrittenOf } from './unwritten.ts';

/**
 * What the logbook says of the owner's use: how planned miles turn out, how many miles no trip explains, and how a year is
 * spread over its months. Nothing here is random; `draws.ts` draws from it. Miles and days throughout.
 */
export interface UsageModel {
  readonly role: VehicleRole;
  /** Newest odometer reading; the paths start from it. Null where there is none: no miles clock can be judged then. */
  readonly anchor: { readonly day: number; readonly totalMiles: number } | null;
  /** What is driven outside trips; for the tow vehicle: besides trips. */
  readonly hops: Hops;
  /** Trip miles for the time after the last planned trip. */
  readonly habit: Habit;
  /** What may have been driven since the use was last known; null where the odometer was never read. */
  readonly unwritten: Unwritten | null;
  /** Finished trips that the odometer has not been read after: their miles are known and still to be added. */
  readonly unread: readonly KnownTrip[];
}

/** How the owner travels when no plan says so. */
export interface Habit {
  /** Trip miles a day by month (0 January). */
  readonly milesPerDay: readonly number[];
  /** Miles come in lumps of this size, one trip each: what the scatter of a month's miles comes from. */
  readonly tripMiles: number;
  /** Spread (in logs) of a coming year against this habit: one year differs from another, and few years teach little. */
  readonly yearSpread: number;
  /** How many days before leaving the owner wrote trips down, rising. */
  readonly leads: readonly number[];
  /** Share of trips written down when one that leaves later already was: those that a plan may still be filled up with. */
  readonly insertedShare: number;
  /** Nights away and generator hours that go with a trip mile. */
  readonly nightsPerMile: number;
  readonly hoursPerMile: number;
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
  /** Id of the entry that first planned it: trips keep their draws in this order, whatever is planned after them. */
  readonly written: string;
}

/** A finished trip. */
export interface KnownTrip {
  readonly left: number;
  readonly back: number;
  readonly miles: number;
  readonly nights: number;
  readonly generatorHours: number;
  /** Days from first writing the trip down to leaving. */
  readonly lead: number;
  /** Whether a trip that leaves later was written down on an earlier day. */
  readonly inserted: boolean;
  readonly entry: Entry;
}

/** Trip miles a year where the owner has finished none yet (seasons run 5,000 to 15,000 miles), and miles of one trip. Assumptions. */
const HABIT_MILES_A_YEAR = 7_500;
const HABIT_TRIP_MILES = 750;
/** One night for every hundred miles, worth ten nights of evidence. Assumption. */
const NIGHTS_PRIOR = { nights: 10, miles: 1_000 } as const;
/** Years that a month's neighbours, and the mean over all months, weigh against its own record. Assumptions. */
const NEIGHBOUR_YEARS = 1;
const OVERALL_YEARS = 0.25;
/** Trips are written down this long before leaving, on the mean, worth three trips of evidence. Assumption. */
const LEAD_PRIOR = { days: 45, trips: 3 } as const;
/** One trip in ten is put in before others already planned, worth five trips of evidence. Assumption. */
const INSERTED_PRIOR = { share: 0.1, trips: 5 } as const;
/** Spread of one year against another, in logs. Assumption. */
const YEAR_SPREAD = 0.25;

/** What is known of log(actual / planned) miles, from the owner's finished trips. */
export function tripRatio(trips: readonly TripState[]): LogRatioPosterior {
  const ratios = trips.flatMap(({ plan, done }) => {
    const planned = valueIn(plan.body.miles, 'mi');
    const actual = done ? valueIn(done.body.miles, 'mi') : 0;
    return planned > 0 && actual > 0 ? [actual / planned] : [];
  });
  return unwrap(logRatioPosterior(logRatioPriorOfTrips, ratios));
}

/** Trips planned and not finished, by day of leaving; also those that are over and not written down. */
export function unfinishedTrips(state: RigState): TripModel[] {
  return tripsOf(state)
    .filter((trip) => !trip.done)
    .map(({ id, plan }) => {
      const { body } = plan;
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
        written: chainOf(state, `trip/${id}`, 'plan')[0]?.id ?? plan.id,
      };
    });
}

/** Finished trips, by day of leaving. */
export function knownTrips(state: RigState): KnownTrip[] {
  const trips = tripsOf(state).map((trip) => ({
    ...trip,
    written: chainOf(state, `trip/${trip.id}`, 'plan')[0] ?? trip.plan,
  }));
  return trips.flatMap(({ plan, done, written }) => {
    if (!done) return [];
    const left = dayNumber(done.body.left);
    const back = dayNumber(done.body.back);
    return [
      {
        left,
        back,
        miles: valueIn(done.body.miles, 'mi'),
        nights: done.body.nights ?? back - left,
        generatorHours: done.body.generatorHours ?? plan.body.generatorHours ?? 0,
        lead: left - dayNumber(written.on),
        inserted: trips.some((other) => other.written.on < written.on && other.plan.body.leave > plan.body.leave),
        entry: done,
      },
    ];
  });
}

/** The model of one vehicle's use. `habit`: that of the finished trips; null where there are none. `nowDay`: today as a day number. */
export function usageModel(
  track: OdometerTrack,
  role: VehicleRole,
  known: readonly KnownTrip[],
  unfinished: readonly TripModel[],
  habit: Habit | null,
  nowDay: number,
): UsageModel {
  const { newest } = track;
  const idle = betweenTrips(track, role, known, unfinished);
  return {
    role,
    anchor: newest ? { day: newest.day, totalMiles: newest.totalMiles } : null,
    // Where no trip was ever written down, a trailer's miles are trips all the same, and a tow vehicle's cannot be told apart.
    hops: !habit && role === 'trailer' ? hopsOf(role, []) : hopsOf(role, idle),
    habit: habit ?? habitAssumed(role, milesAndDays(idle)),
    unwritten: unwrittenOf(track, known.length ? Math.max(...known.map((trip) => trip.back)) : null, nowDay),
    unread: newest ? known.filter((trip) => trip.back > newest.day) : [],
  };
}

/**
 * Habit before any trip is finished. A trailer's odometer speaks of trips all the same, against the assumption's one year; a tow
 * vehicle's miles are already taken for hops, and the more days they cover the less is left to assume besides.
 */
function habitAssumed(role: VehicleRole, { miles, days }: { miles: number; days: number }): Habit {
  const yearly =
    role === 'trailer'
      ? (HABIT_MILES_A_YEAR + miles) / (1 + days / DAYS_A_YEAR)
      : (HABIT_MILES_A_YEAR * HOPS_PRIOR.tow.days) / (HOPS_PRIOR.tow.days + days);
  return {
    milesPerDay: new Array<number>(12).fill(yearly / DAYS_A_YEAR),
    tripMiles: HABIT_TRIP_MILES,
    yearSpread: YEAR_SPREAD * Math.SQRT2,
    leads: [],
    insertedShare: INSERTED_PRIOR.share,
    nightsPerMile: NIGHTS_PRIOR.nights / NIGHTS_PRIOR.miles,
    hoursPerMile: 0,
  };
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0);

/**
 * The share of an owner's trips that are not yet written down `days` before they leave: what may still come besides the plan. One who
 * plans the year in winter has no more in store for this autumn; one who goes on a whim has.
 */
export function unplannedShare({ leads }: Habit, days: number): number {
  const shorter = leads.findIndex((lead) => lead > days);
  const count = shorter < 0 ? leads.length : shorter;
  const prior = -expm1(-Math.max(0, days) / LEAD_PRIOR.days);
  return (count + LEAD_PRIOR.trips * prior) / (leads.length + LEAD_PRIOR.trips);
}

/**
 * Trip miles a day by month: the owner's own, each month shrunk to its neighbours and a little to the mean of all. The record counts for at least a whole year,
 * so that one summer is not taken for a year of summers. Null where no trip is finished. `through`: day number of the day through
 * which the record was kept.
 */
export function habitOf(known: readonly KnownTrip[], through: number): Habit | null {
  if (known.length === 0) return null;
  const miles = new Array<number>(12).fill(0);
  for (const trip of known) {
    const share = trip.miles / (trip.back - trip.left + 1);
    for (let day = trip.left; day <= trip.back; day++) miles[civilOf(day).month - 1]! += share;
  }
  const exposure = daysByMonth(Math.min(...known.map((trip) => trip.left)), through);
  const days = sumOf(exposure);
  const total = sumOf(known.map((trip) => trip.miles));
  const overall = total / days;
  const nights = sumOf(known.map((trip) => trip.nights));
  const hours = sumOf(known.map((trip) => trip.generatorHours));
  // A trip written down after it began, or with it, says nothing of how the owner plans.
  const ahead = known.filter(({ lead }) => lead > 0);
  // Miles that arrive in trips of unequal length scatter as if all were of the mean of their squares over their mean.
  const tripMiles = sumOf(known.map((trip) => trip.miles ** 2)) / total;
  return {
    milesPerDay: miles.map((sum, m) => {
      const beside = [(m + 11) % 12, (m + 1) % 12];
      const neighbours = sumOf(beside.map((i) => miles[i]!)) / sumOf(beside.map((i) => exposure[i]!));
      const shrunk = DAYS_A_MONTH * (NEIGHBOUR_YEARS * neighbours + OVERALL_YEARS * overall);
      return (sum + shrunk) / (exposure[m]! + DAYS_A_MONTH * (NEIGHBOUR_YEARS + OVERALL_YEARS));
    }),
    tripMiles,
    yearSpread: Math.sqrt(YEAR_SPREAD ** 2 * (1 + DAYS_A_YEAR / days) + tripMiles / total),
    leads: ahead.map(({ lead }) => lead).sort((a, b) => a - b),
    insertedShare:
      (ahead.filter(({ inserted }) => inserted).length + INSERTED_PRIOR.share * INSERTED_PRIOR.trips) /
      (ahead.length + INSERTED_PRIOR.trips),
    nightsPerMile: (nights + NIGHTS_PRIOR.nights) / (total + NIGHTS_PRIOR.miles),
    hoursPerMile: hours / total,
  };
}

/** Days of each month from the start of the record to today; at least one month of each, as the record counts for a year. */
function daysByMonth(from: number, through: number): number[] {
  const days = new Array<number>(12).fill(0);
  let { year, month } = civilOf(from);
  for (let day = from; day < through; ) {
    const next = month === 12 ? dayOfCivil(year + 1, 1, 1) : dayOfCivil(year, month + 1, 1);
    days[month - 1]! += Math.min(next, through) - day;
    day = next;
    month = (month % 12) + 1;
    if (month === 1) year++;
  }
  return days.map((count) => Math.max(count, DAYS_A_MONTH));
}
