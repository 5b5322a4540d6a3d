/** Water against handbooks, a sanitation manual and a handbook of chemistry. */

import { describe, expect, it } from 'vitest';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../../src/quantity/index.ts';
import { bleachConcentration, bleachDose, contact, glycol, heaterTime } from '../../src/water/index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));

describe('bleach', () => {
  it('a trailer handbook calls 1/4 cup in 15 gallons “50 ppm”: it is, or a little more, at every household strength', () => {
    for (const strength of ['5.25 %', '6 %', '7.5 %', '8.25 %']) {
      const { concentration } = unwrap(
        bleachConcentration({ dose: q('1/4 cup'), volume: q('15 gal'), strength: q(strength) }),
      );
      expect(concentration.value).toBeGreaterThan(50);
      expect(concentration.value).toBeLessThan(90);
    }
  });

  it('50 mg/L stands for 4 hours (CDC Vessel Sanitation Program manual 5.3.4.1.4)', () => {
    expect(unwrap(bleachDose({ target: q('50 mg/L'), volume: q('40 gal'), strength: q('6 %') })).hold).toEqual(
      q('4 h'),
    );
  });
});

describe('propylene glycol (Lange’s Handbook of Chemistry, 15th edition, table 5.13)', () => {
  it.each([
    [10, 28],
    [20, 20],
    [25, 16],
    [30, 9],
    [35, 3],
    [40, -5],
    [45, -16],
    [50, -28],
  ])('%d %% freezes at %d °F', (percent, fahrenheit) => {
    expect(unwrap(glycol({ share: quantity(percent, '%') })).freezing.value).toBeCloseTo(fahrenheit, 9);
    expect(unwrap(glycol({ temperature: quantity(fahrenheit, 'degF') })).share.value).toBeCloseTo(percent, 9);
  });
});

describe('weight of water and gas aboard (a motorhome manual of 2004)', () => {
  it('50 gallons weigh 415 lb at 8.3 lb; 80 % of 30 gallons of propane 100.8 lb at 4.2 lb', () => {
    expect(50 * 8.3).toBeCloseTo(415, 9);
    expect(valueIn(quantity(1, 'kg/L'), 'lb/gal')).toBeCloseTo(8.3, 1);
    expect(30 * 0.8 * 4.2).toBeCloseTo(100.8, 9);
  });
});

describe('our own arithmetic, not an outside check: water', () => {
  it.each([
    ['5.25 %', 54.69, 54.63],
    ['6 %', 62.5, 62.44],
    ['7.5 %', 78.13, 78.04],
    ['8.25 %', 85.94, 85.85],
  ])('1/4 cup of %s in 15 gallons', (strength, plain, mixed) => {
    const found = unwrap(bleachConcentration({ dose: q('1/4 cup'), volume: q('15 gal'), strength: q(strength) }));
    expect(Math.abs(found.concentration.value - plain)).toBeLessThan(0.006);
    expect(Math.abs(found.concentrationMixed.value - mixed)).toBeLessThan(0.011);
  });

  it.each([
    [50, 40, 6, 126.18, 4.267],
    [50, 40, 8.25, 91.768, 3.103],
    [100, 40, 6, 252.361, 8.533],
    [50, 30, 5.25, 108.155, 3.657],
    [200, 30, 6, 378.541, 12.8],
  ])('%d mg/L in %d gallons with %d %%', (target, gallons, strength, millilitres, ounces) => {
    const { dose } = unwrap(
      bleachDose({
        target: quantity(target, 'mg/L'),
        volume: quantity(gallons, 'gal'),
        strength: quantity(strength, '%'),
      }),
    );
    expect(valueIn(dose, 'mL')).toBeCloseTo(millilitres, 2);
    expect(dose.value).toBeCloseTo(ounces, 3);
  });

  it('contact and heating', () => {
    expect([
      contact(q('50 mg/L'), q('240 min')),
      contact(q('100 mg/L'), q('60 min')),
      contact(q('200 mg/L'), q('30 min')),
    ]).toEqual([12_000, 6000, 6000]);
    const heater = unwrap(
      heaterTime({
        volume: q('6 gal'),
        from: q('60 °F'),
        to: q('140 °F'),
        power: q('12,000 BTU/h'),
        efficiency: q('75 %'),
      }),
    );
    expect(heater.energy.value).toBeCloseTo(3998, 0);
    expect(heater.time.value).toBeCloseTo(26.7, 1);
  });
});
