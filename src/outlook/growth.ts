import { civilOf, DAYS_A_MONTH, dayOfCivil } from '../dates/index.ts';
import { type Draws, hopNoise, hopRates, hopStretch, hopStretchStarts, lumpy, monthTrips } from './draws.ts';
import { amountOn, type Paths } from './paths.ts';
import type { Unwritten } from './unwritten.ts';
import { type Habit, type TripModel, type UsageModel, unplannedShare } from './usage.ts';

/** Knots reach this far; past them the paths go on at their yearly mean. */
const HORIZON_DAYS = 550;

/** An amount that a trip adds, spread evenly over `days`, of which those of [from, until) are still to come. */
interface Span {
  readonly from: number;
  readonly until: number;
  readonly days: number;
  readonly amount: number | Float64Array;
  /** Whether the trip is made, by path; absent: it was. */
  readonly made?: Float64Array;
}

/** What a counter grows by. */
interface Growth {
  readonly fromDay: number;
  readonly nowDay: number;
  readonly start: number;
  readonly spans: readonly Span[];
  /** Besides the planned trips: trip miles a day by the owner's habit, and this amount with each mile. */
  readonly habit: Habit;
  readonly perMile: number;
  /** Trips before today that nobody may have written down. */
  readonly unwritten: Unwritten | null;
  readonly hops: {
    readonly rate: Float64Array;
    readonly perDay: number;
    readonly lump: number;
    readonly of: 'trailer' | 'tow';
  } | null;
}

/** The odometer of one vehicle on every path, from its newest reading. Null where it was never read. */
export function odometerPaths(draws: Draws, model: UsageModel, nowDay: number): Paths | null {
  const { anchor, role, hops, habit, unread, unwritten } = model;
  if (!anchor) return null;
  return grow(draws, {
    fromDay: anchor.day,
    nowDay,
    start: anchor.totalMiles,
    spans: [
      ...unread.map((trip) => spanOf(anchor.day, trip.left, trip.back, trip.miles)),
      ...draws.legs.map((leg) => spanOf(anchor.day, leg.first, leg.last, leg.miles, doubt(leg.trip, leg.made))),
    ],
    habit,
    perMile: 1,
    unwritten,
    hops: { rate: hopRates(draws, model), perDay: hops.milesPerDay, lump: hops.hopMiles, of: role },
  });
}

/**
 * Nights away, or generator hours, since before the first trip not finished: a counter of what the unfinished trips will use, and the
 * habit after them. What finished trips used is known and counted apart. `overnight`: it grows by nights, of which the last day has none.
 */
export function tripCounterPaths(
  draws: Draws,
  habit: Habit,
  nowDay: number,
  amountOf: (trip: TripModel) => number,
  perMile: number,
  overnight: boolean,
): Paths {
  const fromDay = Math.min(nowDay, ...draws.trips.map((trip) => trip.leave));
  return grow(draws, {
    fromDay,
    nowDay,
    start: 0,
    spans: draws.trips.map((trip, i) => {
      const amount = amountOf(trip);
      return spanOf(
        fromDay,
        trip.leave,
        overnight ? Math.max(trip.leave, trip.back - 1) : trip.back,
        trip.chance < 1 ? draws.made[i]!.map((made) => made * amount) : amount,
        doubt(trip, draws.made[i]!),
      );
    }),
    habit,
    perMile,
    unwritten: null,
    hops: null,
  });
}

/** Whether a trip is made, by path, where there is doubt. */
const doubt = (trip: TripModel, made: Float64Array): Float64Array | undefined => (trip.chance < 1 ? made : undefined);

/** A trip under way when the counter was last read has only its remaining days left to run. */
function spanOf(fromDay: number, leave: number, back: number, amount: Span['amount'], made?: Float64Array): Span {
  const until = back + 1;
  const from = Math.min(fromDay > leave ? fromDay + 1 : leave, until);
  return { from, until, days: until - leave, amount, ...(made ? { made } : {}) };
}

