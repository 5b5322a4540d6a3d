import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import type { StudentT } from './log-ratio.ts';
import { studentTQuantiles } from './quantile-curve.ts';
import { studentTQuantile } from './student-t.ts';

/** What is believed of a drifting quantity before it is measured. Times count from the last work that restored it. */
export interface LinePrior {
  /** The value just after the work: mean and standard deviation, in the quantity's unit. */
  readonly intercept: { readonly mean: number; readonly spread: number };
  /** The drift: mean and standard deviation, in units per unit of time (or of miles). */
  readonly slope: { readonly mean: number; readonly spread: number };
  /** A single reading's scatter about the line, gauge error included: size, and how many readings that size counts for. */
  readonly noise: { readonly spread: number; readonly degrees: number };
}

/** One measurement. */
export interface LineReading {
  /** When, counted from the last restoring work, in the time unit of the prior's slope. */
  readonly at: number;
  readonly value: number;
  /** How many ordinary readings this one is worth; 1 unless said (a gauge twice as good: 4). */
  readonly weight?: number;
}

/** A line known as far as prior and readings go: (intercept, slope) is bivariate t. */
export interface LinePosterior {
  readonly intercept: number;
  readonly slope: number;
  /** The scale matrix (for many degrees of freedom, the covariance). */
  readonly scale: { readonly intercept: number; readonly slope: number; readonly cross: number };
  readonly degrees: number;
  /** The scatter of an ordinary reading about the line. */
  readonly noise: number;
}

/**
 * Bayesian regression of a measured value on time, conjugate normal-inverse-gamma prior; prior intercept and slope independent.
 *
 * The prior spreads are those at the prior noise: when readings scatter more than the prior says, the prior of the line
 * widens in the same proportion. (A. O'Hagan, J. Forster, "Kendall's Advanced Theory of Statistics 2B", ch. 11.)
 *
 * @param readings any number, also none (then the posterior is the prior); several at one time are fine
 */
export function bayesLine(prior: LinePrior, readings: readonly LineReading[]): Result<LinePosterior> {
  const problem = wrongPrior(prior) ?? wrongReading(readings);
  if (problem !== undefined) return fail(problem);
  // Precisions in units of the noise variance; values less the prior line, so that the prior mean is 0.
  const noiseSquare = prior.noise.spread ** 2;
  let p11 = noiseSquare / prior.intercept.spread ** 2;
  let p22 = noiseSquare / prior.slope.spread ** 2;
  let p12 = 0;
  let b1 = 0;
  let b2 = 0;
  for (const { at, value, weight = 1 } of readings) {
    const excess = value - prior.intercept.mean - prior.slope.mean * at;
    p11 += weight;
    p12 += weight * at;
    p22 += weight * at * at;
    b1 += weight * excess;
    b2 += weight * at * excess;
  }
  const determinant = p11 * p22 - p12 * p12;
  const intercept = (p22 * b1 - p12 * b2) / determinant;
  const slope = (p11 * b2 - p12 * b1) / determinant;
  // Scatter about the posterior line plus its squared distance from the prior, each positive: nothing cancels.
  let squares =
    (noiseSquare / prior.intercept.spread ** 2) * intercept ** 2 + (noiseSquare / prior.slope.spread ** 2) * slope ** 2;
  for (const { at, value, weight = 1 } of readings) {
    const excess = value - prior.intercept.mean - prior.slope.mean * at;
    squares += weight * (excess - intercept - slope * at) ** 2;
  }
  const degrees = prior.noise.degrees + readings.length;
  const variance = (prior.noise.degrees * noiseSquare + squares) / degrees;
  return ok({
    intercept: prior.intercept.mean + intercept,
    slope: prior.slope.mean + slope,
    scale: {
      intercept: (variance * p22) / determinant,
      slope: (variance * p11) / determinant,
      cross: (-variance * p12) / determinant,
    },
    degrees,
    noise: Math.sqrt(variance),
  });
}

/** The line's own value at a time, without the scatter of a reading: a shifted and stretched t. */
export function lineValueAt(line: LinePosterior, at: number): StudentT {
  const square = line.scale.intercept + 2 * at * line.scale.cross + at * at * line.scale.slope;
  return { location: line.intercept + line.slope * at, scale: Math.sqrt(square), degrees: line.degrees };
}

