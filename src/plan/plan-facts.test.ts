/** What a plan is given, by the calendar and the clock on the wall: an hour has 60 minutes, two parts take twice as long as one. */

import { describe, expect, it } from 'vitest';
import { catalogOf, mi, Pen, partKind, upkeep } from '../../test/support/rig.ts';
import type { Clock } from '../catalog/index.ts';
import { dateOf, dayNumber } from '../dates/index.ts';
import { lookAhead } from '../outlook/index.ts';
import { makePlan, type PlanModel } from './index.ts';
import { SLOTS_MOST, slotsOf } from './slots.ts';

const now = '2026-05-20';
const yearly: Clock = { kind: 'months', every: 12, source: 'practice' };
const wheelOff = { id: 'wheel-off', title: 'Wheel off', minutes: 40, tools: [], steps: [], cautions: [] };
const catalog = catalogOf(
  [partKind('bearings')],
  [
    upkeep('repack', 'bearings', [yearly], {
      setups: ['wheel-off'],
      minutes: 45,
      consumables: [{ what: 'grease', quantity: '1 tub', leadDays: 9, cost: 8 }],
    }),
  ],
  [wheelOff],
);

/** Bearings last repacked on 14 June 2025, a trip from 12 to 21 June 2026, and only these days free. */
function rig(sides: readonly string[], freeDays: Readonly<Record<string, number>>): Pen {
  const pen = new Pen();
  for (const side of sides)
    pen.write('fit', '2025-01-05', { part: side, kind: 'bearings', place: `axle 1, ${side}`, isNew: false });
  pen.write('reading', '2025-06-10', { vehicle: 'trailer', what: 'odometer', value: mi(10_000) });
  pen.write('work', '2025-06-14', {
    done: sides.map((part) => ({ upkeep: 'repack', part, outcome: 'good' as const })),
    odometer: mi(10_000),
  });
  pen.write('trip', '2026-05-01', {
    trip: 'palouse',
    name: 'Palouse',
    leave: '2026-06-12',
    return: '2026-06-21',
    miles: mi(640),
    chance: 1,
  });
  pen.write('set', '2026-05-01', { key: 'free-days', value: { weekdays: [], hours: 6 } });
  for (const [day, hours] of Object.entries(freeDays))
    pen.write('set', '2026-05-01', { key: `day/${day}`, value: { hours } });
  return pen;
}

function planned(pen: Pen): PlanModel {
  const made = makePlan(lookAhead(pen.state(), catalog, { now, paths: 64 }), { gapTarget: 0 });
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  return made.value;
}
const told = (pen: Pen) => planned(pen).plan.days.map(({ date, jobs }) => [date, jobs.map((job) => job.part)] as const);

describe('time', () => {
  it('an hour has 60 minutes: at 60 a hour each minute costs 1', () => {
    const pen = rig(['left'], { '2026-06-06': 2 });
    pen.write('set', now, { key: 'hourly-value', value: 60 });
    pen.write('set', now, { key: 'day-cost', value: 10 });
    const { plan, placement } = planned(pen);
    // 40 for the wheel off, 45 for the bearings, 8 of grease, 10 for opening the day.
    expect(plan.days).toHaveLength(1);
    expect(plan.days[0]).toMatchObject({ date: '2026-06-06', minutes: 85, minutesFree: 120, cost: 103 });
    expect(placement.instance.setups).toEqual([{ cost: 40, minutes: 40 }]);
    expect(placement.instance.capacityMinutes).toEqual([120]);
    expect(placement.jobs[0]).toMatchObject({ minutes: 45, partsCost: 8, leadDays: 9 });
  });

  it('two sides take twice as long under one wheel-off: 130 minutes go into a day of 130, not into one of 129', () => {
    const day = (minutes: number) => rig(['left', 'right'], { '2026-06-06': minutes / 60 });
    const { plan, placement } = planned(day(130));
    expect(placement.instance.jobs.map((job) => job.minutes)).toEqual([90]);
    expect(plan.days[0]).toMatchObject({ minutes: 130, minutesFree: 130 });
    expect(plan.warnings).toEqual([]);
    expect(plan.days[0]!.parts).toEqual([{ what: 'grease', quantity: '2 × 1 tub', cost: 16, orderBy: '2026-05-28' }]);
    // Too long for every day there is: a plan all the same, and the owner is told what it leaves undone.
    const short = planned(day(129)).plan;
    expect(short.warnings.join()).toContain('more safety work than free hours');
    expect(short.warnings.join()).toContain(
      'No free day before Palouse for: repack (axle 1, left); repack (axle 1, right)',
    );
    expect(short.chanceOnRoad).toBe(1);
  });
});

