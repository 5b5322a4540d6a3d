/** ln 2 in two parts: the first with 32 bits, so that whole multiples of it are exact. */
const LN2_HIGH = 2977044471 / 2 ** 32;
const LN2_LOW = 1.9082149292705877e-10;
const SQRT2 = Math.SQRT2;

/** 1, −1/2!, 1/4!, … of cos x, and 1, −1/3!, 1/5!, … of sin(x)/x, in powers of x². Up to π/4 both end far below the last place. */
const COS_SERIES = reciprocals(10, (k) => (k % 2 ? -1 : 1) * factorial(2 * k));
const SIN_SERIES = reciprocals(10, (k) => (k % 2 ? -1 : 1) * factorial(2 * k + 1));

/** 2^k at k + 1074, for all k of which there is a double. */
const POWERS = new Float64Array(2098);
for (let k = 0, power = Number.MIN_VALUE; k < POWERS.length; k++, power *= 2) POWERS[k] = power;
/** Added and taken away again, it leaves a number under 2^51 rounded to a whole one. */
const ROUND = 1.5 * 2 ** 52;

/** A double, and its two halves; the one with sign and exponent comes second on most machines. */
const double = Float64Array.of(1);
const halves = new Int32Array(double.buffer);
const HEAD = halves[0] === 0 ? 1 : 0;

/**
 * e^x, within one unit in the last place.
 *
 * @param x any number; above 709.78 the answer is Infinity, below −745.13 it is 0
 * @example exp(1) → 2.718281828459045
 */
export function exp(x: number): number {
  if (!(x <= 709.79)) return x * Infinity;
  if (x < -745.14) return 0;
  const k = nearest(x * Math.LOG2E);
  return scaled(1 + lessOne(x, k), k);
}

/** e^x − 1, without the cancellation near 0; within two units in the last place. */
export function expm1(x: number): number {
  if (!(x <= 709.79)) return x * Infinity;
  if (x < -40) return -1;
  const k = nearest(x * Math.LOG2E);
  const less = lessOne(x, k);
  if (k === 0) return less;
  if (k > 55) return scaled(1 + less, k);
  const two = scaled(1, k);
  return two * less + (two - 1);
}

/** e^r − 1 of what a whole number `k` of ln 2 leaves of `x`. */
function lessOne(x: number, k: number): number {
  const high = x - k * LN2_HIGH;
  const low = k * LN2_LOW;
  const r = high - low;
  // What was rounded away of r counts once more: e^(r + c) ≈ e^r + c.
  const lost = high - r - low;
  return r + (r * r * expSeries(r) + lost);
}

const nearest = (x: number): number => x + ROUND - ROUND;

/** 1/2! + r/3! + r²/4! + … : what e^r has after 1 + r, over r². |r| ≤ ½ ln 2 leaves less than 2^−57 of e^r beyond the last. */
function expSeries(r: number): number {
  let sum = 1 / 479001600 + r * (1 / 6227020800 + r * (1 / 87178291200));
  sum = 1 / 3628800 + r * (1 / 39916800 + r * sum);
  sum = 1 / 40320 + r * (1 / 362880 + r * sum);
  sum = 1 / 720 + r * (1 / 5040 + r * sum);
  sum = 1 / 24 + r * (1 / 120 + r * sum);
  return 1 / 2 + r * (1 / 6 + r * sum);
}

/**
 * The natural logarithm, within one unit in the last place.
 *
 * @param x −Infinity of 0, NaN of less
 * @example log(2) → 0.6931471805599453
 */
export function log(x: number): number {
  if (!(x > 0 && x < Infinity)) return x === 0 ? -Infinity : x > 0 ? x : Number.NaN;
  if (x < 2 ** -1022) return logOf(x * 2 ** 54, -54);
  return logOf(x, 0);
}

