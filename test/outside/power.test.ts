/** Power against battery makers' tables, NEC tables, a published Peukert example. */

import { describe, expect, it } from 'vitest';
import {
  AMPACITY,
  batteryDays,
  breakaway,
  FREEZING,
  LOW_VOLTAGE_CEILING,
  MOTOR_FULL_LOAD,
  motorStart,
  ohmsAt,
  outletBudget,
  peukert,
  socByGravity,
  socByVoltage,
  solarDay,
  wireDrop,
  wireGauge,
  wireOf,
  wires,
} from '../../src/power/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../../src/quantity/index.ts';
import { table } from '../support/table.ts';

/** A run at which the tables count in full. */
const FREE = { laying: 'open', ambient: quantity(30, 'degC'), continuous: true } as const;

const q = (text: string): Quantity => unwrap(parseQuantity(text));

describe('state of charge (a battery maker’s table; lithium: a web chart without a standard, low confidence)', () => {
  it.each(table('soc-voltage').map((row) => [row.chemistry!, row.rest_volts!, row] as const))(
    '%s at %s V',
    (chemistry, _v, row) => {
      const soc = unwrap(
        socByVoltage({
          voltage: quantity(Number(row.rest_volts), 'V'),
          chemistry: chemistry.startsWith('flooded') ? 'flooded' : 'lifepo4',
          rest: q('24 h'),
        }),
      );
      expect(soc.stateOfCharge.value).toBeCloseTo(Number(row.soc_percent), 9);
    },
  );

  it('specific gravity of the same table, and the hydrometer correction (0 °F −0.032, 40 °F −0.016, 120 °F +0.016)', () => {
    for (const row of table('soc-voltage').filter((one) => one.specific_gravity !== '')) {
      expect(
        unwrap(socByGravity({ gravity: Number(row.specific_gravity), temperature: q('80 °F') })).stateOfCharge.value,
      ).toBeCloseTo(Number(row.soc_percent), 9);
    }
    for (const [fahrenheit, change] of [
      [0, -0.032],
      [40, -0.016],
      [120, 0.016],
    ] as const) {
      expect(
        unwrap(socByGravity({ gravity: 1.2, temperature: quantity(fahrenheit, 'degF') })).gravityCorrected,
      ).toBeCloseTo(1.2 + change, 9);
    }
  });

  it('freezing points (a vehicle maker’s chart, a US Army manual): where they differ by a degree, the warmer', () => {
    for (const row of table('battery-freeze')) {
      const seen = [row.freeze_F_source1, row.freeze_F_source2].filter((cell) => cell !== '').map(Number);
      expect(FREEZING.find(([gravity]) => gravity === Number(row.specific_gravity))![1]).toBe(Math.max(...seen));
    }
  });
});

describe('Peukert', () => {
  it('one-ampere form, published: 100 Ah, k 1.2, 5 A lasts 14.5 h', () => {
    expect(
      unwrap(peukert({ capacity: q('100 Ah'), current: q('5 A'), exponent: 1.2, form: 'one-ampere' })).time.value,
    ).toBeCloseTo(14.5, 1);
  });
});

describe('wire (NEC chapter 9 table 8; three copies agree)', () => {
  it.each(table('awg-resistance').map((row) => [row.awg!, row] as const))('%s AWG', (gauge, row) => {
    const wire = unwrap(wireOf(gauge));
    expect(wire.circularMils).toBe(Number(row.circular_mils));
    expect(wire.ohmsStranded).toBe(Number(row.ohm_per_kft_stranded_uncoated_cu_75C));
    if (row.ohm_per_kft_solid_uncoated_cu_75C !== '')
      expect(wire.ohmsSolid).toBe(Number(row.ohm_per_kft_solid_uncoated_cu_75C));
    // From memory: fuse ceilings of NEC 551.10(E)(1).
    const ceiling = row.low_voltage_ampacity_A_memory;
    expect(LOW_VOLTAGE_CEILING[gauge]).toBe(ceiling === '' ? undefined : Number(ceiling));
    // Our own arithmetic: the column at 20 °C.
    expect(ohmsAt(wire, 20)).toBeCloseTo(Number(row.ohm_per_kft_stranded_20C_computed), 4);
  });

  it('holds every wire of the table', () => expect(wires).toHaveLength(table('awg-resistance').length));

  it('copper itself: resistance times area is the same for every gauge (12.9 Ω·cmil/ft, handbook constant K)', () => {
    for (const wire of wires) expect((wire.ohmsStranded * wire.circularMils) / 1000).toBeCloseTo(12.9, 0);
  });
});

