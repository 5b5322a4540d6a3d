import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { batteryDays, breakaway, motorStart, outletBudget, peukert, socByGravity, socByVoltage } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);

describe('state of charge', () => {
  it('rises with voltage, between 0 and 100 %, inside its own doubt', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('flooded' as const, 'lifepo4' as const),
        fc.double({ min: 9, max: 14.5, noNaN: true }),
        (chemistry, volts) => {
          const at = (v: number) => unwrap(socByVoltage({ voltage: quantity(v, 'V'), chemistry }));
          const soc = at(volts);
          expect(at(volts + 0.1).stateOfCharge.value).toBeGreaterThanOrEqual(soc.stateOfCharge.value);
          expect(soc.uncertainty.stateOfCharge.low.value).toBeLessThanOrEqual(soc.stateOfCharge.value);
          expect(soc.uncertainty.stateOfCharge.high.value).toBeGreaterThanOrEqual(soc.stateOfCharge.value);
        },
      ),
    );
  });

  it('warns of frost, of surface charge and of lithium', () => {
    expect(unwrap(socByVoltage({ voltage: q('11.5 V'), chemistry: 'flooded' })).cautions).toHaveLength(2);
    expect(unwrap(socByVoltage({ voltage: q('13.2 V'), chemistry: 'flooded' })).cautions.join()).toContain(
      'surface charge',
    );
    const lithium = unwrap(socByVoltage({ voltage: q('13.2 V'), chemistry: 'lifepo4' }));
    expect(lithium.uncertainty.stateOfCharge.high.value - lithium.uncertainty.stateOfCharge.low.value).toBeGreaterThan(
      30,
    );
    expect(unwrap(socByVoltage({ voltage: q('25.3 V'), chemistry: 'flooded', cells: 2 })).stateOfCharge.value).toBe(
      100,
    );
    expect(codeOf(socByVoltage({ voltage: q('24 V'), chemistry: 'flooded' }))).toBe('power.voltage');
  });

  it('corrects a hydrometer for temperature', () => {
    const cold = unwrap(socByGravity({ gravity: 1.225, temperature: q('40 °F') }));
    expect(cold.gravityCorrected).toBeCloseTo(1.209, 9);
    expect(cold.freezing?.unit).toBe('degF');
    expect(codeOf(socByGravity({ gravity: 12.25, temperature: q('40 °F') }))).toBe('power.gravity');
  });
});

describe('peukert', () => {
  it('falls with current, gives the nameplate at the rated current', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1.6, noNaN: true }),
        fc.double({ min: 0.5, max: 100, noNaN: true }),
        (exponent, amps) => {
          const at = (current: number) =>
            unwrap(peukert({ capacity: q('100 Ah'), current: quantity(current, 'A'), exponent }));
          expect(at(5).charge.value).toBeCloseTo(100, 9);
          expect(at(amps * 1.1).charge.value).toBeLessThanOrEqual(at(amps).charge.value * (1 + 1e-12));
        },
      ),
    );
    expect(codeOf(peukert({ capacity: q('100 Ah'), current: q('0 A'), exponent: 1.2 }))).toBe('power.battery');
    expect(codeOf(peukert({ capacity: q('100 Ah'), current: q('5 A'), exponent: 0.9 }))).toBe('power.peukert-exponent');
  });
});

describe('batteryDays', () => {
  const base = {
    capacity: q('200 Ah'),
    stateOfCharge: q('90 %'),
    floor: q('50 %'),
    loads: [
      { what: 'furnace fan', current: q('7 A'), time: q('4 h') },
      { what: 'lamps', current: q('2 A'), time: q('6 h') },
    ],
  };

  it('counts loads and sun', () => {
    expect(unwrap(batteryDays(base)).days?.value).toBeCloseTo(2, 9);
    expect(unwrap(batteryDays({ ...base, panel: q('200 W'), sunHours: q('5 h') })).days).toBeNull();
    expect(unwrap(batteryDays({ ...base, panel: q('100 W'), sunHours: q('3 h') })).solarADay.value).toBeCloseTo(
      17.5,
      9,
    );
    expect(codeOf(batteryDays({ ...base, floor: q('150 %') }))).toBe('power.charge');
    expect(codeOf(batteryDays({ ...base, loads: [{ what: 'lamp', current: q('2 A'), time: q('30 h') }] }))).toBe(
      'power.load',
    );
  });
});

describe('breakaway', () => {
  it('never promises more than the nameplate', () => {
    const full = unwrap(
      breakaway({ brakes: 4, currentEach: q('3 A'), capacity: q('5 Ah'), stateOfCharge: q('100 %') }),
    );
    expect(full.holds).toBe(false);
    expect(full.available.value).toBeLessThan(5);
    expect(
      unwrap(breakaway({ brakes: 4, currentEach: q('3 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') })).holds,
    ).toBe(true);
    expect(
      unwrap(breakaway({ brakes: 1, currentEach: q('0.1 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') }))
        .available.value,
    ).toBeLessThanOrEqual(12);
    expect(
      codeOf(breakaway({ brakes: 2.5, currentEach: q('3 A'), capacity: q('5 Ah'), stateOfCharge: q('100 %') })),
    ).toBe('power.brakes');
  });
});

describe('outlets', () => {
  it('counts continuous loads for a quarter more', () => {
    const budget = (watts: number, continuous: boolean) =>
      unwrap(
        outletBudget({
          breaker: q('15 A'),
          voltage: q('120 V'),
          loads: [{ what: 'heater', power: quantity(watts, 'W'), continuous }],
        }),
      );
    expect(budget(1440, true)).toMatchObject({ holds: true, continuousMax: q('12 A') });
    expect(budget(1441, true).holds).toBe(false);
    expect(budget(1441, false).holds).toBe(true);
    expect(codeOf(outletBudget({ breaker: q('15 A'), voltage: q('12 V'), loads: [] }))).toBe('power.outlet');
    expect(codeOf(motorStart({ horsepower: '7 hp', code: 'K', voltage: q('120 V') }))).toBe('power.motor');
    expect(codeOf(motorStart({ horsepower: '1 hp', code: 'Z', voltage: q('120 V') }))).toBe('power.motor-code');
  });
});
