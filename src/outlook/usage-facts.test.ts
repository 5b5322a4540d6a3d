/** What an owner's record says of the months ahead: a year of miles is a year of miles, nights are dates apart. */

import { describe, expect, it } from 'vitest';
import { mi, Pen } from '../../test/support/rig.ts';
import { dayNumber } from '../dates/index.ts';
import { habitOf, type KnownTrip, knownTrips, unfinishedTrips, unplannedShare } from './usage.ts';

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

const known = (left: string, back: string, miles: number, more: Partial<KnownTrip> = {}): KnownTrip => ({
  left: dayNumber(left),
  back: dayNumber(back),
  miles,
  nights: dayNumber(back) - dayNumber(left),
  generatorHours: 0,
  lead: 45,
  inserted: false,
  entry: new Pen().write('trip-done', back, { trip: 'one', left, back, miles: mi(miles) }),
  ...more,
});
const yearly = (perDay: readonly number[]) => perDay.reduce((sum, x, m) => sum + x * DAYS[m]!, 0);

describe('the habit', () => {
  it('a whole year of 10 miles a day is 10 miles a day in every month, within a twentieth', () => {
    const year = DAYS.map((days, m) => {
      const month = String(m + 1).padStart(2, '0');
      return known(`2025-${month}-01`, `2025-${month}-${days}`, 10 * days, { generatorHours: days });
    });
    const habit = habitOf(year, dayNumber('2026-01-01'))!;
    // A month on record once counts for 30.44 days, also February.
    for (const perDay of habit.milesPerDay) expect(Math.abs(perDay - 10)).toBeLessThan(0.5);
    expect(Math.abs(yearly(habit.milesPerDay) - 3650)).toBeLessThan(0.02 * 3650);
    expect(habit.hoursPerMile).toBeCloseTo(0.1, 9);
    // 353 nights of 3,650 miles, with ten of a thousand beside them.
    expect(habit.nightsPerMile).toBeCloseTo((353 + 10) / (3650 + 1000), 9);
  });

  it('a trip over the end of a month is shared by its days', () => {
    // 29 June to 2 July: 2 days and 2.
    const habit = habitOf([known('2025-06-29', '2025-07-02', 400)], dayNumber('2026-06-29'))!;
    expect(habit.milesPerDay[5]! * 30).toBeCloseTo(habit.milesPerDay[6]! * 31, -1);
    expect(habit.milesPerDay[6]).toBeGreaterThan(2 * habit.milesPerDay[9]!);
  });

  it('one summer is not taken for a year of summers: 900 miles from June to August are no 3,600 a year', () => {
    const summer = habitOf(
      [
        known('2025-06-01', '2025-06-10', 300),
        known('2025-07-01', '2025-07-10', 300),
        known('2025-08-01', '2025-08-10', 300),
      ],
      dayNumber('2025-09-01'),
    )!;
    expect(yearly(summer.milesPerDay)).toBeLessThan(1800);
    expect(yearly(summer.milesPerDay)).toBeGreaterThan(450);
    // January is quiet, July is not.
    expect(summer.milesPerDay[6]).toBeGreaterThan(3 * summer.milesPerDay[0]!);
  });

  it('miles arrive by trips: of lengths alike each is the mean, of lengths unlike the long ones weigh more', () => {
    const tripMiles = (...miles: number[]) =>
      habitOf(
        miles.map((each) => known('2025-06-01', '2025-06-05', each)),
        dayNumber('2026-06-01'),
      )!.tripMiles;
    expect(tripMiles(500, 500, 500)).toBeCloseTo(500, 9);
    // (100² + 900²)/1,000.
    expect(tripMiles(100, 900)).toBeCloseTo(820, 9);
    expect(habitOf([], 0)).toBeNull();
  });

  it('what was planned ahead: nothing may still come today, all of it far off, no less for more days', () => {
    const habit = habitOf(
      [10, 45, 90].map((lead) => known('2025-06-01', '2025-06-05', 500, { lead })),
      dayNumber('2026-06-01'),
    )!;
    expect(habit.leads).toEqual([10, 45, 90]);
    expect(unplannedShare(habit, 0)).toBe(0);
    expect(unplannedShare(habit, -5)).toBe(0);
    expect(unplannedShare(habit, 2000)).toBeCloseTo(1, 9);
    let before = 0;
    for (let days = 0; days <= 400; days++) {
      const share = unplannedShare(habit, days);
      expect(share).toBeGreaterThanOrEqual(before);
      before = share;
    }
    // One of three, and of three assumed those that an exponential of 45 days on the mean puts within 45: (2 + 3·(1 − 1/e))/6.
    expect(unplannedShare(habit, 45)).toBeCloseTo((2 + 3 * (1 - Math.exp(-1))) / 6, 9);
    expect(unplannedShare(habit, 44)).toBeLessThan(unplannedShare(habit, 45) - 1 / 7);
  });

  it('a trip written down on leaving says nothing of planning; one put in before others counts', () => {
    const some = habitOf(
      [
        known('2025-06-01', '2025-06-05', 500, { lead: 0 }),
        known('2025-07-01', '2025-07-05', 500, { inserted: true }),
        known('2025-08-01', '2025-08-05', 500),
      ],
      dayNumber('2026-06-01'),
    )!;
    expect(some.leads).toEqual([45, 45]);
    // One of two, beside five trips of which one in ten was put in.
    expect(some.insertedShare).toBeCloseTo(1.5 / 7, 9);
  });
});

describe('trips on record', () => {
  const pen = new Pen();
  const plan = { leave: '2026-06-12', return: '2026-06-21', miles: mi(640), chance: 0.8 };
  pen.write('trip', '2026-05-01', { trip: 'a', name: 'A', ...plan });
  pen.write('trip', '2026-05-02', { trip: 'b', name: 'B', ...plan, nights: 3, generatorHours: 5 });
  pen.write('trip', '2026-04-01', {
    ...plan,
    trip: 'c',
    name: 'C',
    leave: '2026-05-02',
    return: '2026-05-05',
    miles: mi(100),
  });
  pen.write('trip-done', '2026-05-06', { trip: 'c', left: '2026-05-02', back: '2026-05-05', miles: mi(120) });

  it('nine nights lie between 12 and 21 June, unless it is said otherwise', () => {
    expect(
      unfinishedTrips(pen.state()).map(({ id, nights, generatorHours, chance }) => [
        id,
        nights,
        generatorHours,
        chance,
      ]),
    ).toEqual([
      ['a', 9, 0, 0.8],
      ['b', 3, 5, 0.8],
    ]);
  });

  it('a finished one has its own days and miles, and was written down 31 days ahead', () => {
    expect(knownTrips(pen.state())).toMatchObject([{ miles: 120, nights: 3, lead: 31, inserted: false }]);
  });
});
