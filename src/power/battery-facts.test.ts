/** Batteries, outlets and motors by arithmetic worked beside each check, and at the edges of what is asked. */

import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import { batteryDays, breakaway, motorStart, outletBudget, peukert, socByGravity, socByVoltage } from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const refused = (result: Result<unknown>) => {
  if (result.ok) throw new Error(`answered: ${JSON.stringify(result.value)}`);
  const { code, where, what } = result.problems[0]!;
  expect(what.length).toBeGreaterThan(5);
  return `${code} at ${where}`;
};

describe('how full a battery is', () => {
  const ask = (volts: number, chemistry: 'flooded' | 'lifepo4' = 'flooded', hours = 12) =>
    socByVoltage({ voltage: quantity(volts, 'V'), chemistry, rest: quantity(hours, 'h') });
  const at = (volts: number, chemistry?: 'flooded' | 'lifepo4') => unwrap(ask(volts, chemistry));

  it('by a battery maker’s table, and no further than its ends', () => {
    for (const [volts, percent] of [
      [11, 0],
      [11.89, 0],
      [12.06, 25],
      [12.15, 37.5],
      [12.65, 100],
      [12.8, 100],
    ] as const)
      expect(at(volts).stateOfCharge.value).toBeCloseTo(percent, 9);
    expect(at(13.5, 'lifepo4').stateOfCharge.value).toBeCloseTo(95, 9);
  });

  it('a meter and a rest leave 0.05 V open on lead, 0.1 V on lithium', () => {
    // 12.40 V: 50 + 25·0.16/0.21 = 69.05 %; 12.50 V: 75 + 25·0.05/0.20 = 81.25 %.
    const { low, high } = at(12.45).uncertainty.stateOfCharge;
    expect(low.value).toBeCloseTo(69.048, 3);
    expect(high.value).toBeCloseTo(81.25, 6);
    // 12.9 V: half-way from 20 to 30 %; 13.1 V: from 30 to 40 %.
    const lithium = at(13, 'lifepo4').uncertainty.stateOfCharge;
    expect(lithium.low.value).toBeCloseTo(25, 6);
    expect(lithium.high.value).toBeCloseTo(35, 6);
  });

  it('a flat battery freezes, counted for the weakest acid the meter leaves open and the chart bending as it does', () => {
    // By hand from 0.05 V less: gravity by the maker's table (below empty 0.01 for 0.06 V), then the freezing chart; between two of
    // its rows no warmer than the lines through the rows before and after them.
    // 11.84 V: 1.1117, line of 1.05 and 1.10: 19 − 160·0.0117 = 17.1. 12.01 V: 1.1447, line of 1.15 and 1.20: 5 + 420·0.0053 = 7.2.
    // 12.19 V: 1.1803, line of 1.10 and 1.15: 5 − 280·0.0303 = −3.5. 12.60 V: 1.255, chord: −62 − 13/3 = −66.3. Rounded up.
    for (const [volts, fahrenheit] of [
      [11.89, 18],
      [12.06, 8],
      [12.24, -3],
      [12.65, -66],
    ] as const)
      expect(at(volts).freezing).toEqual(quantity(fahrenheit, 'degF'));
    expect(at(12.06).cautions.join()).toContain('Never charge a frozen battery');
    expect(at(12.24).cautions).toEqual([]);
    expect(at(13.2, 'lifepo4').freezing).toBeNull();
  });

  it('says what the voltage cannot: surface charge, a flat battery, lithium’s plateau', () => {
    expect(at(12.69).cautions).toEqual([]);
    expect(at(12.72).cautions.join()).toContain('surface charge');
    expect(at(11.89).cautions.join()).not.toContain('Below empty');
    expect(at(11.88).cautions.join()).toContain('Below empty');
    expect(at(13.2, 'lifepo4').cautions).toHaveLength(1);
    expect(at(13.2, 'lifepo4').cautions[0]).toContain('ampere-hours');
    expect(at(13.8, 'lifepo4').cautions.join()).toContain('surface charge');
    expect(at(9.9, 'lifepo4').cautions.join()).toContain('Below empty');
  });

  it('takes 5 to 16 V, rested six hours, and nothing above a rest voltage (common practice)', () => {
    expect(at(5).limitedBy).toMatch(/meter/);
    expect(refused(ask(4.99))).toBe('power.voltage at voltage');
    expect(refused(ask(16.01))).toBe('power.voltage at voltage');
    expect(refused(ask(16))).toBe('power.not-rested at voltage');
    expect(at(12.85).stateOfCharge.value).toBe(100);
    expect(refused(ask(12.86))).toBe('power.not-rested at voltage');
    expect(refused(ask(13.81, 'lifepo4'))).toBe('power.not-rested at voltage');
    expect(ask(12.5, 'flooded', 6).ok).toBe(true);
    expect(refused(ask(12.5, 'flooded', 5.9))).toBe('power.not-rested at rest');
  });

  it('by the hydrometer: 0.004 for 10 °F from 80 °F, ± 0.005 of reading', () => {
    const at80 = unwrap(socByGravity({ gravity: 1.225, temperature: q('80 °F') }));
    expect(at80.gravityCorrected).toBe(1.225);
    expect(at80.stateOfCharge.value).toBeCloseTo(75, 9);
    // 1.220: 50 + 25·0.030/0.035 = 71.43 %; 1.230: 75 + 25·0.005/0.040 = 78.125 %.
    expect(at80.uncertainty.stateOfCharge.low.value).toBeCloseTo(71.4286, 3);
    expect(at80.uncertainty.stateOfCharge.high.value).toBeCloseTo(78.125, 3);
    // 1.220, line of 1.225 and 1.250: −35 + 1,080·0.005 = −29.6, rounded up.
    expect(at80.freezing).toEqual(quantity(-29, 'degF'));
    expect(at80.cautions).toHaveLength(1);
    expect(at80.cautions.join()).toContain('goggles');
    const metric = unwrap(socByGravity({ gravity: 1.225, temperature: quantity((80 - 32) / 1.8, 'degC') }));
    expect(metric.freezing!.unit).toBe('degC');
    expect(metric.freezing!.value).toBeCloseTo((-29 - 32) / 1.8, 6);
    const water = unwrap(socByGravity({ gravity: 1, temperature: q('80 °F') }));
    expect(water.freezing).toEqual(quantity(32, 'degF'));
    expect(water.cautions.join()).toContain('Never charge a frozen battery');
    const strong = (gravity: number) => unwrap(socByGravity({ gravity, temperature: q('80 °F') })).cautions.join();
    expect(strong(1.301)).toContain('acid was added');
    expect(strong(1.3)).not.toContain('acid was added');
    for (const gravity of [0.999, 1.351, Number.NaN])
      expect(refused(socByGravity({ gravity, temperature: q('80 °F') }))).toBe('power.gravity at gravity');
    expect(socByGravity({ gravity: 1.35, temperature: q('80 °F') }).ok).toBe(true);
  });
});

