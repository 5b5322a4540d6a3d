import { describe, expect, it } from 'vitest';
import { look, milesEvery, monthsEvery, only, repacked, started, trip } from '../../test/support/outlook-rig.ts';
import { mi, type Pen } from '../../test/support/rig.ts';
import { addDays, daysBetween } from '../dates/index.ts';
import type { OutlookModel } from './index.ts';
import { amountOn } from './paths.ts';

const NOW = '2026-05-27';

/** Two summers of an owner who drives 6,000 miles a year in six trips, each written down, and reads the odometer after the last. */
function traveller(lastReading: string): Pen {
  const pen = started();
  pen.write('reading', '2024-01-05', { vehicle: 'trailer', what: 'odometer', value: mi(10_000) });
  let total = 10_000;
  for (const year of [2024, 2025])
    for (let month = 4; month <= 9; month++) {
      const left = `${year}-0${month}-10`;
      const back = `${year}-0${month}-20`;
      if (back > lastReading) continue;
      total += 1_000;
      pen.write('trip', `${year}-02-01`, {
        trip: `t${year}${month}`,
        name: 'trip',
        leave: left,
        return: back,
        miles: mi(1_000),
        chance: 1,
      });
      pen.write('trip-done', back, { trip: `t${year}${month}`, left, back, miles: mi(1_000) });
    }
  pen.write('reading', lastReading, { vehicle: 'trailer', what: 'odometer', value: mi(total) });
  return pen;
}

/** Miles that are taken as driven since the last reading, on the mean and on the path that runs most. */
function drivenSince(model: OutlookModel, day: number): { mean: number; spread: number } {
  const paths = model.scene.odometers.trailer!;
  const on = amountOn(paths, day, new Float64Array(paths.count)).map((miles) => miles - paths.amount[0]!);
  const mean = on.reduce((sum, miles) => sum + miles, 0) / on.length;
  return { mean, spread: Math.sqrt(on.reduce((sum, miles) => sum + (miles - mean) ** 2, 0) / on.length) };
}

describe('an odometer that nobody has read for long', () => {
  it('runs on by the habit: 400 days without a word are about as many miles as the owner drives in 400 days', () => {
    const read = addDays(NOW, -400);
    const model = look(traveller(read), [milesEvery(10_000)]);
    const { mean, spread } = drivenSince(model, model.scene.nowDay);
    // 6,000 miles a year by the trips on record until April 2025 (1,000 of 2025 among them).
    const usual = (6_000 / 365.25) * daysBetween(read, NOW);
    expect(mean).toBeGreaterThan(0.7 * usual);
    expect(mean).toBeLessThan(1.5 * usual);
    expect(spread).toBeGreaterThan(0.2 * usual);
  });

  it('is believed for a while, and doubted the more the longer nobody reads it', () => {
    const pen = traveller('2025-09-25');
    const driven = [30, 80, 150, 250, 400].map((days) => {
      const now = addDays('2025-09-25', days);
      const model = look(pen, [milesEvery(10_000)], now);
      return drivenSince(model, model.scene.nowDay);
    });
    // Short hops only in the first weeks.
    expect(driven[0]!.mean).toBeLessThan(60);
    expect(driven[1]!.mean).toBeLessThan(120);
    for (let i = 1; i < driven.length; i++) {
      expect(driven[i]!.mean).toBeGreaterThan(driven[i - 1]!.mean);
      expect(driven[i]!.spread).toBeGreaterThan(driven[i - 1]!.spread);
    }
    expect(driven.at(-1)!.mean).toBeGreaterThan(4_000);
  });

  it('knows the miles of trips written down since, and doubts no day before the last of them', () => {
    const pen = traveller('2025-05-25');
    trip(pen, 'late', '2026-05-01', '2026-05-20', 800);
    pen.write('trip-done', '2026-05-20', { trip: 'late', left: '2026-05-01', back: '2026-05-20', miles: mi(820) });
    const model = look(pen, [milesEvery(10_000)]);
    const { mean } = drivenSince(model, model.scene.nowDay);
    expect(mean).toBeGreaterThan(820);
    // Besides them only short hops: under a mile a day.
    expect(mean).toBeLessThan(820 + 370);
  });

  it('shortens what is left today, and says that it is no reading', () => {
    const pen = traveller('2025-09-25');
    const model = look(pen, [milesEvery(12_000), monthsEvery(60)], '2026-08-01');
    expect(only(model).state).toBe('unproven');
    repacked(pen, '2025-09-26', 22_000);
    const [clock] = only(look(pen, [milesEvery(12_000)], '2026-08-01')).clocks;
    expect(clock!.left!.value).toBeLessThan(12_000 - 1_000);
    expect(clock!.text).toMatch(/about .* mi left by now, the odometer last read on 26 Sep 2025/);
    const fresh = only(look(pen, [milesEvery(12_000)], '2025-10-10')).clocks[0]!;
    expect(fresh.left).toEqual(mi(12_000));
    expect(fresh.text).toMatch(/due at 34,000.0 mi, 12,000.0 mi left$/);
  });

  it('counts miles of a trip written down since the reading as gone', () => {
    const pen = traveller('2025-05-25');
    repacked(pen, '2025-05-25', 18_000);
    trip(pen, 'late', '2025-06-01', '2025-06-05', 800);
    pen.write('trip-done', '2025-06-05', { trip: 'late', left: '2025-06-01', back: '2025-06-05', miles: mi(820) });
    const [clock] = only(look(pen, [milesEvery(2_000)], '2025-06-06')).clocks;
    expect(clock!.left!.value).toBeLessThanOrEqual(2_000 - 820);
    expect(clock!.left!.value).toBeGreaterThan(2_000 - 820 - 60);
  });
});

describe('evidence of miles that is over a year old', () => {
  const old = (severity: 'safety' | 'damage', now: string, every = 12_000) => {
    const pen = traveller('2025-05-25');
    repacked(pen, '2025-05-25', 18_000);
    return only(look(pen, [milesEvery(every)], now, { severity }));
  };

  it('proves nothing where safety hangs on it: not checked, with the reading that is missing', () => {
    expect(old('safety', '2026-05-25')).toMatchObject({ state: 'runs' });
    const item = old('safety', '2026-05-26');
    expect(item).toMatchObject({ state: 'unproven', clock: 'miles' });
    expect(item.clocks[0]!.missing).toBe('an odometer reading of the last 12 months (the newest is of 25 May 2025)');
    expect(item.clocks[0]!.needs).toBe('odometer');
  });

  it('is said to be old, and no more, where only money hangs on it', () => {
    expect(old('damage', '2026-05-26')).toMatchObject({ state: 'runs' });
  });

  it('does not hide that the miles had already run out when it was read', () => {
    const pen = started();
    repacked(pen, '2024-01-10', 1_000);
    pen.write('reading', '2024-06-01', { vehicle: 'trailer', what: 'odometer', value: mi(9_000) });
    expect(only(look(pen, [milesEvery(5_000)]))).toMatchObject({ state: 'due' });
  });
});
