import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { quantiles } from './quantiles.ts';

/** The definition, by a full sort. */
function slow(values: readonly number[], p: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const place = p * (sorted.length - 1);
  const k = Math.min(Math.floor(place), sorted.length - 1);
  const lower = sorted[k]!;
  const upper = sorted[Math.min(k + 1, sorted.length - 1)]!;
  return place === k || lower === upper ? lower : lower + (place - k) * (upper - lower);
}

describe('quantiles', () => {
  it('follow definition 7', () => {
    expect(quantiles([1, 2, 3, 4], [0.5, 0.1])).toEqual([2.5, 1.3]);
    expect(quantiles([7], [0, 0.3, 1])).toEqual([7, 7, 7]);
    expect(quantiles([3, 1, 2], [1, 0])).toEqual([3, 1]);
  });

  it('are those of a full sort, whatever the order, with ties and infinities', () => {
    const value = fc.oneof(fc.integer({ min: -5, max: 5 }), fc.double({ noNaN: true }), fc.constant(Infinity));
    const p = fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0, 0.1, 0.5, 0.9, 1));
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 80 }), fc.array(p, { maxLength: 5 }), (values, ps) => {
        const before = [...values];
        expect(quantiles(values, ps)).toEqual(ps.map((each) => slow(values, each)));
        expect(values).toEqual(before);
      }),
    );
  });

  it('are those of a full sort of a great many, all in one place but for a few, or so far apart that the difference is infinite', () => {
    const many = Array.from({ length: 3000 }, (_, i) => 20_000 + ((i * 7919) % 3001) / 100);
    const ps = [0.9, 0, 0.1, 0.5, 0.999, 1];
    for (const values of [
      many,
      many.map((x, i) => (i % 5 === 0 ? Infinity : x)),
      many.map((x, i) => (i === 77 ? 1e300 : x)),
      many.map((_, i) => (i % 2 === 0 ? -1.7e308 : 1.7e308)),
      many.map((_, i) => 5e-324 * (i % 7)),
      many.map(() => 3),
      many.map(() => Infinity),
      [...many, -Infinity],
    ]) {
      const before = Float64Array.from(values);
      expect(quantiles(before, ps)).toEqual(ps.map((p) => slow(values, p)));
      expect([...before]).toEqual(values);
    }
  });

  it('refuse nothing, NaN and chances outside 0 to 1', () => {
    expect(() => quantiles([], [0.5])).toThrow(RangeError);
    expect(() => quantiles([1, 2], [1.2])).toThrow(RangeError);
    expect(() => quantiles([Number.NaN], [0.5])).toThrow(RangeError);
    expect(() => quantiles([1, Number.NaN, 2], [0.5])).toThrow(RangeError);
  });
});
