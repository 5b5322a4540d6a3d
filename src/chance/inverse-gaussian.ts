import { exp, log1p } from '../elementary/index.ts';
import type { TwoTails } from './gamma.ts';
import { invertPositive } from './invert.ts';
import { normalCdf, normalQuantile, normalTailScaled, rootTwoPi } from './normal.ts';

/**
 * Both tails of the inverse Gaussian distribution (mean `mean`, shape `shape`, variance mean³/shape) at `x`.
 *
 * J. Shuster, "On the inverse Gaussian distribution function", J. Am. Stat. Assoc. 63, 1968; the product exp(2λ/μ)·Φ(…) is taken as
 * exp(−z₁²/2) times a scaled tail, so that it neither overflows nor vanishes.
 */
export function inverseGaussianTails(x: number, mean: number, shape: number): TwoTails {
  check(mean, shape);
  if (Number.isNaN(x)) throw new RangeError('x must be a number');
  if (x <= 0) return { below: 0, above: 1 };
  if (x === Infinity) return { below: 1, above: 0 };
  const root = Math.sqrt(shape / x);
  const z = root * (x / mean - 1);
  const mirrored = exp(-0.5 * z * z) * normalTailScaled(root * (x / mean + 1));
  const above = normalCdf(-z) - mirrored;
  return { below: normalCdf(z) + mirrored, above: Math.max(0, above) };
}

/** The chance that an inverse Gaussian lies at or below `x`. */
export function inverseGaussianCdf(x: number, mean: number, shape: number): number {
  return inverseGaussianTails(x, mean, shape).below;
}

/** The value below which an inverse Gaussian lies with chance `p`. */
export function inverseGaussianQuantile(p: number, mean: number, shape: number): number {
  check(mean, shape);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
  const side = p <= 0.5 ? 'below' : 'above';
  const spread = Math.sqrt(log1p(mean / shape));
  // A lognormal of the same mean and variance to start from.
  const start = mean * exp(spread * normalQuantile(p) - 0.5 * spread * spread);
  return invertPositive(p <= 0.5 ? p : 1 - p, side, start, (x) => {
    const z = Math.sqrt(shape / x) * (x / mean - 1);
    return {
      ...inverseGaussianTails(x, mean, shape),
      slope: (Math.sqrt(shape / x) / rootTwoPi) * exp(-0.5 * z * z),
    };
  });
}

function check(mean: number, shape: number): void {
  if (!(mean > 0 && mean < Infinity && shape > 0 && shape < Infinity))
    throw new RangeError(`The mean and the shape must be above 0 and finite, not ${mean} and ${shape}`);
}
