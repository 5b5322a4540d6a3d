import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { bleachConcentration, bleachDose, contact, GLYCOL, glycol, heaterTime } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);

describe('bleach', () => {
  it('dose and concentration undo each other', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 200, noNaN: true }),
        fc.double({ min: 5, max: 100, noNaN: true }),
        fc.double({ min: 2, max: 12, noNaN: true }),
        (target, gallons, strength) => {
          const system = { volume: quantity(gallons, 'gal'), strength: quantity(strength, '%') };
          const { dose } = unwrap(bleachDose({ ...system, target: quantity(target, 'mg/L') }));
          const found = unwrap(bleachConcentration({ ...system, dose }));
          expect(found.concentration.value).toBeCloseTo(target, 8);
          expect(found.concentrationMixed.value).toBeLessThan(target);
          expect(found.verdict).toBe('sanitizes');
          expect(found.hold).toEqual(unwrap(bleachDose({ ...system, target: quantity(target, 'mg/L') })).hold);
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
    expect(codeOf(bleachDose({ ...ask, target: q('9.9 ppm') }))).toBe('water.too-weak');
    expect(codeOf(bleachDose({ ...ask, target: q('0 ppm') }))).toBe('water.amount');
    expect(unwrap(bleachDose({ ...ask, target: q('10 ppm') })).hold).toEqual(q('24 h'));
    expect(unwrap(bleachDose({ ...ask, target: q('49.9 ppm') })).hold).toEqual(q('24 h'));
    expect(unwrap(bleachDose({ ...ask, target: q('50 ppm') })).hold).toEqual(q('4 h'));
    expect(codeOf(bleachDose({ ...ask, target: q('200 ppm') }))).toBe('ok');
    expect(codeOf(bleachDose({ ...ask, target: q('200.1 ppm') }))).toBe('water.too-strong');
    expect([0.9, 1, 13, 13.1].map((s) => codeOf(bleachDose({ ...ask, strength: quantity(s, '%') })))).toEqual([
      'water.strength',
      'ok',
      'ok',
      'water.strength',
    ]);
    const where = (change: object) => {
      const answer = bleachDose({ ...ask, ...change });
      return answer.ok ? 'ok' : answer.problems[0]!.where;
    };
    expect([where({ strength: q('60 %') }), where({ target: q('-1 ppm') }), where({ volume: q('-1 L') })]).toEqual([
      'strength',
      'target',
      'volume',
    ]);
    // Household bleach ends at 8.25 %.
    expect(unwrap(bleachDose({ ...ask, strength: q('8.25 %') })).cautions.join()).not.toContain('pool chlorine');
    expect(unwrap(bleachDose({ ...ask, strength: q('8.3 %') })).cautions[0]).toContain('pool chlorine');
    expect(contact(q('50 mg/L'), q('4 h'))).toBe(12_000);
  });
});

describe('bleachConcentration', () => {
  const judge = (dose: string, strength = '5 %') =>
    unwrap(bleachConcentration({ dose: q(dose), volume: q('100 L'), strength: q(strength) }));

  it('says too weak under 10 mg/L, 24 hours under 50, and too strong over 200', () => {
    // 20 mL of 5 % in 100 L is 10 mg/L.
    expect(judge('19.9 mL')).toMatchObject({ verdict: 'too-weak', hold: null });
    expect(judge('19.9 mL').cautions[0]).toContain('Under 10 mg/L');
    expect(judge('20 mL')).toMatchObject({ verdict: 'sanitizes', hold: q('24 h') });
    expect(judge('99.9 mL').cautions[0]).toContain('Under 50 mg/L');
    expect(judge('100 mL')).toMatchObject({ verdict: 'sanitizes', hold: q('4 h') });
    expect(judge('100 mL').cautions[0]).toContain('Plain unscented');
    expect(judge('400 mL')).toMatchObject({ verdict: 'sanitizes', hold: q('4 h') });
    expect(judge('401 mL')).toMatchObject({ verdict: 'too-strong', hold: null });
    expect(judge('401 mL').cautions[0]).toContain('Over 200 mg/L');
    expect(judge('10 mL', '12.5 %').cautions.join()).toContain('pool chlorine');
    expect(judge('100 mL').concentrationMixed.value).toBeCloseTo(5000 / 100.1, 9);
  });

  it('refuses what cannot be, and names the field', () => {
    const where = (dose: string, volume: string, strength: string) => {
      const answer = bleachConcentration({ dose: q(dose), volume: q(volume), strength: q(strength) });
      return answer.ok ? 'ok' : answer.problems[0]!.where;
    };
    expect([where('0 mL', '1 L', '6 %'), where('1 mL', '0 L', '6 %'), where('1 mL', '1 L', '14 %')]).toEqual([
      'dose',
      'volume',
      'strength',
    ]);
  });
});