describe('how long it lasts (Peukert)', () => {
  const hundred = { capacity: q('100 Ah'), exponent: 2, current: q('10 A') };

  it('at twice the rated current and exponent 2 a quarter of the rated time: 5 of 20 h', () => {
    // t = 20·(100/(10·20))² = 5 h. At 20 A and 1.5: 20·(100/400)^1.5 = 2.5 h.
    const life = unwrap(peukert(hundred));
    expect(life.time.value).toBeCloseTo(5, 9);
    expect(life.charge.value).toBeCloseTo(50, 9);
    expect(life.assumed).toHaveLength(1);
    expect(unwrap(peukert({ ...hundred, current: q('20 A'), exponent: 1.5 })).time.value).toBeCloseTo(2.5, 9);
    // Rated at 10 h, 10 A is the rated current.
    const ten = unwrap(peukert({ ...hundred, ratedTime: q('10 h') }));
    expect(ten.time.value).toBeCloseTo(10, 9);
    expect(ten.assumed).toEqual([]);
    // One-ampere form: 100/10² = 1 h.
    const one = unwrap(peukert({ ...hundred, form: 'one-ampere' }));
    expect(one.time.value).toBeCloseTo(1, 9);
    expect(one.assumed).toEqual([]);
  });

  it('never gives more than its nameplate, below the rated current', () => {
    // At 2.5 A and exponent 2 the law says 80 h; 100 Ah are 40 h of 2.5 A. One-ampere form at 0.4 A: 625 h against 250.
    const slow = unwrap(peukert({ ...hundred, current: q('2.5 A') }));
    expect(slow).toMatchObject({ time: q('40 h'), charge: q('100 Ah'), limitedBy: 'the capacity on the nameplate' });
    expect(slow.timeHalf).toEqual(q('20 h'));
    expect(unwrap(peukert({ ...hundred, current: q('0.4 A'), form: 'one-ampere' })).time.value).toBeCloseTo(250, 9);
    expect(unwrap(peukert({ ...hundred, current: q('5 A') }))).toMatchObject({
      time: q('20 h'),
      limitedBy: 'the current',
    });
    expect(unwrap(peukert(hundred)).cautions.join()).toContain('half');
    expect(unwrap(peukert(hundred)).cautions).toHaveLength(2);
  });

  it('refuses what no battery is', () => {
    expect(refused(peukert({ ...hundred, capacity: q('0 Ah') }))).toBe('power.battery at capacity');
    expect(refused(peukert({ ...hundred, current: q('0 A') }))).toBe('power.battery at current');
    expect(refused(peukert({ ...hundred, ratedTime: q('0 h') }))).toBe('power.battery at ratedTime');
    for (const exponent of [0.99, 2.01, Number.NaN])
      expect(refused(peukert({ ...hundred, exponent }))).toBe('power.peukert-exponent at exponent');
    expect(peukert({ ...hundred, exponent: 1 }).ok).toBe(true);
  });
});

