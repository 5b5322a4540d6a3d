import { exp, expm1, log, log1p } from '../elementary/index.ts';
import { stirlingGap } from './log-gamma.ts';
import { normalQuantile, rootTwoPi } from './normal.ts';

/**
 * The chance that Student's t with `degrees` of freedom lies at or below `t`; relative error of either tail about 1e−13,
 * rising to 1e−11 at 100,000 degrees.
 *
 * @param degrees above 0, need not be whole
 * @throws RangeError outside these
 */
export function studentTCdf(t: number, degrees: number): number {
  checkDegrees(degrees);
  if (Number.isNaN(t)) throw new RangeError('t must be a number');
  const tail = upperTail(Math.abs(t), degrees, logPeak(degrees));
  return t < 0 ? tail : 1 - tail;
}

/** The density of Student's t at `t`. */
export function studentTDensity(t: number, degrees: number): number {
  checkDegrees(degrees);
  return density(t, degrees, logPeak(degrees));
}

/**
 * The value below which Student's t lies with chance `p`; relative error about 1e−14, 1e−12 at
 * 100,000 degrees.
 *
 * Newton's method from Wallace's transform of the normal quantile (D. L. Wallace, Ann. Math. Stat. 30, 1959): in the centre on the
 * chance from 0 to t, in the tail on its logarithm against ln t.
 *
 * @example studentTQuantile(0.975, 34) → 2.0322445093177173
 */
export function studentTQuantile(p: number, degrees: number): number {
  checkDegrees(degrees);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
  const tail = p < 0.5 ? p : 1 - p;
  if (tail === 0) return p < 0.5 ? -Infinity : Infinity;
  const peak = logPeak(degrees);
  // p − ½ is exact for p from ¼ on, while 1 − p is not what was asked for when p is close to ½.
  const size = tail > 0.25 ? centreQuantile(Math.abs(p - 0.5), degrees, peak) : tailQuantile(tail, degrees, peak);
  return p < 0.5 ? -size : size;
}

function centreQuantile(chance: number, degrees: number, peak: number): number {
  // The chance from 0 to t is concave: from a start that is too small every step stays too small, and doubles its digits.
  let t = chance / exp(peak);
  for (let step = 0; step < 50; step++) {
    const move = (chance - centreChance(t, degrees, peak)) / density(t, degrees, peak);
    t += move;
    if (Math.abs(move) <= 1e-9 * t) break;
  }
  return t - (centreChance(t, degrees, peak) - chance) / density(t, degrees, peak);
}

function tailQuantile(tail: number, degrees: number, peak: number): number {
  const w = (normalQuantile(tail) * (8 * degrees + 3)) / (8 * degrees + 1);
  const growth = (w * w) / degrees;
  let logT = 0.5 * (log(degrees) + (growth > 40 ? growth : log(expm1(growth))));
  const goal = log(tail);
  for (let step = 0; step < 60; step++) {
    const t = exp(logT);
    const reached = upperTail(t, degrees, peak);
    const move = ((log(reached) - goal) * reached) / (t * density(t, degrees, peak));
    logT += move;
    // Convergence is quadratic: a step of 1e−9 leaves 1e−18.
    if (Math.abs(move) <= 1e-9) break;
  }
  return exp(logT);
}

function upperTail(t: number, degrees: number, peak: number): number {
  if (t === Infinity) return 0;
  if (t * t * (degrees + 2) < 3 * degrees) return 0.5 - centreChance(t, degrees, peak);
  return t * density(t, degrees, peak) * tailFraction(t, degrees);
}

/** The chance from 0 to t: t f(t) · ₂F₁(1, (ν+1)/2; 3/2; t²/(ν+t²)), every term positive (DLMF 8.17.7–8). */
function centreChance(t: number, degrees: number, peak: number): number {
  const z = (t * t) / (degrees + t * t);
  const half = 0.5 * (degrees + 1);
  let term = 1;
  let sum = 1;
  for (let k = 0; k < 2000 && term > sum * 1e-17; k++) {
    term *= (z * (half + k)) / (1.5 + k);
    sum += term;
  }
  return t * density(t, degrees, peak) * sum;
}

/** The upper tail over t f(t): the continued fraction of the incomplete beta function (DLMF 8.17.22), modified Lentz. */
function tailFraction(t: number, degrees: number): number {
  const a = 0.5 * degrees;
  const x = degrees / (degrees + t * t);
  let c = 1;
  let d = 1 - ((a + 0.5) * x) / (a + 1);
  d = 1 / d;
  let value = d;
  for (let m = 1; m < 5000; m++) {
    const even = (m * (0.5 - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    value *= c * d;
    const odd = (-(a + m) * (a + 0.5 + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return value / degrees;
}

function density(t: number, degrees: number, peak: number): number {
  const ratio = t / Math.sqrt(degrees);
  // ln(1 + r²) for an r whose square leaves the range of a double.
  const spread = Math.abs(ratio) > 1e150 ? 2 * log(Math.abs(ratio)) : log1p(ratio * ratio);
  return exp(peak - 0.5 * (degrees + 1) * spread);
}

/** ln f(0) = ln Γ((ν+1)/2) − ln Γ(ν/2) − ½ ln νπ, arranged so that a large ν costs no digits. */
function logPeak(degrees: number): number {
  const a = 0.5 * degrees;
  return a * log1p(0.5 / a) - 0.5 + stirlingGap(a + 0.5) - stirlingGap(a) - log(rootTwoPi);
}

function checkDegrees(degrees: number): void {
  if (!(degrees > 0 && degrees < Infinity))
    throw new RangeError(`The degrees of freedom must be above 0 and finite, not ${degrees}`);
}
