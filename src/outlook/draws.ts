import { type LogRatioPosterior, stratified } from '../chance/index.ts';
import { civilOf, DAYS_A_MONTH } from '../dates/index.ts';
import { exp } from '../elementary/index.ts';
import type { VehicleRole } from '../logbook/index.ts';
import { type Columns, columnsOf, seedOf } from './columns.ts';
import type { Habit, TripModel, UsageModel } from './usage.ts';

/** One draw of everything uncertain about the coming use, shared by all counters. */
export interface Draws {
  readonly count: number;
  readonly seed: number;
  readonly trips: readonly TripModel[];
  /** Whether a trip is made (1 or 0), and how its miles turn out against the plan; by trip, then path. */
  readonly made: readonly Float64Array[];
  readonly ratio: readonly Float64Array[];
  /** The trips' miles, stretch by stretch. */
  readonly legs: readonly Leg[];
  /** How the years past the planned ones compare with the habit. */
  readonly yearFactor: Float64Array;
  /** Trips besides the planned ones, by month and mean, as far as anyone has asked. */
  readonly besides: Map<string, Float64Array>;
}

/** Which dimension of the Sobol set draws what; those of the trips follow, two each. The first fill best, and move every trip. */
const DIMENSION = { sigma: 0, mean: 1, year: 2, hopsTrailer: 3, hopsTow: 4, trips: 5 } as const;

/**
 * Draws `count` paths' worth of chance. A tentative trip is made in its share of the paths. A trip's own draws depend on the
 * order in which trips were first written down, so that a trip planned later, or moved, leaves those of the others as they were.
 */
export function draw(
  count: number,
  seed: number,
  nowDay: number,
  trips: readonly TripModel[],
  ratio: LogRatioPosterior,
  { yearSpread }: Habit,
): Draws {
  const columns = columnsOf(count, seed);
  // One spread and one mean a path, shared by all its trips: an owner who plans short does so every time.
  const { degrees, spread, location, weight } = ratio;
  const [gamma, normal] = [columns.gamma(DIMENSION.sigma, degrees / 2), columns.normal(DIMENSION.mean)];
  const [sigma, mu] = [new Float64Array(count), new Float64Array(count)];
  for (let p = 0; p < count; p++) {
    sigma[p] = spread * Math.sqrt(degrees / 2 / gamma[p]!);
    mu[p] = location + (sigma[p]! * normal[p]!) / Math.sqrt(weight);
  }
  const written = trips.map((trip) => trip.written).sort();
  const made: Float64Array[] = [];
  const ratios: Float64Array[] = [];
  for (const trip of trips) {
    const dimension = DIMENSION.trips + 2 * written.indexOf(trip.written);
    ratios.push(ratioOf(columns.normal(dimension), mu, sigma));
    made.push(madeBelow(columns.uniform(dimension + 1), trip.chance));
  }
  return {
    ...{ count, seed, trips, made },
    ratio: ratios,
    legs: trips.flatMap((trip, i) => legsOf(columns, trip, made[i]!, ratios[i]!, nowDay)),
    // Mean 1: a year may be half the habit or double it, the habit stays what it is.
    yearFactor: columns.normal(DIMENSION.year).map((z) => exp(yearSpread * z - yearSpread ** 2 / 2)),
    besides: new Map(),
  };
}

function ratioOf(normals: Float64Array, mu: Float64Array, sigma: Float64Array): Float64Array {
  const ratios = new Float64Array(normals.length);
  for (let p = 0; p < ratios.length; p++) ratios[p] = exp(mu[p]! + sigma[p]! * normals[p]!);
  return ratios;
}

/** An unlikely trip is made in this share of the paths at least: a chance given that we go is counted on them. Our own choice. */
const MADE_LEAST = 1 / 32;

function madeBelow(uniforms: Float64Array, chance: number): Float64Array {
  const made = new Float64Array(uniforms.length);
  if (chance >= 1) return made.fill(1);
  const share = Math.max(chance, MADE_LEAST, 1 / made.length);
  for (let p = 0; p < made.length; p++) made[p] = uniforms[p]! < share ? 1 : 0;
  return made;
}