describe('days on the battery', () => {
  const base = {
    capacity: q('100 Ah'),
    stateOfCharge: q('100 %'),
    floor: q('50 %'),
    loads: [{ what: 'lamp', current: q('2 A'), time: q('5 h') }],
  };

  it('50 Ah above the floor and 10 Ah a day: five days; the sun lengthens them', () => {
    expect(unwrap(batteryDays(base))).toMatchObject({ drawADay: q('10 Ah'), solarADay: q('0 Ah'), days: q('5 d') });
    // 60 W · 1 h · 100 % / 12 V = 5 Ah: ten days. At the 70 % of a flat roof 3.5 Ah: 50/6.5.
    const sun = { panel: q('60 W'), sunHours: q('1 h') };
    const full = unwrap(batteryDays({ ...base, ...sun, derate: q('100 %') }));
    expect(full.days!.value).toBeCloseTo(10, 9);
    expect(full.assumed).toEqual([]);
    const flat = unwrap(batteryDays({ ...base, ...sun }));
    expect(flat.solarADay.value).toBeCloseTo(3.5, 9);
    expect(flat.days!.value).toBeCloseTo(50 / 6.5, 9);
    expect(flat.assumed).toHaveLength(1);
    expect(flat.limitedBy).toMatch(/floor/);
    expect(flat.cautions.join()).toContain('breakaway');
  });

  it('has no end where the sun gives what is drawn; needs both the panel and its sun', () => {
    const even = unwrap(batteryDays({ ...base, panel: q('120 W'), sunHours: q('1 h'), derate: q('100 %') }));
    expect(even.days).toBeNull();
    expect(even.limitedBy).toMatch(/nothing/);
    expect(even.daysWithoutSun).toEqual(q('5 d'));
    expect(refused(batteryDays({ ...base, panel: q('500 W') }))).toBe('power.sun at sunHours');
    expect(refused(batteryDays({ ...base, sunHours: q('5 h') }))).toBe('power.sun at panel');
  });

  it('counts no further than a year, and nothing drawn has no end', () => {
    const little = { what: 'clock', current: q('0.01 A'), time: q('1 h') };
    expect(unwrap(batteryDays({ ...base, loads: [little] })).days).toEqual(q('365 d'));
    expect(unwrap(batteryDays({ ...base, loads: [] }))).toMatchObject({ days: null, daysWithoutSun: null });
  });

  it('cautions what lies under half, and the sun one hopes for', () => {
    const sun = { panel: q('60 W'), sunHours: q('1 h') };
    expect(unwrap(batteryDays(base)).cautions).toHaveLength(1);
    expect(unwrap(batteryDays({ ...base, ...sun })).cautions[0]).toContain('days without sun');
    expect(unwrap(batteryDays({ ...base, floor: q('49 %') })).cautions[0]).toContain('below half');
  });

  it('at or under the floor nothing is left', () => {
    expect(unwrap(batteryDays({ ...base, stateOfCharge: q('50 %') })).days!.value).toBe(0);
    expect(unwrap(batteryDays({ ...base, stateOfCharge: q('0 %'), floor: q('100 %') })).days!.value).toBe(0);
    expect(unwrap(batteryDays({ ...base, floor: q('0 %') })).days!.value).toBeCloseTo(10, 9);
  });

  it('refuses charges beyond 0 to 100 %, loads below nothing and days over 24 h', () => {
    expect(refused(batteryDays({ ...base, stateOfCharge: q('-1 %') }))).toBe('power.charge at stateOfCharge');
    expect(refused(batteryDays({ ...base, stateOfCharge: q('101 %') }))).toBe('power.charge at stateOfCharge');
    expect(refused(batteryDays({ ...base, floor: q('-1 %') }))).toBe('power.charge at floor');
    expect(refused(batteryDays({ ...base, floor: q('101 %') }))).toBe('power.charge at floor');
    const and = (current: string, time: string) =>
      batteryDays({ ...base, loads: [...base.loads, { what: 'fan', current: q(current), time: q(time) }] });
    expect(and('0 A', '24 h').ok).toBe(true);
    expect(and('1 A', '0 h').ok).toBe(true);
    expect(refused(and('-1 A', '1 h'))).toBe('power.load at loads.1');
    expect(refused(and('1 A', '-1 h'))).toBe('power.load at loads.1');
    expect(refused(and('1 A', '24.1 h'))).toBe('power.load at loads.1');
  });
});

