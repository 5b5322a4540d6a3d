import { describe, expect, it } from 'vitest';
import { find, judge } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { departure, miles, months, smallCatalog } from '../../../test/support/small-catalog.ts';
import { soundRig, tripOf } from '../../../test/support/sound-rig.ts';
import type { Catalog, Clock, Upkeep } from '../../catalog/index.ts';

/** From which day on a duty can be done so that it holds, at both sides of each bound. The trip leaves on 12 June 2026. */
const catalogOf = (clocks: readonly Clock[], more: Partial<Upkeep> = {}): Catalog =>
  smallCatalog({ upkeeps: [{ id: 'check', part: 'hub', clocks, place: 'home', ...more }] });

const rig = (back = '2026-06-21', more: Record<string, unknown> = {}): Logbook =>
  soundRig()
    .add('fit', '2022-04-01', { part: 'hub', kind: 'hub', isNew: false, odometer: '50000 mi' })
    .add('trip', '2026-04-01', tripOf('2026-06-12', back, '640 mi', more));
const done = (book: Logbook, on: string, more: Record<string, unknown> = {}): Logbook =>
  book.add('work', on, { done: [{ upkeep: 'check', part: 'hub', outcome: 'good' }], ...more });
const told = (book: Logbook, clocks: readonly Clock[], now: string, more: Partial<Upkeep> = {}) => {
  const result = judge(book, catalogOf(clocks, more), now, 'palouse', 128);
  return result.findings.find(({ id }) => id === 'upkeep/check') ?? find(result, 'upkeep/check@hub');
};

describe('a proof before each leaving', () => {
  it.each([
    ['2026-06-09', 'limit'],
    ['2026-06-10', 'stop'],
    ['2026-06-12', 'stop'],
  ])('good for two days cannot be had before 10 June: on %s it is a %s', (now, kind) => {
    expect(told(rig(), [departure(2)], now).kind).toBe(kind);
  });

  it('says from which day on it can be done', () => {
    expect(told(rig(), [departure(2)], '2026-06-01').keepTo).toBe('from Wed 10 Jun to Fri 12 Jun');
    expect(told(rig(), [departure(0)], '2026-06-01').keepTo).toBe('on the morning of leaving, Fri 12 Jun');
  });

  it.each([
    ['2026-06-09', 'limit'],
    ['2026-06-10', 'pass'],
  ])('done on %s it is a %s on the day before', (on, kind) => {
    const before = told(done(rig(), on), [departure(2)], on === '2026-06-10' ? '2026-06-11' : '2026-06-09');
    expect(before.kind).toBe(kind);
  });
});

describe('months', () => {
  it.each([
    // A month from 21 May is 21 June, the day of the return: a day short. From 22 May it reaches 22 June.
    ['2026-05-20', 'limit'],
    ['2026-05-22', 'stop'],
  ])('a job of every month cannot last the trip before 22 May: on %s it is a %s', (now, kind) => {
    expect(told(done(rig(), '2026-01-05'), [months(1)], now).kind).toBe(kind);
  });

  it.each([
    // 49 days away: no month lasts them. Fresh within seven days before leaving.
    ['2026-06-05', 'limit'],
    ['2026-06-04', 'stop'],
  ])('shorter than the trip, it is fresh when done from 5 June on: %s', (on, kind) => {
    expect(told(done(rig('2026-07-30'), on), [months(1)], '2026-06-11').kind).toBe(kind);
  });

  it('a job of every year lasts the trip to its last day', () => {
    expect(told(done(rig(), '2025-06-22'), [months(12)], '2026-06-11').kind).toBe('pass');
    expect(told(done(rig(), '2025-06-21'), [months(12)], '2026-06-11').kind).toBe('stop');
  });
});

describe('miles shorter than the trip', () => {
  const read = (odometer: number) =>
    done(rig(), '2026-06-10', { odometer: '64000 mi' }).add('reading', '2026-06-11', {
      what: 'odometer',
      vehicle: 'trailer',
      value: `${odometer} mi`,
    });

  it.each([
    // A twentieth of 400 miles are 20.
    [64_020, 'limit'],
    [64_021, 'stop'],
  ])('are fresh with no more than a twentieth used: at %d mi a %s', (odometer, kind) => {
    expect(told(read(odometer), [miles(400)], '2026-06-11').kind).toBe(kind);
  });

  it('fall due at the mile of this trip that is left after the trips before it', () => {
    const book = read(64_010);
    expect(told(book, [miles(400)], '2026-06-11', { place: 'anywhere' }).atMiles).toBe(390);
    const after = read(64_010).add('trip', '2026-06-01', {
      trip: 'palouse',
      name: 'Palouse',
      leave: '2026-07-12',
      return: '2026-07-21',
      miles: '640 mi',
    });
    const earlier = after.add('trip', '2026-06-01', {
      trip: 'first',
      name: 'First',
      leave: '2026-06-20',
      return: '2026-06-21',
      miles: '100 mi',
    });
    // Trips run 8 % over their plan, as the outlook has it before any is finished.
    const { atMiles } = told(earlier, [miles(400)], '2026-06-11', { place: 'anywhere' });
    expect(atMiles).toBeGreaterThanOrEqual(280);
    expect(atMiles).toBeLessThanOrEqual(283);
  });
});

describe('the season', () => {
  const spring: Clock = { kind: 'season', before: 'first trip', source: 'practice' };

  it('cannot be opened before its year begins', () => {
    const next = soundRig()
      .add('fit', '2022-04-01', { part: 'hub', kind: 'hub', isNew: false })
      .add('trip', '2026-11-01', tripOf('2027-04-12', '2027-04-21', '640 mi'));
    const book = done(next, '2026-04-10');
    expect(told(book, [spring], '2026-12-31')).toMatchObject({ kind: 'limit', onLeaving: true });
    expect(told(book, [spring], '2027-01-01').kind).toBe('stop');
    expect(told(done(book, '2027-01-02'), [spring], '2027-01-03').kind).toBe('pass');
  });
});

describe('a reading grows old', () => {
  const tread: Clock = {
    kind: 'limit',
    reading: 'tread-depth',
    side: 'below',
    limit: { value: 2 / 32, unit: 'in' },
    driftPerMonth: -0.001,
    driftSpread: 0.0005,
    readingError: 0.005,
    staleDays: 30,
    source: 'practice',
  };
  const readOn = (on: string): Logbook =>
    rig().add('reading', on, { part: 'hub', what: 'tread-depth', value: '0.25 in' });

  it.each([
    // Thirty days before 12 June is 13 May.
    ['2026-05-13', '2026-06-11', 'pass'],
    ['2026-05-12', '2026-06-11', 'unproven'],
    ['2026-05-12', '2026-05-13', 'unproven'],
    ['2026-05-11', '2026-05-12', 'limit'],
  ])('read on %s, on %s it is %s', (on, now, kind) => {
    expect(told(readOn(on), [tread], now).kind).toBe(kind);
  });

  it('says how old it will be', () => {
    expect(told(readOn('2026-05-12'), [tread], '2026-06-11').text).toContain('31 days old on leaving');
  });
});
