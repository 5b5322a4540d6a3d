import { describe, expect, it } from 'vitest';
import {
  gammaFirstPassage,
  inverseGaussianFirstPassage,
  leastSquares,
  logGamma,
  weibullCdf,
  weibullFit,
  weibullQuantile,
} from '../../src/chance/index.ts';
import { unwrap } from '../../src/problem/index.ts';

describe('Weibull lives with survivors', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.2.1 and 8.4.1.3: ten of twenty units failed by 500 hours.
  const failures = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386];
  const survivors = Array<number>(10).fill(500);

  it('fits the handbook example', () => {
    const fit = unwrap(weibullFit(failures, survivors));
    // Handbook: shape 1.7208, scale 606.5280, log-likelihood −75.135, AIC 154.27.
    expect(fit.shape).toBeCloseTo(1.7208, 4);
    expect(fit.scale).toBeCloseTo(606.528, 2);
    expect(fit.logLikelihood).toBeCloseTo(-75.135, 3);
    expect(2 * 2 - 2 * fit.logLikelihood).toBeCloseTo(154.27, 2);
    // More digits: the likelihood equation solved by mpmath 1.3.0 in 30 digits; the lives below by our own arithmetic on them.
    expect(fit.shape).toBeCloseTo(1.720797260801357, 14);
    expect(fit.scale).toBeCloseTo(606.52755800357, 10);
    expect(fit.logLikelihood).toBeCloseTo(-75.13461816, 7);
    expect(weibullQuantile(0.1, fit.shape, fit.scale)).toBeCloseTo(164.0224, 4);
    expect(weibullQuantile(0.5, fit.shape, fit.scale)).toBeCloseTo(490.1738, 4);
    expect(1 - weibullCdf(500, fit.shape, fit.scale)).toBeCloseTo(0.488102, 6);
    expect(fit.scale * Math.exp(logGamma(1 + 1 / fit.shape))).toBeCloseTo(540.737, 3);
  });

  it('lays the handbook’s line through the probability plot', () => {
    // 8.2.2.1: ln(1/(1 − F)) with F = (i − 0.3)/(n + 0.4): first 0.03491627, last 0.64529116; on log10 axes slope 1.457519,
    // intercept −4.116536.
    const hazards = failures.map((_, i) => -Math.log(1 - (i + 0.7) / 20.4));
    expect(hazards[0]).toBeCloseTo(0.03491627, 8);
    expect(hazards[9]).toBeCloseTo(0.64529116, 8);
    const line = unwrap(leastSquares(failures.map(Math.log10), hazards.map(Math.log10)));
    expect(line.slope).toBeCloseTo(1.457519, 6);
    expect(line.intercept).toBeCloseTo(-4.116536, 6);
  });

  it('fits another published set', () => {
    // Failures 1,500 2,250 4,000 4,300 7,000; suspended 1,750 5,000: 2.257 and 4,900.1 (R. B. Abernethy, "The New Weibull Handbook").
    const fit = unwrap(weibullFit([1500, 2250, 4000, 4300, 7000], [1750, 5000]));
    expect(fit.shape).toBeCloseTo(2.257, 3);
    expect(fit.scale).toBeCloseTo(4900.1, 1);
  });

  it('reaches the handbook’s median-rank line, a method of its own, by least squares', () => {
    // Failures 30 49 82 90 96, suspended 10 45 100: 2.024 and 94.998 (same handbook), by Johnson's adjusted ranks, Benard's median ranks
    // and a fit of ln life on the plotting position; maximum likelihood gives 3.017 and 87.96 for these (SciPy 1.17.1).
    const lives: [number, boolean][] = [
      [10, false],
      [30, true],
      [45, false],
      [49, true],
      [82, true],
      [90, true],
      [96, true],
      [100, false],
    ];
    const logs: number[] = [];
    const positions: number[] = [];
    let rank = 0;
    lives.forEach(([life, failed], i) => {
      if (!failed) return;
      rank += (9 - rank) / (9 - i);
      logs.push(Math.log(life));
      positions.push(Math.log(-Math.log(1 - (rank - 0.3) / 8.4)));
    });
    const line = unwrap(leastSquares(positions, logs));
    expect(1 / line.slope).toBeCloseTo(2.024, 3);
    expect(Math.exp(line.intercept)).toBeCloseTo(94.998, 3);
    const fit = unwrap(weibullFit([30, 49, 82, 90, 96], [10, 45, 100]));
    expect(fit.shape).toBeCloseTo(3.017, 3);
    expect(fit.scale).toBeCloseTo(87.956, 3);
  });
});

