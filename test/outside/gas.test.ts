/** Gas against makers' charts, a handbook's table, published properties and UL 2034. */

import { describe, expect, it } from 'vitest';
import {
  chart100lb,
  coAlarm,
  cylinderContent,
  cylinderFill,
  type LeakMethod,
  leakDrop,
  PROPANE_BTU_A_CUBIC_FOOT,
  PROPANE_BTU_A_GALLON,
  PROPANE_BTU_A_POUND,
  propaneVaporPascal,
  ruleAtZero,
  temperatureShare,
  vaporPressure,
} from '../../src/gas/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../../src/quantity/index.ts';
import { table } from '../support/table.ts';

const q = (text: string): Quantity => unwrap(parseQuantity(text));

describe('propane (published properties, four pages agree)', () => {
  it('heat a pound, a gallon and a cubic foot fit each other: 8.66 ft³/lb, 36.38 ft³/gal', () => {
    expect(PROPANE_BTU_A_POUND / PROPANE_BTU_A_CUBIC_FOOT).toBeCloseTo(8.66, 2);
    expect(PROPANE_BTU_A_GALLON / PROPANE_BTU_A_CUBIC_FOOT / 36.38).toBeCloseTo(1.01, 1);
  });

  it('boils at 231.036 K at one atmosphere (−43.8 °F, published)', () => {
    expect(propaneVaporPascal(231.036)).toBeCloseTo(101_325, -1);
    expect(valueIn(quantity(231.036, 'K'), 'degF')).toBeCloseTo(-43.8, 1);
  });

  it('a coach handbook’s table made from NFPA 58: gallons and BTU of nominal cylinders', () => {
    for (const [pounds, gallons, btu] of [
      [10, 2.36, 215_807],
      [11, 2.59, 237_387],
      [20, 4.717, 431_613],
      [30, 7.075, 647_420],
      [40, 9.434, 863_226],
    ] as const) {
      expect(pounds / 4.24).toBeCloseTo(gallons, 2);
      expect(Math.abs((pounds / 4.24) * PROPANE_BTU_A_GALLON - btu)).toBeLessThan(2);
    }
    // Its 5 lb row (107,909) is 6 BTU off its own formula: a misprint.
    expect(Math.abs((5 / 4.24) * PROPANE_BTU_A_GALLON - 107_909)).toBeLessThan(7);
  });
});

describe('vapor pressure', () => {
  const rows = table('propane-vapor-pressure');
  const at = (fahrenheit: number) => unwrap(vaporPressure({ temperature: quantity(fahrenheit, 'degF') }));

  it('an equipment maker’s chart for pure propane: within 5 psi', () => {
    for (const row of rows.filter((one) => one.pure_propane_chart_psig !== '')) {
      expect(
        Math.abs(at(Number(row.temp_F)).gauge.value - Number(row.pure_propane_chart_psig)),
        row.temp_F,
      ).toBeLessThan(5);
    }
  });

  it('commercial propane: 127 psi at 70 °F, 196 at 100 °F (published), inside our bounds', () => {
    for (const [fahrenheit, psi] of [
      [70, 127],
      [100, 196],
    ] as const) {
      const { low, high } = at(fahrenheit).gaugeCommercial;
      expect(psi).toBeGreaterThanOrEqual(low.value);
      expect(psi).toBeLessThanOrEqual(high.value);
    }
  });

  describe('our own arithmetic, not an outside check', () => {
    it.each(rows.map((row) => [row.temp_F!, row] as const))('computed columns at %s °F', (_f, row) => {
      expect(at(Number(row.temp_F)).gauge.value).toBeCloseTo(Number(row.pure_propane_computed_psig), 1);
      expect(at(Number(row.temp_F)).absolute.value).toBeCloseTo(Number(row.pure_propane_computed_psia), 1);
    });
  });
});

