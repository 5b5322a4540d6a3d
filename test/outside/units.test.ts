/**
 * Units and the standard atmosphere against a general-purpose library with its own definitions and its own solver (mathjs), and
 * against figures printed in handbooks.
 */

import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { pascalAtElevation, pascalAtGeopotential, quantity, type UnitId, valueIn } from '../../src/quantity/index.ts';
import { table } from '../support/table.ts';

const math = create(all!);

/** Part of mathjs that its types leave out: Runge-Kutta with a step it chooses itself. */
const solver = math as unknown as {
  solveODE(
    slope: (t: number, y: number[]) => number[],
    span: [number, number],
    start: number[],
    options: { tol: number },
  ): { t: number[]; y: number[][] };
};

describe('units against mathjs', () => {
  const pairs: readonly (readonly [UnitId, string, UnitId, string])[] = [
    ['mi', 'mile', 'km', 'km'],
    ['yd', 'yard', 'm', 'm'],
    ['ft', 'foot', 'cm', 'cm'],
    ['in', 'inch', 'mm', 'mm'],
    ['ft2', 'sqft', 'm2', 'm2'],
    ['in2', 'sqin', 'cm2', 'cm2'],
    ['gal', 'gallon', 'L', 'L'],
    ['qt', 'quart', 'L', 'L'],
    ['pt', 'pint', 'mL', 'mL'],
    ['cup', 'cup', 'mL', 'mL'],
    ['floz', 'fluidounce', 'mL', 'mL'],
    ['ft3', 'cuft', 'm3', 'm3'],
    ['lb', 'poundmass', 'kg', 'kg'],
    ['oz', 'ounce', 'g', 'g'],
    ['ton', 'ton', 'kg', 'kg'],
    ['t', 'tonne', 'kg', 'kg'],
    ['lbf', 'poundforce', 'N', 'N'],
    ['kgf', 'kilogramforce', 'N', 'N'],
    ['psi', 'psi', 'kPa', 'kPa'],
    ['bar', 'bar', 'Pa', 'Pa'],
    ['atm', 'atm', 'kPa', 'kPa'],
    ['mbar', 'mbar', 'Pa', 'Pa'],
    ['lb-ft', 'poundforce foot', 'N-m', 'N m'],
    ['lb-in', 'poundforce inch', 'N-m', 'N m'],
    ['d', 'day', 'h', 'hour'],
    ['wk', 'week', 'min', 'minute'],
    ['year', 'year', 'month', 'month'],
    ['mph', 'mile/hour', 'km/h', 'km/hour'],
    ['ft/s', 'foot/second', 'm/s', 'm/second'],
    ['gpm', 'gallon/minute', 'L/min', 'L/minute'],
    ['ft3/min', 'cuft/minute', 'L/min', 'L/minute'],
    ['lb/h', 'poundmass/hour', 'kg/h', 'kg/hour'],
    ['BTU', 'BTU', 'kJ', 'kJ'],
    ['Wh', 'Wh', 'J', 'J'],
    ['kWh', 'kWh', 'BTU', 'BTU'],
    ['BTU/h', 'BTU/hour', 'W', 'W'],
    ['lb/gal', 'poundmass/gallon', 'kg/L', 'kg/L'],
    ['Ah', 'A hour', 'Ah', 'A hour'],
    ['mV', 'mV', 'V', 'V'],
    ['mohm', 'mohm', 'ohm', 'ohm'],
    ['degF', 'degF', 'degC', 'degC'],
    ['degC', 'degC', 'K', 'K'],
    ['degF', 'degF', 'K', 'K'],
  ];

  it.each(pairs)('%s (%s) in %s', (from, theirs, to, theirsTo) => {
    for (const value of [1, 32, 18204.6, 0.1]) {
      const expected = math.unit(value, theirs).toNumber(theirsTo);
      expect(Math.abs(valueIn(quantity(value, from), to) - expected)).toBeLessThanOrEqual(
        Math.abs(expected) * (from === 'psi' ? 1e-9 : 1e-12) + 1e-10,
      );
    }
  });

  it('horsepower: the mechanical one, 550 foot-pounds a second (mathjs rounds it to 745.6999 W)', () => {
    expect(valueIn(quantity(1, 'hp'), 'W')).toBeCloseTo(math.unit(550, 'poundforce foot/second').toNumber('W'), 8);
  });
});

