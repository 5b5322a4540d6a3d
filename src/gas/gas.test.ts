import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import {
  chart100lb,
  coAlarm,
  cylinderContent,
  cylinderFill,
  propaneVaporPascal,
  temperatureShare,
  vaporization,
  vaporPressure,
} from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const codeOf = (result: Result<unknown>) => (result.ok ? 'ok' : result.problems[0]!.code);

describe('cylinderContent', () => {
  it('answers in the units of its scale', () => {
    const metric = unwrap(
      cylinderContent({ scale: q('13.4 kg'), tare: q('17 lb'), nominal: q('20 lb'), draw: q('30,000 BTU/h') }),
    );
    expect([metric.propane.unit, metric.volume.unit, metric.energy.unit, metric.time?.unit]).toEqual([
      'kg',
      'L',
      'kJ',
      'h',
    ]);
    expect(metric.fill?.value).toBeCloseTo(62.7, 1);
  });

  it('refuses what cannot be', () => {
    expect(codeOf(cylinderContent({ scale: q('15 lb'), tare: q('17 lb') }))).toBe('gas.below-tare');
    expect(codeOf(cylinderContent({ scale: q('45 lb'), tare: q('17 lb'), nominal: q('20 lb') }))).toBe(
      'gas.over-filled',
    );
    expect(codeOf(cylinderContent({ scale: q('20 lb'), tare: q('17 lb'), draw: q('0 BTU/h') }))).toBe('gas.draw');
    expect(codeOf(cylinderFill({ waterCapacity: q('0 lb') }))).toBe('gas.water-capacity');
    expect(unwrap(cylinderContent({ scale: q('16.8 lb'), tare: q('17 lb') })).propane.value).toBe(0);
  });
});

describe('vapor pressure', () => {
  it('rises with temperature and is no gauge pressure below the boiling point', () => {
    fc.assert(
      fc.property(fc.double({ min: 205, max: 335, noNaN: true }), (kelvin) => {
        expect(propaneVaporPascal(kelvin + 0.5)).toBeGreaterThan(propaneVaporPascal(kelvin));
      }),
    );
    expect(unwrap(vaporPressure({ temperature: q('-50 °F') })).cautions).toHaveLength(1);
    expect(unwrap(vaporPressure({ temperature: q('20 °C') })).gauge.unit).toBe('kPa');
    expect(codeOf(vaporPressure({ temperature: q('400 °F') }))).toBe('gas.temperature');
  });
});

describe('vaporization', () => {
  it('falls with cold and with what is left', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 99, noNaN: true }),
        fc.double({ min: -50, max: 100, noNaN: true }),
        (pounds, fahrenheit) => {
          expect(chart100lb(pounds + 1, fahrenheit)).toBeGreaterThanOrEqual(chart100lb(pounds, fahrenheit));
          expect(chart100lb(pounds, fahrenheit + 1)).toBeGreaterThanOrEqual(chart100lb(pounds, fahrenheit));
          expect(temperatureShare(fahrenheit + 1)).toBeGreaterThanOrEqual(temperatureShare(fahrenheit));
        },
      ),
    );
    expect(temperatureShare(-44)).toBe(0);
  });

  it('warns where the draw is more than it gives', () => {
    const cold = unwrap(
      vaporization({
        cylinder: 'other',
        fill: q('20 %'),
        temperature: q('-10 °F'),
        diameter: q('12 in'),
        length: q('23 in'),
        draw: q('30,000 BTU/h'),
      }),
    );
    expect(cold).toMatchObject({ holds: false, basis: 'rule-of-thumb', limitedBy: 'the cold' });
    expect(cold.continuous.value).toBeCloseTo(8280, 6);
    expect(
      unwrap(vaporization({ cylinder: '100 lb', fill: q('100 %'), temperature: q('60 °F'), draw: q('30 kW') })).holds,
    ).toBe(true);
    expect(codeOf(vaporization({ cylinder: 'other', fill: q('50 %'), temperature: q('0 °F') }))).toBe(
      'gas.cylinder-size',
    );
    expect(codeOf(vaporization({ cylinder: '100 lb', fill: q('150 %'), temperature: q('0 °F') }))).toBe('gas.fill');
    expect(codeOf(vaporization({ cylinder: '100 lb', fill: q('50 %'), temperature: q('200 °F') }))).toBe(
      'gas.temperature',
    );
  });
});

describe('coAlarm', () => {
  it('never asks for silence where sounding is due', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1000, noNaN: true }),
        fc.double({ min: 0, max: 600, noNaN: true }),
        (ppm, minutes) => {
          const order = ['must-be-silent', 'may-sound', 'must-have-sounded'];
          const judge = (c: number, t: number) =>
            order.indexOf(unwrap(coAlarm({ concentration: quantity(c, 'ppmv'), time: quantity(t, 'min') })).verdict);
          expect(judge(ppm + 10, minutes)).toBeGreaterThanOrEqual(judge(ppm, minutes));
          expect(judge(ppm, minutes + 10)).toBeGreaterThanOrEqual(judge(ppm, minutes));
        },
      ),
    );
  });
});
