/**
 * What lives here: seeded and quasi-random numbers, distributions, quantiles of samples, regression, and the closed forms
 * they are checked against. Pure functions of their arguments; the same seed gives the same numbers everywhere.
 */

export {
  bayesLine,
  drawLine,
  drawLines,
  type LinePosterior,
  type LinePrior,
  type LineReading,
  linesOfT,
  lineValueAt,
} from './bayes-line.ts';
export { gammaFirstPassage, inverseGaussianFirstPassage } from './first-passage.ts';
export { gammaCdf, gammaIncomplete, gammaQuantile, gammaQuantileAbove, type TwoTails } from './gamma.ts';
export { inverseGaussianCdf, inverseGaussianQuantile, inverseGaussianTails } from './inverse-gaussian.ts';
export { type Line, leastSquares, theilSen } from './line.ts';
export { type LinearModel, linearModel } from './linear-model.ts';
export { logGamma } from './log-gamma.ts';
export {
  type LogRatioPosterior,
  type LogRatioPrior,
  locatedTCdf,
  locatedTQuantile,
  logRatioPosterior,
  logRatioPriorOfTrips,
  type StudentT,
} from './log-ratio.ts';
export { normalCdf, normalDensity, normalQuantile, normalQuantiles } from './normal.ts';
export { gammaQuantiles, studentTQuantiles } from './quantile-curve.ts';
export { quantiles } from './quantiles.ts';
export { type Random, random, seedFrom, seedPart } from './random.ts';
export { sobol, sobolDimensionsMax } from './sobol.ts';
export { stratified } from './stratified.ts';
export { studentTCdf, studentTDensity, studentTQuantile } from './student-t.ts';
export { type WeibullFit, weibullCdf, weibullFit, weibullQuantile } from './weibull.ts';
