import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { quantiles } from './quantiles.ts';

/** A straight line fitted by least squares. */
export interface Line {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptError: number;
  readonly slopeError: number;
  /** Root of the residual sum of squares over `degrees`; NaN for two points. */
  readonly residualDeviation: number;
  readonly rSquared: number;
  /** Observations less two. */
  readonly degrees: number;
}

/**
 * Least squares of y on x by deviations from the means (two passes). For several columns, or columns that nearly depend on each
 * other, use `linearModel`.
 *
 * @param x at least two different values
 * @example leastSquares([0, 1, 2], [1, 3, 5]) → intercept 1, slope 2
 */
export function leastSquares(x: readonly number[], y: readonly number[]): Result<Line> {
  const problem = wrongPoints(x, y);
  if (problem !== undefined) return fail(problem);
  const count = x.length;
  const xMean = meanOf(x);
  const yMean = meanOf(y);
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  for (let i = 0; i < count; i++) {
    const dx = x[i]! - xMean;
    const dy = y[i]! - yMean;
    sxx += dx * dx;
    sxy += dx * dy;
    syy += dy * dy;
  }
  const slope = sxy / sxx;
  let residual = 0;
  for (let i = 0; i < count; i++) residual += (y[i]! - yMean - slope * (x[i]! - xMean)) ** 2;
  const degrees = count - 2;
  const variance = degrees === 0 ? Number.NaN : residual / degrees;
  return ok({
    intercept: yMean - slope * xMean,
    slope,
    interceptError: Math.sqrt(variance * (1 / count + (xMean * xMean) / sxx)),
    slopeError: Math.sqrt(variance / sxx),
    residualDeviation: Math.sqrt(variance),
    rSquared: syy === 0 ? 1 : 1 - residual / syy,
    degrees,
  });
}

/**
 * The Theil–Sen line: the median of the slopes of all pairs with different x, which a few wild readings cannot tilt.
 *
 * Intercept: median(y) − slope · median(x) (Conover's definition), not the median of y − slope · x; the two differ. (H. Theil, 1950;
 * P. K. Sen, J. Am. Stat. Assoc. 63, 1968; W. J. Conover, "Practical Nonparametric Statistics".)
 *
 * @param x at least two different values; the work grows with the square of their number
 */
export function theilSen(
  x: readonly number[],
  y: readonly number[],
): Result<{ readonly slope: number; readonly intercept: number }> {
  const problem = wrongPoints(x, y);
  if (problem !== undefined) return fail(problem);
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i++)
    for (let j = i + 1; j < x.length; j++) if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
  const slope = medianOf(slopes);
  return ok({ slope, intercept: medianOf(y) - slope * medianOf(x) });
}

function medianOf(values: readonly number[]): number {
  return quantiles(values, [0.5])[0]!;
}

/** The mean, corrected once by the mean of the deviations from it. */
function meanOf(values: readonly number[]): number {
  const rough = values.reduce((sum, value) => sum + value, 0) / values.length;
  return rough + values.reduce((sum, value) => sum + (value - rough), 0) / values.length;
}

function wrongPoints(x: readonly number[], y: readonly number[]): Problem | undefined {
  if (x.length !== y.length) throw new RangeError(`as many values of y as of x: ${y.length} and ${x.length}`);
  const wrong = x.findIndex((value, i) => !Number.isFinite(value) || !Number.isFinite(y[i]));
  if (wrong >= 0)
    return {
      code: 'chance.observation-invalid',
      what: `Point ${wrong + 1} is (${x[wrong]}, ${y[wrong]}).`,
      where: `point ${wrong + 1}`,
      expected: 'finite numbers',
      next: 'Strike that reading or enter it again.',
    };
  if (x.every((value) => value === x[0]))
    return {
      code: 'chance.observations-too-few',
      what: 'A line needs readings at two different times or miles.',
      expected: 'at least two different values of x',
      next: 'Take another reading later.',
    };
  return undefined;
}