describe('the breakaway battery (49 CFR 393.43(d): 15 minutes)', () => {
  const base = { brakes: 4, currentEach: q('3 A'), capacity: q('5 Ah'), stateOfCharge: q('100 %') };

  it('4 Ah left of 5 give 12 A for 11 minutes by Peukert at 1.15: not enough (IEEE 1188: worn at 80 %, from memory)', () => {
    // 20·(4/(12·20))^1.15 h = 20·0.016667^1.15 = 20·0.0090184 = 0.18037 h.
    const small = unwrap(breakaway(base));
    expect(small.time.value).toBeCloseTo(10.82, 2);
    expect(small.time.unit).toBe('min');
    expect(small.available.value).toBeCloseTo(2.1644, 3);
    expect(small).toMatchObject({ current: q('12 A'), charge: q('3 Ah'), holds: false });
    expect(small.cautions.join()).toContain('pull the pin');
    expect(small.cautions.join()).toContain('does not hold the brakes');
    const half = unwrap(breakaway({ ...base, stateOfCharge: q('50 %') }));
    expect(half.time.value).toBeCloseTo(small.time.value / 2, 9);
  });

  it('never more than what is left of the nameplate; fifteen minutes are enough', () => {
    // 9.6 of 12 Ah at 0.1 A: 96 h.
    const tiny = { ...base, brakes: 1, currentEach: q('0.1 A'), capacity: q('12 Ah') };
    expect(unwrap(breakaway(tiny)).time.value).toBeCloseTo(96 * 60, 6);
    expect(unwrap(breakaway(tiny)).available.value).toBeCloseTo(9.6, 9);
    expect(unwrap(breakaway(tiny)).cautions).toHaveLength(2);
    expect(unwrap(breakaway({ ...tiny, stateOfCharge: quantity(0.00261, 'ratio') })).holds).toBe(true);
    expect(unwrap(breakaway({ ...tiny, stateOfCharge: quantity(0.0026, 'ratio') })).holds).toBe(false);
    expect(unwrap(breakaway({ ...base, stateOfCharge: q('0 %') }))).toMatchObject({ holds: false, time: q('0 min') });
  });

  it('refuses what is not a battery or not a number of brakes', () => {
    expect(refused(breakaway({ ...base, brakes: 0 }))).toBe('power.brakes at brakes');
    expect(refused(breakaway({ ...base, brakes: 1.5 }))).toBe('power.brakes at brakes');
    expect(refused(breakaway({ ...base, currentEach: q('0 A') }))).toBe('power.battery at currentEach');
    expect(refused(breakaway({ ...base, capacity: q('0 Ah') }))).toBe('power.battery at capacity');
    expect(refused(breakaway({ ...base, stateOfCharge: q('-1 %') }))).toBe('power.battery at stateOfCharge');
    expect(refused(breakaway({ ...base, stateOfCharge: q('101 %') }))).toBe('power.battery at stateOfCharge');
  });
});