describe('glycol', () => {
  it('reads its table both ways, between rows on the safe one, and not beyond', () => {
    expect(unwrap(glycol({ temperature: q('0 °F') }))).toMatchObject({ share: q('40 %'), freezing: q('-5 °F') });
    expect(unwrap(glycol({ temperature: q('-5 °F') })).share).toEqual(q('40 %'));
    expect(unwrap(glycol({ temperature: q('-5.1 °F') })).share).toEqual(q('45 %'));
    expect(unwrap(glycol({ share: q('49.9 %') })).freezing).toEqual(q('-16 °F'));
    expect(unwrap(glycol({ share: q('50 %') })).freezing).toEqual(q('-28 °F'));
    expect(codeOf(glycol({ share: q('9.9 %') }))).toBe('water.glycol-range');
    expect(unwrap(glycol({ share: q('10 %') })).freezing).toEqual(q('28 °F'));
    expect(codeOf(glycol({ share: q('50.1 %') }))).toBe('water.glycol-range');
    expect(codeOf(glycol({ temperature: q('-28 °F') }))).toBe('ok');
    expect(codeOf(glycol({ temperature: q('-28.1 °F') }))).toBe('water.glycol-range');
    expect(unwrap(glycol({ temperature: q('29 °F') })).limitedBy).toBe('the weakest mix of the table');
    expect(unwrap(glycol({ temperature: q('28 °F') })).limitedBy).toBe('the temperature');
    expect(codeOf(glycol({ share: q('20 %'), temperature: q('0 °F') }))).toBe('water.glycol-one');
    expect(unwrap(glycol({ temperature: q('-20 °C') })).freezing.unit).toBe('degC');
    expect(unwrap(glycol({ temperature: q('50 °F') })).share).toEqual(q('10 %'));
    expect(codeOf(glycol({ temperature: q('-40 °F') }))).toBe('water.glycol-range');
    expect(codeOf(glycol({ share: q('60 %') }))).toBe('water.glycol-range');
    expect(codeOf(glycol({}))).toBe('water.glycol-one');
    fc.assert(
      fc.property(fc.double({ min: 10, max: 50, noNaN: true }), (percent) => {
        const there = unwrap(glycol({ share: quantity(percent, '%') })).freezing;
        // Enough for that temperature, and never more than what was mixed.
        const share = unwrap(glycol({ temperature: there })).share.value;
        expect(share).toBeLessThanOrEqual(percent + 1e-9);
        for (const [row, fahrenheit] of GLYCOL)
          if (row <= percent - 1e-6) expect(there.value).toBeLessThanOrEqual(fahrenheit);
        for (const [row, fahrenheit] of GLYCOL)
          if (row > percent + 1e-6) expect(there.value).toBeGreaterThan(fahrenheit);
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
    const where = (change: object) => {
      const answer = heaterTime({ ...base, ...change });
      return answer.ok ? 'ok' : answer.problems[0]!.where;
    };
    expect(where({ from: q('31 °F') })).toBe('from');
    expect(where({ from: q('32 °F') })).toBe('ok');
    expect(where({ to: q('180 °F') })).toBe('ok');
    expect(where({ to: q('181 °F') })).toBe('to');
    expect(where({ to: q('60 °F') })).toBe('to');
    expect(where({ volume: q('0 gal') })).toBe('volume');
    expect(where({ power: q('0 W') })).toBe('power');
    expect(where({ efficiency: q('0 %') })).toBe('efficiency');
    expect(where({ efficiency: q('100 %') })).toBe('ok');
    expect(plain.cautions).toHaveLength(1);
    expect(unwrap(heaterTime({ ...base, to: q('141 °F') })).cautions[0]).toContain('scalds at once');
    expect(plain.energy.value).toBeCloseTo(6 * 8.33 * 80, 9);
    expect(unwrap(heaterTime({ ...base, volume: q('20 L') })).energy.unit).toBe('kJ');
  });
});