describe('what wire may carry', () => {
  const published = table('wire-ampacity');
  const ratings = [
    ['60', 'a60'],
    ['75', 'a75'],
    ['90', 'a90'],
    ['105', 'a105'],
  ] as const;

  it('every row of NEC 310.16 and 33 CFR 183.425: never more, and the least of the editions to the ampere', () => {
    for (const laying of ['enclosed', 'open'] as const) {
      for (const wire of wires) {
        const rows = published.filter((row) => row.laying === laying && row.awg === wire.gauge);
        for (const [insulation, column] of ratings) {
          const figures = rows.map((row) => row[column]!).filter((cell) => cell !== '');
          if (figures.length === 0) continue;
          expect(AMPACITY[laying][wire.gauge]![insulation], `${laying} ${wire.gauge} ${insulation}`).toBe(
            Math.min(...figures.map(Number)),
          );
        }
      }
    }
  });

  it('240.4(D): 14, 12 and 10 AWG are fused for 15, 20 and 30 A at most', () => {
    for (const [gauge, most] of [
      ['14', 15],
      ['12', 20],
      ['10', 30],
    ] as const) {
      const drop = unwrap(
        wireDrop({ ...FREE, gauge, current: q('1 A'), length: q('1 ft'), insulation: '105', together: 2 }),
      );
      expect(drop.fuseMax).toEqual(quantity(most, 'A'));
    }
  });

  it('heat: NEC 310.15(B)(1) for 90 °C (public copy), 0.85 at 50 °C for 105 °C (33 CFR 183.425 as a wire maker prints it)', () => {
    const column = [
      [30, 1],
      [35, 0.96],
      [40, 0.91],
      [45, 0.87],
      [50, 0.82],
      [55, 0.76],
      [60, 0.71],
      [65, 0.65],
      [70, 0.58],
      [75, 0.5],
      [80, 0.41],
      [85, 0.29],
    ] as const;
    const carried = (insulation: '90' | '105', celsius: number) =>
      unwrap(
        wireDrop({
          ...FREE,
          gauge: '4/0',
          current: q('1 A'),
          length: q('1 ft'),
          insulation,
          together: 2,
          ambient: quantity(celsius, 'degC'),
        }),
      ).ampacity.value;
    for (const [celsius, share] of column) expect(carried('90', celsius)).toBeCloseTo(385 * share, 9);
    // A wire maker prints 378 A for 4/0 and 280 A for 2/0 inside engine spaces.
    expect(Math.floor(carried('105', 50))).toBe(378);
  });

  it('bundles: NEC 310.15(C)(1) enclosed (public copy); a wire maker’s table in the open', () => {
    const carried = (laying: 'enclosed' | 'open', together: number) =>
      unwrap(
        wireDrop({
          ...FREE,
          laying,
          gauge: '4/0',
          current: q('1 A'),
          length: q('1 ft'),
          insulation: '90',
          together,
        }),
      ).ampacity.value;
    for (const [together, share] of [
      [2, 1],
      [3, 0.7],
      [6, 0.6],
      [7, 0.5],
      [24, 0.5],
      [25, 0.4],
    ] as const)
      expect(carried('open', together)).toBeCloseTo(385 * share, 9);
    for (const [together, share] of [
      [3, 1],
      [4, 0.8],
      [6, 0.8],
      [7, 0.7],
      [10, 0.5],
      [20, 0.5],
      [21, 0.45],
      [31, 0.4],
      [41, 0.35],
    ] as const)
      expect(carried('enclosed', together)).toBeLessThanOrEqual(260 * share + 1e-9);
    expect(carried('enclosed', 5)).toBeCloseTo(208, 9);
  });

  it('inverter makers’ manuals: 2,000 W asks for 2/0 or more; 3,000 W for 4/0 or more', () => {
    const gauge = (power: string) =>
      wireGauge({
        ...FREE,
        inverterPower: q(power),
        length: q('5 ft'),
        dropMax: q('3 %'),
        insulation: '105',
        together: 2,
      });
    const gauges = wires.map((wire) => wire.gauge);
    expect(gauges.indexOf(unwrap(gauge('2,000 W')).gauge)).toBeGreaterThanOrEqual(gauges.indexOf('2/0'));
    // Its fuse would be 420 A: beyond the largest of the list.
    expect(gauge('3,000 W').ok).toBe(false);
  });
});

describe('motors (NEC table 430.248, four copies agree)', () => {
  it('full-load amperes at 115 V', () => {
    expect(MOTOR_FULL_LOAD).toEqual({
      '1/6': 4.4,
      '1/4': 5.8,
      '1/3': 7.2,
      '1/2': 9.8,
      '3/4': 13.8,
      '1': 16,
      '1 1/2': 20,
      '2': 24,
      '3': 34,
    });
  });
});

