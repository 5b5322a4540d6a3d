import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { batteryDays, breakaway, motorStart, outletBudget, peukert, solarDay } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);
const whereOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.where);

describe('peukert', () => {
  const at = (current: number, exponent = 1.2, form?: 'one-ampere') =>
    unwrap(peukert({ capacity: q('100 Ah'), current: quantity(current, 'A'), exponent, form }));

  it('gives the nameplate at the rated current, less above it and never more below', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1.6, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (exponent, amps) => {
          expect(at(5, exponent).charge.value).toBeCloseTo(100, 9);
          const plain = at(amps, exponent);
          expect(plain.charge.value).toBeLessThanOrEqual(100 + 1e-9);
          expect(at(amps * 1.1, exponent).charge.value).toBeLessThanOrEqual(plain.charge.value * (1 + 1e-12));
          expect(at(amps * 1.1, exponent).time.value).toBeLessThan(plain.time.value);
          expect(at(amps, exponent + 0.1).time.value).toBeLessThanOrEqual(plain.time.value * (1 + 1e-12));
          expect(plain.timeHalf.value).toBeCloseTo(plain.time.value / 2, 12);
        },
      ),
    );
    expect(at(0.1).limitedBy).toBe('the capacity on the nameplate');
    expect(at(0.1).time).toEqual(q('1000 h'));
    expect(at(10).limitedBy).toBe('the current');
    expect(at(0.1, 1.2, 'one-ampere').charge.value).toBeCloseTo(100, 9);
    expect(at(10, 1.2, 'one-ampere').time.value).toBeCloseTo(100 / 10 ** 1.2, 9);
    expect(at(10, 1.2, 'one-ampere').assumed).toEqual([]);
    expect(at(10).assumed).toEqual(['ratedTime: 20 h']);
    const rated = unwrap(peukert({ capacity: q('100 Ah'), current: q('10 A'), exponent: 1.2, ratedTime: q('10 h') }));
    expect([rated.time.value, rated.assumed]).toEqual([10, []]);
  });

  it('refuses what is no battery, and names the field', () => {
    const ask = { capacity: q('100 Ah'), current: q('5 A'), exponent: 1.2 };
    expect(whereOf(peukert({ ...ask, current: q('0 A') }))).toBe('current');
    expect(whereOf(peukert({ ...ask, capacity: q('0 Ah') }))).toBe('capacity');
    expect(whereOf(peukert({ ...ask, ratedTime: q('0 h') }))).toBe('ratedTime');
    expect([0.99, 1, 2, 2.01, Number.NaN].map((exponent) => codeOf(peukert({ ...ask, exponent })))).toEqual([
      'power.peukert-exponent',
      'ok',
      'ok',
      'power.peukert-exponent',
      'power.peukert-exponent',
    ]);
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
  const sun = { panel: q('100 W'), sunHours: q('3 h') };

  it('counts loads and sun, and always says how long without', () => {
    const plain = unwrap(batteryDays(base));
    expect(plain.days!.value).toBeCloseTo(2, 9);
    expect(plain.daysWithoutSun!.value).toBeCloseTo(2, 9);
    expect(plain.cautions.join()).not.toContain('Cloud');
    const sunny = unwrap(batteryDays({ ...base, panel: q('200 W'), sunHours: q('5 h') }));
    expect(sunny.days).toBeNull();
    expect(sunny.daysWithoutSun!.value).toBeCloseTo(2, 9);
    expect(sunny.cautions[0]).toContain('count on the days without sun');
    const some = unwrap(batteryDays({ ...base, ...sun }));
    expect(some.solarADay.value).toBeCloseTo(17.5, 9);
    expect(some.days!.value).toBeCloseTo(80 / 22.5, 9);
    expect(some.assumed).toHaveLength(1);
    const stated = unwrap(batteryDays({ ...base, ...sun, derate: q('48 %') }));
    expect([stated.solarADay.value, stated.assumed]).toEqual([12, []]);
    // The sun gives exactly what is drawn.
    expect(unwrap(batteryDays({ ...base, panel: q('160 W'), sunHours: q('5 h'), derate: q('60 %') })).days).toBeNull();
    expect(unwrap(batteryDays({ ...base, loads: [] }))).toMatchObject({ days: null, daysWithoutSun: null });
    // A clock alone: self-discharge empties the battery within a year.
    const clock = { what: 'clock', current: quantity(1e-320, 'A'), time: q('24 h') };
    expect(unwrap(batteryDays({ ...base, loads: [clock] }))).toMatchObject({
      days: q('365 d'),
      daysWithoutSun: q('365 d'),
    });
    expect(solarDay(q('200 W'), q('5 h'), q('75 %'))).toEqual(q('750 Wh'));
  });

  it('has no days at or under the floor', () => {
    expect(unwrap(batteryDays({ ...base, stateOfCharge: q('50 %') })).days!.value).toBe(0);
    expect(unwrap(batteryDays({ ...base, stateOfCharge: q('20 %') })).daysWithoutSun!.value).toBe(0);
    expect(unwrap(batteryDays({ ...base, floor: q('20 %') })).cautions.join()).toContain('ages fast');
    expect(unwrap(batteryDays(base)).cautions.join()).not.toContain('ages fast');
  });

  it('refuses what cannot be, and names the field', () => {
    const load = (current: string, time: string) => [
      base.loads[0]!,
      { what: 'lamp', current: q(current), time: q(time) },
    ];
    expect(whereOf(batteryDays({ ...base, floor: q('150 %') }))).toBe('floor');
    expect(whereOf(batteryDays({ ...base, floor: q('100 %') }))).toBe('ok');
    expect(whereOf(batteryDays({ ...base, floor: q('0 %') }))).toBe('ok');
    expect(whereOf(batteryDays({ ...base, stateOfCharge: q('-1 %') }))).toBe('stateOfCharge');
    expect(whereOf(batteryDays({ ...base, loads: load('2 A', '25 h') }))).toBe('loads.1');
    expect(whereOf(batteryDays({ ...base, loads: load('2 A', '24 h') }))).toBe('ok');
    expect(whereOf(batteryDays({ ...base, loads: load('0 A', '0 h') }))).toBe('ok');
    expect(whereOf(batteryDays({ ...base, loads: load('-2 A', '1 h') }))).toBe('loads.1');
    expect(whereOf(batteryDays({ ...base, loads: load('2 A', '-1 h') }))).toBe('loads.1');
    expect(whereOf(batteryDays({ ...base, panel: q('100 W') }))).toBe('sunHours');
    expect(whereOf(batteryDays({ ...base, sunHours: q('3 h') }))).toBe('panel');
  });
});

