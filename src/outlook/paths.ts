import {
  gammaQuantiles,
  type LogRatioPosterior,
  normalQuantiles,
  sobol,
  sobolDimensionsMax,
  stratified,
} from '../chance/index.ts';
import { civilOf, dayOfCivil } from '../dates/index.ts';
import type { TripModel, UsageModel } from './usage.ts';

/**
 * Sample paths of a counter (an odometer, nights, engine hours) through time. All paths share their knots, since trips leave
 * and return on known days; only the amounts differ. Between knots a counter grows evenly, past the last one at `tail` a day.
 */
export interface Paths {
  readonly count: number;
  /** Day numbers, rising. A day `d` begins at `d` and ends at `d + 1`. */
  readonly knots: Float64Array;
  /** Amount at each knot: path `p`, knot `k` at `p * knots.length + k`. */
  readonly amount: Float64Array;
  readonly tail: Float64Array;
}

/** One draw of everything uncertain about the coming use, shared by all counters. */
export interface Draws {
  readonly count: number;
  readonly trips: readonly TripModel[];
  /** Whether a trip is made (1 or 0), and how its miles turn out against the plan; by trip, then path. */
  readonly made: readonly Float64Array[];
  readonly ratio: readonly Float64Array[];
  /** How the years past the planned ones compare with the habit. */
  readonly yearFactor: Float64Array;
  /** Miles a day of short hops, by role. */
  readonly hops: { readonly trailer: Float64Array; readonly tow: Float64Array };
}

/** Spread of one year against another, in logs; an assumption. */
const YEAR_SPREAD = 0.25;
/** Knots reach this far; past them the paths go on at their yearly mean. */
const HORIZON_DAYS = 550;

/**
 * Draws `count` paths' worth of chance. The first dimensions, which a Sobol set fills best, go to what moves every trip at once.
 * A tentative trip is made in just its share of the paths.
 */
export function draw(
  count: number,
  seed: number,
  trips: readonly TripModel[],
  ratio: LogRatioPosterior,
  models: { readonly trailer: UsageModel; readonly tow: UsageModel },
): Draws {
  const wanted = 5 + 2 * trips.length;
  const points = sobol(Math.min(wanted, sobolDimensionsMax), count, seed);
  for (let d = points.length; d < wanted; d++) points.push(stratified(count, seed + d));
  const [sigmas, means, years, hopsTrailer, hopsTow] = points as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];

  // One spread and one mean a path, shared by all its trips: an owner who plans short does so every time.
  const { degrees, spread, location, weight } = ratio;
  const sigma = gammaQuantiles(sigmas, degrees / 2).map((x) => spread * Math.sqrt(degrees / 2 / x));
  const mu = normalQuantiles(means).map((z, p) => location + (sigma[p]! * z) / Math.sqrt(weight));
  const made: Float64Array[] = [];
  const ratios: Float64Array[] = [];
  trips.forEach((trip, i) => {
    const z = normalQuantiles(points[5 + 2 * i]!);
    ratios.push(z.map((value, p) => Math.exp(mu[p]! + sigma[p]! * value)));
    made.push(points[6 + 2 * i]!.map((u) => (u < trip.chance ? 1 : 0)));
  });
  const hopsOf = (us: Float64Array, model: UsageModel): Float64Array =>
    gammaQuantiles(us, model.hops.shape).map((x) => (x / model.hops.shape) * model.hops.milesPerDay);
  return {
    count,
    trips,
    made,
    ratio: ratios,
    yearFactor: normalQuantiles(years).map((z) => Math.exp(YEAR_SPREAD * z)),
    hops: { trailer: hopsOf(hopsTrailer, models.trailer), tow: hopsOf(hopsTow, models.tow) },
  };
}

/** The odometer of one vehicle on every path, from its newest reading. Null where it was never read. */
export function odometerPaths(draws: Draws, model: UsageModel, nowDay: number): Paths | null {
  const { anchor, role } = model;
  if (!anchor) return null;
  const amounts = draws.trips.map((trip, i) =>
    draws.made[i]!.map((made, p) => made * draws.ratio[i]![p]! * trip.plannedMiles),
  );
  // The trailer's hops pause while it is away on a trip; the tow vehicle is driven about wherever it is.
  return grow(
    draws,
    nowDay,
    anchor.day,
    anchor.totalMiles,
    amounts,
    model.habitByMonth,
    draws.hops[role],
    role === 'tow',
  );
}

