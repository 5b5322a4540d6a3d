import { log } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { studentTCdf, studentTQuantile } from './student-t.ts';

/** What is believed of log(actual / planned) before any of the owner's own trips is known. */
export interface LogRatioPrior {
  /** The mean of the logarithm. */
  readonly mean: number;
  /** How many trips the prior mean counts for. */
  readonly weight: number;
  /** The spread of a single trip's logarithm about its mean (root of the prior variance scale). */
  readonly spread: number;
  /** How many trips the prior spread counts for (degrees of freedom). */
  readonly degrees: number;
}

/** A Student-t distribution shifted and stretched: location + scale · t(degrees). */
export interface StudentT {
  readonly location: number;
  readonly scale: number;
  readonly degrees: number;
}

/** The same belief after some trips, and with it the next trip's logarithm. */
export interface LogRatioPosterior extends StudentT {
  /** How many trips the mean (which is `location`) now counts for. */
  readonly weight: number;
  /** The spread of a single trip's logarithm about the mean; `scale` adds the doubt about the mean. */
  readonly spread: number;
}

/**
 * The prior of trip miles: trips run 8 % over their plan, give or take some 12 %, worth four trips of evidence.
 *
 * Common practice, no source. The spread counts for eight trips (degrees 8), not four: with four, one first trip in a hundred would be
 * expected to run to 1.8 times its plan, with eight to 1.6 times.
 */
export const logRatioPriorOfTrips: LogRatioPrior = { mean: log(1.08), weight: 4, spread: 0.12, degrees: 8 };

/**
 * The posterior predictive of the next trip's log(actual / planned): normal data, normal-inverse-gamma prior.
 *
 * With n ratios, mean m and sum of squares S about it (of the logarithms): weight' = weight + n; location = (weight·mean + n·m)/weight';
 * degrees' = degrees + n; degrees'·s² = degrees·spread² + S + weight·n/weight' · (m − mean)²; scale = s √(1 + 1/weight').
 * (A. Gelman et al., "Bayesian Data Analysis", 3rd ed., §3.3.)
 *
 * @param ratios actual over planned miles of each finished trip, above 0
 */
export function logRatioPosterior(prior: LogRatioPrior, ratios: readonly number[]): Result<LogRatioPosterior> {
  const wrong = ratios.findIndex((ratio) => !(ratio > 0 && ratio < Infinity));
  if (wrong >= 0)
    return fail({
      code: 'chance.ratio-not-positive',
      what: `A trip's actual over planned miles is ${ratios[wrong]}.`,
      where: `ratio ${wrong + 1}`,
      expected: 'a finite number above 0',
      next: 'Correct the planned or the actual miles of that trip.',
    });
  const count = ratios.length;
  const logs = ratios.map((ratio) => log(ratio));
  const mean = count === 0 ? prior.mean : logs.reduce((sum, log) => sum + log, 0) / count;
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0);
  const weight = prior.weight + count;
  const degrees = prior.degrees + count;
  const pull = ((prior.weight * count) / weight) * (mean - prior.mean) ** 2;
  const variance = (prior.degrees * prior.spread ** 2 + squares + pull) / degrees;
  return ok({
    location: (prior.weight * prior.mean + count * mean) / weight,
    scale: Math.sqrt(variance * (1 + 1 / weight)),
    degrees,
    weight,
    spread: Math.sqrt(variance),
  });
}

/** The chance that a shifted and stretched t lies at or below `value`. */
export function locatedTCdf(t: StudentT, value: number): number {
  return studentTCdf((value - t.location) / t.scale, t.degrees);
}

/** The value below which a shifted and stretched t lies with chance `p`. */
export function locatedTQuantile(t: StudentT, p: number): number {
  return t.location + t.scale * studentTQuantile(p, t.degrees);
}