/**
 * One line drawn from the posterior by two uniforms in (0, 1): the intercept from its t, then the slope from its own t given that
 * intercept (one more degree of freedom; M. Roth, "On the multivariate t distribution", 2013).
 */
export function drawLine(line: LinePosterior, u1: number, u2: number): { intercept: number; slope: number } {
  const t1 = studentTQuantile(u1, line.degrees);
  const t2 = studentTQuantile(u2, line.degrees + 1);
  return { intercept: line.intercept + Math.sqrt(line.scale.intercept) * t1, slope: slopeGiven(line)(t1, t2) };
}

/** `drawLine` for whole arrays of uniforms; fills and returns the two arrays. */
export function drawLines(
  line: LinePosterior,
  u1: Float64Array,
  u2: Float64Array,
  out = { intercept: new Float64Array(u1.length), slope: new Float64Array(u1.length) },
): { intercept: Float64Array; slope: Float64Array } {
  if (u1.length !== u2.length) throw new RangeError(`as many second uniforms as first: ${u2.length} and ${u1.length}`);
  studentTQuantiles(u1, line.degrees, out.intercept);
  studentTQuantiles(u2, line.degrees + 1, out.slope);
  return linesOfT(line, out.intercept, out.slope, out);
}

/**
 * The same from quantiles taken already: `t1` of Student's t with the line's degrees of freedom, `t2` with one more. `out` may hold
 * `t1` and `t2` themselves.
 */
export function linesOfT(
  line: LinePosterior,
  t1: Float64Array,
  t2: Float64Array,
  out = { intercept: new Float64Array(t1.length), slope: new Float64Array(t1.length) },
): { intercept: Float64Array; slope: Float64Array } {
  const spread = Math.sqrt(line.scale.intercept);
  const slope = slopeGiven(line);
  for (let i = 0; i < t1.length; i++) {
    const t = t1[i]!;
    out.slope[i] = slope(t, t2[i]!);
    out.intercept[i] = line.intercept + spread * t;
  }
  return out;
}

function slopeGiven(line: LinePosterior): (t1: number, t2: number) => number {
  const { scale, degrees } = line;
  const lean = scale.cross / Math.sqrt(scale.intercept);
  const rest = Math.max(0, scale.slope - lean * lean);
  return (t1, t2) => line.slope + lean * t1 + Math.sqrt((rest * (degrees + t1 * t1)) / (degrees + 1)) * t2;
}

function wrongPrior(prior: LinePrior): Problem | undefined {
  const entries: [string, number, boolean][] = [
    ['intercept.mean', prior.intercept.mean, false],
    ['intercept.spread', prior.intercept.spread, true],
    ['slope.mean', prior.slope.mean, false],
    ['slope.spread', prior.slope.spread, true],
    ['noise.spread', prior.noise.spread, true],
    ['noise.degrees', prior.noise.degrees, true],
  ];
  for (const [where, value, positive] of entries)
    if (!Number.isFinite(value) || (positive && value <= 0))
      return {
        code: 'chance.line-prior-invalid',
        what: `The prior of a drifting quantity has ${where} ${value}.`,
        where,
        expected: positive ? 'a finite number above 0' : 'a finite number',
        next: 'Correct that value in the catalog.',
      };
  return undefined;
}

function wrongReading(readings: readonly LineReading[]): Problem | undefined {
  const wrong = readings.findIndex(
    ({ at, value, weight = 1 }) =>
      !Number.isFinite(at) || !Number.isFinite(value) || !(weight > 0 && weight < Infinity),
  );
  if (wrong < 0) return undefined;
  const { at, value, weight = 1 } = readings[wrong]!;
  return {
    code: 'chance.reading-invalid',
    what: `Reading ${wrong + 1} is ${value} at ${at}, weight ${weight}.`,
    where: `reading ${wrong + 1}`,
    expected: 'a finite value at a finite time, and a weight above 0',
    next: 'Strike that reading or enter it again.',
  };
}
