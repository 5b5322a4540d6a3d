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
  if (values.length === 0) throw new RangeError('quantiles need at least one value');
  for (const p of ps) if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
  const answers = new Array<number>(ps.length);
  const order = ps.map((_, i) => i).sort((i, j) => ps[i]! - ps[j]!);
  answer(values, ps, order, 0, values.length - 1, answers);
  return answers;
}

/**
 * Answers those of `ps` that `order` lists, rising, whose order statistics stand from `left` to `right`. The middle one first: it
 * leaves smaller values to its left and larger ones to its right, and the others look only there.
 */
function answer(
  values: Float64Array,
  ps: readonly number[],
  order: readonly number[],
  left: number,
  right: number,
  answers: number[],
): void {
  if (order.length === 0) return;
  const middle = order.length >> 1;
  const i = order[middle]!;
  const place = ps[i]! * (values.length - 1);
  const k = Math.floor(place);
  selectInPlace(values, k, left, right);
  const lower = values[k]!;
  if (Number.isNaN(lower)) throw new RangeError('quantiles of NaN');
  const next = Math.min(k + 1, right);
  smallestFirst(values, next, right);
  const [share, upper] = [place - k, values[next]!];
  answers[i] = share === 0 || lower === upper ? lower : lower + share * (upper - lower);
  answer(values, ps, order.slice(0, middle), left, next, answers);
  answer(values, ps, order.slice(middle + 1), k, right, answers);
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

/** Swap the smallest of values[from…through] to its front. */
function smallestFirst(values: Float64Array, from: number, through: number): void {
  let at = from;
  for (let i = from + 1; i <= through; i++) if (values[i]! < values[at]!) at = i;
  const held = values[from]!;
  values[from] = values[at]!;
  values[at] = held;
}
