import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { FREEZING, socByGravity, socByVoltage } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);
const whereOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.where);

const flooded = (voltage: string) => socByVoltage({ voltage: q(voltage), chemistry: 'flooded', rest: q('12 h') });
const lithium = (voltage: string) => socByVoltage({ voltage: q(voltage), chemistry: 'lifepo4', rest: q('12 h') });

describe('socByVoltage', () => {
  it('rises with voltage, between 0 and 100 %, inside its own doubt; freezes the warmer the emptier', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('flooded' as const, 'lifepo4' as const),
        fc.double({ min: 5, max: 12.7, noNaN: true }),
        (chemistry, volts) => {
          const at = (v: number) => unwrap(socByVoltage({ voltage: quantity(v, 'V'), chemistry, rest: q('6 h') }));
          const [soc, more] = [at(volts), at(volts + 0.1)];
          expect(more.stateOfCharge.value).toBeGreaterThanOrEqual(soc.stateOfCharge.value);
          expect(soc.uncertainty.stateOfCharge.low.value).toBeLessThanOrEqual(soc.stateOfCharge.value);
          expect(soc.uncertainty.stateOfCharge.high.value).toBeGreaterThanOrEqual(soc.stateOfCharge.value);
          if (chemistry === 'flooded') expect(soc.freezing!.value).toBeGreaterThanOrEqual(more.freezing!.value);
          else expect(soc.freezing).toBeNull();
        },
      ),
    );
  });

  it('is no reading without a rest, while charging or of another voltage', () => {
    const rested = (rest: string) => socByVoltage({ voltage: q('12.4 V'), chemistry: 'flooded', rest: q(rest) });
    expect([rested('5.9 h'), rested('6 h'), rested('0 h')].map(codeOf)).toEqual([
      'power.not-rested',
      'ok',
      'power.not-rested',
    ]);
    expect(whereOf(rested('1 h'))).toBe('rest');
    expect([flooded('12.86 V'), flooded('13.2 V'), flooded('14.4 V')].map(codeOf)).toEqual(
      Array(3).fill('power.not-rested'),
    );
    expect(whereOf(flooded('13.2 V'))).toBe('voltage');
    expect(codeOf(flooded('12.85 V'))).toBe('ok');
    expect(codeOf(lithium('13.8 V'))).toBe('ok');
    expect(codeOf(lithium('13.81 V'))).toBe('power.not-rested');
    expect(codeOf(flooded('24 V'))).toBe('power.voltage');
    expect(codeOf(flooded('4.9 V'))).toBe('power.voltage');
    expect(codeOf(flooded('5 V'))).toBe('ok');
    expect(codeOf(flooded('16 V'))).toBe('power.not-rested');
    expect(codeOf(flooded('16.1 V'))).toBe('power.voltage');
  });

  it('half charged it freezes no colder than the acid of its lowest charge can', () => {
    // 12.24 V is 50 %; 0.05 V less is gravity 1.180, which freezes between 5 °F (1.150) and −16 °F (1.200).
    const half = unwrap(flooded('12.24 V')).freezing!.value;
    expect(half).toBeGreaterThan(-16);
    expect(half).toBeLessThan(5);
    expect(unwrap(flooded('12.24 V')).cautions.join()).not.toContain('freeze');
    // Empty: a battery maker's 1.120; published charts say 15 to 16 °F at 1.120 (from memory).
    expect(unwrap(flooded('11.94 V')).freezing!.value).toBeGreaterThanOrEqual(15);
    expect(unwrap(flooded('11.94 V')).cautions.join()).toContain('freeze');
    // Below empty the acid is weaker still, and in the end water.
    expect(unwrap(flooded('11.5 V')).freezing!.value).toBeGreaterThan(unwrap(flooded('11.9 V')).freezing!.value);
    expect(unwrap(flooded('11 V')).freezing!.value).toBe(32);
    expect(unwrap(flooded('5 V')).freezing!.value).toBe(32);
  });

  it('warns below empty, above full, and of lithium', () => {
    expect(unwrap(flooded('11.5 V')).cautions.join()).toContain('Below empty');
    expect(unwrap(flooded('11.89 V')).cautions.join()).not.toContain('Below empty');
    expect(unwrap(flooded('12.8 V')).cautions.join()).toContain('surface charge');
    expect(unwrap(flooded('12.69 V')).cautions.join()).not.toContain('surface charge');
    const plateau = unwrap(lithium('13.2 V'));
    expect(plateau.uncertainty.stateOfCharge.high.value - plateau.uncertainty.stateOfCharge.low.value).toBeGreaterThan(
      30,
    );
    expect(plateau.cautions[0]).toContain('ampere-hours');
  });
});

describe('socByGravity', () => {
  const read = (gravity: number, temperature = '80 °F') =>
    unwrap(socByGravity({ gravity, temperature: q(temperature) }));

  it('corrects a hydrometer for temperature, in the units of the thermometer', () => {
    expect(read(1.225, '40 °F').gravityCorrected).toBeCloseTo(1.209, 9);
    expect(read(1.225, '40 °F').freezing!.unit).toBe('degF');
    expect(read(1.225, '5 °C').freezing!.unit).toBe('degC');
    expect(read(1.225, '40 °F').stateOfCharge.value).toBeLessThan(75);
    const { low, high } = read(1.19).uncertainty.stateOfCharge;
    expect([low.value, high.value]).toEqual([expect.closeTo(50 - 25 / 7, 6), expect.closeTo(50 + 25 / 7, 6)]);
  });

  it('never freezes colder than any published row at or below its gravity', () => {
    for (const [gravity, fahrenheit] of FREEZING) {
      expect(read(gravity === 1 ? 1.001 : gravity).freezing!.value).toBeGreaterThanOrEqual(fahrenheit);
    }
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1.3, noNaN: true }), (gravity) => {
        const { freezing } = read(gravity);
        const above = FREEZING.find(([row]) => row >= gravity);
        if (above !== undefined) expect(valueIn(freezing!, 'degF')).toBeGreaterThanOrEqual(above[1]);
        expect(read(gravity + 0.01).freezing!.value).toBeLessThanOrEqual(freezing!.value);
      }),
    );
    // The chord from 1.150 to 1.200 is −11.8 °F at 1.190; the curve bends below it nowhere, and reaches −8.4 °F at most.
    expect(read(1.195).freezing!.value).toBe(-8);
    expect(read(1.13).freezing!.value).toBeGreaterThanOrEqual(13);
  });

  it('cautions of frost and of acid too strong', () => {
    expect(read(1.15).cautions.join()).toContain('freeze');
    expect(read(1.2).cautions.join()).not.toContain('freeze');
    expect(read(1.31).cautions.join()).toContain('Stronger');
    expect(read(1.3).cautions.join()).not.toContain('Stronger');
  });

  it('refuses what is no acid', () => {
    const code = (gravity: number) => codeOf(socByGravity({ gravity, temperature: q('80 °F') }));
    expect([12.25, 0.99, 1, 1.35, 1.36, Number.NaN].map(code)).toEqual([
      'power.gravity',
      'power.gravity',
      'ok',
      'ok',
      'power.gravity',
      'power.gravity',
    ]);
  });
});
