import { cosines, exp, log } from '../elementary/index.ts';
import { gammaQuantile, gammaQuantileAbove } from './gamma.ts';
import { normalCdf, normalQuantile } from './normal.ts';
import { studentTQuantile } from './student-t.ts';

/*
 * Many quantiles of one distribution: as functions of the normal quantile z = Φ⁻¹(p) rather than of p, the quantiles of
 * Student's t and of the gamma distribution are smooth all the way into both tails. A Chebyshev interpolant through a few
 * dozen exact values then gives the rest at a few dozen multiplications each.
 */

/** |z| up to which the curve is used (p from 6e−13); beyond it the exact quantile is taken, point by point. */
const zEnd = 7.1;

/**
 * `studentTQuantile` of every entry of `ps`, into `out` (which may be `ps` itself); relative error below 1e−10. Five times faster than one by one at a
 * thousand entries, from 2 degrees of freedom on; below that they are taken one by one.
 */
export function studentTQuantiles(
  ps: Float64Array,
  degrees: number,
  out: Float64Array = new Float64Array(ps.length),
): Float64Array {
  if (ps.length < 64 || degrees < 2) return each(ps, out, (p) => studentTQuantile(p, degrees));
  // t/z is even in z and grows like exp(z²/2ν): the curve is its logarithm against z².
  const curve = chebyshev(32, 0, zEnd * zEnd, (square) => {
    const z = Math.sqrt(square);
    return log(-studentTQuantile(normalCdf(-z), degrees) / z);
  });
  return each(ps, out, (p) => {
    const z = normalQuantile(p);
    return Math.abs(z) < zEnd ? z * exp(curve(z * z)) : studentTQuantile(p, degrees);
  });
}

/**
 * `gammaQuantile` of every entry of `ps`, into `out` (which may be `ps` itself); relative error below 1e−10. Four times faster than
 * one by one at a thousand entries, for shapes from 0.3; smaller ones are taken one by one.
 */
export function gammaQuantiles(
  ps: Float64Array,
  shape: number,
  scale = 1,
  out: Float64Array = new Float64Array(ps.length),
): Float64Array {
  if (ps.length < 128 || shape < 0.3) return each(ps, out, (p) => gammaQuantile(p, shape, scale));
  const curve = chebyshev(shape < 1 ? 96 : 56, -zEnd, zEnd, (z) =>
    log(z < 0 ? gammaQuantile(normalCdf(z), shape, scale) : gammaQuantileAbove(normalCdf(-z), shape, scale)),
  );
  return each(ps, out, (p) => {
    const z = normalQuantile(p);
    return Math.abs(z) < zEnd ? exp(curve(z)) : gammaQuantile(p, shape, scale);
  });
}

function each(ps: Float64Array, out: Float64Array, quantile: (p: number) => number): Float64Array {
  for (let i = 0; i < ps.length; i++) out[i] = quantile(ps[i]!);
  return out;
}

/** The polynomial through `f` at the `count` Chebyshev points of [low, high], summed by Clenshaw's recurrence. */
function chebyshev(count: number, low: number, high: number, f: (x: number) => number): (x: number) => number {
  const middle = 0.5 * (low + high);
  const half = 0.5 * (high - low);
  const circle = cosines(4 * count);
  const values = Array.from({ length: count }, (_, k) => f(middle + half * circle[2 * k + 1]!));
  const coefficients = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    let sum = 0;
    for (let k = 0; k < count; k++) sum += values[k]! * circle[(j * (2 * k + 1)) % (4 * count)]!;
    coefficients[j] = ((j === 0 ? 1 : 2) / count) * sum;
  }
  return (x) => {
    const u = (2 * (x - middle)) / half;
    let b1 = 0;
    let b2 = 0;
    for (let j = count - 1; j > 0; j--) {
      const b0 = coefficients[j]! + u * b1 - b2;
      b2 = b1;
      b1 = b0;
    }
    return coefficients[0]! + 0.5 * u * b1 - b2;
  };
}
