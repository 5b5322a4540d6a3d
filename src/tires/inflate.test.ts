import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { freeAirDelivery, inflate } from './inflate.ts';

describe('inflate', () => {
  it('tells time, and which limit of the outlet fails', () => {
    const base = { volume: q('2.3 ft³'), from: q('50 psi'), to: q('65 psi'), delivery: q('1.5 cfm') };
    const plain = unwrap(inflate(base));
    expect(plain.time.value).toBeCloseTo(1.565, 3);
    expect(plain.outletHolds).toBeNull();
    expect(unwrap(inflate({ ...base, tires: 4 })).time.value).toBeCloseTo(4 * plain.time.value, 9);
    const outlet = { ...base, powerRunning: q('1,840 W'), powerStarting: q('9 kW') };
    expect(unwrap(inflate({ ...outlet, outletContinuous: q('400 W') })).limitedBy).toContain('continuous');
    expect(unwrap(inflate({ ...outlet, outletContinuous: q('2 kW') })).limitedBy).toContain('starting');
    expect(unwrap(inflate({ ...outlet, outletContinuous: q('2 kW'), outletStarting: q('10 kW') })).outletHolds).toBe(
      true,
    );
    expect(codeOf(inflate({ ...base, to: q('40 psi') }))).toBe('inflate.pressures');
    expect(codeOf(inflate({ ...base, delivery: q('0 cfm') }))).toBe('inflate.delivery');
    expect(codeOf(freeAirDelivery({ receiver: q('6 gal'), from: q('10 psi'), to: q('5 psi'), time: q('3 min') }))).toBe(
      'inflate.pump-up',
    );
  });

  const base = { volume: q('2.3 ft³'), from: q('50 psi'), to: q('65 psi'), delivery: q('1.5 cfm') };

  it('refuses a running power below the ideal work of compression (thermodynamics)', () => {
    // 220.23 kJ for a cubic meter of free air to 65 psi (adiabatic), 1.5 ft³ a minute of it: 156 W with no loss.
    const ideal = (220.23e3 * 1.5 * 0.3048 ** 3) / 60;
    expect(unwrap(inflate(base)).powerIdeal.value).toBeCloseTo(ideal, 1);
    expect(codeOf(inflate({ ...base, powerRunning: q('155 W') }))).toBe('inflate.power-impossible');
    expect(codeOf(inflate({ ...base, powerRunning: q('157 W') }))).toBe('ok');
    expect(codeOf(inflate({ ...base, powerStarting: q('155 W') }))).toBe('inflate.power-impossible');
    expect(codeOf(inflate({ ...base, powerRunning: q('300 W'), powerStarting: q('299 W') }))).toBe(
      'inflate.power-impossible',
    );
    expect(codeOf(inflate({ ...base, outletContinuous: q('400 W'), outletStarting: q('399 W') }))).toBe(
      'inflate.power-impossible',
    );
    for (const name of ['powerRunning', 'powerStarting', 'outletContinuous', 'outletStarting'])
      expect(codeOf(inflate({ ...base, [name]: q('0 W') })), name).toBe('inflate.power');
  });

  it('says what the outlet cannot, may not, or does hold', () => {
    const holds = (more: object) => unwrap(inflate({ ...base, ...more }));
    expect(holds({ outletContinuous: q('150 W') })).toMatchObject({ outletHolds: false });
    expect(holds({ outletContinuous: q('160 W') })).toMatchObject({ outletHolds: null });
    const known = { powerRunning: q('300 W'), powerStarting: q('900 W') };
    expect(holds({ ...known, outletContinuous: q('400 W') })).toMatchObject({ outletHolds: false });
    expect(holds({ ...known, outletContinuous: q('299 W'), outletStarting: q('900 W') }).outletHolds).toBe(false);
    expect(holds({ ...known, outletContinuous: q('300 W'), outletStarting: q('900 W') }).outletHolds).toBe(true);
    expect(holds({ ...known, outletContinuous: q('300 W'), outletStarting: q('899 W') }).outletHolds).toBe(false);
    expect(holds({ powerRunning: q('300 W'), outletContinuous: q('300 W') }).outletHolds).toBeNull();
    expect(holds({}).outletHolds).toBeNull();
  });

  it('counts the rests of a duty cycle', () => {
    // Four flat tires at 1.5 ft³/min: 27.13 min running. Half of the time on: at least as long again at rest.
    const flat = { ...base, from: q('0 psi'), tires: 4 };
    const rests = (more: object) => unwrap(inflate({ ...flat, ...more }));
    expect(rests({}).time.value).toBeCloseTo(27.13, 2);
    expect(rests({}).timeWithRests).toBeNull();
    expect(rests({}).cautions.join()).toContain('duty cycle');
    expect(rests({ dutyCycle: q('50 %') }).timeWithRests!.value).toBeCloseTo(54.26, 1);
    // Ten minutes at a time, three runs: two rests of ten minutes between them.
    const ten = rests({ dutyCycle: q('50 %'), runMax: q('10 min') });
    expect(ten.timeWithRests!.value).toBeCloseTo(47.13, 2);
    expect(ten.limitedBy).toBe('the compressor’s duty cycle');
    expect(rests({ dutyCycle: q('25 %'), runMax: q('10 min') }).timeWithRests!.value).toBeCloseTo(87.13, 2);
    expect(rests({ runMax: q('30 min') }).timeWithRests!.value).toBeCloseTo(27.13, 2);
    expect(rests({ runMax: q('10 min') }).timeWithRests).toBeNull();
    expect(rests({ dutyCycle: q('100 %') }).timeWithRests!.value).toBeCloseTo(27.13, 2);
    expect(rests({ dutyCycle: q('100 %') }).cautions.join()).toContain('hot enough to burn');
    expect(unwrap(inflate({ ...base, dutyCycle: q('100 %') })).cautions.join()).not.toContain('hot enough to burn');
    expect(codeOf(inflate({ ...flat, dutyCycle: q('0 %') }))).toBe('quantity.out-of-range');
  });

  it('warns of a tire that may have run flat (a trailer maker’s handbook: 20 % low), and stays under the maximum', () => {
    const cautions = (from: string) => unwrap(inflate({ ...base, from: q(from) })).cautions.join();
    expect(cautions('51.9 psi')).toContain('off the rim first');
    expect(cautions('52.1 psi')).not.toContain('off the rim first');
    expect(codeOf(inflate({ ...base, pressureMax: q('64 psi') }))).toBe('inflate.above-max');
    expect(codeOf(inflate({ ...base, pressureMax: q('65 psi') }))).toBe('ok');
    expect(unwrap(inflate({ ...base, pressureMax: q('65 psi') })).assumed.join()).not.toContain('pressureMax');
    expect(unwrap(inflate(base)).assumed.join()).toContain('pressureMax');
    for (const [name, value] of [
      ['volume', '0.01 ft³'],
      ['delivery', '0.01 cfm'],
      ['runMax', '0 s'],
      ['from', '-1 psi'],
      ['to', '1e308 psi'],
      ['volume', '1e308 ft³'],
      ['delivery', '1e-300 cfm'],
    ] as const)
      expect(codeOf(inflate({ ...base, [name]: q(value) })), `${name} ${value}`).not.toBe('ok');
  });

  it('takes no test of a compressor too short to tell anything', () => {
    const test = (to: string, time: string) =>
      freeAirDelivery({ receiver: q('6 gal'), from: q('0 psi'), to: q(to), time: q(time) });
    expect(codeOf(test('100 psi', '3 min'))).toBe('ok');
    expect(codeOf(test('19 psi', '3 min'))).toBe('inflate.pump-up');
    expect(codeOf(test('20 psi', '10 s'))).toBe('ok');
    expect(codeOf(test('100 psi', '9 s'))).toBe('inflate.pump-up');
    expect(codeOf(test('1e308 psi', '3 min'))).toBe('quantity.out-of-range');
  });
});
