import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  gammaIncomplete,
  gammaQuantile,
  inverseGaussianCdf,
  inverseGaussianQuantile,
  logGamma,
  normalCdf,
  normalQuantile,
  studentTCdf,
  studentTQuantile,
  weibullCdf,
  weibullQuantile,
} from '../../src/chance/index.ts';

/*
 * Values by two general-purpose libraries, mpmath 1.3.0 in 40 digits and SciPy 1.17.1, which agree with each other: made by
 * test/data/distributions.py. `tolerance` is the relative error allowed of the smaller tail, or of the quantile.
 */
const functions: Record<string, { of: (a: number, b: number, c: number) => number; tolerance: number }> = {
  'normal.cdf': { of: normalCdf, tolerance: 2e-15 },
  'normal.quantile': { of: normalQuantile, tolerance: 2e-15 },
  't.cdf': { of: studentTCdf, tolerance: 5e-12 },
  't.quantile': { of: studentTQuantile, tolerance: 2e-12 },
  'gamma.below': { of: (a, x) => gammaIncomplete(a, x).below, tolerance: 2e-13 },
  'gamma.above': { of: (a, x) => gammaIncomplete(a, x).above, tolerance: 2e-13 },
  'gamma.quantile': { of: (p, shape) => gammaQuantile(p, shape), tolerance: 2e-13 },
  'gamma.log': { of: logGamma, tolerance: 1e-15 },
  'inverseGaussian.cdf': { of: inverseGaussianCdf, tolerance: 1e-12 },
  'inverseGaussian.quantile': { of: inverseGaussianQuantile, tolerance: 1e-12 },
  'weibull.cdf': { of: weibullCdf, tolerance: 1e-14 },
  'weibull.quantile': { of: weibullQuantile, tolerance: 1e-14 },
};

const rows = readFileSync(new URL('../data/distributions.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','));

describe('distributions against mpmath and SciPy', () => {
  for (const [name, { of, tolerance }] of Object.entries(functions))
    it(`${name} to ${tolerance}`, () => {
      const own = rows.filter((row) => row[0] === name);
      expect(own.length).toBeGreaterThan(8);
      for (const [, first, second, third, value] of own) {
        const wanted = Number(value);
        const got = of(Number(first), Number(second), Number(third));
        // Where ln Γ crosses 0 its absolute error counts; below the range of normal doubles only the size can be asked for.
        const floor = name === 'gamma.log' ? 1e-15 : 1e-290;
        const slack = Math.max(floor, tolerance * Math.abs(wanted));
        expect(
          Math.abs(got - wanted),
          `${name}(${first}, ${second}, ${third}) = ${got}, not ${value}`,
        ).toBeLessThanOrEqual(slack);
      }
    });

  it('reads no row that no function is checked by', () => {
    expect([...new Set(rows.map((row) => row[0]))].sort()).toEqual(Object.keys(functions).sort());
  });
});

describe('distributions against printed tables', () => {
  it('gives the usual critical values', () => {
    // As in the normal and t tables of the NIST/SEMATECH e-Handbook, 1.3.6.7.1–2; digits from memory.
    expect(normalCdf(1.64)).toBeCloseTo(0.9495, 4);
    expect(normalQuantile(0.975)).toBeCloseTo(1.96, 3);
    for (const [degrees, t] of [
      [1, 12.706],
      [2, 4.303],
      [5, 2.571],
      [10, 2.228],
      [30, 2.042],
      [100, 1.984],
    ] as const)
      expect(studentTQuantile(0.975, degrees)).toBeCloseTo(t, 3);
  });

  it('gives the chi-square critical values as gamma quantiles', () => {
    // As in the table of the NIST/SEMATECH e-Handbook, 1.3.6.7.4; digits from memory.
    for (const [p, degrees, value] of [
      [0.95, 1, 3.841],
      [0.95, 10, 18.307],
      [0.99, 5, 15.086],
      [0.05, 10, 3.94],
      [0.95, 100, 124.342],
    ] as const)
      expect(gammaQuantile(p, degrees / 2, 2)).toBeCloseTo(value, 3);
  });
});
