import { describe, expect, it } from 'vitest';
import { gammaQuantile, gammaQuantileAbove } from './gamma.ts';
import { gammaQuantiles, studentTQuantiles } from './quantile-curve.ts';
import { sobol } from './sobol.ts';
import { studentTQuantile } from './student-t.ts';

/** Chances all over (0, 1), most of them far out. */
const ps = Float64Array.from({ length: 400 }, (_, i) => {
  const tail = 10 ** -(0.31 + i / 33);
  return i % 2 === 0 ? tail : 1 - tail;
});

describe('many quantiles at once', () => {
  it.each([0.7, 1.5, 2, 3, 4.25, 9, 40, 1e4])('agree with single ones for t with %d degrees', (degrees) => {
    const many = studentTQuantiles(ps, degrees);
    ps.forEach((p, i) => {
      const one = studentTQuantile(p, degrees);
      expect(Math.abs(many[i]! - one)).toBeLessThanOrEqual(1e-10 * Math.abs(one));
    });
  });

  it.each([0.1, 0.3, 0.6, 1, 2.5, 30, 4000])('agree with single ones for gamma of shape %d', (shape) => {
    const many = gammaQuantiles(ps, shape, 7);
    ps.forEach((p, i) => {
      // For p close to 1 the exact value from the other tail, 1 − p being exact in doubles.
      const one = p < 0.5 ? gammaQuantile(p, shape, 7) : gammaQuantileAbove(1 - p, shape, 7);
      expect(Math.abs(many[i]! - one)).toBeLessThanOrEqual(1e-10 * one);
    });
  });

  it('never fall as the chance rises', () => {
    const rising = Float64Array.from({ length: 2000 }, (_, i) => (i + 0.5) / 2000);
    for (const many of [studentTQuantiles(rising, 5), gammaQuantiles(rising, 0.8)])
      for (let i = 1; i < many.length; i++) expect(many[i]!).toBeGreaterThan(many[i - 1]!);
  });

  it('give a scrambled Sobol column the right mean and variance', () => {
    const us = sobol(1, 4096, 5)[0]!;
    const wear = gammaQuantiles(us, 2.5, 4);
    const mean = wear.reduce((sum, x) => sum + x, 0) / 4096;
    expect(mean).toBeCloseTo(10, 1);
    expect(wear.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 4096).toBeCloseTo(40, 0);
  });

  it('may overwrite their argument, and work on short arrays', () => {
    const own = Float64Array.from(ps);
    expect(studentTQuantiles(own, 6, own)).toBe(own);
    expect(own).toEqual(studentTQuantiles(ps, 6));
    expect([...gammaQuantiles(Float64Array.of(0.5), 3)]).toEqual([gammaQuantile(0.5, 3)]);
  });
});