/** Miles a day of short hops, by path: what is believed of one vehicle's rate. */
export function hopRates({ count, seed }: Draws, { role, hops }: UsageModel): Float64Array {
  const normals = columnsOf(count, seed).normal(role === 'trailer' ? DIMENSION.hopsTrailer : DIMENSION.hopsTow);
  return lumpy(normals, hops.shape).map((factor) => factor * hops.milesPerDay);
}

/** A stretch of a trip's days, and the miles driven on it, by path: none where the trip is not made. */
export interface Leg {
  readonly trip: TripModel;
  readonly first: number;
  readonly last: number;
  readonly miles: Float64Array;
  readonly made: Float64Array;
}

/** Trips, and halves of them, of so many days or more are cut in two, so many times over: finely where a day may soon matter. */
const CUT_SOON = { fromDays: 2, times: 3 } as const;
const CUT_LATER = { fromDays: 4, times: 2 } as const;
const SOON_DAYS = 60;

/** Miles fall on the days of a trip as by a Dirichlet law with this figure a day: long days and days of rest. Assumption. */
const DAY_EVENNESS = 0.5;

/**
 * A trip's days in a few legs. Nobody drives the same every day: miles are divided by a Dirichlet law (with ½ a day, Jeffreys' prior:
 * days of rest are likelier than by the flat law), so that the share of the first n of m days is
 * Beta(n/2, (m − n)/2). As a trip comes near its legs are cut again, and hold together what they held.
 */
function legsOf(columns: Columns, trip: TripModel, made: Float64Array, ratio: Float64Array, nowDay: number): Leg[] {
  const miles = new Float64Array(ratio.length);
  for (let p = 0; p < miles.length; p++) miles[p] = made[p]! * ratio[p]! * trip.plannedMiles;
  const { fromDays, times } = trip.leave < nowDay + SOON_DAYS ? CUT_SOON : CUT_LATER;
  return cut(columns, `${trip.id} miles`, { trip, first: trip.leave, last: trip.back, miles, made }, fromDays, times);
}

function cut(columns: Columns, name: string, leg: Leg, fromDays: number, times: number): Leg[] {
  const days = leg.last - leg.first + 1;
  if (times === 0 || days < fromDays) return [leg];
  const before = days >> 1;
  const mean = before / days;
  const spread = Math.sqrt((mean * (1 - mean)) / (DAY_EVENNESS * days + 1));
  const normals = columns.named(name);
  const early = new Float64Array(normals.length);
  // What the whole leg held becomes the later part's.
  const late = leg.miles;
  for (let p = 0; p < normals.length; p++) {
    // A normal with the Beta's mean and spread, kept between none and all.
    const share = Math.min(1, Math.max(0, mean + spread * normals[p]!));
    early[p] = share * late[p]!;
    late[p]! -= early[p]!;
  }
  const middle = leg.first + before;
  return [
    ...cut(columns, `${name} 1`, { ...leg, last: middle - 1, miles: early }, fromDays, times - 1),
    ...cut(columns, `${name} 2`, { ...leg, first: middle, miles: late }, fromDays, times - 1),
  ];
}

/** A tow vehicle's hops scatter by stretches of this many days in the first ninety, where a few days matter; all others by month. */
const HOP_STRETCH_DAYS = 10;
const HOP_FINE_DAYS = 90;

/** The stretch of days that share their scatter of hops with `day`, of a vehicle whose odometer was read on `readDay`. */
export function hopStretch(
  day: number,
  readDay: number,
  role: VehicleRole,
): { readonly name: string; readonly days: number } {
  if (role === 'tow' && day < readDay + HOP_FINE_DAYS)
    return { name: `days ${Math.floor(day / HOP_STRETCH_DAYS) % STRETCHES_KEPT}`, days: HOP_STRETCH_DAYS };
  const { year, month } = civilOf(day);
  return { name: `month ${(year * 12 + month) % MONTHS_KEPT}`, days: DAYS_A_MONTH };
}

