import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { catalogOf, mi, Pen, partKind } from '../../test/support/rig.ts';
import { admit, EMPTY, type EntryKind, type EntryOf } from './index.ts';

const catalog = catalogOf([partKind('tire')], []);
const shipped = shippedCatalog();
const TODAY = '2026-06-12';

/** Fields that the logbook's door refuses, without what they name being unknown. */
function refused<K extends EntryKind>(kind: K, body: EntryOf<K>['body'], on = TODAY): string[] {
  return admit(EMPTY, new Pen().write(kind, on, body), { catalog, today: TODAY })
    .filter(({ code }) => code === 'logbook.bounds')
    .map(({ where, what, expected }) => {
      expect(what).not.toBe('');
      expect(expected).toBeTruthy();
      return where!.slice(`${kind} of ${on}: `.length);
    });
}

const lb = (value: number) => ({ value, unit: 'lb' as const });
const F = (value: number) => ({ value, unit: 'degF' as const });
const trip = { trip: 'coast', name: 'Coast', leave: '2026-07-03', return: '2026-07-12', miles: mi(640), chance: 1 };
const done = { trip: 'coast', left: '2026-05-01', back: '2026-05-04', miles: mi(200) };
const fit = { part: 'tire-1', kind: 'tire', isNew: true };

describe('what cannot be is refused at the door, with the field and what would have been right', () => {
  it.each([
    [trip, []],
    [{ ...trip, leave: '2026-07-03', return: '2026-07-03', nights: 0 }, []],
    [{ ...trip, miles: mi(0) }, ['miles']],
    [{ ...trip, miles: mi(-640) }, ['miles']],
    [{ ...trip, miles: mi(640_000) }, ['miles']],
    [{ ...trip, nights: 9 }, []],
    [{ ...trip, nights: 10 }, ['nights']],
    [{ ...trip, leave: '1926-07-03' }, ['leave']],
    [{ ...trip, leave: '2062-07-03', return: '2062-07-12' }, ['leave', 'return']],
    [{ ...trip, highest: F(60), lowest: F(90) }, ['highest']],
    [{ ...trip, stops: [{ name: 'Ford', mile: mi(-1) }] }, ['stops.0.mile']],
  ])('a trip %#', (body, fields) => expect(refused('trip', body)).toEqual(fields));

  it.each([
    [done, []],
    [{ ...done, back: '2026-06-13' }, ['back']],
    [{ ...done, miles: mi(-1) }, ['miles']],
    [{ ...done, odometer: mi(-5), odometerTow: mi(70_000_000) }, ['odometer', 'odometerTow']],
    [{ ...done, nights: 4 }, ['nights']],
  ])('a trip made %#', (body, fields) => expect(refused('trip-done', body)).toEqual(fields));

  it('days, odometers, weights and labels', () => {
    expect(refused('fit', fit, '1949-12-31')).toEqual(['on']);
    expect(refused('fit', { ...fit, madeOn: '2026-06' })).toEqual([]);
    expect(refused('fit', { ...fit, madeOn: '2026-07' })).toEqual(['madeOn']);
    expect(refused('fit', { ...fit, madeOn: '2019-02-30' })).toEqual(['madeOn']);
    const work = { upkeep: 'look', part: 'tire-1', outcome: 'good', goodThrough: '2031-02-29' } as const;
    expect(refused('work', { done: [work], odometer: mi(-1) })).toEqual(['odometer', 'done.0.goodThrough']);
    expect(refused('reading', { vehicle: 'tow', what: 'odometer', value: mi(-1) })).toEqual(['value']);
    // What is read off a part may be below zero: play, a temperature.
    expect(refused('reading', { part: 'tire-1', what: 'temperature', value: F(-10) })).toEqual([]);
    expect(refused('adjust', { what: 'odometer', vehicle: 'tow', was: mi(-1), now: mi(0), reason: 'new' })).toEqual([
      'was',
    ]);
    expect(refused('carry', { item: 'jack', aboard: true, weight: lb(-20) })).toEqual(['weight']);
    expect(refused('weigh', { solo: { front: lb(3140), rear: lb(0) }, tongue: lb(-1) })).toEqual([
      'solo.rear',
      'tongue',
    ]);
    const gvwr = { value: lb(0), origin: 'label' };
    expect(refused('enroll', { vehicle: 'trailer', name: 'Test', ratings: { gvwr } })).toEqual(['ratings.gvwr.value']);
  });

  it.each([
    ['speed-max', { value: 60, unit: 'mph' }, []],
    ['speed-max', { value: 100, unit: 'km/h' }, []],
    ['speed-max', { value: 100, unit: 'mph' }, ['value']],
    ['speed-max', { value: 5, unit: 'mph' }, ['value']],
    ['day/2026-07-04', { hours: 3 }, []],
    ['day/2026-02-30', { hours: 3 }, ['key']],
    ['day', { hours: 3 }, ['key']],
    ['pin/repack.bearings-1', { day: 'soon', how: 'on' }, ['value.day']],
    ['first-freeze', '13-40', ['value']],
    ['first-freeze', '10-15', []],
    ['call/tow', { name: ' ', number: 'none' }, ['value.name', 'value.number']],
    ['call/tow', null, []],
  ])('an own figure: %s %j', (key, value, fields) => expect(refused('set', { key, value })).toEqual(fields));
});

describe('what the owner lays over the catalog is refused where it does not hold', () => {
  const own = (key: string, value: unknown, pen = new Pen()) =>
    admit(pen.state(), pen.write('set', TODAY, { key, value: value as never }), { catalog: shipped, today: TODAY });
  const upkeep = {
    title: 'Oil the awning',
    part: 'tire',
    minutes: 10,
    failureCost: 5,
    severity: 'comfort',
    source: 'me',
  };
  const clocks = [{ kind: 'months', every: 6 }];

  it('figures, upkeeps and kinds of part, each beside those that stand', () => {
    expect(own('own-upkeep/oil-awning', { ...upkeep, clocks })).toEqual([]);
    expect(own('own-upkeep/oil-awning', upkeep)).toMatchObject([
      { code: 'catalog.value-wrong', where: `set of ${TODAY}: value` },
    ]);
    const figure = { upkeep: 'oil-awning', clock: 'months', every: 3, source: 'me' };
    expect(own('override/oil-awning', figure)).toMatchObject([{ code: 'catalog.reference-unknown' }]);
    const pen = new Pen();
    pen.write('set', TODAY, { key: 'own-upkeep/oil-awning', value: { ...upkeep, clocks } as never });
    expect(own('override/oil-awning', figure, pen)).toEqual([]);
    // The same one written anew, or taken back.
    expect(own('own-upkeep/oil-awning', { ...upkeep, clocks, minutes: 12 }, pen)).toEqual([]);
    expect(own('own-upkeep/oil-awning', null, pen)).toEqual([]);
  });
});