describe('handbook equivalents', () => {
  it('inches of water: 11 in. w.c. is 0.397 psi (gas trade tables), 1 is 0.0361273 psi and 0.577 oz/in²', () => {
    expect(valueIn(quantity(11, 'inH2O'), 'psi')).toBeCloseTo(0.397, 3);
    expect(valueIn(quantity(1, 'inH2O'), 'psi')).toBeCloseTo(0.0361273, 6);
    expect(valueIn(quantity(1, 'inH2O'), 'psi') * 16).toBeCloseTo(0.577, 2);
  });

  it('torque: 88 N·m is 64.9 lb-ft, 130 is 95.9, 110 lb-ft is 149.1 N·m (caravan and trailer handbooks)', () => {
    expect(valueIn(quantity(88, 'N-m'), 'lb-ft')).toBeCloseTo(64.9, 1);
    expect(valueIn(quantity(130, 'N-m'), 'lb-ft')).toBeCloseTo(95.9, 1);
    expect(valueIn(quantity(110, 'lb-ft'), 'N-m')).toBeCloseTo(149.1, 1);
  });
});

describe('standard atmosphere', () => {
  const rows = table('standard-atmosphere');
  const psi = (pascal: number) => valueIn(quantity(pascal, 'Pa'), 'psi');

  it('the ASHRAE Handbook fit 14.696·(1 − 6.8754e-6·Z)^5.2559, every row', () => {
    for (const row of rows) {
      const feet = Number(row.altitude_ft);
      expect(psi(pascalAtGeopotential(feet * 0.3048))).toBeCloseTo(
        Number(row.psia_ashrae_fit ?? row.pressure_psia_ashrae_fit),
        2,
      );
    }
  });

  it('a printed handbook table, which rounds: within 0.011 psi', () => {
    const printed: readonly (readonly [number, number])[] = [
      [1000, 14.175],
      [4000, 12.682],
      [5000, 12.23],
      [8000, 10.914],
      [10_000, 10.108],
    ];
    for (const [feet, psia] of printed)
      expect(Math.abs(psi(pascalAtElevation(feet * 0.3048)) - psia)).toBeLessThanOrEqual(0.011);
  });

  it('mathjs solves the same air: dp/dh = −g·M·p/(R·T), T falling 6.5 K a kilometre', () => {
    const slope = (h: number, [p = 0]: number[]) => [(-9.80665 * 0.0289644 * p) / (8.31432 * (288.15 - 0.0065 * h))];
    const solved = solver.solveODE(slope, [0, 4572], [101_325], { tol: 1e-6 });
    for (const [i, metres] of solved.t.entries()) {
      expect(pascalAtGeopotential(metres) / solved.y[i]![0]!).toBeCloseTo(1, 7);
    }
    expect(solved.t.at(-1)).toBeCloseTo(4572, 6);
  });
});

describe('our own arithmetic, not an outside check: the atmosphere by geopotential and geometric height', () => {
  it('every row', () => {
    for (const row of table('standard-atmosphere')) {
      const metres = Number(row.altitude_ft) * 0.3048;
      expect(pascalAtGeopotential(metres) / 1000).toBeCloseTo(Number(row.pressure_kPa_geopotential), 2);
      expect(valueIn(quantity(pascalAtElevation(metres), 'Pa'), 'psi')).toBeCloseTo(
        Number(row.pressure_psia_geometric),
        2,
      );
    }
  });
});