describe('vaporization', () => {
  const rows = table('propane-vaporization');
  it.each(
    rows
      .filter((row) => row.container!.startsWith('100 lb'))
      .map((row) => [row.fill_or_lb!, row.temp_F!, row] as const),
  )('a burner maker’s chart: %s lb at %s °F', (_l, _t, row) => {
    expect(chart100lb(Number(row.fill_or_lb), Number(row.temp_F))).toBeCloseTo(Number(row.btu_per_h), 6);
  });

  it('a motorhome maker’s multipliers, to 0 °F; above it the chart’s own, which are lower', () => {
    for (const row of rows.filter((one) => one.container!.startsWith('multiplier'))) {
      const share = temperatureShare(Number(row.temp_F));
      // The row of −44 °F says none: so does everything colder than −20 °F here.
      if (Number(row.temp_F) <= 0) expect(share).toBeCloseTo(Number(row.btu_per_h), 9);
      else expect(share).toBeLessThan(Number(row.btu_per_h));
    }
  });

  it('the rule for other sizes grows with warmth no faster than any row of the burner maker’s chart', () => {
    const hundred = rows.filter((row) => row.container!.startsWith('100 lb'));
    for (const row of hundred) {
      const cold = hundred.find((one) => one.fill_or_lb === row.fill_or_lb && one.temp_F === '0')!;
      expect(temperatureShare(Number(row.temp_F))).toBeLessThanOrEqual(
        Number(row.btu_per_h) / Number(cold.btu_per_h) + 1e-12,
      );
    }
  });

  it('the serviceman’s rule (from memory): our own arithmetic', () => {
    expect(ruleAtZero(12, 15, 0.6)).toBe(18_000);
    expect(ruleAtZero(12, 15, 0.2)).toBe(10_800);
    expect(ruleAtZero(12, 23, 0.6)).toBe(27_600);
    expect(ruleAtZero(12, 23, 0.2)).toBe(16_560);
  });
});

describe('pressure tests of gas piping', () => {
  const verdict = (method: LeakMethod, start: string, minutes: number, step: string) =>
    unwrap(
      leakDrop({
        method,
        startPressure: q(start),
        drop: q('0 psi'),
        time: quantity(minutes, 'min'),
        gaugeStep: q(step),
        steady: true,
      }),
    ).verdict;

  it('Washington WAC 296-150C-1460: 10 to 14 in. w.c. for 10 minutes, appliances connected', () => {
    const held = (start: string, minutes: number) => verdict('appliances-connected', start, minutes, '0.1 in. w.c.');
    expect([held('10 in. w.c.', 10), held('14 in. w.c.', 10)]).toEqual(['held', 'held']);
    expect([held('9.9 in. w.c.', 10), held('14.1 in. w.c.', 10), held('11 in. w.c.', 9.9)]).toEqual(
      Array(3).fill('not-a-test'),
    );
    // The ten seconds that used to pass.
    expect(held('11 in. w.c.', 10 / 60)).toBe('not-a-test');
  });

  it('WAC 296-150V-1450: 10 psi for 15 minutes on a gauge read to 0.1 psi, piping alone', () => {
    expect(verdict('piping-alone', '10 psi', 15, '0.1 psi')).toBe('held');
    expect(verdict('piping-alone', '9.9 psi', 15, '0.1 psi')).toBe('not-a-test');
    expect(verdict('piping-alone', '10 psi', 14.9, '0.1 psi')).toBe('not-a-test');
    expect(verdict('piping-alone', '10 psi', 15, '0.2 psi')).toBe('not-a-test');
  });

  it('NFPA 54 annex C (trade magazine, 2016): 9 ± 1/2 in. w.c.; three minutes from memory', () => {
    const held = (start: string, minutes: number) => verdict('regulator-unlocked', start, minutes, '0.1 in. w.c.');
    expect([held('8.5 in. w.c.', 3), held('9.5 in. w.c.', 3)]).toEqual(['held', 'held']);
    expect([held('8.4 in. w.c.', 3), held('9.6 in. w.c.', 3), held('9 in. w.c.', 2.9)]).toEqual(
      Array(3).fill('not-a-test'),
    );
  });
});

