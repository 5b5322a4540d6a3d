import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gammaFirstPassage, inverseGaussianFirstPassage } from './first-passage.ts';
import { gammaCdf, gammaIncomplete, gammaQuantile, gammaQuantileAbove } from './gamma.ts';
import { inverseGaussianCdf, inverseGaussianQuantile, inverseGaussianTails } from './inverse-gaussian.ts';
import { normalCdf, normalDensity, normalQuantile, normalQuantiles, normalTailScaled } from './normal.ts';
import { studentTCdf, studentTDensity, studentTQuantile } from './student-t.ts';
import { weibullCdf, weibullFit, weibullQuantile } from './weibull.ts';

const chance = fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true });
const positive = (min: number, max: number) =>
  fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map((log) => Math.exp(log));

/** Each family: its distribution function and quantile for two positive parameters. */
const families = {
  normal: { cdf: (x: number) => normalCdf(x), quantile: (p: number) => normalQuantile(p) },
  't with a degrees': { cdf: studentTCdf, quantile: studentTQuantile },
  'gamma of shape a, scale b': { cdf: gammaCdf, quantile: gammaQuantile },
  'inverse Gaussian of mean a, shape b': { cdf: inverseGaussianCdf, quantile: inverseGaussianQuantile },
  'Weibull of shape a, scale b': { cdf: weibullCdf, quantile: weibullQuantile },
} as const satisfies Record<
  string,
  { cdf: (x: number, a: number, b: number) => number; quantile: (p: number, a: number, b: number) => number }
>;

describe.each(Object.entries(families))('%s', (_, { cdf, quantile }) => {
  const a = positive(0.3, 300);
  const b = positive(0.1, 1000);

  it('has a quantile that undoes the distribution function', () => {
    fc.assert(
      fc.property(chance, a, b, (p, first, second) => {
        const back = cdf(quantile(p, first, second), first, second);
        expect(Math.abs(back - p)).toBeLessThan(1e-11 * Math.min(p, 1 - p) + 4e-16 * (1 + first));
      }),
    );
  });

  it('never falls', () => {
    fc.assert(
      fc.property(chance, chance, a, b, (p, q, first, second) => {
        const [low, high] = [Math.min(p, q), Math.max(p, q)].map((each) => quantile(each, first, second)) as [
          number,
          number,
        ];
        expect(low).toBeLessThanOrEqual(high * (1 + Math.sign(high) * 1e-13));
        expect(cdf(low, first, second)).toBeLessThanOrEqual(cdf(high, first, second) + 1e-13);
      }),
    );
  });

  it('runs from 0 to 1', () => {
    expect(cdf(quantile(0, 2, 3), 2, 3)).toBe(0);
    expect(cdf(quantile(1, 2, 3), 2, 3)).toBe(1);
    expect(() => quantile(-0.1, 2, 3)).toThrow(RangeError);
    expect(() => quantile(1.1, 2, 3)).toThrow(RangeError);
    expect(() => quantile(Number.NaN, 2, 3)).toThrow(RangeError);
  });
});

describe('tails', () => {
  it('are even for normal and t', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 30, noNaN: true }), positive(0.5, 500), (x, degrees) => {
        expect(normalCdf(x)).toBeCloseTo(1 - normalCdf(-x), 15);
        expect(studentTCdf(x, degrees)).toBeCloseTo(1 - studentTCdf(-x, degrees), 15);
      }),
    );
    expect(normalCdf(-Infinity)).toBe(0);
    expect(studentTCdf(Infinity, 3)).toBe(1);
  });

  it('keep their digits where the chance itself has none left', () => {
    expect(normalTailScaled(0)).toBeCloseTo(0.5, 15);
    // Mills: z · exp(z²/2) · Φ(−z) · √(2π) = 1 − 1/z² + 3/z⁴ − …
    expect(normalTailScaled(1000) * 1000 * Math.sqrt(2 * Math.PI)).toBeCloseTo(1 - 1e-6 + 3e-12, 14);
    expect(gammaQuantileAbove(1e-30, 1)).toBeCloseTo(30 * Math.LN10, 10);
    expect(gammaIncomplete(1, 80).above).toBeCloseTo(Math.exp(-80), 45);
    // A mean over shape of 1/500: exp(2·shape/mean) alone would overflow.
    expect(inverseGaussianTails(1, 1, 500).below).toBeGreaterThan(0.5);
    expect(inverseGaussianTails(2, 1, 500).above).toBeGreaterThan(0);
  });

  it('grow by their densities', () => {
    const step = 1e-5;
    for (const x of [-3, -0.4, 0.2, 1.7]) {
      expect((normalCdf(x + step) - normalCdf(x - step)) / (2 * step)).toBeCloseTo(normalDensity(x), 8);
      expect((studentTCdf(x + step, 3.5) - studentTCdf(x - step, 3.5)) / (2 * step)).toBeCloseTo(
        studentTDensity(x, 3.5),
        8,
      );
    }
  });

  it('are exact in the cases with a closed form', () => {
    // t with 1 degree is Cauchy, with 2 algebraic; gamma of shape 1 is exponential.
    expect(studentTCdf(1, 1)).toBeCloseTo(0.75, 15);
    expect(studentTCdf(2, 2)).toBeCloseTo(0.5 + 1 / Math.sqrt(6), 15);
    expect(gammaCdf(2, 1, 4)).toBeCloseTo(-Math.expm1(-0.5), 15);
  });
});

