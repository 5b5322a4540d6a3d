import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stratified } from './stratified.ts';

describe('stratified', () => {
  it('puts one number in each interval of equal length, strictly inside (0, 1)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.integer(), (count, seed) => {
        const us = stratified(count, seed);
        expect([...us].map((u) => Math.floor(u * count)).sort((a, b) => a - b)).toEqual([...Array(count).keys()]);
        for (const u of us) expect(u > 0 && u < 1).toBe(true);
      }),
    );
  });

  it('depends on its seed and nothing else', () => {
    expect(stratified(50, 3)).toEqual(stratified(50, 3));
    expect(stratified(50, 3)).not.toEqual(stratified(50, 4));
    const out = new Float64Array(50).fill(9);
    expect(stratified(50, 3, out)).toBe(out);
    expect(out).toEqual(stratified(50, 3));
  });

  it('makes columns that do not depend on each other: correlations of the size chance gives', () => {
    const count = 1024;
    let worst = 0;
    for (let seed = 0; seed < 40; seed++) {
      const [x, y] = [stratified(count, seed), stratified(count, seed + 1)];
      let sum = 0;
      for (let i = 0; i < count; i++) sum += (x[i]! - 0.5) * (y[i]! - 0.5) * 12;
      worst = Math.max(worst, Math.abs(sum / count));
    }
    expect(worst).toBeLessThan(4 / Math.sqrt(count));
  });

  it('refuses a count that is not a positive integer, and an array of another length', () => {
    expect(() => stratified(0, 1)).toThrow(RangeError);
    expect(() => stratified(2.5, 1)).toThrow(RangeError);
    expect(() => stratified(4, 1, new Float64Array(3))).toThrow(RangeError);
  });
});
