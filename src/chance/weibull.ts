import { exp, expm1, log, log1p, power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';

/** The chance that a Weibull life (shape, scale) ends at or before `x`. */
export function weibullCdf(x: number, shape: number, scale: number): number {
  check(shape, scale);
  return x <= 0 ? 0 : -expm1(-power(x / scale, shape));
}

/** The life below which a Weibull life (shape, scale) lies with chance `p`. */
export function weibullQuantile(p: number, shape: number, scale: number): number {
  check(shape, scale);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`p must be from 0 to 1, not ${p}`);
  return scale * power(-log1p(-p), 1 / shape);
}

/** A Weibull distribution fitted to lives. */
export interface WeibullFit {
  readonly shape: number;
  readonly scale: number;
  readonly logLikelihood: number;
}

/**
 * Maximum likelihood for lives of which some have not ended yet (right-censored).
 *
 * The shape β solves Σ xᵢ^β ln xᵢ / Σ xᵢ^β − 1/β = mean of ln x over the failures, whose left side rises with β; the scale follows
 * (NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.2–3).
 *
 * @param failures ages at failure, above 0; at least one, and not all lives the same age
 * @param survivors ages reached without failure
 */
export function weibullFit(failures: readonly number[], survivors: readonly number[] = []): Result<WeibullFit> {
  const lives = [...failures, ...survivors];
  const wrong = lives.findIndex((life) => !(life > 0 && life < Infinity));
  if (wrong >= 0)
    return fail({
      code: 'chance.life-invalid',
      what: `A life is ${lives[wrong]}.`,
      where: wrong < failures.length ? `failure ${wrong + 1}` : `survivor ${wrong - failures.length + 1}`,
      expected: 'a finite number above 0',
      next: 'Correct that age.',
    });
  const longest = Math.max(...lives);
  if (failures.length === 0 || failures.every((life) => life === longest))
    return fail({
      code: 'chance.lives-too-few',
      what: failures.length === 0 ? 'Nothing has failed yet.' : 'All failures came at the greatest age seen.',
      expected: 'at least one failure at less than the greatest age',
      next: 'Use the catalog’s figure until more is known.',
    });
  // Lives as fractions of the longest keep every power within range.
  const logs = lives.map((life) => log(life / longest));
  const meanLog = logs.slice(0, failures.length).reduce((sum, log) => sum + log, 0) / failures.length;
  const shape = risingRoot((beta) => likelihoodSlope(beta, logs, meanLog));
  const total = logs.reduce((sum, log) => sum + exp(shape * log), 0);
  const scale = longest * power(total / failures.length, 1 / shape);
  const sumLogs = failures.length * (meanLog + log(longest));
  const logLikelihood = failures.length * (log(shape) - shape * log(scale)) + (shape - 1) * sumLogs - failures.length;
  return ok({ shape, scale, logLikelihood });
}

function likelihoodSlope(beta: number, logs: readonly number[], meanLog: number): { value: number; slope: number } {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  for (const log of logs) {
    const power = exp(beta * log);
    s0 += power;
    s1 += power * log;
    s2 += power * log * log;
  }
  const mean = s1 / s0;
  return { value: mean - 1 / beta - meanLog, slope: s2 / s0 - mean * mean + 1 / (beta * beta) };
}

/** The root of a rising function of a positive number: Newton's method within a bracket. */
function risingRoot(f: (x: number) => { value: number; slope: number }): number {
  let low = 0;
  let high = 1;
  while (f(high).value < 0) {
    low = high;
    high *= 2;
  }
  let x = 0.5 * (low + high);
  for (let step = 0; step < 200; step++) {
    const { value, slope } = f(x);
    if (value > 0) high = x;
    else low = x;
    const next = x - value / slope;
    const moved = next > low && next < high ? next : 0.5 * (low + high);
    if (Math.abs(moved - x) <= 1e-15 * x) return moved;
    x = moved;
  }
  return x;
}

function check(shape: number, scale: number): void {
  if (!(shape > 0 && shape < Infinity && scale > 0 && scale < Infinity))
    throw new RangeError(`The shape and the scale must be above 0 and finite, not ${shape} and ${scale}`);
}