/** Nights away, or generator hours: a counter of what trips use, from `start` on `fromDay`. `perTripMile`: habit after the planned trips. */
export function tripCounterPaths(
  draws: Draws,
  model: UsageModel,
  nowDay: number,
  fromDay: number,
  start: number,
  amountOf: (trip: TripModel) => number,
): Paths {
  const planned = draws.trips.reduce((sum, trip) => sum + trip.plannedMiles, 0);
  const total = draws.trips.reduce((sum, trip) => sum + amountOf(trip), 0);
  const perMile = planned > 0 ? total / planned : 0;
  const amounts = draws.trips.map((trip, i) => draws.made[i]!.map((made) => made * amountOf(trip)));
  const habit = model.habitByMonth.map((miles) => miles * perMile);
  return grow(draws, nowDay, fromDay, start, amounts, habit, null, false);
}

function grow(
  draws: Draws,
  nowDay: number,
  fromDay: number,
  start: number,
  tripAmounts: readonly Float64Array[],
  habitByMonth: readonly number[],
  hops: Float64Array | null,
  hopsOnTrips: boolean,
): Paths {
  const { count, trips, yearFactor } = draws;
  // A trip under way when the counter was last read has only its remaining days left to run.
  const spans = trips.map((trip) => {
    const from = fromDay > trip.leave ? fromDay + 1 : trip.leave;
    return { from: Math.min(from, trip.back + 1), until: trip.back + 1, days: trip.back - trip.leave + 1 };
  });
  const planEnd = Math.max(nowDay, fromDay, ...spans.map((span) => span.until));
  const knots = knotsOf(fromDay, nowDay, planEnd, spans);
  const K = knots.length;
  const amount = new Float64Array(count * K);
  const meanHabit = habitByMonth.reduce((sum, x) => sum + x, 0) / 12;
  for (let p = 0; p < count; p++) amount[p * K] = start;
  for (let k = 0; k + 1 < K; k++) {
    const from = knots[k]!;
    const length = knots[k + 1]! - from;
    const away = spans.flatMap((span, i) => (from >= span.from && from < span.until ? [i] : []));
    const habit = from >= planEnd ? habitByMonth[civilOf(from).month - 1]! : 0;
    for (let p = 0; p < count; p++) {
      let rate = habit === 0 ? 0 : habit * yearFactor[p]!;
      for (const i of away) rate += tripAmounts[i]![p]! / spans[i]!.days;
      if (hops && (hopsOnTrips || away.length === 0)) rate += hops[p]!;
      amount[p * K + k + 1] = amount[p * K + k]! + rate * length;
    }
  }
  const tail = yearFactor.map((factor, p) => factor * meanHabit + (hops ? hops[p]! : 0));
  return { count, knots, amount, tail };
}

function knotsOf(
  fromDay: number,
  nowDay: number,
  planEnd: number,
  spans: readonly { from: number; until: number }[],
): Float64Array {
  const end = Math.max(nowDay + HORIZON_DAYS, planEnd + 1);
  const days = new Set([fromDay, Math.max(fromDay, nowDay), planEnd, end]);
  for (const { from, until } of spans) {
    if (from < until && from >= fromDay) days.add(from);
    if (until > fromDay) days.add(until);
  }
  let { year, month } = civilOf(planEnd);
  for (let day = dayOfCivil(year, month, 1); day < end; day = dayOfCivil(year, month, 1)) {
    if (day > planEnd) days.add(day);
    month = (month % 12) + 1;
    if (month === 1) year++;
  }
  return Float64Array.from([...days].filter((day) => day >= fromDay)).sort();
}

/** Amount on path `p` at the moment `day` (a day number, with a fraction if need be). */
export function amountAt(paths: Paths, p: number, day: number): number {
  const { knots, amount } = paths;
  const K = knots.length;
  const last = K - 1;
  if (day >= knots[last]!) return amount[p * K + last]! + (day - knots[last]!) * paths.tail[p]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle]! <= day) low = middle;
    else high = middle;
  }
  const from = knots[low]!;
  const a = amount[p * K + low]!;
  if (day <= from) return a;
  return a + ((day - from) / (knots[high]! - from)) * (amount[p * K + high]! - a);
}

/**
 * The moment at which path `p` reaches `target`: the first knot's day where it already has, Infinity where it never will.
 */
export function reaches(paths: Paths, p: number, target: number): number {
  const { knots, amount, tail } = paths;
  const K = knots.length;
  const base = p * K;
  const last = K - 1;
  if (amount[base]! >= target) return knots[0]!;
  if (amount[base + last]! < target)
    return tail[p]! > 0 ? knots[last]! + (target - amount[base + last]!) / tail[p]! : Infinity;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (amount[base + middle]! < target) low = middle;
    else high = middle;
  }
  const a = amount[base + low]!;
  return knots[low]! + ((target - a) / (amount[base + high]! - a)) * (knots[high]! - knots[low]!);
}
