/** LP gas by arithmetic done by hand beside each check, by its published points, and at the edges of what is asked. */

import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { parseQuantity, type Quantity, quantity } from '../quantity/index.ts';
import {
  chart100lb,
  coAlarm,
  cylinderContent,
  cylinderFill,
  ruleAtZero,
  temperatureShare,
  vaporization,
  vaporPressure,
} from './index.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));
const refused = (result: Result<unknown>) => {
  if (result.ok) throw new Error(`answered: ${JSON.stringify(result.value)}`);
  const { code, where, what, expected } = result.problems[0]!;
  expect([what, expected].every((text) => typeof text === 'string' && text.length > 5)).toBe(true);
  return `${code} at ${where}`;
};

describe('what is in a cylinder', () => {
  const twenty = { tare: q('17 lb'), nominal: q('20 lb') };

  it('is the scale less the tare and less what else hung on it', () => {
    // 30.0 − 17.0 − 0.5 = 12.5 lb; 12.5 / 20 = 62.5 %; ± half a pound of the scale.
    const full = unwrap(cylinderContent({ ...twenty, scale: q('30 lb'), hardware: q('0.5 lb') }));
    expect(full.propane).toEqual(q('12.5 lb'));
    expect(full.fill).toEqual(quantity(62.5, '%'));
    expect(full.uncertainty.propane).toEqual({ low: q('12 lb'), high: q('13 lb') });
    expect(full.assumed).toEqual([]);
    expect(full.time).toBeNull();
    expect(full.limitedBy).toBe('the scale');
    expect(unwrap(cylinderContent({ scale: q('30 lb'), tare: q('17 lb') })).assumed).toHaveLength(1);
    expect(unwrap(cylinderContent({ scale: q('30 lb'), tare: q('17 lb') })).fill).toBeNull();
  });

  it('burns 21,548 BTU a pound: 10 lb last 7.18 h at 30,000 BTU/h', () => {
    // 215,480 BTU / 30,000 BTU/h = 7.1827 h.
    const ten = unwrap(cylinderContent({ ...twenty, scale: q('27 lb'), draw: q('30,000 BTU/h') }));
    expect(ten.energy.value).toBeCloseTo(215_480, 6);
    expect(ten.time!.value).toBeCloseTo(7.1827, 4);
    expect(ten.limitedBy).toBe('the draw');
    // Half a pound less: 9.5 · 21,548 / 30,000 h.
    expect(ten.uncertainty.timeLeast!.value).toBeCloseTo(6.8235, 4);
  });

  it('a scale half a pound low still answers: nothing, not less', () => {
    const empty = unwrap(cylinderContent({ ...twenty, scale: q('16.5 lb') }));
    expect(empty.propane.value).toBe(0);
    expect(empty.uncertainty.propane.low.value).toBe(0);
    expect(empty.uncertainty.propane.high.value).toBe(0.5);
    expect(refused(cylinderContent({ ...twenty, scale: q('16.4 lb') }))).toBe('gas.below-tare at scale');
  });

  it('half a pound over its size is the most a scale may err; more is over-filled', () => {
    expect(unwrap(cylinderContent({ ...twenty, scale: q('37.5 lb') })).fill!.value).toBeCloseTo(102.5, 9);
    expect(refused(cylinderContent({ ...twenty, scale: q('37.6 lb') }))).toBe('gas.over-filled at scale');
    expect(unwrap(cylinderContent({ tare: q('17 lb'), scale: q('60 lb') })).propane).toEqual(q('43 lb'));
  });

  it('refuses a tare of nothing and a draw of nothing', () => {
    expect(refused(cylinderContent({ tare: q('0 lb'), scale: q('30 lb') }))).toBe('gas.below-tare at tare');
    expect(refused(cylinderContent({ ...twenty, scale: q('30 lb'), draw: q('-1 BTU/h') }))).toBe('gas.draw at draw');
    expect(refused(cylinderContent({ ...twenty, scale: q('30 lb'), nominal: q('0 lb') }))).toBe(
      'gas.nominal at nominal',
    );
    expect(refused(cylinderContent({ ...twenty, scale: q('30 lb'), hardware: q('-1 lb') }))).toBe(
      'gas.hardware at hardware',
    );
  });

  it('holds 42 % of its water by weight, 80 % by volume (49 CFR 173.304a, NFPA 58)', () => {
    // 0.42 · 47.6 = 19.992 lb; 47.6 / 8.338 · 0.8 = 4.567 gal, 19.364 lb, the less of both; 4.567 · 91,502 = 417,893 BTU.
    const fill = unwrap(cylinderFill({ waterCapacity: q('47.6 lb') }));
    expect(fill.propaneByWeight.value).toBeCloseTo(19.992, 9);
    expect(fill.propaneAt80.value).toBeCloseTo(19.364, 3);
    expect(fill.propaneMax.value).toBeCloseTo(19.364, 3);
    expect(fill.energy.value).toBeCloseTo(417_893, -1);
    expect(fill.limitedBy).toContain('80 %');
    expect(fill.cautions.join()).toContain('qualified filler');
    expect(unwrap(cylinderFill({ waterCapacity: q('21.6 kg') })).propaneMax.unit).toBe('kg');
    expect(refused(cylinderFill({ waterCapacity: q('-1 lb') }))).toBe('gas.water-capacity at waterCapacity');
  });

  it('says that cold may hold it back', () => {
    expect(unwrap(cylinderContent({ ...twenty, scale: q('30 lb') })).cautions.join()).toContain('cold');
  });
});

