import { exp } from '../elementary/index.ts';
import { gammaIncomplete } from './gamma.ts';
import { inverseGaussianCdf } from './inverse-gaussian.ts';
import { normalCdf, normalTailScaled } from './normal.ts';

/*
 * Closed forms that the simulated clocks of the outlook are checked against.
 */

/**
 * The chance that Brownian wear X(s) = drift·s + spread·B(s) has reached `limit` by time `t`: inverse Gaussian with mean limit/drift
 * and shape limit²/spread². With a drift of 0 or below it may never be reached, and the chance stays below 1.
 *
 * @param limit above 0, in the unit of X
 * @param drift in that unit per unit of time
 * @param spread above 0: standard deviation of X after one unit of time
 */
export function inverseGaussianFirstPassage(limit: number, drift: number, spread: number, t: number): number {
  if (!(limit > 0 && spread > 0)) throw new RangeError('The limit and the spread must be above 0.');
  if (t <= 0) return 0;
  if (drift > 0) return inverseGaussianCdf(t, limit / drift, (limit / spread) ** 2);
  const root = spread * Math.sqrt(t);
  const z = (drift * t - limit) / root;
  const mirrored = (drift * t + limit) / root;
  // Φ(z) + exp(2·drift·limit/spread²)·Φ(−mirrored): with mirrored ≥ 0 the product is exp(−z²/2) times a scaled tail.
  const second =
    mirrored >= 0
      ? exp(-0.5 * z * z) * normalTailScaled(mirrored)
      : exp((2 * drift * limit) / spread ** 2) * normalCdf(-mirrored);
  return normalCdf(z) + second;
}

/**
 * The chance that gamma wear, whose increase over a time s is Gamma(shape `shapeRate`·s, rate `rate`), has reached `limit` by `t`:
 * Q(shapeRate·t, rate·limit) (M. Abdel-Hameed, "A gamma wear process", IEEE Trans. Reliab. 24, 1975).
 */
export function gammaFirstPassage(shapeRate: number, rate: number, limit: number, t: number): number {
  if (t <= 0) return 0;
  return gammaIncomplete(shapeRate * t, rate * limit).above;
}
