import { expect, it } from 'vitest';
import { Pen } from '../../test/support/rig.ts';
import { dateOf, dayNumber } from '../dates/index.ts';
import { slotsOf } from './slots.ts';

/** A week without trips, Monday 1 to Sunday 7 June 2026: days and hours that can be worked. */
const week = (pen: Pen): (readonly [day: string, hours: number])[] =>
  slotsOf(pen.state(), [], dayNumber('2026-06-01'), dayNumber('2026-06-07')).map(
    ({ day, minutes }) => [dateOf(day), minutes / 60] as const,
  );

it('gives each day of the week its own hours, and a single day what was said of it', () => {
  const pen = new Pen();
  pen.write('set', '2026-05-01', {
    key: 'free-days',
    value: { weekdays: [3, 6, 0], hours: 6, hoursOn: { 3: 1.5, 0: 4 } },
  });
  expect(week(pen)).toEqual([
    ['2026-06-03', 1.5],
    ['2026-06-06', 6],
    ['2026-06-07', 4],
  ]);
  pen.write('set', '2026-05-01', { key: 'day/2026-06-05', value: { hours: 2 } });
  pen.write('set', '2026-05-01', { key: 'day/2026-06-06', value: { hours: 0 } });
  expect(week(pen)).toEqual([
    ['2026-06-03', 1.5],
    ['2026-06-05', 2],
    ['2026-06-07', 4],
  ]);
});
