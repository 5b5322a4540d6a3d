import { describe, expect, it } from 'vitest';
import {
  type Dimension,
  dimensionOf,
  inRange,
  PLAUSIBLE,
  parseQuantity,
  quantity,
  quantitySchema,
  range,
  rangeText,
  unitIds,
  valueIn,
} from './index.ts';

const codes = (text: string, dimension: Dimension, limits = PLAUSIBLE[dimension]) => {
  const read = quantitySchema(dimension, limits).safeParse(text);
  return read.success ? 'taken' : read.error.issues.map((issue) => (issue as { message: string }).message).join();
};

describe('what a quantity can be', () => {
  it('refuses the largest figures a computer holds, in every unit there is', () => {
    for (const unit of unitIds) {
      const limits = PLAUSIBLE[dimensionOf(unit)];
      expect(inRange({ value: 1e308, unit }, limits).ok, unit).toBe(false);
      expect(inRange({ value: -1e308, unit }, limits).ok, unit).toBe(false);
    }
  });

  it('takes what owners read off rigs, tools and roads', () => {
    // Common practice, no source: an odometer, a trailer, a tire, a nut, an inverter, a cold night, a hot hub.
    for (const [text, dimension] of [
      ['999,999 mi', 'length'],
      ['19,500 lb', 'mass'],
      ['110 psi', 'pressure'],
      ['450 lb-ft', 'torque'],
      ['300 A', 'electric-current'],
      ['-40 °F', 'temperature'],
      ['500 °F', 'temperature'],
      ['30,000 BTU/h', 'power'],
    ] as const)
      expect(codes(text, dimension), text).toBe('taken');
  });

  it('takes both ends of a range, in any unit, and nothing past them', () => {
    const limits = range(0, 200, 'psi');
    for (const value of [0, 200]) {
      const kPa = valueIn(quantity(value, 'psi'), 'kPa');
      expect(inRange(quantity(kPa, 'kPa'), limits).ok).toBe(true);
    }
    for (const value of [-0.001, 200.001]) expect(inRange(quantity(value, 'psi'), limits).ok).toBe(false);
  });

  it('says what it read and what it expected, in the unit it was written in', () => {
    expect(codes('1e308 psi', 'pressure', range(0, 200, 'psi'))).toBe(
      '`1.00e+308 psi` cannot be right.; expected 0 to 200 psi. Check the figure and its unit.',
    );
    expect(rangeText(range(0, 200, 'psi'), 'kPa')).toBe('0 to 1,379 kPa');
    expect(codes('-500 °F', 'temperature')).toContain('absolute zero');
  });

  it('is no range where the least is above the most', () => {
    expect(() => range(2, 1, 'psi')).toThrow('invariant');
    expect(() => range(Number.NaN, 1, 'psi')).toThrow('invariant');
  });

  it('holds for every dimension that a unit has', () => {
    for (const unit of unitIds) expect(dimensionOf(PLAUSIBLE[dimensionOf(unit)].unit)).toBe(dimensionOf(unit));
    expect(parseQuantity('1e308 psi').ok).toBe(true);
  });
});
