/**
 * Quantiles of a sample by Hyndman and Fan's definition 7 (linear between order statistics, the k-th of n standing at
 * (k − 1)/(n − 1); "Sample quantiles in statistical packages", The American Statistician 50, 1996). The default of R's `quantile`.
 *
 * No full sort: each order statistic is selected in linear time. `values` is left as it was.
 *
 * @param values at least one number; infinities are allowed (a clock that never runs out), NaN is not
 * @param ps each from 0 to 1, in any order
 * @returns one quantile for each of `ps`
 * @example quantiles([1, 2, 3, 4], [0.5, 0.1]) → [2.5, 1.3]
 */
export function quantiles(values: ArrayLike<number>, ps: readonly number[]): number[] {
  return quantilesInPlace(Float64Array.from(values), ps);
}

/** `quantiles` that reorders `values` instead of copying them: for scratch arrays in inner loops. */
export function quantilesInPlace(values: Float64Array, ps: readonly number[]): number[] {
  const last = values.length - 1;
  if (last < 0) throw new RangeError('quantiles need at least one value');
  const answers = new Array<number>(ps.length);
  // In rising order each selection leaves the smaller values to its left, and the next one looks only to its right.
  const order = ps.map((_, i) => i).sort((i, j) => ps[i]! - ps[j]!);
  let left = 0;
  for (const i of order) {
    const p = ps[i]!;
    if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
    const place = p * last;
    const k = Math.floor(place);
    selectInPlace(values, k, left);
    left = k;
    const lower = values[k]!;
    if (Number.isNaN(lower)) throw new RangeError('quantiles of NaN');
    const share = place - k;
    if (share === 0 || k === last) {
      answers[i] = lower;
      continue;
    }
    const upper = smallestFrom(values, k + 1);
    answers[i] = lower === upper ? lower : lower + share * (upper - lower);
  }
  return answers;
}

/** Reorder values[left…] so that values[k] is what a full sort would put there, smaller ones before, larger ones after. */
function selectInPlace(values: Float64Array, k: number, left: number): void {
  let low = left;
  let high = values.length - 1;
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

function smallestFrom(values: Float64Array, start: number): number {
  let smallest = values[start]!;
  for (let i = start + 1; i < values.length; i++) if (values[i]! < smallest) smallest = values[i]!;
  return smallest;
}
