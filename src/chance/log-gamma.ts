import { log, log1p } from '../elementary/index.ts';

/** ½ ln 2π. */
const halfLogTwoPi = 0.9189385332046727;

/** The coefficients B(2k) / (2k (2k − 1)) of Stirling's series (DLMF 5.11.1), for 1/a, 1/a³, … */
const stirling = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156, -3617 / 122400];

/**
 * What Stirling's formula lacks: ln Γ(a) − [(a − ½) ln a − a + ½ ln 2π], for a > 0; absolute error about 1e−16.
 *
 * Densities are built from this rather than from ln Γ itself: at a = 100,000 the latter is a million, and its last digit alone would
 * spoil six digits of a chance.
 */
export function stirlingGap(a: number): number {
  // Below 10 the series is walked down to, by Γ(a + 1) = a Γ(a).
  let walk = 0;
  let b = a;
  while (b < 10) {
    walk += (b + 0.5) * log1p(1 / b) - 1;
    b += 1;
  }
  const inverseSquare = 1 / (b * b);
  let series = 0;
  for (let k = stirling.length - 1; k >= 0; k--) series = series * inverseSquare + stirling[k]!;
  return walk + series / b;
}

/** ln Γ(a) for a > 0. */
export function logGamma(a: number): number {
  if (!(a > 0)) throw new RangeError(`a must be above 0, not ${a}`);
  return (a - 0.5) * log(a) - a + halfLogTwoPi + stirlingGap(a);
}

/**
 * x − ln(1 + x) for x > −1, without the cancellation near 0.
 *
 * With r = x / (2 + x), ln(1 + x) = 2 (r + r³/3 + r⁵/5 + …), and x − 2r = r·x.
 */
export function lessLog1p(x: number): number {
  if (Math.abs(x) > 0.4) return x - log1p(x);
  const r = x / (2 + x);
  const square = r * r;
  let power = square * r;
  let sum = 0;
  for (let k = 3; Math.abs(power) > Math.abs(sum) * 1e-18 && k < 60; k += 2) {
    sum += power / k;
    power *= square;
  }
  return r * x - 2 * sum;
}