describe('breakaway', () => {
  const base = { brakes: 4, currentEach: q('3 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') };

  it('counts on four fifths of the nameplate, by Peukert', () => {
    const full = unwrap(breakaway(base));
    // 20 h · (9.6 Ah / (12 A · 20 h))^1.15.
    expect(full.time.value).toBeCloseTo(60 * 20 * (9.6 / 240) ** 1.15, 6);
    expect(full.available.value).toBeCloseTo((12 * full.time.value) / 60, 9);
    expect(full).toMatchObject({ holds: true, current: q('12 A'), charge: q('3 Ah') });
    const small = unwrap(breakaway({ ...base, capacity: q('5 Ah') }));
    expect(small.holds).toBe(false);
    expect(small.cautions[0]).toContain('charge or renew');
    expect(full.cautions[0]).toContain('pull the pin');
    const tiny = unwrap(breakaway({ ...base, brakes: 1, currentEach: q('0.1 A') }));
    expect(tiny.available.value).toBeCloseTo(9.6, 9);
    expect(unwrap(breakaway({ ...base, stateOfCharge: q('50 %') })).time.value).toBeCloseTo(full.time.value / 2, 9);
    expect(unwrap(breakaway({ ...base, stateOfCharge: q('0 %') })).holds).toBe(false);
  });

  it('holds from a quarter of an hour', () => {
    // The charge at which it comes to just 15 minutes.
    const share = 15 / unwrap(breakaway(base)).time.value;
    expect(unwrap(breakaway({ ...base, stateOfCharge: quantity(share * 1.0001, 'ratio') })).holds).toBe(true);
    expect(unwrap(breakaway({ ...base, stateOfCharge: quantity(share * 0.9999, 'ratio') })).holds).toBe(false);
  });

  it('refuses what cannot be, and names the field', () => {
    expect(whereOf(breakaway({ ...base, brakes: 2.5 }))).toBe('brakes');
    expect(whereOf(breakaway({ ...base, brakes: 0 }))).toBe('brakes');
    expect(whereOf(breakaway({ ...base, brakes: 1 }))).toBe('ok');
    expect(whereOf(breakaway({ ...base, currentEach: q('0 A') }))).toBe('currentEach');
    expect(whereOf(breakaway({ ...base, capacity: q('0 Ah') }))).toBe('capacity');
    expect(whereOf(breakaway({ ...base, stateOfCharge: q('101 %') }))).toBe('stateOfCharge');
    expect(whereOf(breakaway({ ...base, stateOfCharge: q('-1 %') }))).toBe('stateOfCharge');
  });
});

