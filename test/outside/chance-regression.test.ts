import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { leastSquares, linearModel, studentTQuantile, theilSen } from '../../src/chance/index.ts';
import { unwrap } from '../../src/problem/index.ts';

interface DataSet {
  readonly dataset: string;
  readonly model: 'polynomial' | 'through-origin' | 'columns';
  readonly degree: number;
  readonly certified: {
    readonly estimates: readonly number[];
    readonly standardErrors: readonly number[];
    readonly residualDeviation: number;
    readonly rSquared: number;
    readonly fStatistic: number | null;
  };
  readonly y: readonly number[];
  readonly x: readonly (number | readonly number[])[];
}

const folder = new URL('../data/nist-strd/', import.meta.url);
const sets = readdirSync(folder)
  .filter((name) => name.endsWith('.json'))
  .map((name) => JSON.parse(readFileSync(new URL(name, folder), 'utf8')) as DataSet);
const named = (name: string) => sets.find((set) => set.dataset === name)!;

function rowsOf(set: DataSet): number[][] {
  return set.x.map((entry) => {
    if (typeof entry !== 'number') return [...entry];
    return set.model === 'polynomial' ? Array.from({ length: set.degree }, (_, k) => entry ** (k + 1)) : [entry];
  });
}

/** Digits in common: −log₁₀ of the relative error (of the absolute error when the certified value is 0), at most 15. */
function digits(got: number, certified: number): number {
  const error = certified === 0 ? Math.abs(got) : Math.abs(got - certified) / Math.abs(certified);
  return error === 0 ? 15 : Math.min(15, -Math.log10(error));
}

/**
 * Digits asked of all values of a set. Filip's are what its data allow: the tenth powers of x, rounded to doubles, alone move the exact
 * solution by 2e−8 (found by solving the rounded system in 60 digits).
 */
const digitsAsked: Record<string, number> = {
  Norris: 13,
  Pontius: 13,
  NoInt1: 14,
  NoInt2: 14,
  Filip: 7.3,
  Longley: 12.5,
  Wampler1: 14,
  Wampler2: 13,
  Wampler3: 13,
  Wampler4: 13,
  Wampler5: 13,
};

describe('linear least squares against NIST StRD (test/data/nist-strd/README.md)', () => {
  it('has all eleven sets', () => {
    expect(sets.map((set) => set.dataset).sort()).toEqual(Object.keys(digitsAsked).sort());
  });

  for (const set of sets)
    it(`${set.dataset} to ${digitsAsked[set.dataset]} digits`, () => {
      const fit = unwrap(linearModel(rowsOf(set), set.y, { intercept: set.model !== 'through-origin' }));
      const { certified } = set;
      const asked = digitsAsked[set.dataset]!;
      certified.estimates.forEach((value, k) => {
        expect(digits(fit.coefficients[k]!, value)).toBeGreaterThan(asked);
      });
      certified.standardErrors.forEach((value, k) => {
        expect(digits(fit.standardErrors[k]!, value)).toBeGreaterThan(asked);
      });
      expect(digits(fit.residualDeviation, certified.residualDeviation)).toBeGreaterThan(asked);
      expect(digits(fit.rSquared, certified.rSquared)).toBeGreaterThan(asked);
      if (certified.fStatistic !== null) expect(digits(fit.fStatistic, certified.fStatistic)).toBeGreaterThan(asked);
      expect(fit.degrees).toBe(set.y.length - certified.estimates.length);
    });

  it('fits Norris as a plain line too', () => {
    const { certified, x, y } = named('Norris');
    const line = unwrap(leastSquares(x as number[], y));
    expect(digits(line.intercept, certified.estimates[0]!)).toBeGreaterThan(12);
    expect(digits(line.slope, certified.estimates[1]!)).toBeGreaterThan(14);
    expect(digits(line.interceptError, certified.standardErrors[0]!)).toBeGreaterThan(13);
    expect(digits(line.slopeError, certified.standardErrors[1]!)).toBeGreaterThan(13);
    expect(digits(line.residualDeviation, certified.residualDeviation)).toBeGreaterThan(13);
    expect(digits(line.rSquared, certified.rSquared)).toBeGreaterThan(14);
    expect(line.degrees).toBe(34);
    // Prediction at x = 500: computed by us in a scientific library, no outside source; t(0.975, 34) stands in printed tables.
    const t = studentTQuantile(0.975, 34);
    expect(t).toBeCloseTo(2.0322445093177, 11);
    const fit = line.intercept + line.slope * 500;
    expect(fit).toBeCloseTo(500.79608593645, 9);
    const lean = 1 / 36 + (500 - 419.177777777778) ** 2 / 4237993.022222222;
    expect(t * line.residualDeviation * Math.sqrt(lean)).toBeCloseTo(0.3078894649, 9);
    expect(t * line.residualDeviation * Math.sqrt(1 + lean)).toBeCloseTo(1.8242918823, 9);
  });
});

describe('Theil–Sen', () => {
  it('takes the median of the ten slopes of a published example', () => {
    // The ten slopes of an example after R. R. Wilcox: −340 130 496 561 713 800 851 952 1184 1327, median 756.5. Points that have
    // just these slopes are not printed there, so the same median is asked of pairs laid far apart from each other.
    const slopes = [-340, 130, 496, 561, 713, 800, 851, 952, 1184, 1327];
    const line = unwrap(theilSen([0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1], [...slopes.map((slope) => -slope), 0]));
    expect(line.slope).toBe(756.5);
  });

  it('agrees with a general library on Norris', () => {
    // SciPy 1.17.1, scipy.stats.theilslopes.
    const { x, y } = named('Norris');
    expect(unwrap(theilSen(x as number[], y)).slope).toBeCloseTo(1.00219683656, 11);
  });

  it('keeps to the intercept by medians (own small examples, no outside source)', () => {
    expect(unwrap(theilSen([1, 2, 3, 4, 5], [1, 2, 3, 4, 50]))).toEqual({ slope: 1, intercept: 0 });
    const drop = unwrap(theilSen([0, 1, 2, 3, 4, 5, 6], [10, 9.1, 8.3, 7, 6.2, 2, 4.1]));
    expect(drop.slope).toBeCloseTo(-1, 12);
    // By the median of y − slope·x it would be 10.1.
    expect(drop.intercept).toBeCloseTo(10, 12);
    const tread = unwrap(theilSen([0, 1000, 2000, 3000, 4500, 6000], [8, 7.6, 7.3, 6.7, 6.1, 5.6]));
    expect(tread.slope).toBeCloseTo(-0.0004, 12);
    expect(tread.intercept).toBeCloseTo(8, 12);
  });
});
