import { random, seedPart } from './random.ts';
import { sobolDirections } from './sobol-directions.ts';

/** The most dimensions `sobol` can give; take further ones from `stratified`. */
export const sobolDimensionsMax = sobolDirections.length + 1;

/**
 * The first `count` Sobol points in Gray-code order, one array a dimension.
 *
 * Without a seed: the published points themselves (the first is 0), Joe–Kuo direction numbers of 2008.
 * With a seed: Owen's nested uniform scrambling, every number strictly between 0 and 1. Each dimension keeps the net's even
 * spread exactly (one point in each of `count` equal intervals when `count` is a power of two), yet each point is uniform,
 * so that averages are unbiased. Dimension j depends on the seed, j and `count` only: asking for more dimensions leaves
 * the earlier ones as they were.
 *
 * @param dimensions from 1 to `sobolDimensionsMax`
 * @param count from 1 to 2^20
 * @example sobol(2, 4) → [[0, 0.5, 0.75, 0.25], [0, 0.5, 0.25, 0.75]]
 */
export function sobol(dimensions: number, count: number, seed?: number): Float64Array[] {
  if (!Number.isInteger(dimensions) || dimensions < 1 || dimensions > sobolDimensionsMax)
    throw new RangeError(`dimensions must be an integer from 1 to ${sobolDimensionsMax}, not ${dimensions}`);
  if (!Number.isInteger(count) || count < 1 || count > 2 ** 20)
    throw new RangeError(`count must be an integer from 1 to 2^20, not ${count}`);
  const words = new Int32Array(count);
  const columns: Float64Array[] = [];
  for (let dimension = 0; dimension < dimensions; dimension++) {
    fillWords(words, directionsOf(dimension));
    columns.push(seed === undefined ? plain(words) : scrambled(words, seedPart(seed, dimension)));
  }
  return columns;
}

/** The 32 direction numbers of a dimension (from 0), each a 32-bit fraction (Bratley and Fox, 1988, recurrence). */
function directionsOf(dimension: number): Int32Array {
  const v = new Int32Array(32);
  if (dimension === 0) {
    for (let bit = 0; bit < 32; bit++) v[bit] = 1 << (31 - bit);
    return v;
  }
  const [coefficients, first] = sobolDirections[dimension - 1]!;
  const degree = first.length;
  for (let bit = 0; bit < 32; bit++) {
    if (bit < degree) {
      v[bit] = first[bit]! << (31 - bit);
      continue;
    }
    const oldest = v[bit - degree]!;
    let next = oldest ^ (oldest >>> degree);
    for (let k = 1; k < degree; k++) if ((coefficients >>> (degree - 1 - k)) & 1) next ^= v[bit - k]!;
    v[bit] = next;
  }
  return v;
}

/** Each point differs from the one before in one direction number, that of the lowest bit set in its index. */
function fillWords(words: Int32Array, directions: Int32Array): void {
  let word = 0;
  words[0] = 0;
  for (let i = 1; i < words.length; i++) {
    word ^= directions[31 - Math.clz32(i & -i)]!;
    words[i] = word;
  }
}

function plain(words: Int32Array): Float64Array {
  const column = new Float64Array(words.length);
  for (let i = 0; i < words.length; i++) column[i] = (words[i]! >>> 0) * 2 ** -32;
  return column;
}

/**
 * Owen's scrambling by an explicit tree: every node of the first `depth` binary digits has a random swap of its two halves.
 * At that depth no two of the points share a node (one dimension of a Sobol sequence is a net of strength 1), so the
 * digits below are plain random bits of each point's own. No hash stands in for the tree.
 */
function scrambled(words: Int32Array, seed: number): Float64Array {
  const stream = random(seed);
  const count = words.length;
  const depth = count === 1 ? 0 : 32 - Math.clz32(count - 1);
  const places = scrambledPlaces(depth, stream.bits);
  const column = new Float64Array(count);
  const cell = 2 ** -depth;
  for (let i = 0; i < count; i++) {
    const place = depth === 0 ? 0 : places[words[i]! >>> (32 - depth)]!;
    column[i] = (place + (stream.bits() + 0.5) * 2 ** -32) * cell;
  }
  return column;
}

/** Where the tree's random swaps put each of the 2^depth cells: grown one digit at a time, from the last cell down. */
function scrambledPlaces(depth: number, bits: () => number): Int32Array {
  const places = new Int32Array(2 ** depth);
  for (let level = 0; level < depth; level++) {
    let pool = 0;
    let left = 0;
    for (let node = 2 ** level - 1; node >= 0; node--) {
      if (left === 0) {
        pool = bits();
        left = 32;
      }
      const swap = pool & 1;
      pool >>>= 1;
      left--;
      const place = places[node]! * 2;
      places[2 * node] = place + swap;
      places[2 * node + 1] = place + 1 - swap;
    }
  }
  return places;
}
