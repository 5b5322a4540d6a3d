import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { bayesLine, drawLine, drawLines, type LinePrior, type LineReading, lineValueAt } from './bayes-line.ts';
import { linearModel } from './linear-model.ts';
import { locatedTCdf } from './log-ratio.ts';
import { quantiles } from './quantiles.ts';
import { sobol } from './sobol.ts';

/** Tread of a tire in 32nds of an inch against thousands of miles. */
const prior: LinePrior = {
  intercept: { mean: 8, spread: 0.5 },
  slope: { mean: -0.3, spread: 0.15 },
  noise: { spread: 0.2, degrees: 6 },
};
const readings: LineReading[] = [
  { at: 1, value: 7.6 },
  { at: 3, value: 7.2 },
  { at: 6, value: 5.5 },
];

describe('bayesLine', () => {
  it('is its prior when nothing has been read', () => {
    const line = unwrap(bayesLine(prior, []));
    expect(line).toMatchObject({ intercept: 8, slope: -0.3, degrees: 6, noise: 0.2 });
    expect(Math.sqrt(line.scale.intercept)).toBeCloseTo(0.5, 14);
    expect(Math.sqrt(line.scale.slope)).toBeCloseTo(0.15, 14);
    expect(Math.abs(line.scale.cross)).toBe(0);
  });

  it('becomes least squares when the prior says next to nothing', () => {
    const vague: LinePrior = {
      intercept: { mean: 0, spread: 1e6 },
      slope: { mean: 0, spread: 1e6 },
      noise: { spread: 1, degrees: 1e-9 },
    };
    const at = [0, 1, 2, 4, 7, 9];
    const value = [8.1, 7.7, 7.6, 6.8, 6.1, 5.2];
    const line = unwrap(
      bayesLine(
        vague,
        at.map((when, i) => ({ at: when, value: value[i]! })),
      ),
    );
    const fit = unwrap(
      linearModel(
        at.map((when) => [when]),
        value,
      ),
    );
    expect(line.intercept).toBeCloseTo(fit.coefficients[0]!, 9);
    expect(line.slope).toBeCloseTo(fit.coefficients[1]!, 9);
    // The conjugate prior counts all readings as degrees of freedom, least squares two fewer; the sums of squares agree.
    const ratio = Math.sqrt(6 / 4);
    expect(Math.sqrt(line.scale.slope) * ratio).toBeCloseTo(fit.standardErrors[1]!, 8);
    expect(Math.sqrt(line.scale.intercept) * ratio).toBeCloseTo(fit.standardErrors[0]!, 8);
  });

  it('has the mean and variance that summing over a grid of lines and noises gives', () => {
    // The slow twin: prior density times likelihood, added up without any algebra.
    const line = unwrap(bayesLine(prior, readings));
    let total = 0;
    const sums = { a: 0, b: 0, aa: 0, bb: 0, ab: 0 };
    for (let k = 0; k < 60; k++) {
      const noise = 0.2 * Math.exp(-1.6 + (k * 4.2) / 59);
      for (let i = 0; i < 81; i++) {
        const a = 8 + noise * 2.5 * (-6 + (i * 12) / 80);
        for (let j = 0; j < 81; j++) {
          const b = -0.3 + noise * 0.75 * (-6 + (j * 12) / 80);
          let log = -6 * Math.log(noise) - (6 * 0.04) / (2 * noise * noise);
          log -= 0.5 * ((a - 8) / (2.5 * noise)) ** 2 + 0.5 * ((b + 0.3) / (0.75 * noise)) ** 2;
          for (const { at, value } of readings) log -= 0.5 * ((value - a - b * at) / noise) ** 2 + Math.log(noise);
          // The prior of the line has density over noise², the grid steps in a and b grow with noise: they cancel.
          const weight = Math.exp(log);
          total += weight;
          sums.a += weight * a;
          sums.b += weight * b;
          sums.aa += weight * a * a;
          sums.bb += weight * b * b;
          sums.ab += weight * a * b;
        }
      }
    }
    const [a, b] = [sums.a / total, sums.b / total];
    expect(line.intercept).toBeCloseTo(a, 3);
    expect(line.slope).toBeCloseTo(b, 3);
    const spread = line.degrees / (line.degrees - 2);
    expect((line.scale.intercept * spread) / (sums.aa / total - a * a)).toBeCloseTo(1, 1);
    expect((line.scale.slope * spread) / (sums.bb / total - b * b)).toBeCloseTo(1, 1);
    expect((line.scale.cross * spread) / (sums.ab / total - a * b)).toBeCloseTo(1, 1);
  });

  it('takes readings in any order, and one of weight 4 as four that agree', () => {
    const forward = unwrap(bayesLine(prior, readings));
    const backward = unwrap(bayesLine(prior, [...readings].reverse()));
    expect(backward.slope).toBeCloseTo(forward.slope, 13);
    expect(backward.noise).toBeCloseTo(forward.noise, 13);
    const heavy = unwrap(bayesLine(prior, [{ at: 2, value: 7, weight: 4 }]));
    const four = unwrap(bayesLine(prior, Array<LineReading>(4).fill({ at: 2, value: 7 })));
    expect(heavy.intercept).toBeCloseTo(four.intercept, 13);
    expect(heavy.slope).toBeCloseTo(four.slope, 13);
  });

  it('draws lines whose values are spread as it says', () => {
    const line = unwrap(bayesLine(prior, readings));
    const [u1, u2] = sobol(2, 4096, 3) as [Float64Array, Float64Array];
    const lines = drawLines(line, u1, u2);
    for (const at of [0, 2, 10]) {
      const values = Float64Array.from(u1, (_, i) => lines.intercept[i]! + lines.slope[i]! * at);
      const expected = lineValueAt(line, at);
      quantiles(values, [0.1, 0.5, 0.9]).forEach((value, k) => {
        expect(locatedTCdf(expected, value)).toBeCloseTo([0.1, 0.5, 0.9][k]!, 2);
      });
    }
    const one = drawLine(line, u1[7]!, u2[7]!);
    expect(lines.intercept[7]).toBeCloseTo(one.intercept, 9);
    expect(lines.slope[7]).toBeCloseTo(one.slope, 9);
  });

  it('grows surer with every reading on the line it expects', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 20, noNaN: true }), { minLength: 1, maxLength: 12 }), (times) => {
        const expected = times.map((at) => ({ at, value: 8 - 0.3 * at }));
        const fewer = unwrap(bayesLine(prior, expected.slice(1)));
        const more = unwrap(bayesLine(prior, expected));
        expect(more.scale.slope).toBeLessThanOrEqual(fewer.scale.slope * (1 + 1e-12));
        expect(more.scale.intercept).toBeLessThanOrEqual(fewer.scale.intercept * (1 + 1e-12));
      }),
    );
  });

  it('says what is wrong with its input', () => {
    const codeOf = (result: ReturnType<typeof bayesLine>) => (result.ok ? 'ok' : result.problems[0]!.code);
    expect(codeOf(bayesLine({ ...prior, noise: { spread: 0, degrees: 6 } }, []))).toBe('chance.line-prior-invalid');
    expect(codeOf(bayesLine(prior, [{ at: Number.NaN, value: 1 }]))).toBe('chance.reading-invalid');
    expect(codeOf(bayesLine(prior, [{ at: 1, value: 1, weight: 0 }]))).toBe('chance.reading-invalid');
    const line = unwrap(bayesLine(prior, []));
    expect(() => drawLines(line, new Float64Array(2), new Float64Array(3))).toThrow(RangeError);
  });
});