describe('vapor pressure', () => {
  it('is told against the air around it: 2.47 psi more on a gauge at 5,000 ft (US Standard Atmosphere: 12.23 of 14.70 psi)', () => {
    const at = (elevation?: Quantity) => unwrap(vaporPressure({ temperature: q('70 °F'), elevation }));
    expect(at(q('5,000 ft')).gauge.value - at().gauge.value).toBeCloseTo(14.696 - 12.228, 2);
    expect(at(q('5,000 ft')).absolute.value).toBeCloseTo(at().absolute.value, 9);
    expect(at().assumed).toHaveLength(1);
    expect(at(q('0 ft')).assumed).toEqual([]);
    expect(refused(vaporPressure({ temperature: q('70 °F'), elevation: q('90,000 ft') }))).toMatch(/ at elevation$/);
  });

  it('commercial propane stands up to 30 psi above pure (published tables), never below', () => {
    const { gauge, gaugeCommercial } = unwrap(vaporPressure({ temperature: q('70 °F') }));
    expect(gaugeCommercial.low.value).toBe(gauge.value);
    expect(gaugeCommercial.high.value - gauge.value).toBeCloseTo(30, 9);
  });

  it('gives nothing below −43.8 °F, where propane boils at one atmosphere (published)', () => {
    expect(unwrap(vaporPressure({ temperature: q('-44 °F') })).cautions).toHaveLength(1);
    expect(unwrap(vaporPressure({ temperature: q('-43 °F') })).cautions).toEqual([]);
  });

  it('answers from 200 K to 340 K, and not a degree beyond', () => {
    for (const kelvin of [200, 340])
      expect(unwrap(vaporPressure({ temperature: quantity(kelvin, 'K') })).absolute.value).toBeGreaterThan(0);
    for (const kelvin of [199, 341])
      expect(refused(vaporPressure({ temperature: quantity(kelvin, 'K') }))).toBe('gas.temperature at temperature');
  });
});

