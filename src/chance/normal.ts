import { exp, log } from '../elementary/index.ts';

/** √(2π). */
export const rootTwoPi = 2.5066282746310002;

/** The chance that a standard normal lies at or below `z`; relative error below 1e−14 in both tails (to z = −37). */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) throw new RangeError('z must be a number');
  const y = Math.abs(z);
  if (y <= centreEnd) return 0.5 + centrePart(z);
  if (y > 38.6) return z < 0 ? 0 : 1;
  const tail = bellPart(y) * tailScaled(y);
  return z < 0 ? tail : 1 - tail;
}

/** The density of a standard normal at `z`. */
export function normalDensity(z: number): number {
  return exp(-0.5 * z * z) / rootTwoPi;
}

/**
 * exp(z²/2) · Φ(−z) for z ≥ 0: the upper tail without its vanishing factor, so that products of a huge and a tiny number
 * can be taken before either leaves the range of a double.
 */
export function normalTailScaled(z: number): number {
  return z <= centreEnd ? exp(0.5 * z * z) * (0.5 - centrePart(z)) : tailScaled(z);
}

/*
 * Rational minimax approximations of W. J. Cody, "Rational Chebyshev approximations for the error function", Math. Comp. 23,
 * 631–638 (1969), in the form for the normal distribution of his Algorithm 715, ACM Trans. Math. Softw. 19, 22–32 (1993).
 * Highest power last; the digits are those a double can hold.
 */
const centreEnd = 0.67448975;
const centreOver = [18154.98125334356, 1067.6894854603709, 161.02823106855587, 2.2352520354606837, 0.06568233791820745];
const centreUnder = [45507.78933502673, 10260.932208618979, 976.0985517377767, 47.202581904688245, 1];
const flankOver = [
  9842.714838383978, 11602.65143764735, 6848.190450536283, 2494.5375852903726, 597.2702763948002, 93.50665613217785,
  8.883149794388377, 0.39894151208813466, 1.0765576773720192e-8,
];
const flankUnder = [
  19685.429676859992, 38912.00328609327, 34900.95272114598, 18615.571640885097, 6485.558298266761, 1519.3775994075547,
  235.387901782625, 22.266688044328117, 1,
];
const farOver = [
  2.9112874951168793e-5, 0.0014216191932278934, 0.022235277870649807, 0.12740116116024736, 0.215898534057957,
  0.023073441764940174,
];
const farUnder = [
  7.297515550839662e-5, 0.0037823963320275824, 0.06598813786892856, 0.4682382124808651, 1.284260096144911, 1,
];

function ratio(over: readonly number[], under: readonly number[], x: number): number {
  let top = 0;
  let bottom = 0;
  for (let i = over.length - 1; i >= 0; i--) {
    top = top * x + over[i]!;
    bottom = bottom * x + under[i]!;
  }
  return top / bottom;
}

/** Φ(z) − ½ for |z| ≤ 0.674. */
function centrePart(z: number): number {
  return z * ratio(centreOver, centreUnder, z * z);
}

/** exp(y²/2) · Φ(−y) for y > 0.674. */
function tailScaled(y: number): number {
  if (y <= Math.sqrt(32)) return ratio(flankOver, flankUnder, y);
  const s = 1 / (y * y);
  return (1 / rootTwoPi - s * ratio(farOver, farUnder, s)) / y;
}

/** exp(−y²/2) with y² split, since rounding y² alone would cost y²/2 units in the last place. */
function bellPart(y: number): number {
  const coarse = Math.trunc(y * 16) / 16;
  return exp(-0.5 * coarse * coarse) * exp(-0.5 * (y - coarse) * (y + coarse));
}

/**
 * The number below which a standard normal lies with chance `p`; relative error about 1e−16.
 *
 * M. J. Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37, 477–484 (1988).
 *
 * @param p from 0 (−∞) to 1 (∞)
 * @example normalQuantile(0.975) → 1.959963984540054
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(nearOver, nearUnder, 0.180625 - q * q);
  const tail = q < 0 ? p : 1 - p;
  if (tail === 0) return q < 0 ? -Infinity : Infinity;
  const r = Math.sqrt(-log(tail));
  const z = r <= 5 ? ratio(middleOver, middleUnder, r - 1.6) : ratio(outerOver, outerUnder, r - 5);
  return q < 0 ? -z : z;
}

const nearOver = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
  33430.57558358813, 2509.0809287301227,
];
const nearUnder = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
  5226.495278852854,
];
const middleOver = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
  0.022723844989269184, 0.0007745450142783414,
];
const middleUnder = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
  0.0005475938084995345, 1.0507500716444169e-9,
];
const outerOver = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
  0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
];
const outerUnder = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 1.8463183175100548e-5,
  1.421511758316446e-7, 2.0442631033899397e-15,
];

/** `normalQuantile` of every entry of `ps`, into `out` (which may be `ps` itself). */
export function normalQuantiles(ps: Float64Array, out: Float64Array = new Float64Array(ps.length)): Float64Array {
  for (let i = 0; i < ps.length; i++) out[i] = normalQuantile(ps[i]!);
  return out;
}
