/** Brakes and wheel nuts against makers' manuals and the regulation. */

import { describe, expect, it } from 'vitest';
import {
  brakeCurrent,
  type DrumSize,
  STOPPING_RULE,
  stopping,
  wheelTorque,
  wheelTorques,
} from '../../src/brakes/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../../src/quantity/index.ts';
import { type Row, table } from '../support/table.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const rows = table('brake-amps');
const sizeOf = (row: Row): DrumSize =>
  row.brake_size!.startsWith('7') ? '7 in' : row.brake_size!.startsWith('12') ? '12 in' : '10 in';

describe('electric brakes', () => {
  const system = rows.filter((row) => row.meaning!.startsWith('system'));
  it.each(
    system.map(
      (row) =>
        [
          row.brake_size!,
          row.brakes!,
          row.source!.includes('MEMORY') ? 'from memory' : 'an axle maker’s values as relayed by a trailer maker',
          row,
        ] as const,
    ),
  )('%s, %s brakes: full application (%s)', (_s, _n, _source, row) => {
    expect(unwrap(brakeCurrent({ brakes: Number(row.brakes), size: sizeOf(row) })).expected.high.value).toBeCloseTo(
      Number(row.amps_high),
      9,
    );
  });

  it('two healthy brakes draw 5.5 to 6.0 A together (a light-tower maker’s manual, 2016)', () => {
    const row = rows.find((one) => one.meaning!.startsWith('measured total'))!;
    const { expected } = unwrap(brakeCurrent({ brakes: 2, size: '10 in' }));
    expect([expected.low.value, expected.high.value]).toEqual([Number(row.amps_low), Number(row.amps_high)]);
  });

  describe('a parts seller’s maxima: brakes · volts / ohms', () => {
    const maxima = rows.filter((row) => row.meaning!.startsWith('magnet') && row.volts === '12-13');
    const ask = (row: Row, volts: number, amperes: string) =>
      unwrap(
        brakeCurrent({
          brakes: Number(row.brakes),
          size: sizeOf(row),
          voltage: quantity(volts, 'V'),
          current: quantity(Number(amperes), 'A'),
        }),
      );

    it.each(maxima.map((row) => [row.brake_size!, row.brakes!, row] as const))(
      '%s, %s brakes at 12 and 13 V',
      (_s, _n, row) => {
        // The sheet pairs its lower resistance with both voltages, and rounds.
        expect(Math.abs(ask(row, 12, row.amps_low!).most.value - Number(row.amps_low))).toBeLessThanOrEqual(0.11);
        expect(Math.abs(ask(row, 13, row.amps_high!).most.value - Number(row.amps_high))).toBeLessThanOrEqual(0.16);
      },
    );

    it('the two families are kept apart: the maximum lies above the service value', () => {
      for (const row of maxima) {
        const { expected, most } = ask(row, 13, row.amps_high!);
        expect(expected.high.value).toBeLessThan(most.value);
      }
    });

    it('three sound cold magnets of four read as much as four in service: a total proves nothing', () => {
      for (const row of maxima.filter((one) => one.brakes === '4')) {
        // Three quarters of the published maximum of four.
        const three = (0.75 * Number(row.amps_low)).toFixed(3);
        expect(ask(row, 12, three).verdict).not.toBe('in-service');
        const high = (0.75 * Number(row.amps_high)).toFixed(3);
        expect(ask(row, 13, high).verdict).not.toBe('in-service');
        expect(
          unwrap(brakeCurrent({ brakes: 4, size: sizeOf(row), current: quantity(Number(three), 'A') })).verdict,
        ).not.toBe('in-service');
      }
    });
  });
});

describe('stopping (49 CFR 393.52(d); 67 Pa. Code 175 table I)', () => {
  it('force, deceleration and distances from 20 mph', () => {
    expect(STOPPING_RULE).toEqual({
      'passenger-car': [65.2, 21, 20, 54],
      'truck-to-10000-lb': [52.8, 17, 25, 66],
      'tow-vehicle-with-trailer-to-3000-lb': [43.5, 14, 35, 85],
      'other-combination': [43.5, 14, 40, 90],
    });
  });

  it('its deceleration column is its force column: 43.5 % of gravity is 14 ft/s² (physics)', () => {
    for (const [force, deceleration] of Object.values(STOPPING_RULE))
      expect((force / 100) * 32.174).toBeCloseTo(deceleration, 0);
  });
});

describe('wheel nuts (every row of the makers’ charts)', () => {
  const charts = table('lug-torque');
  it('is held as published', () => {
    expect(wheelTorques).toHaveLength(charts.length);
    for (const [i, row] of charts.entries()) {
      const own = wheelTorques[i]!;
      expect(own.wheel).toBe(row.wheel_or_axle);
      expect(own.final[0] === own.final[1] ? String(own.final[0]) : own.final.join('-')).toBe(row.final);
      expect(own.stages.map((stage) => stage.join('-'))).toEqual(
        [row.stage1, row.stage2].filter((cell) => cell !== ''),
      );
      expect(own.unit).toBe(row.unit === 'Nm' ? 'N-m' : row.unit);
    }
  });

  it('1/2 in studs on 14 to 16 in wheels: 90 to 120 lb-ft, again after 10, 25 and 50 miles (axle and trailer makers agree)', () => {
    for (const diameter of [14, 15, 16]) {
      const torque = unwrap(wheelTorque({ stud: '1/2', wheelDiameter: quantity(diameter, 'in') }));
      expect(torque.final).toEqual({ low: q('90 lb-ft'), high: q('120 lb-ft') });
      expect(torque.followUps.map((mile) => mile.value)).toEqual([10, 25, 50]);
    }
  });

  it('one travel trailer maker’s 110 lb-ft (aluminium) and 100 (steel) lie inside the charts', () => {
    const { final } = unwrap(wheelTorque({ stud: '1/2', wheelDiameter: q('15 in') }));
    for (const own of [100, 110]) {
      expect(own).toBeGreaterThanOrEqual(final.low.value);
      expect(own).toBeLessThanOrEqual(final.high.value);
    }
  });

  it('caravan makers differ for steel (88 and 120 N·m): no answer but the handbook', () => {
    const torque = wheelTorque({ stud: 'M12', material: 'steel' });
    expect(torque.ok ? '' : torque.problems[0]!.code).toBe('brakes.torque-differs');
  });
});

describe('our own arithmetic, not an outside check: brakes', () => {
  it('20 mph at 14 ft/s² takes 30.7 ft, at 17 ft/s² 25.3 ft', () => {
    expect(unwrap(stopping({ kind: 'other-combination', speed: q('20 mph') })).distance.value).toBeCloseTo(30.7, 1);
    expect(unwrap(stopping({ kind: 'truck-to-10000-lb', speed: q('20 mph') })).distance.value).toBeCloseTo(25.3, 1);
  });
});
