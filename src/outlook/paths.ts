/**
 * Sample paths of a counter (an odometer, nights, engine hours) through time. All paths share their knots, since trips leave
 * and return on known days; only the amounts differ. Between knots a counter grows evenly, past the last one at `tail` a day.
 */
export interface Paths {
  readonly count: number;
  /** Day numbers, rising. A day `d` begins at `d` and ends at `d + 1`. */
  readonly knots: Float64Array;
  /** Amount at each knot: knot `k`, path `p` at `k * count + p`. */
  readonly amount: Float64Array;
  /** Least and most at each knot. */
  readonly least: Float64Array;
  readonly most: Float64Array;
  readonly tail: Float64Array;
  /** Mean growth a day over the first year, for rules of thumb. */
  readonly pace: number;
}

/** Amount on every path at the moment `day` (a day number, with a fraction if need be), into `out`. */
export function amountOn(paths: Paths, day: number, out: Float64Array): Float64Array {
  const { count, knots, amount, tail } = paths;
  const last = knots.length - 1;
  if (day >= knots[last]!) {
    const beyond = day - knots[last]!;
    for (let p = 0; p < count; p++) out[p] = amount[last * count + p]! + beyond * tail[p]!;
    return out;
  }
  const k = Math.max(0, knotBefore(knots, day));
  const share = Math.max(0, (day - knots[k]!) / (knots[k + 1]! - knots[k]!));
  const here = k * count;
  for (let p = 0; p < count; p++) {
    const a = amount[here + p]!;
    out[p] = a + share * (amount[here + count + p]! - a);
  }
  return out;
}

/** Index of the last knot at or before `day`; −1 where there is none. */
function knotBefore(knots: Float64Array, day: number): number {
  let low = -1;
  let high = knots.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle]! <= day) low = middle;
    else high = middle;
  }
  return low;
}

/** Amount on each path at its own moment, into `out`; Infinity at a moment that never comes. */
export function amountsAt(paths: Paths, days: Float64Array, out: Float64Array): Float64Array {
  const { count, knots, amount, tail } = paths;
  const last = knots.length - 1;
  let k = 0;
  for (let p = 0; p < count; p++) {
    const day = days[p]!;
    if (day >= knots[last]!) {
      out[p] = day === Infinity ? Infinity : amount[last * count + p]! + (day - knots[last]!) * tail[p]!;
      continue;
    }
    // Neighbouring paths run out at about the same time: look near the last one's knot first.
    while (k > 0 && knots[k]! > day) k--;
    while (knots[k + 1]! <= day) k++;
    const a = amount[k * count + p]!;
    const share = Math.max(0, (day - knots[k]!) / (knots[k + 1]! - knots[k]!));
    out[p] = a + share * (amount[(k + 1) * count + p]! - a);
  }
  return out;
}

/**
 * The moment at which each path reaches its target, into `out` where that is sooner than what stands there: the first knot's day
 * where it already has, never where it never will.
 */
export function reach(paths: Paths, target: number | Float64Array, out: Float64Array): void {
  if (typeof target === 'number') reachOne(paths, target, out);
  else reachEach(paths, target, out);
}

function reachOne({ count, knots, amount, least, most, tail }: Paths, target: number, out: Float64Array): void {
  const last = knots.length - 1;
  if (least[0]! >= target) {
    for (let p = 0; p < count; p++) if (knots[0]! < out[p]!) out[p] = knots[0]!;
    return;
  }
  for (let k = 1; k <= last && least[k - 1]! < target; k++) {
    if (most[k]! < target) continue;
    const from = knots[k - 1]!;
    const length = knots[k]! - from;
    const here = k * count;
    for (let p = 0; p < count; p++) {
      const a = amount[here - count + p]!;
      const b = amount[here + p]!;
      if (a >= target || b < target) continue;
      const day = from + ((target - a) / (b - a)) * length;
      if (day < out[p]!) out[p] = day;
    }
  }
  if (least[last]! >= target) return;
  for (let p = 0; p < count; p++) {
    const short = target - amount[last * count + p]!;
    if (short <= 0 || tail[p]! <= 0) continue;
    const day = knots[last]! + short / tail[p]!;
    if (day < out[p]!) out[p] = day;
  }
}

function reachEach({ count, knots, amount, tail }: Paths, targets: Float64Array, out: Float64Array): void {
  const last = knots.length - 1;
  let k = 1;
  for (let p = 0; p < count; p++) {
    const target = targets[p]!;
    // The first knot at which this path has reached its target, looked for from where the path before found its own.
    while (k > 1 && amount[(k - 1) * count + p]! >= target) k--;
    while (k < last && amount[k * count + p]! < target) k++;
    const b = amount[k * count + p]!;
    let day: number;
    if (b < target) day = tail[p]! > 0 ? knots[last]! + (target - b) / tail[p]! : Infinity;
    else {
      const a = amount[(k - 1) * count + p]!;
      day = a >= target ? knots[k - 1]! : knots[k - 1]! + ((target - a) / (b - a)) * (knots[k]! - knots[k - 1]!);
    }
    if (day < out[p]!) out[p] = day;
  }
}
