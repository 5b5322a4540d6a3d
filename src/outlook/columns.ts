import {
  gammaQuantiles,
  normalQuantiles,
  seedFrom,
  sobol,
  sobolDimensionsMax,
  stratified,
  studentTQuantiles,
} from '../chance/index.ts';

/** Columns of chance, one number a path: each of a dimension or a name of its own, whatever else is drawn. */
export interface Columns {
  readonly count: number;
  readonly seed: number;
  /** A dimension of the set: uniform in (0, 1), the normal of it, or the gamma of a shape. */
  uniform(dimension: number): Float64Array;
  normal(dimension: number): Float64Array;
  gamma(dimension: number, shape: number): Float64Array;
  /** Normals, or uniforms, of a name's own. */
  named(name: string): Float64Array;
  namedUniform(name: string): Float64Array;
  /** The middles of `count` equal shares of Student's t, rising. */
  studentT(degrees: number): Float64Array;
}

/** The columns of the last few seeds, since a look ahead is asked for again and again with the same one. */
const kept: Columns[] = [];
const KEPT_MOST = 2;
/** Columns of one seed that are kept; past them, all are made again. A column is 8 bytes a path. */
const COLUMNS_MOST = 256;
const SOBOL_FIRST = 32;

export function columnsOf(count: number, seed: number): Columns {
  const known = kept.find((columns) => columns.count === count && columns.seed === seed);
  if (known) return known;
  const made = newColumns(count, seed);
  kept.unshift(made);
  kept.length = Math.min(kept.length, KEPT_MOST);
  return made;
}

function newColumns(count: number, seed: number): Columns {
  let uniforms = sobol(SOBOL_FIRST, count, seed);
  const columns = new Map<string, Float64Array>();
  const keep = (key: string, make: () => Float64Array): Float64Array => {
    const known = columns.get(key);
    if (known) return known;
    if (columns.size >= COLUMNS_MOST) columns.clear();
    const made = make();
    columns.set(key, made);
    return made;
  };
  const uniform = (dimension: number): Float64Array => {
    if (dimension >= sobolDimensionsMax)
      return keep(`uniform ${dimension}`, () => stratified(count, seedOf(seed, `dimension ${dimension}`)));
    // A longer set leaves the dimensions before as they were.
    if (dimension >= uniforms.length) uniforms = sobol(sobolDimensionsMax, count, seed);
    return uniforms[dimension]!;
  };
  const middles = Float64Array.from({ length: count }, (_, k) => (k + 0.5) / count);
  return {
    count,
    seed,
    uniform,
    normal: (dimension) => keep(`normal ${dimension}`, () => normalQuantiles(uniform(dimension))),
    gamma: (dimension, shape) => keep(`gamma ${dimension} ${shape}`, () => gammaQuantiles(uniform(dimension), shape)),
    namedUniform: (name) => keep(`drawn ${name}`, () => stratified(count, seedOf(seed, name))),
    named: (name) => keep(`named ${name}`, () => normalQuantiles(stratified(count, seedOf(seed, name)))),
    studentT: (degrees) => keep(`t ${degrees}`, () => studentTQuantiles(middles, degrees)),
  };
}

/** The seed of a stratified column. */
export const seedOf = (seed: number, name: string): number => seedFrom(`${seed} ${name}`);