describe('an outlet', () => {
  const heater = { what: 'heater', power: q('1,200 W'), continuous: true };
  const lamp = { what: 'lamp', power: q('300 W'), continuous: false };
  const on = (volts: string, loads: Parameters<typeof outletBudget>[0]['loads'], breaker = '15 A') =>
    outletBudget({ breaker: q(breaker), voltage: q(volts), loads });

  it('10 A for hours count as 12.5, and 2.5 A more fill a 15 A breaker (NEC 210.20(A))', () => {
    const both = unwrap(on('120 V', [heater, lamp]));
    expect(both).toMatchObject({ power: q('1,500 W'), current: q('12.5 A'), continuousMax: q('12 A'), holds: true });
    expect(both.margin.value).toBeCloseTo(0, 9);
    expect(both.limitedBy).toContain('80 %');
    expect(unwrap(on('120 V', [heater, lamp, { ...lamp, power: q('1 W') }])).holds).toBe(false);
    expect(unwrap(on('120 V', [lamp])).margin.value).toBeCloseTo(12.5, 9);
    expect(unwrap(on('120 V', [lamp])).limitedBy).not.toContain('80 %');
    expect(unwrap(on('120 V', [])).margin.value).toBe(15);
  });

  it('low voltage is cautioned, and a larger breaker on the same wire always', () => {
    expect(unwrap(on('100 V', [lamp])).cautions[0]).toContain('Low voltage');
    expect(unwrap(on('120 V', [lamp])).cautions).toHaveLength(1);
    expect(unwrap(on('120 V', [lamp])).cautions[0]).toContain('never a larger one');
    expect(refused(on('120 V', [lamp], '0 A'))).toBe('power.outlet at breaker');
    expect(refused(on('300 V', [lamp]))).toBe('power.outlet at voltage');
    expect(refused(on('12 V', [lamp]))).toBe('power.outlet at voltage');
  });
});

describe('a motor starting (locked-rotor code letters in kVA a horsepower, from memory)', () => {
  const start = (horsepower: string, code: string, volts = '120 V') =>
    motorStart({ horsepower, code, voltage: q(volts) });

  it('kVA a horsepower, times horsepower, over volts: 3/4 hp of code G 39.3 A, 2 hp of code J 133.2 A', () => {
    for (const [horsepower, code, amps, watts] of [
      ['3/4', 'G', 39.31, 4717.5],
      ['2 hp', 'J', 133.17, 15_980],
      ['1 1/2 HP', ' k ', 112.38, 13_485],
      ['1-1/2', 'L', 124.88, 14_985],
      ['1/2', 'H', 29.54, 3545],
    ] as const) {
      const started = unwrap(start(horsepower, code));
      expect(started.currentStart.value).toBeCloseTo(amps, 2);
      expect(started.powerStart.value).toBeCloseTo(watts, 6);
    }
    expect(unwrap(start('1/2', 'H')).currentFull).toEqual(q('9.8 A'));
    expect(unwrap(start('1/2', 'H')).cautions.join()).toContain('Highest value');
    // A loaded motor keeps its power: 9.8 A of 115 V are 11.27 A of 100 V.
    expect(unwrap(start('1/2', 'H', '100 V')).currentFull.value).toBeCloseTo(11.27, 9);
    expect(unwrap(start('1/2', 'H', '100 V')).currentStart.value).toBeCloseTo(35.45, 2);
  });

  it('starts on a source of just its kVA, and not on less', () => {
    const on = (source: string) =>
      unwrap(motorStart({ horsepower: '1/2', code: 'H', voltage: q('120 V'), source: q(source) }));
    expect(on('3,545 W').starts).toBe(true);
    expect(on('3,544 W').starts).toBe(false);
    expect(on('3,544 W').cautions[0]).toContain('will not start');
    expect(on('3,545 W').cautions).toHaveLength(1);
    expect(unwrap(start('1/2', 'H')).starts).toBeNull();
  });

  it('refuses a size or a letter outside the tables, and no voltage', () => {
    expect(refused(start('7', 'H'))).toBe('power.motor at horsepower');
    expect(refused(start('1', 'A'))).toBe('power.motor-code at code');
    for (const volts of ['0 V', '79 V', '141 V'])
      expect(refused(start('1', 'H', volts))).toBe('power.voltage at voltage');
    for (const volts of ['80 V', '140 V']) expect(start('1', 'H', volts).ok).toBe(true);
    expect(JSON.stringify(start('7', 'H'))).toContain('1/6, 1/4');
    expect(JSON.stringify(start('1', 'A'))).toContain('G, H, J, K, L');
  });
});