describe('first passage', () => {
  // Computed by us three ways (formula, general library, quadrature) to ten digits; no published worked example was found.
  it.each([
    [1, 1, 1, 1, 0.6681020012],
    [10, 1, 1, 8, 0.2874456918],
    [10, 1, 1, 10, 0.56160697],
    [10, 1, 1, 12, 0.7700913994],
    [6, 0.5, 0.8, 20, 0.913875598],
  ])('of Brownian wear: limit %d, drift %d, spread %d by %d', (limit, drift, spread, t, chance) => {
    expect(inverseGaussianFirstPassage(limit, drift, spread, t)).toBeCloseTo(chance, 10);
  });

  it.each([
    [1, 1, 5, 5, 0.4404932851],
    [2, 1, 10, 4, 0.2202206466],
    [2, 1, 10, 5, 0.4579297145],
    [2, 1, 10, 6, 0.6967761463],
    [0.5, 0.25, 8, 4, 0.4060058497],
    [0.5, 2, 2, 10, 0.6288369352],
  ])('of gamma wear: shape rate %d, rate %d, limit %d by %d', (shapeRate, rate, limit, t, chance) => {
    expect(gammaFirstPassage(shapeRate, rate, limit, t)).toBeCloseTo(chance, 10);
  });
});

/** ∫₀ᵗ f by Gauss–Legendre, five points on each of 400 pieces. */
function integral(f: (x: number) => number, to: number): number {
  const nodes = [0, 0.5384693101056831, -0.5384693101056831, 0.906179845938664, -0.906179845938664];
  const weights = [
    0.5688888888888889, 0.47862867049936647, 0.47862867049936647, 0.23692688505618908, 0.23692688505618908,
  ];
  const half = to / 800;
  let sum = 0;
  for (let piece = 0; piece < 400; piece++)
    nodes.forEach((node, k) => {
      sum += weights[k]! * f((2 * piece + 1 + node) * half);
    });
  return sum * half;
}

/** Long-run cost a unit of time when a part is replaced at age `t` (planned) or at failure, whichever is first. */
function costRate(cdf: (x: number) => number, planned: number, failed: number, t: number): number {
  return (planned * (1 - cdf(t)) + failed * cdf(t)) / integral((x) => 1 - cdf(x), t);
}

/** The least of a function with one dip, by golden section. */
function lowest(f: (x: number) => number, from: number, to: number): { at: number; value: number } {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  while (high - low > 1e-7 * to) {
    const [a, b] = [high - ratio * (high - low), low + ratio * (high - low)];
    if (f(a) < f(b)) high = b;
    else low = a;
  }
  const at = (low + high) / 2;
  return { at, value: f(at) };
}

describe('age replacement', () => {
  it('of a uniform life: the textbook grid, and the exact best age', () => {
    // The grid is an exercise in A. K. S. Jardine, A. H. C. Tsang, "Maintenance, Replacement, and Reliability", ch. 2 (answer there:
    // 30,000); best age 40,000 (√3 − 1) and its cost in closed form, our own.
    const cost = (t: number) => costRate((x) => Math.min(1, x / 40000), 100, 200, t);
    expect([10000, 20000, 30000, 40000].map((t) => Number(cost(t).toFixed(7)))).toEqual([
      0.0142857, 0.01, 0.0093333, 0.01,
    ]);
    const best = lowest(cost, 10000, 40000);
    expect(best.at).toBeCloseTo(40000 * (Math.sqrt(3) - 1), 0);
    expect(best.value).toBeCloseTo(0.009330127, 10);
  });

  // Computed by us in a scientific library; no outside source (the numbers of Barlow and Hunter, 1960, were not found).
  it.each([
    [2, 1, 1, 5, 0.510655, 4.0852418],
    [2, 1, 1, 10, 0.336451, 6.0561214],
    [3, 1, 1, 5, 0.50261, 3.0313967],
    [3, 1, 1, 10, 0.382456, 3.9493503],
    [4, 1, 1, 10, 0.439097, 3.047786],
    [1.5, 1, 1, 10, 0.378145, 8.3016163],
    [2, 10, 1, 4, 5.93877, 0.35632623],
    [3, 12000, 40, 400, 4589.47, 0.013164501],
  ])('of a Weibull life: shape %d, scale %d, costs %d and %d', (shape, scale, planned, failed, age, rate) => {
    const best = lowest(
      (t) => costRate((x) => weibullCdf(x, shape, scale), planned, failed, t),
      scale / 100,
      2 * scale,
    );
    expect(Math.abs(best.at / age - 1)).toBeLessThan(1e-5);
    expect(Math.abs(best.value / rate - 1)).toBeLessThan(1e-7);
  });
});
