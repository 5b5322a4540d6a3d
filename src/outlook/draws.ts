import {
  gammaQuantiles,
  type LogRatioPosterior,
  normalQuantiles,
  seedFrom,
  sobol,
  sobolDimensionsMax,
  stratified,
} from '../chance/index.ts';
import type { TripModel, UsageModel } from './usage.ts';

/** One draw of everything uncertain about the coming use, shared by all counters. */
export interface Draws {
  readonly count: number;
  readonly seed: number;
  readonly trips: readonly TripModel[];
  /** Whether a trip is made (1 or 0), and how its miles turn out against the plan; by trip, then path. */
  readonly made: readonly Float64Array[];
  readonly ratio: readonly Float64Array[];
  /** How the years past the planned ones compare with the habit. */
  readonly yearFactor: Float64Array;
  /** Miles a day of short hops, by role. */
  readonly hops: { readonly trailer: Float64Array; readonly tow: Float64Array };
}

/** Which dimension of the Sobol set draws what; those of the trips follow, two each. The first fill best, and move every trip. */
const DIMENSION = { sigma: 0, mean: 1, year: 2, hopsTrailer: 3, hopsTow: 4, trips: 5 } as const;

/**
 * Draws `count` paths' worth of chance. A tentative trip is made in just its share of the paths. A trip's own draws depend on the
 * order in which trips were first written down, so that a trip planned later, or moved, leaves those of the others as they were.
 */
export function draw(
  count: number,
  seed: number,
  trips: readonly TripModel[],
  ratio: LogRatioPosterior,
  models: { readonly trailer: UsageModel; readonly tow: UsageModel },
): Draws {
  const columns = columnsOf(count, seed);
  // One spread and one mean a path, shared by all its trips: an owner who plans short does so every time.
  const { degrees, spread, location, weight } = ratio;
  const sigma = gammaQuantiles(columns.uniform(DIMENSION.sigma), degrees / 2).map(
    (x) => spread * Math.sqrt(degrees / 2 / x),
  );
  const mu = columns.normal(DIMENSION.mean).map((z, p) => location + (sigma[p]! * z) / Math.sqrt(weight));
  const written = trips.map((trip) => trip.written).sort();
  const made: Float64Array[] = [];
  const ratios: Float64Array[] = [];
  for (const trip of trips) {
    const dimension = DIMENSION.trips + 2 * written.indexOf(trip.written);
    ratios.push(columns.normal(dimension).map((z, p) => Math.exp(mu[p]! + sigma[p]! * z)));
    made.push(columns.uniform(dimension + 1).map((u) => (u < trip.chance ? 1 : 0)));
  }
  const hopsOf = (us: Float64Array, { hops: { shape, milesPerDay } }: UsageModel): Float64Array =>
    gammaQuantiles(us, shape).map((x) => (x / shape) * milesPerDay);
  const { yearSpread } = models.trailer.habit;
  return {
    count,
    seed,
    trips,
    made,
    ratio: ratios,
    // Mean 1: a year may be half the habit or double it, the habit stays what it is.
    yearFactor: columns.normal(DIMENSION.year).map((z) => Math.exp(yearSpread * z - yearSpread ** 2 / 2)),
    hops: {
      trailer: hopsOf(columns.uniform(DIMENSION.hopsTrailer), models.trailer),
      tow: hopsOf(columns.uniform(DIMENSION.hopsTow), models.tow),
    },
  };
}

/** Standard normals by path for one calendar month of one kind of use: the same month, the same numbers, whatever is planned. */
export function monthNoise(count: number, seed: number, of: 'trailer' | 'tow' | 'habit', month: number): Float64Array {
  return columnsOf(count, seed).named(`${of} ${month % MONTHS_KEPT}`);
}

/** Months further apart than this share their noise; the paths' horizon is shorter. */
const MONTHS_KEPT = 36;

interface Columns {
  readonly count: number;
  readonly seed: number;
  /** A dimension of the set: uniform in (0, 1), or the normal of it. */
  uniform(dimension: number): Float64Array;
  normal(dimension: number): Float64Array;
  named(name: string): Float64Array;
}

/** The columns of the last few seeds, since a look ahead is asked for again and again with the same one. */
const kept: Columns[] = [];
const KEPT_MOST = 2;
const SOBOL_FIRST = 24;

function columnsOf(count: number, seed: number): Columns {
  const known = kept.find((columns) => columns.count === count && columns.seed === seed);
  if (known) return known;
  const made = newColumns(count, seed);
  kept.unshift(made);
  kept.length = Math.min(kept.length, KEPT_MOST);
  return made;
}

function newColumns(count: number, seed: number): Columns {
  let uniforms = sobol(SOBOL_FIRST, count, seed);
  const normals = new Map<number, Float64Array>();
  const named = new Map<string, Float64Array>();
  const uniform = (dimension: number): Float64Array => {
    // A longer set leaves the dimensions before as they were.
    if (dimension >= uniforms.length && dimension < sobolDimensionsMax)
      uniforms = sobol(sobolDimensionsMax, count, seed);
    return (
      uniforms[dimension] ?? keep(named, `dimension ${dimension}`, (name) => stratified(count, seedOf(seed, name)))
    );
  };
  return {
    count,
    seed,
    uniform,
    normal: (dimension) => keep(normals, dimension, () => normalQuantiles(uniform(dimension))),
    named: (name) => keep(named, name, () => normalQuantiles(stratified(count, seedOf(seed, name)))),
  };
}

const seedOf = (seed: number, name: string): number => seedFrom(`${seed} ${name}`);

function keep<K>(map: Map<K, Float64Array>, key: K, make: (key: K) => Float64Array): Float64Array {
  const known = map.get(key);
  if (known) return known;
  const made = make(key);
  map.set(key, made);
  return made;
}
