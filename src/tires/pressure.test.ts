import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { convert, quantity, valueIn } from '../quantity/index.ts';
import { gaugeAt, tirePressureAt, tireSetNow } from './pressure.ts';

describe('gauge pressure in other air', () => {
  const state = (temperature: string, elevation: string) => ({ temperature: q(temperature), elevation: q(elevation) });

  it('undoes itself, whatever the units', () => {
    const air = fc.record({
      f: fc.double({ min: -40, max: 140, noNaN: true }),
      ft: fc.double({ min: 0, max: 14000, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.double({ min: 20, max: 110, noNaN: true }), air, air, (psi, a, b) => {
        const from = { temperature: quantity(a.f, 'degF'), elevation: quantity(a.ft, 'ft') };
        const to = { temperature: quantity(b.f, 'degF'), elevation: quantity(b.ft, 'ft') };
        const there = unwrap(gaugeAt(quantity(psi, 'psi'), from, to));
        const metric = unwrap(
          gaugeAt(
            convert(quantity(psi, 'psi'), 'bar'),
            { temperature: convert(from.temperature, 'degC'), elevation: convert(from.elevation, 'm') },
            { temperature: convert(to.temperature, 'K'), elevation: convert(to.elevation, 'km') },
          ),
        );
        expect(valueIn(metric, 'psi')).toBeCloseTo(there.value, 8);
        expect(there.value).toBeGreaterThan(0);
        expect(unwrap(gaugeAt(there, to, from)).value).toBeCloseTo(psi, 8);
        const hotter = unwrap(gaugeAt(quantity(psi, 'psi'), from, { ...to, temperature: quantity(b.f + 5, 'degF') }));
        const higher = unwrap(gaugeAt(quantity(psi, 'psi'), from, { ...to, elevation: quantity(b.ft + 500, 'ft') }));
        expect(hotter.value).toBeGreaterThan(there.value);
        expect(higher.value).toBeGreaterThan(there.value);
      }),
    );
  });

  it('refuses what no tire can show', () => {
    const here = state('70 °F', '0 ft');
    expect(codeOf(gaugeAt(q('-15 psi'), here, here))).toBe('tire.gauge');
    expect(codeOf(gaugeAt(q('12 psi'), { ...here, temperature: quantity(-459.67, 'degF') }, here))).toBe(
      'tire.below-absolute-zero',
    );
    expect(codeOf(gaugeAt(q('12 psi'), here, state('300 °F', '0 ft')))).toBe('tire.temperature');
    expect(codeOf(gaugeAt(q('12 psi'), here, state('70 °F', '60,000 ft')))).toBe('atmosphere.elevation');
  });

  it('says what it assumed and warns of a flat', () => {
    const cold = unwrap(tirePressureAt({ gauge: q('1 psi'), temperature: q('70 °F'), toTemperature: q('0 °F') }));
    expect(cold.gauge.value).toBeLessThan(0);
    expect(cold.cautions).toHaveLength(1);
    expect(cold.assumed).toHaveLength(2);
  });

  it('sets now what will be right there', () => {
    const set = unwrap(
      tireSetNow({
        target: q('65 psi'),
        targetTemperature: q('90 °F'),
        targetElevation: q('0 ft'),
        temperature: q('40 °F'),
        elevation: q('5,000 ft'),
      }),
    );
    const back = unwrap(
      tirePressureAt({
        gauge: set.gauge,
        temperature: q('40 °F'),
        elevation: q('5,000 ft'),
        toTemperature: q('90 °F'),
        toElevation: q('0 ft'),
      }),
    );
    expect(back.gauge.value).toBeCloseTo(65, 9);
    const wrong = tireSetNow({
      target: q('65 psi'),
      targetTemperature: q('900 °F'),
      targetElevation: q('0 ft'),
      temperature: q('40 °F'),
      elevation: q('0 ft'),
    });
    expect(wrong.ok ? '' : wrong.problems[0]!.where).toBe('targetTemperature');
  });

  it('refuses what sidewall or wheel do not hold, here or there, and says whose maximum it is', () => {
    // 65 psi at 68 °F show 66.9 psi at 80 °F (the gas law): above a 65 psi sidewall, within a 70 psi wheel.
    const set = (more: object) =>
      tireSetNow({
        target: q('65 psi'),
        targetTemperature: q('68 °F'),
        targetElevation: q('0 ft'),
        temperature: q('80 °F'),
        elevation: q('0 ft'),
        ...more,
      });
    const over = set({ sidewallMax: q('65 psi'), wheelMax: q('80 psi') });
    expect(codeOf(over)).toBe('tire.set-above-max');
    expect(over.ok ? '' : over.problems[0]!.what).toContain('66.8 psi here, above the 65 psi that the sidewall');
    expect(codeOf(set({ wheelMax: q('66 psi') }))).toBe('tire.set-above-max');
    const wheel = set({ sidewallMax: q('80 psi'), wheelMax: q('60 psi') });
    expect(wheel.ok ? '' : wheel.problems[0]!.what).toContain(
      '65 psi there, above the 60 psi that the wheel or its valve',
    );
    expect(unwrap(set({ sidewallMax: q('80 psi'), wheelMax: q('70 psi') })).assumed).toEqual([]);
    expect(unwrap(set({})).assumed.join()).toContain('neither sidewall nor wheel');
    expect(unwrap(set({})).cautions).toEqual([]);
    const cold = unwrap(set({ temperature: q('40 °F'), sidewallMax: q('65 psi') }));
    expect(cold.gauge.value).toBeLessThan(65);
    expect(cold.cautions.join()).toContain('Lower than the target');
    expect(unwrap(set({ temperature: q('68 °F'), sidewallMax: q('65 psi') })).cautions).toEqual([]);
    expect(codeOf(set({ target: q('1e308 psi') }))).toBe('quantity.out-of-range');
    expect(codeOf(set({ sidewallMax: q('-1 psi') }))).toBe('quantity.out-of-range');
  });
});