describe('carbon monoxide alarms (UL 2034, three makers’ handbooks)', () => {
  const verdict = (ppm: number, minutes: number) =>
    unwrap(coAlarm({ concentration: quantity(ppm, 'ppmv'), time: quantity(minutes, 'min') })).verdict;

  it('every alarm point, at its edges', () => {
    for (const row of table('co-alarm').filter((one) => one.kind === 'alarm test point')) {
      const [ppm, silent, due] = [
        Number(row.ppm),
        Number(row.must_not_alarm_before_min),
        Number(row.must_alarm_by_min),
      ];
      expect(verdict(ppm, silent - 1)).toBe('must-be-silent');
      if (due > 0) expect(verdict(ppm, due)).toBe('must-have-sounded');
    }
  });

  it('WHO Air Quality Guidelines for Europe: people are out by each of its times', () => {
    const action = (ppm: number, minutes: number) =>
      unwrap(coAlarm({ concentration: quantity(ppm, 'ppmv'), time: quantity(minutes, 'min') })).action;
    for (const row of table('co-alarm').filter((one) => one.kind === 'exposure guideline')) {
      expect(action(Number(row.ppm), Number(row.must_alarm_by_min)), `${row.ppm} ppm`).toBe('leave-now');
      if (Number(row.ppm) < 70)
        expect(action(Number(row.ppm), Number(row.must_alarm_by_min) - 1), `${row.ppm} ppm`).toBe('air-and-find');
    }
    // Concentrations that make ill (AIHA effects table): never anything but out.
    for (const row of table('co-alarm').filter((one) => one.kind === 'symptom'))
      expect(action(Number(row.ppm), 0)).toBe('leave-now');
  });

  it('cases', () => {
    expect(verdict(35, 480)).not.toBe('must-have-sounded');
    expect(verdict(70, 59)).toBe('must-be-silent');
    expect(verdict(70, 240)).toBe('must-have-sounded');
    expect(verdict(149, 240)).toBe('must-have-sounded');
    expect(verdict(400, 3)).toBe('must-be-silent');
    expect(verdict(400, 15)).toBe('must-have-sounded');
  });
});

describe('our own arithmetic, not an outside check: gas', () => {
  it.each([
    [29.5, 17, 12.5, 2.948, 269_350, 8.978],
    [37, 17, 20, 4.717, 430_960, 14.365],
    [54.2, 24.6, 29.6, 6.981, 637_821, 21.261],
    [20.3, 17, 3.3, 0.778, 71_108, 2.37],
    [71, 31, 40, 9.434, 861_920, 28.731],
  ])('%d lb on the scale, tare %d lb', (scale, tare, left, gallons, btu, hours) => {
    const content = unwrap(
      cylinderContent({ scale: quantity(scale, 'lb'), tare: quantity(tare, 'lb'), draw: q('30,000 BTU/h') }),
    );
    expect(content.propane.value).toBeCloseTo(left, 9);
    expect(content.volume.value).toBeCloseTo(gallons, 3);
    expect(Math.abs(content.energy.value - btu)).toBeLessThan(1);
    expect(content.time!.value).toBeCloseTo(hours, 3);
  });

  it.each([
    [47.6, 19.99, 19.36],
    [71.4, 29.99, 29.05],
    [95.2, 39.98, 38.73],
  ])('water capacity %d lb', (water, byWeight, byVolume) => {
    const fill = unwrap(cylinderFill({ waterCapacity: quantity(water, 'lb') }));
    expect(fill.propaneByWeight.value).toBeCloseTo(byWeight, 2);
    expect(fill.propaneMax.value).toBeLessThanOrEqual(Math.min(byWeight, byVolume) + 0.011);
    expect(Math.abs(fill.propaneAt80.value - byVolume)).toBeLessThan(0.011);
  });

  it.each([
    [0.05, 1, 3, 0.00246, 6.12],
    [0.05, 0.5, 10, 0.00037, 0.92],
    [0.1, 2, 3, 0.00983, 24.5],
  ])('%d ft³ losing %d in. w.c. in %d min', (volume, drop, minutes, flow, btu) => {
    const leak = unwrap(
      leakDrop({
        method: 'appliances-connected',
        startPressure: q('11 in. w.c.'),
        gaugeStep: q('0.1 in. w.c.'),
        steady: true,
        volume: quantity(volume, 'ft3'),
        drop: quantity(drop, 'inH2O'),
        time: quantity(minutes, 'min'),
      }),
    );
    expect(leak.verdict).toBe('leaks');
    expect(leak.leak!.value).toBeCloseTo(flow, 5);
    expect(leak.heat!.value).toBeCloseTo(btu, 1);
  });
});