describe('breakaway (49 CFR 393.43(d): 15 minutes; an axle maker’s table: 3 A a brake, 2.5 A for 7 in)', () => {
  it('2, 4 and 6 brakes draw 6, 12 and 18 A', () => {
    for (const brakes of [2, 4, 6]) {
      expect(
        unwrap(breakaway({ brakes, currentEach: q('3 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') })).current
          .value,
      ).toBe(3 * brakes);
      expect(
        unwrap(breakaway({ brakes, currentEach: q('2.5 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') })).current
          .value,
      ).toBe(2.5 * brakes);
    }
  });
});

describe('our own arithmetic, not an outside check: power', () => {
  it.each([
    [12.55, 87.5],
    [12.345, 62.5],
    [12.15, 37.5],
    [11.975, 12.5],
  ])('%d V is %d %%', (volts, percent) => {
    expect(
      unwrap(socByVoltage({ voltage: quantity(volts, 'V'), chemistry: 'flooded', rest: q('24 h') })).stateOfCharge
        .value,
    ).toBeCloseTo(percent, 9);
  });

  it.each([
    [100, 20, 1.2, 5, 20, 100],
    [100, 20, 1.2, 10, 8.705506, 87.0551],
    [100, 20, 1.2, 20, 3.789291, 75.7858],
    [225, 20, 1.25, 25, 7.371326, 184.2832],
    [100, 20, 1.05, 20, 4.665165, 93.3033],
    [100, 20, 1, 7, 14.285714, 100],
  ])('Peukert, rated: %d Ah at %d h, k %d, %d A', (capacity, hours, exponent, current, time, charge) => {
    const life = unwrap(
      peukert({
        capacity: quantity(capacity, 'Ah'),
        ratedTime: quantity(hours, 'h'),
        exponent,
        current: quantity(current, 'A'),
      }),
    );
    expect(life.time.value).toBeCloseTo(time, 5);
    expect(life.charge.value).toBeCloseTo(charge, 3);
  });

  it.each([
    [20, 25, '10', 1.24, 10.333, 24.8],
    [20, 25, '6', 0.491, 4.092, 9.82],
    [12, 20, '14', 1.5072, 12.56, 18.09],
    [50, 10, '4', 0.308, 2.567, 15.4],
    [6, 30, '16', 1.7964, 14.97, 10.78],
    [200, 6, '4/0', 0.14592, 1.216, 29.18],
    [12, 30, '12', 1.4256, 11.88, 17.11],
  ])('%d A over %d ft of %s AWG', (amps, feet, gauge, volts, percent, watts) => {
    const drop = unwrap(wireDrop({ current: quantity(amps, 'A'), length: quantity(feet, 'ft'), gauge }));
    expect(drop.drop.value).toBeCloseTo(volts, 5);
    expect(drop.share.value).toBeCloseTo(percent, 2);
    expect(drop.loss.value).toBeCloseTo(watts, 1);
  });

  it('motors starting, loads at 80 %, sun, breakaway', () => {
    const start = (horsepower: string, code: string) =>
      unwrap(motorStart({ horsepower, code, voltage: q('120 V') })).currentStart.value;
    expect(
      [start('1/3', 'G'), start('1/2', 'H'), start('1', 'H'), start('1', 'K'), start('1 1/2', 'G')].map((amps) =>
        Number(amps.toFixed(2)),
      ),
    ).toEqual([17.47, 29.54, 59.08, 74.92, 78.63]);
    for (const [breaker, continuous] of [
      [15, 12],
      [20, 16],
      [30, 24],
      [50, 40],
    ] as const) {
      expect(
        unwrap(outletBudget({ breaker: quantity(breaker, 'A'), voltage: q('120 V'), loads: [] })).continuousMax.value,
      ).toBe(continuous);
    }
    expect(solarDay(q('200 W'), q('5 h'), q('75 %'))).toEqual(q('750 Wh'));
    expect(solarDay(q('400 W'), q('4.2 h'), q('85.92 %')).value).toBeCloseTo(1443.5, 1);
    expect(
      unwrap(
        batteryDays({
          capacity: q('100 Ah'),
          stateOfCharge: q('100 %'),
          floor: q('50 %'),
          loads: [],
          panel: q('200 W'),
          sunHours: q('5 h'),
          derate: q('75 %'),
        }),
      ).solarADay.value,
    ).toBeCloseTo(62.5, 9);
    expect(
      unwrap(breakaway({ brakes: 4, currentEach: q('3 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') })).charge
        .value,
    ).toBe(3);
    expect(
      unwrap(breakaway({ brakes: 6, currentEach: q('3 A'), capacity: q('12 Ah'), stateOfCharge: q('100 %') })).charge
        .value,
    ).toBe(4.5);
  });
});
