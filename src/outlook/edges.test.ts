import { describe, expect, it } from 'vitest';
import {
  bearings,
  look,
  milesEvery,
  monthsEvery,
  only,
  repacked,
  source,
  started,
  trip,
} from '../../test/support/outlook-rig.ts';
import { catalogOf, mi, Pen, partKind, psi, upkeep } from '../../test/support/rig.ts';
import type { Clock } from '../catalog/index.ts';
import { lookAhead } from './index.ts';

describe('the edges of clocks', () => {
  const departure: Clock = { kind: 'departure', withinDays: 2, source };

  it('a proof is good through every day of its days, and not one more', () => {
    for (const [proven, due] of [
      ['2026-06-10', '2026-07-04'],
      ['2026-06-09', '2026-06-12'],
    ] as const) {
      const pen = started();
      trip(pen, 'palouse', '2026-06-12', '2026-06-21', 640);
      trip(pen, 'coast', '2026-07-04', '2026-07-18', 1180);
      repacked(pen, proven);
      expect(only(look(pen, [departure], '2026-06-10')).dates.p50).toBe(due);
    }
  });

  it('a tentative leaving asks on the paths on which it is made, and surely of whoever makes it', () => {
    const pen = started();
    trip(pen, 'maybe', '2026-06-12', '2026-06-21', 640, 0.3);
    trip(pen, 'coast', '2026-07-04', '2026-07-18', 1180);
    const item = only(look(pen, [departure]));
    expect(item.dates).toMatchObject({ p10: '2026-06-12', p50: '2026-07-04', p90: '2026-07-04' });
    expect(item.chanceByTrip.map((chance) => chance.chance)).toEqual([1, 1]);
  });

  it('miles of a finished trip count although the odometer was not read after it', () => {
    const pen = started();
    repacked(pen, '2025-04-18', 1_000);
    trip(pen, 'palouse', '2026-05-02', '2026-05-10', 640);
    pen.write('trip-done', '2026-05-10', { trip: 'palouse', left: '2026-05-02', back: '2026-05-10', miles: mi(900) });
    trip(pen, 'coast', '2026-06-12', '2026-06-13', 150);
    expect(only(look(pen, [milesEvery(1_000)])).chanceByTrip[0]!.chance).toBe(1);
  });

  it('nights of a trip that is over and not written down count', () => {
    const nights: Clock = { kind: 'nights', every: 10, source };
    const pen = started();
    repacked(pen, '2026-04-18');
    trip(pen, 'palouse', '2026-05-02', '2026-05-11', 640);
    trip(pen, 'coast', '2026-06-12', '2026-06-14', 150);
    expect(only(look(pen, [nights])).chanceByTrip[0]!.chance).toBe(1);
  });

  it('an odometer replaced tells the past by the old instrument and the due point by the new one', () => {
    const pen = started();
    repacked(pen, '2025-04-18', 54_310);
    pen.write('reading', '2025-08-31', { vehicle: 'trailer', what: 'odometer', value: mi(57_900) });
    const replaced = { what: 'odometer', vehicle: 'trailer', was: mi(58_000), now: mi(12), reason: 'broken' } as const;
    pen.write('adjust', '2025-09-01', replaced);
    const [clock] = only(look(pen, [milesEvery(12_000)])).clocks;
    expect(clock!.text).toContain('at 54,310');
    expect(clock!.text).toContain('due at 8,322');
  });

  it('an upkeep long past tells the day on which the odometer passed, not the day on which it was last read', () => {
    const pen = started();
    repacked(pen, '2025-04-01', 1_000);
    pen.write('reading', '2025-05-01', { vehicle: 'trailer', what: 'odometer', value: mi(4_000) });
    pen.write('reading', '2026-05-20', { vehicle: 'trailer', what: 'odometer', value: mi(9_000) });
    const item = only(look(pen, [milesEvery(2_000)]));
    expect(item).toMatchObject({ state: 'due', dates: { p50: '2025-04-21' }, odometer: { p50: mi(3_000) } });
  });

  it('a part replaced new leaves behind what was written of the old one earlier that day', () => {
    const pen = started();
    repacked(pen, '2026-05-10', undefined, 'failed');
    pen.write('fit', '2026-05-10', {
      part: 'bearings-axle-1-left',
      kind: 'bearings',
      place: 'axle 1, left',
      isNew: true,
    });
    expect(only(look(pen, [monthsEvery(12)]))).toMatchObject({ state: 'runs', dates: { p50: '2027-05-10' } });
  });

  // Felling trailer manual: brakes at 200 miles, then each 3,000. New brakes are new whoever fitted them, in a shop or at the works.
  it.each([
    [true, '64,200'],
    [false, null],
  ])('a part fitted new (%s) calls for its first adjustment', (isNew, due) => {
    const after: Clock = {
      kind: 'after',
      setups: [],
      upkeeps: ['reline'],
      fitted: true,
      atMiles: [mi(200)],
      atDays: [],
      source,
    };
    const catalog = catalogOf(
      [bearings],
      [upkeep('adjust', 'bearings', [after]), upkeep('reline', 'bearings', [monthsEvery(120)])],
    );
    const pen = started();
    pen.write('reading', '2026-05-10', { vehicle: 'trailer', what: 'odometer', value: mi(64_000) });
    pen.write('fit', '2026-05-10', { part: 'bearings-new', kind: 'bearings', place: 'axle 2, left', isNew });
    const items = lookAhead(pen.state(), catalog, { now: '2026-05-27' }).outlook.items;
    const item = items.find((one) => one.upkeep === 'adjust' && one.part === 'bearings-new');
    if (due === null) expect(item).toBeUndefined();
    else expect(item?.clocks[0]?.text).toContain(`due at ${due}.0 mi`);
  });

  it('work that failed took the wheel off all the same', () => {
    const after: Clock = { kind: 'after', setups: ['wheel-off'], upkeeps: [], atMiles: [mi(10)], atDays: [], source };
    const catalog = catalogOf(
      [bearings, partKind('wheel-nuts')],
      [
        upkeep('repack', 'bearings', [monthsEvery(12)], { setups: ['wheel-off'] }),
        upkeep('look', 'bearings', [monthsEvery(12)]),
        upkeep('retorque', 'wheel-nuts', [after]),
      ],
    );
    const born = (done: { upkeep: string; part: string; outcome: 'good' | 'failed' }[]): number => {
      const pen = started();
      const nuts = (axle: number) =>
        pen.write('fit', '2024-01-05', {
          part: `nuts-${axle}`,
          kind: 'wheel-nuts',
          place: `axle ${axle}, left`,
          isNew: false,
        });
      nuts(1);
      nuts(2);
      pen.write('fit', '2024-01-05', { part: 'far', kind: 'bearings', place: 'axle 2, left', isNew: false });
      pen.write('work', '2026-05-20', { done, odometer: mi(1_000) });
      const { items } = lookAhead(pen.state(), catalog, { now: '2026-05-27' }).outlook;
      return items.filter((item) => item.follows).length;
    };
    const off = { upkeep: 'repack', part: 'bearings-axle-1-left', outcome: 'failed' } as const;
    expect(born([off])).toBe(1);
    // A look at the other axle took no wheel off there.
    expect(born([off, { upkeep: 'look', part: 'far', outcome: 'good' }])).toBe(1);
  });

  it('a lay-up missed stays missed all winter; one on record counts, and a new part is not laid up', () => {
    const winter: Clock = { kind: 'season', before: 'first freeze', source };
    const pen = started();
    pen.write('set', '2025-05-03', { key: 'first-freeze', value: '10-12' });
    expect(only(look(pen, [winter], '2026-01-10'))).toMatchObject({ state: 'unproven' });
    repacked(pen, '2024-09-20');
    expect(only(look(pen, [winter], '2025-11-20'))).toMatchObject({ state: 'due', dates: { p50: '2025-10-12' } });
    expect(only(look(pen, [winter], '2026-05-27'))).toMatchObject({ state: 'runs', dates: { p50: '2026-10-12' } });
    repacked(pen, '2025-11-21');
    expect(only(look(pen, [winter], '2025-11-22')).dates.p50).toBe('2026-10-12');
    pen.write('fit', '2026-10-01', { part: 'bearings-axle-1-left', kind: 'bearings', isNew: true });
    expect(only(look(pen, [winter], '2026-10-02')).dates.p50).toBe('2026-10-12');
    // No day of any year: set aside, and what was said before stands.
    pen.write('set', '2026-10-03', { key: 'first-freeze', value: '13-40' });
    expect(only(look(pen, [winter], '2026-10-04')).dates.p50).toBe('2026-10-12');
  });

  it('a trip undoes the lay-up made before it: the next frost after it finds the rig bare', () => {
    const winter: Clock = { kind: 'season', before: 'first freeze', source };
    const pen = started();
    pen.write('set', '2026-05-03', { key: 'first-freeze', value: '10-12' });
    pen.write('set', '2026-05-03', { key: 'last-freeze', value: '04-20' });
    repacked(pen, '2026-09-05');
    const next = (now: string) => only(look(pen, [winter], now)).dates;
    expect(next('2026-09-06').p50).toBe('2027-10-12');
    trip(pen, 'blues', '2026-09-11', '2026-09-15', 420);
    expect(next('2026-09-06').p50).toBe('2026-10-12');
    expect(only(look(pen, [winter], '2026-09-06')).clocks[0]!.text).toMatch(/undone by leaving on 11 Sep 2026/);
    pen.write('trip-done', '2026-09-15', { trip: 'blues', left: '2026-09-11', back: '2026-09-15', miles: mi(431) });
    expect(next('2026-09-16').p50).toBe('2026-10-12');
    repacked(pen, '2026-09-20');
    expect(next('2026-09-21').p50).toBe('2027-10-12');
    // A trip in the winter, with one chance in four: on a quarter of the paths the rig stands bare on coming home.
    trip(pen, 'snow', '2027-02-12', '2027-02-15', 200, 0.25);
    expect(next('2026-09-21')).toMatchObject({ p10: '2027-02-15', p50: '2027-10-12' });
    // After the last freeze nothing is asked for until the next winter.
    trip(pen, 'spring', '2027-04-21', '2027-04-25', 200);
    expect(next('2026-09-21').p50).toBe('2027-10-12');
  });

  it('29 February: a first freeze and a year of months keep their feet', () => {
    const pen = started();
    repacked(pen, '2024-02-29');
    expect(only(look(pen, [monthsEvery(12)])).clocks[0]).toMatchObject({ dueOn: '2025-02-28' });
    expect(only(look(pen, [monthsEvery(48)])).clocks[0]).toMatchObject({ dueOn: '2028-02-29' });
    pen.write('set', '2026-05-03', { key: 'first-freeze', value: '02-29' });
    expect(only(look(pen, [{ kind: 'season', before: 'first freeze', source }], '2026-09-01')).dates.p50).toBe(
      '2027-02-28',
    );
  });

  it('a season without a plan begins when the owner’s seasons do', () => {
    const spring: Clock = { kind: 'season', before: 'first trip', source };
    const pen = started();
    trip(pen, 'old', '2025-04-20', '2025-04-25', 300);
    pen.write('trip-done', '2025-04-25', { trip: 'old', left: '2025-04-20', back: '2025-04-25', miles: mi(310) });
    expect(only(look(pen, [spring], '2026-03-01')).dates.p50).toBe('2026-04-20');
    expect(only(look(pen, [spring], '2026-08-01')).dates.p50).toBe('2027-04-20');
    trip(pen, 'coast', '2026-09-04', '2026-09-18', 1180);
    expect(only(look(pen, [spring], '2026-08-01')).dates.p50).toBe('2026-09-04');
  });

  it('a label known to the year spreads over that year; a renewal without its date leaves the old label behind', () => {
    const pen = started();
    pen.write('fit', '2024-01-05', { part: 'bearings-axle-1-left', kind: 'bearings', isNew: false, madeOn: '2021' });
    const age: Clock = { kind: 'age', by: 72, countedFrom: 'made', label: 'governs', source };
    const item = only(look(pen, [age]));
    expect(item.dates).toMatchObject({ p10: '2027-02-06', p50: '2027-07-02', p90: '2027-11-24' });
    repacked(pen, '2026-05-20');
    expect(only(look(pen, [age]))).toMatchObject({ state: 'unproven', clock: 'age' });
    expect(only(look(pen, [{ ...age, countedFrom: 'fitted' }])).dates.p50).toBe('2032-05-20');
    const good = [{ upkeep: 'repack', part: 'bearings-axle-1-left', outcome: 'good', goodThrough: '2029-06' }] as const;
    pen.write('work', '2026-05-21', { done: [...good] });
    expect(only(look(pen, [age])).dates.p50).toBe('2029-07-01');
  });

  it('a code is read by what carries it', () => {
    const dated = (code: 'tire' | 'cylinder' | undefined, text: string) => {
      const pen = new Pen();
      pen.write('fit', '2024-01-05', { part: 'x', kind: 'x', isNew: false, code: text });
      const kind = partKind('x', code ? { code } : {});
      const clocks: Clock[] = [{ kind: 'age', by: 144, countedFrom: 'made', label: 'governs', source }];
      return lookAhead(pen.state(), catalogOf([kind], [upkeep('renew', 'x', clocks)]), { now: '2026-05-27' }).outlook
        .items[0]!;
    };
    expect(dated('tire', '1023').clocks[0]!.dueOn).toBe('2035-03-11');
    // 49 CFR 180.209: five years after a visual requalification (E), through the stamped month.
    expect(dated('cylinder', '10-14, 11-26E').state).toBe('unproven');
    expect(dated('cylinder', '10-11, 11-23E').dates.p50).toBe('2028-12-01');
    expect(dated(undefined, '1023').state).toBe('unproven');
  });

  it('an hour meter replaced goes on counting, and hours of trips after its newest reading are added', () => {
    const hours: Clock = { kind: 'hours', every: 100, counter: 'generator-hours', source };
    const pen = started();
    const meter = (on: string, value: number) =>
      pen.write('reading', on, {
        part: 'bearings-axle-1-left',
        what: 'generator-hours',
        value: { value, unit: 'h' },
      });
    meter('2025-04-01', 900);
    repacked(pen, '2025-04-18');
    meter('2025-06-01', 940);
    meter('2025-08-01', 5);
    meter('2025-09-01', 15);
    trip(pen, 'palouse', '2026-05-02', '2026-05-10', 640);
    pen.write('trip-done', '2026-05-10', {
      trip: 'palouse',
      left: '2026-05-02',
      back: '2026-05-10',
      miles: mi(900),
      generatorHours: 20,
    });
    // 40 on the old meter, 5 and 10 on the new one, 20 since.
    expect(only(look(pen, [hours])).left).toEqual({ value: 25, unit: 'h' });
  });

  it('the tow vehicle counts by its own odometer and its own pace', () => {
    const pen = started();
    const kind = partKind('oil', { vehicle: 'tow' });
    pen.write('fit', '2024-01-05', { part: 'oil', kind: 'oil', isNew: false });
    pen.write('work', '2026-01-01', {
      done: [{ upkeep: 'change', part: 'oil', outcome: 'good' }],
      odometerTow: mi(80_000),
      odometer: mi(100),
    });
    pen.write('reading', '2026-05-20', { vehicle: 'tow', what: 'odometer', value: mi(84_000) });
    const catalog = catalogOf([kind], [upkeep('change', 'oil', [milesEvery(5_000)])]);
    const [item] = lookAhead(pen.state(), catalog, { now: '2026-05-27' }).outlook.items;
    expect(item!.left).toEqual(mi(1_000));
    // 4,000 miles in 139 days and the prior of 25 a day for 60: 27.6 a day, and from today 6.2 of trips not yet on record; 31 days.
    expect(item!.dates.p50! > '2026-06-14' && item!.dates.p50! < '2026-06-27').toBe(true);
  });

  it('a drift counts in the catalog’s unit, whatever unit the owner’s limit is in', () => {
    const kind = partKind('spare', { factUnits: { pressureColdMin: 'psi' } });
    const clock: Clock = {
      kind: 'limit',
      reading: 'pressure-cold',
      side: 'below',
      limitFact: 'pressureColdMin',
      driftPerMonth: -2,
      driftSpread: 0,
      readingError: 0,
      staleDays: 30,
      source,
    };
    const due = (limit: { value: number; unit: 'psi' | 'kPa' }) => {
      const pen = new Pen();
      pen.write('fit', '2024-01-05', { part: 'spare', kind: 'spare', isNew: false, facts: { pressureColdMin: limit } });
      pen.write('reading', '2026-05-01', { part: 'spare', what: 'pressure-cold', value: psi(75) });
      pen.write('reading', '2026-05-02', { part: 'spare', what: 'pressure-cold', value: { value: 9, unit: 'mi' } });
      return lookAhead(pen.state(), catalogOf([kind], [upkeep('inflate', 'spare', [clock])]), { now: '2026-05-27' })
        .outlook.items[0]!.dates.p50;
    };
    // 10 psi at 2 a month: five months.
    expect(due({ value: 65, unit: 'psi' })).toBe('2026-09-30');
    expect(due({ value: 448.159, unit: 'kPa' })).toBe('2026-09-30');
  });

  it('asks for one of several kinds that stand for each other, and for none that many rigs lack', () => {
    const kinds = [
      partKind('greased', { expected: 'hubs' }),
      partKind('sealed', { expected: 'hubs' }),
      partKind('coupler', { expected: true }),
      partKind('awning', {}),
    ];
    const catalog = catalogOf(
      kinds,
      kinds.map((kind) => upkeep(`check-${kind.id}`, kind.id, [monthsEvery(12)])),
    );
    const missing = (pen: Pen) =>
      lookAhead(pen.state(), catalog, { now: '2026-05-27' })
        .outlook.items.filter((item) => item.part === null)
        .map((item) => item.kind);
    const pen = new Pen();
    expect(missing(pen)).toEqual(['coupler', 'greased']);
    pen.write('set', '2026-05-01', { key: 'fact/absent-greased', value: 'none' });
    expect(missing(pen)).toEqual(['coupler', 'sealed']);
    pen.write('fit', '2026-05-02', { part: 'hub-1', kind: 'sealed', isNew: false });
    expect(missing(pen)).toEqual(['coupler']);
  });
});