/** The days on which the short stretches begin, and the one after the last of them. */
export function hopStretchStarts(readDay: number, role: VehicleRole): number[] {
  if (role !== 'tow') return [];
  const starts = [readDay + HOP_FINE_DAYS];
  for (let day = readDay + 1; day < readDay + HOP_FINE_DAYS; day++) if (day % HOP_STRETCH_DAYS === 0) starts.push(day);
  return starts;
}

/** Standard normals by path for one stretch of hops: the same stretch, the same numbers, whatever is planned. */
export function hopNoise({ count, seed }: Draws, of: VehicleRole, stretch: string): Float64Array {
  return columnsOf(count, seed).named(`${of} ${stretch}`);
}

/**
 * Trips besides the planned ones, by path, in one calendar month of which `mean` are to be expected in a usual year: whole trips, by a
 * Poisson law whose mean goes with the year. As a factor on the mean; about 1 over all paths.
 */
export function monthTrips({ count, seed, yearFactor, besides }: Draws, month: number, mean: number): Float64Array {
  const key = `${month} ${mean}`;
  const known = besides.get(key);
  if (known) return known;
  const uniforms = columnsOf(count, seed).namedUniform(`trips ${month % MONTHS_KEPT}`);
  const factors = poissonQuantiles(uniforms, mean, yearFactor);
  for (let p = 0; p < count; p++) factors[p]! /= mean;
  besides.set(key, factors);
  return factors;
}

/** More trips than this a month nobody makes; bounds the loop. */
const TRIPS_MOST = 60;

/** Quantiles of a Poisson law whose mean is `mean` times a factor of each path's own. */
function poissonQuantiles(uniforms: Float64Array, mean: number, factors: Float64Array): Float64Array {
  const counts = new Float64Array(uniforms.length);
  for (let p = 0; p < counts.length; p++) {
    const u = uniforms[p]!;
    const own = mean * factors[p]!;
    let chance = exp(-own);
    let below = chance;
    let n = 0;
    while (u > below && n < TRIPS_MOST) {
      n++;
      chance *= own / n;
      below += chance;
    }
    counts[p] = n;
  }
  return counts;
}

/** Months further apart than this share their noise; the paths' horizon is mostly shorter. */
const MONTHS_KEPT = 36;
const STRETCHES_KEPT = 32;

/** Fewer lumps than this scatter no more than these: such stretches hold next to no miles. */
const LUMPS_LEAST = 0.3;

/**
 * Factors of mean 1 that scatter as a sum of about `expected` lumps does: Gamma(lumps)/lumps from standard normals, by the cube of
 * E. B. Wilson and M. M. Hilferty ("The distribution of chi-square", PNAS 17, 1931).
 */
export function lumpy(normals: Float64Array, expected: number): Float64Array {
  const lumps = Math.max(expected, LUMPS_LEAST);
  const middle = 1 - 1 / (9 * lumps);
  const spread = 1 / (3 * Math.sqrt(lumps));
  let sum = 0;
  const factors = new Float64Array(normals.length);
  for (let p = 0; p < factors.length; p++) {
    const root = Math.max(0, middle + spread * normals[p]!);
    factors[p] = root * root * root;
    sum += factors[p]!;
  }
  const mean = sum / factors.length;
  for (let p = 0; p < factors.length; p++) factors[p]! /= mean;
  return factors;
}

/** Student-t numbers by path for one thing of its own (a gauge on one part): evenly spread, in an order of that thing's own. */
export function studentT(count: number, seed: number, degrees: number, name: string): Float64Array {
  const table = columnsOf(count, seed).studentT(degrees);
  const drawn = stratified(count, seedOf(seed, name));
  for (let p = 0; p < count; p++) drawn[p] = table[Math.floor(drawn[p]! * count)]!;
  return drawn;
}