describe('whether the cold lets it out', () => {
  it('a burner maker’s chart, half-way between its figures: 15 lb at 0 °F, 10 lb at 10 °F, 10 lb at 65 °F', () => {
    expect(chart100lb(15, 0)).toBeCloseTo((28_000 + 36_000) / 2, 6);
    expect(chart100lb(10, 10)).toBeCloseTo((28_000 + 38_000) / 2, 6);
    expect(chart100lb(10, 65)).toBeCloseTo((60_000 + 66_000) / 2, 6);
  });

  it('goes no further than the chart: no more above 70 °F or above 100 lb, in proportion under 10 lb, nothing when empty', () => {
    expect(chart100lb(100, 110)).toBe(300_000);
    expect(chart100lb(140, 70)).toBe(300_000);
    expect(chart100lb(5, 0)).toBe(14_000);
    expect(chart100lb(0, 60)).toBe(0);
  });

  it('a motorhome maker’s multipliers below 0 °F: half at −10, an eighth at −20, of the chart too', () => {
    expect(chart100lb(100, -10)).toBeCloseTo(56_500, 6);
    expect(chart100lb(10, -20)).toBeCloseTo(3500, 6);
    expect(temperatureShare(-60)).toBe(0);
    // Half-way from −15 °F (0.25) to −10 °F (0.5).
    expect(temperatureShare(-12.5)).toBeCloseTo(0.375, 9);
    // Of the chart's rows the one in which warmth helps least: 49,000 at 40 °F of 28,000 at 0 °F.
    expect(temperatureShare(40)).toBeCloseTo(49 / 28, 9);
    // Under its last row, −20 °F, the manual promises nothing.
    expect(temperatureShare(-20)).toBe(0.125);
    expect(temperatureShare(-20.1)).toBe(0);
    expect(chart100lb(100, -20.1)).toBe(0);
  });

  it('the serviceman’s rule: K falls from 100 at 60 % to 45 at 10 %, then with what is left; full is no more than 60 %', () => {
    expect(ruleAtZero(10, 10, 0.1)).toBe(4500);
    expect(ruleAtZero(10, 10, 0.05)).toBe(2250);
    expect(ruleAtZero(10, 10, 0)).toBe(0);
    expect(ruleAtZero(10, 10, 0.35)).toBeCloseTo(7500, 9);
    expect(ruleAtZero(10, 10, 1)).toBe(10_000);
    expect(ruleAtZero(12, 20, 0.3)).toBe(2 * ruleAtZero(12, 10, 0.3));
  });

  const chart = { cylinder: '100 lb', fill: q('100 %'), temperature: q('0 °F') } as const;
  const other = { ...chart, cylinder: 'other', diameter: q('12 in'), length: q('20 in') } as const;

  it('holds a draw of just what it gives, and none above it', () => {
    const just = unwrap(vaporization({ ...chart, draw: q('113,000 BTU/h') }));
    expect(just.holds).toBe(true);
    expect(just.cautions).toHaveLength(1);
    const over = unwrap(vaporization({ ...chart, draw: q('113,001 BTU/h') }));
    expect(over.holds).toBe(false);
    expect(over.cautions).toHaveLength(2);
    expect(over.cautions[0]).toContain('the draw is more');
    expect(unwrap(vaporization(chart)).holds).toBeNull();
    expect(unwrap(vaporization({ ...chart, draw: q('10 kW') })).continuous.unit).toBe('kW');
  });

  it('names the cold below 20 °F, and says where no table for the size is published', () => {
    expect(unwrap(vaporization({ ...chart, temperature: q('19 °F') })).limitedBy).toBe('the cold');
    expect(unwrap(vaporization({ ...chart, temperature: q('20 °F') })).limitedBy).toMatch(/surface/);
    expect(unwrap(vaporization(chart)).basis).toBe('chart');
    expect(unwrap(vaporization(chart)).cautions.join()).toContain('Never heat a cylinder');
    const rule = unwrap(vaporization(other));
    expect(rule).toMatchObject({ basis: 'rule-of-thumb', continuous: quantity(24_000, 'BTU/h') });
    expect(rule.cautions.join()).toContain('rule of thumb');
  });

  it('takes an empty and a full cylinder, up to 130 °F; refuses what is beyond', () => {
    expect(unwrap(vaporization({ ...chart, fill: q('0 %') })).continuous.value).toBe(0);
    expect(unwrap(vaporization({ ...chart, temperature: q('130 °F') })).continuous.value).toBe(300_000);
    expect(refused(vaporization({ ...chart, fill: q('-1 %') }))).toBe('gas.fill at fill');
    expect(refused(vaporization({ ...chart, fill: q('101 %') }))).toBe('gas.fill at fill');
    expect(refused(vaporization({ ...chart, temperature: q('131 °F') }))).toBe('gas.temperature at temperature');
    expect(refused(vaporization({ ...other, diameter: undefined }))).toBe('gas.cylinder-size at diameter');
    expect(refused(vaporization({ ...other, length: undefined }))).toBe('gas.cylinder-size at length');
    expect(refused(vaporization({ ...other, diameter: q('0 in') }))).toBe('gas.cylinder-size at diameter');
    expect(refused(vaporization({ ...other, length: q('-1 in') }))).toBe('gas.cylinder-size at length');
  });
});

describe('carbon monoxide alarms, on the minute (UL 2034)', () => {
  const verdict = (ppm: number, minutes: number) =>
    unwrap(coAlarm({ concentration: quantity(ppm, 'ppmv'), time: quantity(minutes, 'min') })).verdict;

  it('may sound from the earliest minute of a point to the minute before the latest', () => {
    for (const [ppm, earliest, latest] of [
      [70, 60, 240],
      [150, 10, 50],
      [400, 4, 15],
    ] as const) {
      expect(verdict(ppm, earliest - 0.1)).toBe('must-be-silent');
      expect(verdict(ppm, earliest)).toBe('may-sound');
      expect(verdict(ppm, latest - 0.1)).toBe('may-sound');
      expect(verdict(ppm, latest)).toBe('must-have-sounded');
    }
  });

  it('30 ppm is silent for 30 days and no longer; 31 ppm is not bound by those days', () => {
    expect(verdict(30, 43_200)).toBe('must-be-silent');
    expect(verdict(30, 43_201)).toBe('may-sound');
    expect(verdict(31, 59)).toBe('must-be-silent');
    expect(verdict(31, 60)).toBe('may-sound');
    expect(verdict(0, 0)).toBe('must-be-silent');
  });

  it('above the highest point nothing forbids it to sound at once', () => {
    expect(verdict(401, 0)).toBe('may-sound');
    expect(verdict(401, 15)).toBe('must-have-sounded');
  });

  it('refuses less than nothing, and says to leave', () => {
    const [five, under] = [quantity(5, 'ppmv'), quantity(-1, 'ppmv')];
    expect(refused(coAlarm({ concentration: under, time: q('5 min') }))).toBe('gas.carbon-monoxide at concentration');
    expect(refused(coAlarm({ concentration: five, time: q('-1 min') }))).toBe('gas.carbon-monoxide at time');
    expect(unwrap(coAlarm({ concentration: five, time: q('5 min') })).cautions.join()).toContain('leave at once');
  });
});