describe('arguments', () => {
  it('must make sense', () => {
    expect(() => normalCdf(Number.NaN)).toThrow(RangeError);
    expect(() => studentTCdf(1, 0)).toThrow(RangeError);
    expect(() => studentTQuantile(0.5, -1)).toThrow(RangeError);
    expect(() => gammaCdf(1, 0)).toThrow(RangeError);
    expect(() => gammaCdf(1, 1, 0)).toThrow(RangeError);
    expect(() => inverseGaussianCdf(1, 0, 1)).toThrow(RangeError);
    expect(() => weibullCdf(1, -1, 1)).toThrow(RangeError);
    expect(() => inverseGaussianFirstPassage(0, 1, 1, 1)).toThrow(RangeError);
  });

  it('may be whole arrays for the normal quantile', () => {
    expect([...normalQuantiles(Float64Array.of(0.1, 0.5))]).toEqual([normalQuantile(0.1), 0]);
  });
});

describe('first passage', () => {
  it('is certain in time with a drift towards the limit, and has not happened at 0', () => {
    expect(inverseGaussianFirstPassage(5, 1, 2, 1e6)).toBeCloseTo(1, 12);
    expect(inverseGaussianFirstPassage(5, 1, 2, 0)).toBe(0);
    expect(gammaFirstPassage(1, 1, 5, 1e4)).toBeCloseTo(1, 12);
    expect(gammaFirstPassage(1, 1, 5, 0)).toBe(0);
  });

  it('without drift is twice the chance of standing beyond the limit (reflection principle)', () => {
    expect(inverseGaussianFirstPassage(3, 0, 1, 4)).toBeCloseTo(2 * normalCdf(-1.5), 14);
  });

  it('against the drift happens with chance exp(−2·|drift|·limit/spread²) at most', () => {
    expect(inverseGaussianFirstPassage(2, -0.5, 1, 1e5)).toBeCloseTo(Math.exp(-2), 12);
  });

  it('passes from small drifts to none without a step', () => {
    expect(inverseGaussianFirstPassage(3, 1e-9, 1, 4)).toBeCloseTo(inverseGaussianFirstPassage(3, -1e-9, 1, 4), 8);
  });
});

describe('weibullFit', () => {
  it('finds the parameters behind evenly spread lives', () => {
    const lives = Array.from({ length: 2000 }, (_, i) => weibullQuantile((i + 0.5) / 2000, 2.5, 800));
    const fit = weibullFit(lives);
    expect(fit.ok && fit.value.shape).toBeCloseTo(2.5, 1);
    expect(fit.ok && fit.value.scale / 800).toBeCloseTo(1, 2);
  });

  it('does not depend on the unit of time', () => {
    const [hours, days] = [weibullFit([120, 300, 410], [500]), weibullFit([5, 12.5, 410 / 24], [500 / 24])];
    if (!hours.ok || !days.ok) throw new Error('both fit');
    expect(hours.value.shape).toBeCloseTo(days.value.shape, 12);
    expect(hours.value.scale / 24).toBeCloseTo(days.value.scale, 10);
  });

  it('says what is missing', () => {
    const codes = [weibullFit([], [3]), weibullFit([5, 5]), weibullFit([5, -1]), weibullFit([5], [0])].map((result) =>
      result.ok ? 'ok' : result.problems[0]!.code,
    );
    expect(codes).toEqual([
      'chance.lives-too-few',
      'chance.lives-too-few',
      'chance.life-invalid',
      'chance.life-invalid',
    ]);
  });
});
