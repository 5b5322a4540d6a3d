import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { bleachConcentration, bleachDose, contact, glycol, heaterTime } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);

describe('bleach', () => {
  it('dose and concentration undo each other', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 200, noNaN: true }),
        fc.double({ min: 5, max: 100, noNaN: true }),
        fc.double({ min: 2, max: 12, noNaN: true }),
        (target, gallons, strength) => {
          const system = { volume: quantity(gallons, 'gal'), strength: quantity(strength, '%') };
          const { dose } = unwrap(bleachDose({ ...system, target: quantity(target, 'mg/L') }));
          expect(unwrap(bleachConcentration({ ...system, dose })).concentration.value).toBeCloseTo(target, 8);
        },
      ),
    );
  });

  it('answers in the units of the tank, and refuses what is no bleach', () => {
    const ask = { target: q('50 ppm'), volume: q('150 L'), strength: q('6 %') };
    expect(unwrap(bleachDose(ask)).dose).toEqual(q('125 mL'));
    expect(codeOf(bleachDose({ ...ask, strength: q('60 %') }))).toBe('water.strength');
    expect(codeOf(bleachDose({ ...ask, target: q('500 ppm') }))).toBe('water.too-strong');
    expect(codeOf(bleachDose({ ...ask, volume: q('0 L') }))).toBe('water.amount');
    expect(unwrap(bleachDose({ ...ask, target: q('5 ppm') })).cautions[0]).toContain('no published method');
    expect(contact(q('50 mg/L'), q('4 h'))).toBe(12_000);
  });
});

describe('glycol', () => {
  it('reads its table both ways and not beyond', () => {
    expect(unwrap(glycol({ temperature: q('0 °F') })).share.value).toBeCloseTo(36.875, 9);
    expect(unwrap(glycol({ temperature: q('-20 °C') })).freezing.unit).toBe('degC');
    expect(unwrap(glycol({ temperature: q('50 °F') })).share).toEqual(q('10 %'));
    expect(codeOf(glycol({ temperature: q('-40 °F') }))).toBe('water.glycol-range');
    expect(codeOf(glycol({ share: q('60 %') }))).toBe('water.glycol-range');
    expect(codeOf(glycol({}))).toBe('water.glycol-one');
    fc.assert(
      fc.property(fc.double({ min: 10, max: 50, noNaN: true }), (percent) => {
        const there = unwrap(glycol({ share: quantity(percent, '%') })).freezing;
        expect(unwrap(glycol({ temperature: there })).share.value).toBeCloseTo(percent, 8);
      }),
    );
  });
});

describe('heaterTime', () => {
  it('takes longer with more water and less power', () => {
    const base = {
      volume: q('6 gal'),
      from: q('60 °F'),
      to: q('140 °F'),
      power: q('12,000 BTU/h'),
      efficiency: q('75 %'),
    };
    const plain = unwrap(heaterTime(base));
    expect(valueIn(unwrap(heaterTime({ ...base, volume: quantity(12, 'gal') })).time, 'min')).toBeCloseTo(
      2 * plain.time.value,
      9,
    );
    expect(codeOf(heaterTime({ ...base, to: q('50 °F') }))).toBe('water.heater-temperature');
    expect(codeOf(heaterTime({ ...base, efficiency: q('120 %') }))).toBe('water.heater');
  });
});
