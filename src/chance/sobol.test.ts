import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sobol, sobolDimensionsMax } from './sobol.ts';

describe('sobol', () => {
  it('starts as its docstring says', () => {
    expect(sobol(2, 4).map((column) => [...column])).toEqual([
      [0, 0.5, 0.75, 0.25],
      [0, 0.5, 0.25, 0.75],
    ]);
  });

  it('puts one scrambled point in each dyadic interval, in every dimension', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 0, max: 9 }), (seed, power) => {
        const count = 2 ** power;
        for (const column of sobol(sobolDimensionsMax, count, seed)) {
          expect([...column].map((u) => Math.floor(u * count)).sort((a, b) => a - b)).toEqual([...Array(count).keys()]);
          for (const u of column) expect(u > 0 && u < 1).toBe(true);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('keeps the net of the first two dimensions: one point in each dyadic box of area 1/256', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 0, max: 8 }), (seed, wide) => {
        const [x, y] = sobol(2, 256, seed) as [Float64Array, Float64Array];
        const boxes = new Set<number>();
        for (let i = 0; i < 256; i++)
          boxes.add(Math.floor(x[i]! * 2 ** wide) * 2 ** (8 - wide) + Math.floor(y[i]! * 2 ** (8 - wide)));
        expect(boxes.size).toBe(256);
      }),
    );
  });

  it('gives the same numbers for the same seed, other numbers for another, and does not disturb earlier dimensions', () => {
    const once = sobol(8, 100, 7);
    expect(sobol(8, 100, 7)).toEqual(once);
    expect(sobol(3, 100, 7)).toEqual(once.slice(0, 3));
    expect(sobol(8, 100, 8)[0]).not.toEqual(once[0]);
    expect(once[1]).not.toEqual(once[0]);
  });

  it('is uniform point by point over the seeds, and so has no bias', () => {
    // The mean of 4,000 uniforms lies within 4.5 standard errors of ½; so does that of the product of two dimensions of ¼.
    for (const i of [0, 5]) {
      let sum = 0;
      let product = 0;
      for (let seed = 0; seed < 4000; seed++) {
        const [x, y] = sobol(2, 8, seed) as [Float64Array, Float64Array];
        sum += x[i]!;
        product += x[i]! * y[i]!;
      }
      expect(Math.abs(sum / 4000 - 0.5)).toBeLessThan((4.5 * Math.sqrt(1 / 12)) / Math.sqrt(4000));
      expect(Math.abs(product / 4000 - 0.25)).toBeLessThan((4.5 * Math.sqrt(1 / 9 - 1 / 16)) / Math.sqrt(4000));
    }
  });

  it('integrates a smooth function far better than chance does', () => {
    // ∏ (1 + (u − ½)/2) over 8 dimensions is 1 on average; 1,024 plain random points miss by about 0.013.
    const columns = sobol(8, 1024, 1);
    let sum = 0;
    for (let i = 0; i < 1024; i++) sum += columns.reduce((value, column) => value * (1 + (column[i]! - 0.5) / 2), 1);
    expect(Math.abs(sum / 1024 - 1)).toBeLessThan(2e-4);
  });

  it('refuses what it cannot give', () => {
    expect(() => sobol(0, 8)).toThrow(RangeError);
    expect(() => sobol(sobolDimensionsMax + 1, 8)).toThrow(RangeError);
    expect(() => sobol(1, 0)).toThrow(RangeError);
    expect(() => sobol(1, 2 ** 20 + 1)).toThrow(RangeError);
  });
});