describe('what must be ordered', () => {
  it('nine days from 20 May parts are here on the 29th, and not on the 28th', () => {
    expect(told(rig(['left'], { '2026-05-28': 6, '2026-05-29': 6 }))).toEqual([['2026-05-29', ['left']]]);
    const early = planned(rig(['left'], { '2026-05-28': 6 })).plan;
    expect(early.days).toEqual([]);
    expect(early.warnings.join()).toContain('No free day before Palouse');
    expect(planned(rig(['left'], { '2026-05-29': 6 })).plan.days[0]!.parts[0]!.orderBy).toBe(now);
  });

  it('a day the owner pinned is taken although the parts cannot be here by mail', () => {
    const pen = rig(['left'], { '2026-05-28': 6, '2026-05-29': 6 });
    pen.write('set', now, { key: 'pin/repack.left', value: { day: '2026-05-28', how: 'on' } });
    expect(told(pen)[0]).toEqual(['2026-05-28', ['left']]);
    const off = rig(['left'], { '2026-05-29': 6, '2026-06-06': 6 });
    off.write('set', now, { key: 'pin/repack.left', value: { day: '2026-06-06', how: 'not on' } });
    expect(told(off)).toEqual([['2026-05-29', ['left']]]);
  });
});

describe('days at home', () => {
  const days = (
    trips: readonly { leave: string; back: string; chance: number }[],
    [from, through]: readonly [string, string],
    write: (pen: Pen) => void = () => {},
  ) => {
    const pen = new Pen();
    pen.write('set', '2026-05-01', { key: 'free-days', value: { weekdays: [0, 1, 2, 3, 4, 5, 6], hours: 6 } });
    write(pen);
    const away = trips.map(({ leave, back, chance }) => ({ leave: dayNumber(leave), back: dayNumber(back), chance }));
    return slotsOf(pen.state(), away, dayNumber(from), dayNumber(through)).map(
      ({ day, minutes, frosty }) => [dateOf(day), minutes, frosty] as const,
    );
  };
  const June = ['2026-06-10', '2026-06-24'] as const;
  const datesOf = (found: ReturnType<typeof days>) => found.map(([date]) => date.slice(8));

  it('neither the day of leaving nor the day of coming back is one', () => {
    const trip = { leave: '2026-06-12', back: '2026-06-21', chance: 1 };
    expect(datesOf(days([trip], June))).toEqual(['10', '11', '22', '23', '24']);
    // As likely as not it is made; less likely, the days are free.
    expect(datesOf(days([{ ...trip, chance: 0.5 }], June))).toEqual(['10', '11', '22', '23', '24']);
    expect(days([{ ...trip, chance: 0.49 }], June)).toHaveLength(15);
    // One trip hard on another leaves no day between them.
    const next = { leave: '2026-06-22', back: '2026-06-23', chance: 1 };
    expect(datesOf(days([trip, next], June))).toEqual(['10', '11', '24']);
  });

  it('the first and the last day asked for are among them, six hours are 360 minutes', () => {
    expect(days([], ['2026-06-10', '2026-06-10'])).toEqual([['2026-06-10', 360, false]]);
    expect(datesOf(days([], ['2026-06-10', '2026-06-12']))).toEqual(['10', '11', '12']);
  });

  it('a day pinned is free although its weekday is not', () => {
    const found = days([], ['2026-06-01', '2026-06-07'], (pen) => {
      pen.write('set', '2026-05-02', { key: 'free-days', value: { weekdays: [6], hours: 4 } });
      pen.write('set', '2026-05-02', { key: 'pin/repack.left', value: { day: '2026-06-03', how: 'on' } });
      pen.write('set', '2026-05-02', { key: 'pin/repack.right', value: { day: '2026-06-04', how: 'not on' } });
    });
    expect(found).toEqual([
      ['2026-06-03', 240, false],
      ['2026-06-06', 240, false],
    ]);
  });

  it('frost is expected from the first freeze to the last', () => {
    const frosty = (from: string, through: string) =>
      days([], [from, through], (pen) => {
        pen.write('set', '2026-05-01', { key: 'first-freeze', value: '10-12' });
        pen.write('set', '2026-05-01', { key: 'last-freeze', value: '04-20' });
      }).map(([, , frost]) => frost);
    expect(frosty('2026-10-11', '2026-10-13')).toEqual([false, true, true]);
    expect(frosty('2027-01-05', '2027-01-06')).toEqual([true, true]);
    expect(frosty('2027-06-05', '2027-06-06')).toEqual([false, false]);
  });

  it('of a long summer as many as the optimiser takes, in order, both ends and the days before leaving among them', () => {
    const trip = { leave: '2026-08-01', back: '2026-08-09', chance: 1 };
    const found = days([trip], ['2026-05-01', '2026-12-31']).map(([date]) => date);
    expect(found).toHaveLength(SLOTS_MOST);
    expect(found).toEqual([...new Set(found)].sort());
    for (const day of ['2026-05-01', '2026-08-10', '2026-12-31']) expect(found).toContain(day);
    for (const day of [26, 27, 28, 29, 30, 31]) expect(found).toContain(`2026-07-${day}`);
  });
});
