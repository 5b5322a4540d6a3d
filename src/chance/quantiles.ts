/**
 * Quantiles of a sample by Hyndman and Fan's definition 7 (linear between order statistics, the k-th of n standing at
 * (k − 1)/(n − 1); "Sample quantiles in statistical packages", The American Statistician 50, 1996). The default of R's `quantile`.
 *
 * No full sort: values are dealt into buckets, which needs no comparing of one with another, and order statistics are selected
 * within one of them. `values` is left as it was.
 *
 * @param values at least one number; infinities are allowed (a clock that never runs out), NaN is not
 * @param ps each from 0 to 1, in any order
 * @returns one quantile for each of `ps`
 * @example quantiles([1, 2, 3, 4], [0.5, 0.1]) → [2.5, 1.3]
 */
export function quantiles(values: ArrayLike<number>, ps: readonly number[]): number[] {
  const count = values.length;
  if (count === 0) throw new RangeError('quantiles need at least one value');
  for (const p of ps) if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
  if (dealt.length < count) dealt = new Float64Array(count);
  deal(values instanceof Float64Array ? values : Float64Array.from(values), dealt);
  const answers: number[] = [];
  for (const p of ps) {
    const place = p * (count - 1);
    const k = Math.floor(place);
    const lower = orderStatistic(dealt, k);
    const upper = place === k ? lower : orderStatistic(dealt, k + 1);
    answers.push(lower === upper ? lower : lower + (place - k) * (upper - lower));
  }
  return answers;
}

const BUCKETS = 512;
/** Where each bucket of the values dealt ends. */
const ends = new Int32Array(BUCKETS);
/** Room for the values dealt; kept, since a look ahead asks for hundreds of quantiles of as many values each. */
let dealt = new Float64Array(1024);

/**
 * Puts `values` into `out`, those of a lower bucket before those of a higher one: a bucket is an equal stretch between the least value
 * and the greatest finite one; what is infinite goes into the last, and into one bucket goes all that cannot be told apart so.
 */
function deal(values: Float64Array, out: Float64Array): void {
  let least = Infinity;
  let most = -Infinity;
  for (let i = 0; i < values.length; i++) {
    const x = values[i]!;
    if (x < least) least = x;
    if (x > most && x < Infinity) most = x;
    if (Number.isNaN(x)) throw new RangeError('quantiles of NaN');
  }
  const scale = BUCKETS / (most - least);
  if (!(scale > 0 && scale < Infinity)) {
    ends.fill(values.length);
    out.set(values);
    return;
  }
  ends.fill(0);
  for (let i = 0; i < values.length; i++) ends[bucketAt(values[i]!, least, scale)]!++;
  let before = 0;
  for (let bucket = 0; bucket < BUCKETS; bucket++) {
    const within = ends[bucket]!;
    ends[bucket] = before;
    before += within;
  }
  for (let i = 0; i < values.length; i++) out[ends[bucketAt(values[i]!, least, scale)]!++] = values[i]!;
}

const bucketAt = (x: number, least: number, scale: number): number => Math.min(BUCKETS - 1, (x - least) * scale) | 0;

/** What a full sort of the values dealt would put at k: looked for within its bucket. */
function orderStatistic(values: Float64Array, k: number): number {
  let low = 0;
  let high = BUCKETS - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ends[middle]! > k) high = middle;
    else low = middle + 1;
  }
  selectInPlace(values, k, low === 0 ? 0 : ends[low - 1]!, ends[low]! - 1);
  return values[k]!;
}

/** Reorder values[left…right] so that values[k] is what a full sort would put there, smaller ones before, larger ones after. */
function selectInPlace(values: Float64Array, k: number, left: number, right: number): void {
  let low = left;
  let high = right;
  while (low < high) {
    const pivot = medianOfThree(values[low]!, values[(low + high) >> 1]!, values[high]!);
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const held = values[i]!;
        values[i] = values[j]!;
        values[j] = held;
        i++;
        j--;
      }
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else return;
  }
}

function medianOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