function grow(draws: Draws, growth: Growth): Paths {
  const { count, yearFactor } = draws;
  const { fromDay, nowDay, spans, habit, hops } = growth;
  const planEnd = Math.max(nowDay, fromDay, ...spans.map((span) => span.until));
  const knots = knotsOf(growth, planEnd);
  const amount = new Float64Array(count * knots.length).fill(growth.start, 0, count);
  const least = new Float64Array(knots.length).fill(growth.start);
  const most = new Float64Array(knots.length).fill(growth.start);
  // What is added until the next knot.
  const step = new Float64Array(count);
  const hopsOn = hops ? hopsByDay(draws, hops, fromDay) : null;
  for (let k = 0; k + 1 < knots.length; k++) {
    const from = knots[k]!;
    const length = knots[k + 1]! - from;
    const away = spans.filter((span) => from >= span.from && from < span.until);
    step.fill(0);
    // Nobody sets out from a trip, and the trailer makes no hops on one; the tow vehicle is driven about wherever it is.
    if (away.every((span) => span.made)) {
      addTripsBesides(draws, growth, from < planEnd, from, length, step);
      if (hops?.of === 'trailer') addShare(step, hopsOn!(from), length);
      for (const span of away) pause(step, span.made!);
    }
    if (hops?.of === 'tow') addShare(step, hopsOn!(from), length);
    for (const span of away) addShare(step, span.amount, length / span.days);
    const here = k * count;
    let low = Infinity;
    let high = -Infinity;
    for (let p = 0; p < count; p++) {
      const x = step[p]! + amount[here + p]!;
      amount[here + count + p] = x;
      if (x < low) low = x;
      if (x > high) high = x;
    }
    least[k + 1] = low;
    most[k + 1] = high;
  }
  const meanHabit = (habit.milesPerDay.reduce((sum, x) => sum + x, 0) / 12) * growth.perMile;
  const tail = new Float64Array(count);
  for (let p = 0; p < count; p++) tail[p] = yearFactor[p]! * meanHabit + (hops ? hops.rate[p]! : 0);
  const paths = { count, knots, amount, least, most, tail, pace: 0 };
  return { ...paths, pace: paceOf(paths) };
}

/** Mean growth a day over the first year. */
function paceOf(paths: Paths): number {
  const year = amountOn(paths, paths.knots[0]! + 365, new Float64Array(paths.count));
  let sum = 0;
  for (let p = 0; p < year.length; p++) sum += year[p]!;
  return (sum / paths.count - paths.amount[0]!) / 365;
}

/**
 * What trips besides those on record add from a day on: before today what may have gone unwritten, before the end of the plan what is
 * put in between, after it what the owner has not come to write down yet.
 */
function addTripsBesides(
  draws: Draws,
  { nowDay, habit, perMile, unwritten }: Growth,
  inPlan: boolean,
  from: number,
  length: number,
  step: Float64Array,
): void {
  const past = from < nowDay;
  if (past && (!unwritten || from < unwritten.from)) return;
  const { year, month } = civilOf(from);
  const ahead = (): number =>
    inPlan ? habit.insertedShare : unplannedShare(habit, dayOfCivil(year, month, 15) - nowDay);
  const share = past ? unwritten!.share : ahead();
  const milesPerDay = habit.milesPerDay[month - 1]! * share;
  if (milesPerDay <= 0) return;
  const trips = monthTrips(draws, year * 12 + month, (milesPerDay * DAYS_A_MONTH) / habit.tripMiles);
  addShare(step, trips, milesPerDay * perMile * length);
}

/** Miles a day of hops on each path, on one day after another: one stretch of days after another shares its scatter. */
function hopsByDay(draws: Draws, hops: NonNullable<Growth['hops']>, readDay: number): (day: number) => Float64Array {
  let known = '';
  let perDay = hops.rate;
  return (day) => {
    const { name, days } = hopStretch(day, readDay, hops.of);
    if (name === known) return perDay;
    known = name;
    perDay = lumpy(hopNoise(draws, hops.of, name), (hops.perDay * days) / hops.lump);
    for (let p = 0; p < perDay.length; p++) perDay[p]! *= hops.rate[p]!;
    return perDay;
  };
}

function pause(step: Float64Array, made: Float64Array): void {
  for (let p = 0; p < step.length; p++) step[p]! *= 1 - made[p]!;
}

function addShare(step: Float64Array, amount: number | Float64Array, share: number): void {
  if (typeof amount === 'number') for (let p = 0; p < step.length; p++) step[p]! += amount * share;
  else for (let p = 0; p < step.length; p++) step[p]! += amount[p]! * share;
}

function knotsOf({ fromDay, nowDay, spans, hops, unwritten }: Growth, planEnd: number): Float64Array {
  const end = Math.max(nowDay + HORIZON_DAYS, planEnd + 1);
  const days = new Set([fromDay, Math.max(fromDay, nowDay), planEnd, end]);
  for (const { from, until } of spans) {
    if (from < until && from >= fromDay) days.add(from);
    if (until > fromDay) days.add(until);
  }
  if (unwritten) days.add(unwritten.from);
  if (hops) for (const day of hopStretchStarts(fromDay, hops.of)) days.add(day);
  const monthly = hops ? fromDay : nowDay;
  let { year, month } = civilOf(monthly);
  for (let day = monthly; day < end; day = dayOfCivil(year, month, 1)) {
    days.add(day);
    month = (month % 12) + 1;
    if (month === 1) year++;
  }
  return Float64Array.from([...days].filter((day) => day >= fromDay)).sort();
}
