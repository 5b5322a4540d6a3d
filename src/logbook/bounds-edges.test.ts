/** Both sides of each bound of days, labels, trips and settings, with what would have been right. */

import { describe, expect, it } from 'vitest';
import { catalogOf, mi, Pen, partKind } from '../../test/support/rig.ts';
import { admit, EMPTY, type EntryKind, type EntryOf, judgeAlone } from './index.ts';

const catalog = catalogOf([partKind('tire')], []);
const TODAY = '2026-06-12';
const said = <K extends EntryKind>(kind: K, body: EntryOf<K>['body'], on = TODAY, today = TODAY) =>
  admit(EMPTY, new Pen().write(kind, on, body), { catalog, today })
    .filter(({ code }) => code === 'logbook.bounds')
    .map(({ where, expected }) => `${where!.slice(`${kind} of ${on}: `.length)}: ${expected}`);
const never = <K extends EntryKind>(kind: K, body: EntryOf<K>['body'], on = TODAY) =>
  judgeAlone(new Pen().write(kind, on, body))?.releasable;

const trip = { trip: 'coast', name: 'Coast', leave: '2026-07-03', return: '2026-07-12', miles: mi(640), chance: 1 };
const done = { trip: 'coast', left: '2026-05-01', back: '2026-05-04', miles: mi(200) };
const fit = { part: 'tire-1', kind: 'tire', isNew: true };
const F = (value: number) => ({ value, unit: 'degF' as const });
const C = (value: number) => ({ value, unit: 'degC' as const });

describe('days', () => {
  it('from 1950 on', () => {
    expect(said('fit', fit, '1950-01-01')).toEqual([]);
    expect(said('fit', fit, '1949-12-31')).toEqual(['on: a day from 1950-01-01 on']);
    expect(said('trip-done', { ...done, left: '1949-12-31', back: '1950-01-01' })).toEqual([
      'left: a day from 1950-01-01 on',
    ]);
  });

  it('up to 2199, and nothing is good longer: what says so never counts', () => {
    expect(said('fit', fit, '2199-12-31', '2210-01-01')).toEqual([]);
    expect(said('fit', fit, '2200-01-01', '2210-01-01')).toEqual(['on: a day up to 2199-12-31']);
    expect(never('fit', fit, '2200-01-01')).toBe(false);
    const paper = (goodThrough: string) => ({ part: 'registration', goodThrough });
    expect(said('paper', paper('2199-12-31'))).toEqual([]);
    expect(said('paper', paper('2200-01-01'))).toEqual(['goodThrough: up to 2199-12-31']);
    expect(never('paper', paper('2200-01-01'))).toBe(false);
    expect(said('fit', { ...fit, goodThrough: '2199-12' })).toEqual([]);
    expect(said('fit', { ...fit, goodThrough: '2200' })).toEqual(['goodThrough: up to 2199-12-31']);
    expect(never('fit', { ...fit, goodThrough: '2200' })).toBe(false);
  });

  it('trips ten years ahead, to the day', () => {
    const on = (leave: string, back = leave) => said('trip', { ...trip, leave, return: back });
    expect(on('2036-06-12')).toEqual([]);
    expect(on('2036-06-12', '2036-06-13')).toEqual(['return: a day up to 2036-06-12']);
    expect(on('2036-06-13')).toEqual(['leave: a day up to 2036-06-12', 'return: a day up to 2036-06-12']);
    // Most unlikely, and harms nothing: the owner may let it count. Beyond all planning never.
    expect(never('trip', { ...trip, leave: '2040-01-01', return: '2040-01-02' })).toBe(true);
    expect(never('trip', { ...trip, leave: '2300-01-01', return: '2300-01-02' })).toBe(false);
    expect(said('trip-done', { ...done, left: '2036-06-13', back: TODAY })).toContain('left: a day up to 2036-06-12');
  });

  it('back by the day it is written', () => {
    expect(said('trip-done', { ...done, back: TODAY })).toEqual([]);
    expect(said('trip-done', { ...done, back: '2026-06-13' })).toEqual(['back: a day up to 12 Jun 2026']);
  });
});

describe('labels give a year, a month or a day of the calendar', () => {
  it.each([
    ['2026', true],
    ['2027', false],
    ['2026-06', true],
    ['2026-07', false],
    ['2026-06-12', true],
    ['2026-06-13', false],
    ['2019-13', false],
    ['2024-02-29', true],
    ['2023-02-29', false],
  ])('made in %s', (madeOn, holds) => {
    const found = said('fit', { ...fit, madeOn });
    expect(found).toHaveLength(holds ? 0 : 1);
    if (!holds) expect(found[0]).toMatch(/^madeOn: (up to 2026-06-12|YYYY)/);
  });

  it('what is good through a later day was not made then', () => {
    expect(said('fit', { ...fit, madeOn: '2020-03', goodThrough: '2031-03' })).toEqual([]);
    const job = (goodThrough: string) => ({ upkeep: 'look', part: 'tire-1', outcome: 'good' as const, goodThrough });
    expect(said('work', { done: [job('2031-02-28'), job('2031-02-29'), job('2200-01-01')] })).toEqual([
      'done.1.goodThrough: YYYY, YYYY-MM or YYYY-MM-DD of the calendar',
      'done.2.goodThrough: up to 2199-12-31',
    ]);
  });
});

