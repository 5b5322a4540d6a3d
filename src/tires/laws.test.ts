/** Laws of the whole room, over the whole range: more load, less pressure, more heat never give a milder answer. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { q } from '../../test/support/tires.ts';
import { convert, type Quantity, quantity, type UnitId, valueIn } from '../quantity/index.ts';
import { inflate } from './inflate.ts';
import { loadOfIndex } from './load-index.ts';
import { tireSetNow } from './pressure.ts';
import { tireTables } from './tables/load-inflation.ts';
import { tireLoad, tirePressureFor } from './tire-load.ts';

const between = (min: number, max: number) =>
  fc.integer({ min: 0, max: 10_000 }).map((i) => min + ((max - min) * i) / 10_000);
const anyTable = fc.constantFrom(...tireTables);
const specOf = (table: (typeof tireTables)[number], loadRange: string) => ({
  size: table.size,
  family: table.family,
  fitment: table.fitment,
  loadRange,
});
const RUNS = { numRuns: 400 };

describe('loads and pressures of published sizes', () => {
  it('carry no more than the next published row at or above the pressure, in any unit and load range', () => {
    fc.assert(
      fc.property(
        anyTable,
        fc.constantFrom('B', 'C', 'D', 'E', 'F'),
        between(0, 150),
        fc.constantFrom<UnitId>('psi', 'kPa', 'bar', 'MPa', 'inHg'),
        (table, loadRange, psi, unit) => {
          const answer = tireLoad({ ...specOf(table, loadRange), pressure: convert(quantity(psi, 'psi'), unit) });
          if (!answer.ok) return;
          const next = table.rows.find((row) => row[0] >= psi * (1 - 1e-9)) ?? table.rows.at(-1)!;
          expect(valueIn(answer.value.load, 'lb')).toBeLessThanOrEqual(next[1] * (1 + 1e-9));
          const most = table.rows.filter((row) => row[2] <= loadRange).at(-1)!;
          expect(valueIn(answer.value.load, 'lb')).toBeLessThanOrEqual(most[1] * (1 + 1e-9));
        },
      ),
      RUNS,
    );
  });

  it('ask for a pressure whose published row carries the load, and for a tenth in reserve or say so', () => {
    fc.assert(
      fc.property(anyTable, between(0, 1.1), fc.boolean(), between(0, 120), (table, share, labelled, label) => {
        const [, most, loadRange] = table.rows.at(-1)!;
        const lb = share * most;
        const labelPressure = labelled ? quantity(label, 'psi') : undefined;
        const answer = tirePressureFor({ ...specOf(table, loadRange), load: quantity(lb, 'lb'), labelPressure });
        if (!answer.ok) {
          expect(lb === 0 || lb > most || label > table.rows.at(-1)![0] || (labelled && label === 0)).toBe(true);
          return;
        }
        const { pressure, pressureLeast, pressureMax, reserveKept, loadAtPressure } = answer.value;
        const psi = valueIn(pressure, 'psi');
        expect(psi).toBeGreaterThanOrEqual(table.rows[0]![0]);
        expect(psi).toBeLessThanOrEqual(valueIn(pressureMax, 'psi') * (1 + 1e-9));
        expect(psi).toBeGreaterThanOrEqual(valueIn(pressureLeast, 'psi'));
        if (labelled)
          expect(valueIn(pressureLeast, 'psi')).toBeGreaterThanOrEqual(Math.min(label, valueIn(pressureMax, 'psi')));
        // The published row at or above the pressure carries the load.
        const row = table.rows.find((one) => one[0] >= psi * (1 - 1e-9))!;
        expect(row[1]).toBeGreaterThanOrEqual(lb * (1 - 1e-9));
        expect(reserveKept).toBe(lb <= 0.9 * valueIn(loadAtPressure, 'lb') * (1 + 1e-9));
        if (!reserveKept) expect(psi).toBeCloseTo(table.rows.at(-1)![0], 6);
      }),
      RUNS,
    );
  });

  it('ask for no less pressure where the load is more, the wheel is weaker or the label higher', () => {
    fc.assert(
      fc.property(anyTable, between(0.01, 1), between(0.01, 1), between(0.5, 1.5), (table, a, b, wheel) => {
        const [top, most, loadRange] = table.rows.at(-1)!;
        const need = (share: number, more: object) =>
          tirePressureFor({ ...specOf(table, loadRange), load: quantity(share * most, 'lb'), ...more });
        const [light, heavy] = [need(Math.min(a, b), {}), need(Math.max(a, b), {})];
        if (light.ok && heavy.ok) {
          expect(valueIn(heavy.value.pressure, 'psi')).toBeGreaterThanOrEqual(valueIn(light.value.pressure, 'psi'));
          expect(heavy.value.reserveKept && !light.value.reserveKept).toBe(false);
        }
        if (heavy.ok) expect(light.ok).toBe(true);
        const weak = need(a, { wheel: { pressure: quantity(wheel * top, 'psi'), load: quantity(wheel * most, 'lb') } });
        if (weak.ok) {
          expect(valueIn(weak.value.pressure, 'psi')).toBeLessThanOrEqual(wheel * top * (1 + 1e-9));
          expect(a * most).toBeLessThanOrEqual(wheel * most * (1 + 1e-9));
        }
      }),
      RUNS,
    );
  });

  it('take no figure that no tire has for an answer: zero, negative, tiny, huge', () => {
    const absurd = [0, -1, -1e308, 1e-308, 1e9, 1e308];
    for (const table of tireTables) {
      const spec = specOf(table, table.rows.at(-1)![2]);
      for (const value of absurd) {
        for (const unit of ['psi', 'kPa', 'bar'] as const) {
          const pressure: Quantity = { value, unit };
          expect(tireLoad({ ...spec, pressure }).ok, `${table.size} at ${value} ${unit}`).toBe(false);
        }
        for (const unit of ['lb', 'kg', 't'] as const) {
          const answer = tirePressureFor({ ...spec, load: { value, unit } });
          // A load next to nothing gets the first row, never less.
          if (value === 1e-308)
            expect(answer.ok && valueIn(answer.value.pressure, 'psi')).toBeCloseTo(table.rows[0]![0], 6);
          else expect(answer.ok, `${table.size} with ${value} ${unit}`).toBe(false);
        }
      }
      expect(tireLoad({ ...spec, pressure: { value: Number.NaN, unit: 'psi' } }).ok).toBe(false);
      expect(tirePressureFor({ ...spec, load: { value: Number.NaN, unit: 'lb' } }).ok).toBe(false);
    }
  });
});

describe('other laws', () => {
  it('a higher target, a hotter tire now or a colder place there never ask for less to be set', () => {
    const air = {
      targetTemperature: q('68 °F'),
      targetElevation: q('0 ft'),
      temperature: q('50 °F'),
      elevation: q('0 ft'),
    };
    fc.assert(
      fc.property(between(0, 120), between(0, 20), between(-40, 130), between(0, 40), (psi, more, f, hotter) => {
        const set = (target: number, temperature: number) => {
          const made = tireSetNow({
            ...air,
            target: quantity(target, 'psi'),
            temperature: quantity(temperature, 'degF'),
          });
          return made.ok ? made.value.gauge.value : Number.NaN;
        };
        expect(set(psi + more, f)).toBeGreaterThanOrEqual(set(psi, f));
        expect(set(psi, f + hotter)).toBeGreaterThanOrEqual(set(psi, f));
      }),
      RUNS,
    );
  });

  it('more to fill never takes less time, and no answer is above what sidewall or wheel hold', () => {
    fc.assert(
      fc.property(between(0, 60), between(0, 60), between(0, 60), between(50, 120), (from, a, b, most) => {
        const fill = (to: number) =>
          inflate({
            volume: q('2.3 ft³'),
            delivery: q('1.5 cfm'),
            from: quantity(from, 'psi'),
            to: quantity(from + to, 'psi'),
            pressureMax: quantity(most, 'psi'),
            dutyCycle: q('40 %'),
            runMax: q('2 min'),
          });
        const [less, more] = [fill(Math.min(a, b)), fill(Math.max(a, b))];
        expect(more.ok).toBe(Math.max(a, b) > 0 && from + Math.max(a, b) <= most);
        if (!less.ok || !more.ok) return;
        expect(more.value.time.value).toBeGreaterThanOrEqual(less.value.time.value);
        expect(more.value.timeWithRests!.value).toBeGreaterThanOrEqual(less.value.timeWithRests!.value);
      }),
      RUNS,
    );
  });

  it('more to run or to start, or less from the outlet, never turns what cannot hold into what does', () => {
    const rank = { true: 0, null: 1, false: 2 } as const;
    const holds = (running: number, starting: number, continuous: number, instant: number) => {
      const made = inflate({
        volume: q('2.3 ft³'),
        from: q('30 psi'),
        to: q('50 psi'),
        delivery: q('1 cfm'),
        powerRunning: quantity(running, 'W'),
        powerStarting: quantity(starting, 'W'),
        outletContinuous: quantity(continuous, 'W'),
        outletStarting: quantity(instant, 'W'),
      });
      return made.ok ? rank[`${made.value.outletHolds}`] : null;
    };
    fc.assert(
      fc.property(
        between(100, 800),
        between(1, 3),
        between(100, 900),
        between(1, 3),
        between(0, 300),
        (run, start, give, instant, more) => {
          const now = holds(run, run * start, give, give * instant);
          const hungrier = holds(run + more, (run + more) * start, give, give * instant);
          const weaker = holds(run, run * start, Math.max(1, give - more), Math.max(1, give - more) * instant);
          if (now !== null && hungrier !== null) expect(hungrier).toBeGreaterThanOrEqual(now);
          if (now !== null && weaker !== null) expect(weaker).toBeGreaterThanOrEqual(now);
          if (now === 0) expect(run <= give && run * start <= give * instant).toBe(true);
        },
      ),
    );
  });

  it('a higher load index never carries less', () => {
    for (let index = 61; index <= 132; index++) {
      const [below, here] = [loadOfIndex(index - 1), loadOfIndex(index)];
      expect(below.ok && here.ok && here.value.value > below.value.value, String(index)).toBe(true);
    }
    for (const index of [59, 133, 100.5, -1, 1e308, Number.NaN]) expect(loadOfIndex(index).ok).toBe(false);
  });
});
