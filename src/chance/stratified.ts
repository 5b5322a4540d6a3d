import { random } from './random.ts';

/**
 * One column of a Latin hypercube: `count` numbers in (0, 1), exactly one in each interval ((k, k + 1) / count), in random
 * order, placed at random within it. A cheap extra dimension, independent of every other seed's.
 *
 * @param count how many, from 1 to 2^20
 * @param seed the same seed gives the same numbers
 * @param out filled and returned when given (its length must be `count`)
 */
export function stratified(count: number, seed: number, out: Float64Array = new Float64Array(count)): Float64Array {
  if (!Number.isInteger(count) || count < 1 || count > 2 ** 20)
    throw new RangeError(`count must be an integer from 1 to 2^20, not ${count}`);
  if (out.length !== count) throw new RangeError(`out holds ${out.length} numbers, not ${count}`);
  const stream = random(seed);
  const step = 1 / count;
  // Fisher–Yates from the inside out: out[i] is a fair permutation of 0…i after every step.
  for (let i = 0; i < count; i++) {
    const j = stream.below(i + 1);
    out[i] = out[j]!;
    out[j] = i;
  }
  for (let i = 0; i < count; i++) out[i] = (out[i]! + stream.uniform()) * step;
  return out;
}