describe('trips', () => {
  it('more than no miles, and 2,000 a day at most, the first and the last day counted', () => {
    const miles = (value: number) =>
      said('trip', { ...trip, leave: '2026-07-03', return: '2026-07-04', miles: mi(value) });
    expect([miles(0.1), miles(4000)]).toEqual([[], []]);
    expect(miles(0)).toEqual(['miles: more than 0, such as 640 mi']);
    expect(miles(4000.1)).toEqual(['miles: up to 4,000 mi']);
    // 4,000 mi are 6,437.4 km.
    const km = (value: number) =>
      said('trip', { ...trip, leave: '2026-07-03', return: '2026-07-04', miles: { value, unit: 'km' } });
    expect([km(6437), km(6438).length]).toEqual([[], 1]);
    const made = (value: number) =>
      said('trip-done', { ...done, left: '2026-05-01', back: '2026-05-01', miles: mi(value) });
    expect([made(2000), made(2001).length]).toEqual([[], 1]);
  });

  it('as many nights as lie between', () => {
    expect(said('trip', { ...trip, nights: 9 })).toEqual([]);
    expect(said('trip', { ...trip, nights: 10 })).toEqual(['nights: up to 9']);
    expect(said('trip-done', { ...done, nights: 3 })).toEqual([]);
    expect(said('trip-done', { ...done, nights: 4 })).toEqual(['nights: up to 3']);
  });

  it('highest at or above lowest, in whatever unit; either alone', () => {
    expect(said('trip', { ...trip, highest: F(60), lowest: F(60) })).toEqual([]);
    expect(said('trip', { ...trip, highest: F(59), lowest: F(60) })).toHaveLength(1);
    // 20 °C are 68 °F.
    expect(said('trip', { ...trip, highest: C(20), lowest: F(67) })).toEqual([]);
    expect(said('trip', { ...trip, highest: C(20), lowest: F(69) })).toEqual(['highest: 69 °F or more']);
    expect(said('trip', { ...trip, highest: F(60) })).toEqual([]);
    expect(said('trip', { ...trip, lowest: F(60) })).toEqual([]);
  });
});

describe('settings', () => {
  const set = (key: string, value: unknown) => said('set', { key, value: value as never });
  it.each(['day', 'fact', 'pin', 'override', 'own-upkeep', 'own-part-kind', 'call'])('%s says of what', (kind) => {
    expect(set(kind, null)).toEqual([`key: ${kind}/…`]);
    expect(set(`${kind}/`, null)).toEqual(kind === 'day' ? ['key: day/…'] : [`key: ${kind}/…`]);
    expect(set(`${kind}/2026-07-04`, null)).toEqual([]);
  });

  it.each([
    ['speed-max', { value: 20, unit: 'mph' }, []],
    ['speed-max', { value: 19.9, unit: 'mph' }, ['value: 20 to 90 mph']],
    ['speed-max', { value: 90, unit: 'mph' }, []],
    ['speed-max', { value: 90.1, unit: 'mph' }, ['value: 20 to 90 mph']],
    ['speed-max', { value: 30, unit: 'km/h' }, []],
    ['speed-max', { value: 29.9, unit: 'km/h' }, ['value: 30 to 145 km/h']],
    ['speed-max', { value: 145, unit: 'km/h' }, []],
    ['speed-max', { value: 145.1, unit: 'km/h' }, ['value: 30 to 145 km/h']],
    ['units', 'us', []],
    ['first-freeze', '02-29', []],
    ['first-freeze', '02-30', ['value: month and day, such as 10-15']],
    ['last-freeze', '04-31', ['value: month and day, such as 10-15']],
    ['last-freeze', null, []],
    ['day/2026-02-29', { hours: 1 }, ['key: day/YYYY-MM-DD']],
    ['day/2028-02-29', { hours: 1 }, []],
    ['fact/2026-02-30', 'x', []],
    ['pin/a.b', { day: '2026-07-04', how: 'on' }, []],
    ['pin/a.b', { day: '2026-07-32', how: 'on' }, ['value.day: YYYY-MM-DD']],
    ['call/tow', { name: 'Road help', number: '555-0100' }, []],
    ['call/tow', { name: ' ', number: '555-0100' }, ['value.name: a name']],
    ['call/tow', { name: 'Road help', number: 'ask' }, ['value.number: a telephone number']],
    ['fact/x', '02-30', []],
  ])('%s %j', (key, value, found) => expect(set(key, value)).toEqual(found));
});