describe('outletBudget', () => {
  const heater = (watts: number, continuous: boolean) => [{ what: 'heater', power: quantity(watts, 'W'), continuous }];
  const ask = (watts: number, continuous: boolean, voltage = '120 V') =>
    unwrap(outletBudget({ breaker: q('15 A'), voltage: q(voltage), loads: heater(watts, continuous) }));

  it('counts continuous loads for a quarter more', () => {
    expect(ask(1440, true)).toMatchObject({ holds: true, continuousMax: q('12 A') });
    expect(ask(1441, true).holds).toBe(false);
    expect(ask(1441, false).holds).toBe(true);
    expect(ask(1800, false).holds).toBe(true);
    expect(ask(1801, false).holds).toBe(false);
    expect(ask(1440, true).limitedBy).toBe('the breaker, continuous loads at 80 %');
    expect(ask(1440, false).limitedBy).toBe('the breaker');
    const two = unwrap(
      outletBudget({ breaker: q('15 A'), voltage: q('120 V'), loads: [...heater(600, false), ...heater(480, true)] }),
    );
    expect([two.power.value, two.current.value, two.margin.value]).toEqual([1080, 9, 5]);
  });

  it('holds nothing on a low or high leg (limits of the catalog)', () => {
    expect(ask(100, false, '107.9 V')).toMatchObject({ holds: false, voltageVerdict: 'low' });
    expect(ask(100, false, '107.9 V').cautions[0]).toContain('108 V');
    expect(ask(100, false, '108 V')).toMatchObject({ holds: true, voltageVerdict: 'within' });
    expect(ask(100, false, '127 V')).toMatchObject({ holds: true, voltageVerdict: 'within' });
    expect(ask(100, false, '127.1 V')).toMatchObject({ holds: false, voltageVerdict: 'high' });
    expect(ask(100, false, '127.1 V').cautions[0]).toContain('127 V');
    expect(ask(100, false, '100 V').limitedBy).toBe('the voltage at the outlet');
    expect(ask(100, false, '120 V').cautions).toHaveLength(1);
  });

  it('refuses what is no outlet, and names the field', () => {
    const fault = (change: object) =>
      outletBudget({ breaker: q('15 A'), voltage: q('120 V'), loads: heater(100, false), ...change });
    expect(whereOf(fault({ voltage: q('12 V') }))).toBe('voltage');
    expect(whereOf(fault({ voltage: q('80 V') }))).toBe('ok');
    expect(whereOf(fault({ voltage: q('140 V') }))).toBe('ok');
    expect(whereOf(fault({ voltage: q('240 V') }))).toBe('voltage');
    expect(whereOf(fault({ breaker: q('0 A') }))).toBe('breaker');
    expect(whereOf(fault({ loads: [...heater(1, true), ...heater(-1, true)] }))).toBe('loads.1.power');
    expect(whereOf(fault({ loads: heater(0, true) }))).toBe('ok');
  });
});

describe('motorStart', () => {
  const start = (change: object = {}) => motorStart({ horsepower: '1', code: 'K', voltage: q('120 V'), ...change });

  it('reads sizes as they are written', () => {
    const size = (horsepower: string) => unwrap(start({ horsepower })).currentFull.value;
    expect(['1 1/2', '1-1/2 hp', '1  1/2HP'].map(size)).toEqual([20, 20, 20]);
    expect(unwrap(start({ horsepower: '1 1/2', code: ' g ' })).powerStart.value).toBeCloseTo(1.5 * 6290, 9);
    expect(unwrap(start({ horsepower: '3/4', code: 'G' })).powerStart.value).toBeCloseTo(0.75 * 6290, 9);
  });

  it('draws more at a low voltage', () => {
    expect(unwrap(start({ voltage: q('100 V') })).currentFull.value).toBeCloseTo(18.4, 9);
    expect(unwrap(start({ voltage: q('115 V') })).currentFull.value).toBe(16);
    expect(unwrap(start({ voltage: q('130 V') })).currentFull.value).toBe(16);
  });

  it('says that a source too small will not start it', () => {
    // 8.99 kVA for 1 hp of letter K.
    expect(unwrap(start({ source: q('8,989 W') }))).toMatchObject({ starts: false });
    expect(unwrap(start({ source: q('8,989 W') })).cautions[0]).toContain('will not start');
    expect(unwrap(start({ source: q('8,990 W') }))).toMatchObject({ starts: true });
    expect(unwrap(start({ source: q('8,990 W') })).cautions).toHaveLength(1);
    expect(unwrap(start()).starts).toBeNull();
  });

  it('refuses what no table holds, and names the field', () => {
    expect(whereOf(start({ horsepower: '7 hp' }))).toBe('horsepower');
    expect(whereOf(start({ horsepower: 'constructor' }))).toBe('horsepower');
    expect(whereOf(start({ code: 'Z' }))).toBe('code');
    expect(whereOf(start({ code: 'toString' }))).toBe('code');
    expect(whereOf(start({ voltage: q('12 V') }))).toBe('voltage');
    expect(whereOf(start({ voltage: q('80 V') }))).toBe('ok');
    expect(whereOf(start({ voltage: q('140 V') }))).toBe('ok');
    expect(whereOf(start({ voltage: q('141 V') }))).toBe('voltage');
  });
});
