import { log } from '../elementary/index.ts';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { exactDot } from './exact-dot.ts';
import {
  apply,
  applyTransposed,
  type Householder,
  householder,
  norm,
  solveUpper,
  solveUpperTransposed,
} from './householder.ts';

/** A fitted linear model. */
export interface LinearModel {
  /** In the order of the columns; the intercept, if there is one, first. */
  readonly coefficients: readonly number[];
  readonly standardErrors: readonly number[];
  /** Observations less coefficients. */
  readonly degrees: number;
  /** Root of the residual sum of squares over `degrees`. */
  readonly residualDeviation: number;
  /** About the mean with an intercept, about zero without one. */
  readonly rSquared: number;
  readonly fStatistic: number;
}

/**
 * Ordinary least squares of y on the columns of X.
 *
 * Householder QR of the columns scaled to unit length, then Björck's refinement of solution and residual together with dot products in
 * twice the working precision (Å. Björck, BIT 7, 257–278, 1967): the answer is that of the columns as given, to the last digits.
 *
 * @param x one row an observation, all of one length
 * @param y one value an observation; more of them than coefficients
 * @param options.intercept false for a model through the origin; true unless said
 */
export function linearModel(
  x: readonly (readonly number[])[],
  y: readonly number[],
  options: { readonly intercept?: boolean } = {},
): Result<LinearModel> {
  const intercept = options.intercept ?? true;
  const problem = wrongObservations(x, y, intercept);
  if (problem !== undefined) return fail(problem);
  const columns = columnsOf(x, intercept);
  // Powers of two, so that scaling loses nothing.
  const scales = columns.map((column) => 2 ** -(Math.round(log(norm(column)) * Math.LOG2E) || 0));
  const scaled = columns.map((column, k) => column.map((value) => value * scales[k]!));
  const qr = householder(scaled);
  if (qr === undefined)
    return fail({
      code: 'chance.columns-dependent',
      what: 'Two or more of the quantities fitted always move together, so that their effects cannot be told apart.',
      expected: 'columns of which none is a combination of the others',
      next: 'Leave one of them out.',
    });
  return ok(fitted(qr, scaled, scales, Float64Array.from(y), intercept));
}

function fitted(
  qr: Householder,
  columns: readonly Float64Array[],
  scales: readonly number[],
  y: Float64Array,
  intercept: boolean,
): LinearModel {
  const { solution, residual } = refined(qr, columns, y);
  const degrees = y.length - qr.count;
  const explained = applyTransposed(qr, Float64Array.from(y)).slice(intercept ? 1 : 0, qr.count);
  const squaresModel = explained.reduce((sum, value) => sum + value * value, 0);
  const squaresResidual = residual.reduce((sum, value) => sum + value * value, 0);
  const variance = squaresResidual / degrees;
  const standardErrors = [...scales].map((scale, k) => {
    const unit = new Float64Array(qr.count);
    unit[k] = 1;
    return scale * Math.sqrt(variance) * norm(solveUpperTransposed(qr, unit));
  });
  return {
    coefficients: [...solution].map((value, k) => value * scales[k]!),
    standardErrors,
    degrees,
    residualDeviation: Math.sqrt(variance),
    rSquared: squaresModel / (squaresModel + squaresResidual),
    fStatistic: squaresModel / explained.length / variance,
  };
}

/** Solve the augmented system r + X b = y, Xᵀ r = 0, again and again for what it misses by. */
function refined(
  qr: Householder,
  columns: readonly Float64Array[],
  y: Float64Array,
): { solution: Float64Array; residual: Float64Array } {
  const solution = new Float64Array(qr.count);
  const residual = new Float64Array(qr.rows);
  // Each row with a place for its residual, so that y − r − X b is rounded once.
  const rows = Array.from(y, (_, i) => Float64Array.from([0, ...columns.map((column) => column[i]!)]));
  let movedBefore = Infinity;
  for (let pass = 0; pass < 12; pass++) {
    const factors = [1, ...solution];
    rows.forEach((row, i) => {
      row[0] = residual[i]!;
    });
    const missTop = Float64Array.from(y, (value, i) => exactDot(value, rows[i]!, factors, -1));
    const missBottom = Float64Array.from(columns, (column) => exactDot(0, column, residual, -1));
    const h = solveUpperTransposed(qr, missBottom);
    const d = applyTransposed(qr, missTop);
    for (let k = 0; k < qr.count; k++) d[k]! -= h[k]!;
    const stepSolution = solveUpper(qr, d);
    for (let k = 0; k < qr.count; k++) d[k] = h[k]!;
    const stepResidual = apply(qr, d);
    // Judged coefficient by coefficient: the small ones settle last.
    const moved = Math.max(...stepSolution.map((step, k) => Math.abs(step) / Math.abs(solution[k]! + step) || 0));
    if (pass > 1 && !(moved < movedBefore)) break;
    stepSolution.forEach((step, k) => {
      solution[k]! += step;
    });
    stepResidual.forEach((step, i) => {
      residual[i]! += step;
    });
    if (moved < 2 ** -53) break;
    movedBefore = moved;
  }
  return { solution, residual };
}

function columnsOf(x: readonly (readonly number[])[], intercept: boolean): Float64Array[] {
  const columns = x[0]!.map((_, k) => Float64Array.from(x, (row) => row[k]!));
  return intercept ? [new Float64Array(x.length).fill(1), ...columns] : columns;
}

function wrongObservations(
  x: readonly (readonly number[])[],
  y: readonly number[],
  intercept: boolean,
): Problem | undefined {
  const width = x[0]?.length ?? 0;
  const count = width + (intercept ? 1 : 0);
  if (x.length !== y.length) throw new RangeError(`as many values of y as rows of x: ${y.length} and ${x.length}`);
  if (x.some((row) => row.length !== width)) throw new RangeError('all rows of x must have one length');
  if (y.length <= count)
    return {
      code: 'chance.observations-too-few',
      what: `There are ${y.length} observations for ${count} unknowns.`,
      expected: `at least ${count + 1}`,
      next: 'Enter more readings.',
    };
  const wrong = y.findIndex((value, i) => !Number.isFinite(value) || x[i]!.some((entry) => !Number.isFinite(entry)));
  if (wrong < 0) return undefined;
  return {
    code: 'chance.observation-invalid',
    what: `Observation ${wrong + 1} is not finite.`,
    where: `observation ${wrong + 1}`,
    expected: 'finite numbers',
    next: 'Strike that reading or enter it again.',
  };
}