/** ln(x 2^k) of an x with all its digits. */
function logOf(x: number, shift: number): number {
  double[0] = x;
  const exponent = (halves[HEAD]! >>> 20) - 1023;
  let k = exponent + shift;
  let part = x * powerOfTwo(-exponent);
  if (part > SQRT2) {
    part *= 0.5;
    k++;
  }
  // With s = f/(2 + f), 2s = f − s f = f − (f²/2 − s f²/2): f itself is exact, and what follows it is small beside it.
  const f = part - 1;
  const s = f / (2 + f);
  const square = s * s;
  const half = 0.5 * f * f;
  return k * LN2_HIGH - (half - (s * (half + square * logSeries(square)) + k * LN2_LOW) - f);
}

/** 2/3 + 2q/5 + 2q²/7 + … of ln((1 + s)/(1 − s)) = 2s + s (2s²/3 + 2s⁴/5 + …), q = s². |s| ≤ 0.172 leaves less than 2^−60 of it. */
function logSeries(q: number): number {
  let sum = 2 / 21 + q * (2 / 23);
  sum = 2 / 17 + q * (2 / 19 + q * sum);
  sum = 2 / 13 + q * (2 / 15 + q * sum);
  sum = 2 / 9 + q * (2 / 11 + q * sum);
  return 2 / 3 + q * (2 / 5 + q * (2 / 7 + q * sum));
}

/** ln(1 + x), without the loss of digits near 0; within two units in the last place. */
export function log1p(x: number): number {
  const whole = 1 + x;
  if (whole === 1) return x;
  if (!(whole > 0) || whole === Infinity) return log(whole);
  // ln(whole + lost) ≈ ln whole + lost/whole.
  const lost = whole > 2 ? 1 - (whole - x) : x - (whole - 1);
  return log(whole) + lost / whole;
}

/** x^y for x ≥ 0; as many units in the last place off as y ln x is large. For whole y up to 64 by multiplication, and then of any x. */
export function power(x: number, y: number): number {
  if (Number.isInteger(y) && y >= 0 && y <= 64) {
    let product = 1;
    for (let i = 0; i < y; i++) product *= x;
    return product;
  }
  return exp(y * log(x));
}

/**
 * cos(2π i/n) for i = 0 … n − 1, within one unit in the last place of 1.
 *
 * @param n a multiple of 8
 */
export function cosines(n: number): Float64Array {
  if (!Number.isInteger(n / 8) || n <= 0) throw new RangeError(`n must be a multiple of 8, not ${n}`);
  const table = new Float64Array(n);
  const quarter = n / 4;
  for (let i = 0; i <= quarter; i++) {
    // In an eighth of the circle the series are short: past it the cosine is the sine of the rest.
    const rest = quarter - i;
    const angle = (2 * Math.PI * Math.min(i, rest)) / n;
    const square = angle * angle;
    const cosine = i <= rest ? horner(COS_SERIES, square) : angle * horner(SIN_SERIES, square);
    table[i] = cosine;
    table[n / 2 - i] = -cosine;
    table[n / 2 + i] = -cosine;
    if (i > 0) table[n - i] = cosine;
  }
  table[quarter] = 0;
  table[3 * quarter] = 0;
  return table;
}

/** y · 2^k, rounded once. */
function scaled(y: number, k: number): number {
  if (k > 1023) return y * 2 ** 1023 * powerOfTwo(k - 1023);
  if (k < -1022) return y * powerOfTwo(k + 1022) * 2 ** -1022;
  return y * powerOfTwo(k);
}

const powerOfTwo = (k: number): number => POWERS[k + 1074]!;

function horner(series: Float64Array, x: number): number {
  let sum = series[series.length - 1]!;
  for (let k = series.length - 2; k >= 0; k--) sum = sum * x + series[k]!;
  return sum;
}

function reciprocals(count: number, of: (k: number) => number): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => 1 / of(k));
}

function factorial(n: number): number {
  let product = 1;
  for (let i = 2; i <= n; i++) product *= i;
  return product;
}
