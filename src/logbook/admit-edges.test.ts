/** What the door refuses, each beside the nearest it lets in, with the field and what would have been right. */

import { describe, expect, it } from 'vitest';
import { idNumber } from '../../test/support/keeping.ts';
import { catalogOf, mi, Pen, partKind, psi, upkeep } from '../../test/support/rig.ts';
import { admit, type Entry, type RigState, settingSchemas } from './index.ts';

const clock = [{ kind: 'months', every: 12, source: 'practice' }] as const;
const catalog = catalogOf(
  [partKind('bearings'), partKind('spare-wheel'), partKind('drum-brake')],
  [
    upkeep('repack-bearings', 'bearings', clock),
    upkeep('grease-bearings', 'bearings', clock),
    upkeep('adjust', 'drum-brake', clock),
  ],
);
const TODAY = '2026-05-27';
const at = (state: RigState, entry: Entry, today = TODAY) => admit(state, entry, { catalog, today });

function book(): Pen {
  const pen = new Pen();
  pen.write('fit', '2024-01-05', { part: 'bearings-1', kind: 'bearings', isNew: false });
  pen.write('fit', '2024-01-05', { part: 'bearings-2', kind: 'bearings', isNew: false });
  pen.write('fit', '2024-01-05', { part: 'spare', kind: 'spare-wheel', isNew: false });
  return pen;
}
/** Refused after the book, or after `pen`. */
const refused = (pen: Pen, ...args: Parameters<Pen['write']>) => {
  const state = pen.state();
  const [kind, on, body] = args;
  // An id that nothing else has; the pen stays as it is.
  const made = new Pen().write(kind, on, body);
  return at(state, { ...made, id: idNumber(900 + pen.entries.length) } as Entry);
};
const codes = (...args: Parameters<typeof refused>) => refused(...args).map(({ code }) => code);
const good = (part: string, duty = 'repack-bearings', outcome: 'good' | 'failed' = 'good') => ({
  upkeep: duty,
  part,
  outcome,
});

describe('what an entry speaks of must be on the rig', () => {
  it.each<[...Parameters<Pen['write']>]>([
    ['remove', TODAY, { part: 'bearings-3', reason: 'worn' }],
    ['paper', TODAY, { part: 'bearings-3', goodThrough: '2027-01-01' }],
    ['reading', TODAY, { part: 'bearings-3', what: 'play', value: { value: 0, unit: 'in' } }],
    ['drill', TODAY, { part: 'bearings-3', upkeep: 'repack-bearings', who: 'Nell', outcome: 'good' }],
    ['work', TODAY, { done: [good('bearings-3')] }],
  ])('%s', (kind, on, body) => {
    const found = refused(book(), kind, on, body);
    expect(found.map(({ code }) => code)).toEqual(['logbook.part-unknown']);
    expect(found[0]).toMatchObject({ where: `${kind} of ${TODAY}`, next: expect.stringContaining('fitting') });
    // The nearest names first: those that share a word with it.
    expect(found[0]!.expected).toBe('bearings-1, bearings-2, spare');
    expect(refused(new Pen(), kind, on, body)[0]!.expected).toContain('none is yet');
    const there = JSON.parse(JSON.stringify(body).replace('bearings-3', 'bearings-1'));
    expect(codes(book(), kind, on, there)).toEqual([]);
  });

  it('a part that was removed is gone; a reading of the odometer needs none', () => {
    const pen = book();
    pen.write('remove', '2024-02-01', { part: 'spare', reason: 'lost' });
    expect(codes(pen, 'reading', TODAY, { part: 'spare', what: 'pressure-cold', value: psi(60) })).toEqual([
      'logbook.part-unknown',
    ]);
    expect(codes(pen, 'fit', TODAY, { part: 'spare', kind: 'bearings', isNew: true })).toEqual([]);
    expect(codes(pen, 'reading', TODAY, { vehicle: 'trailer', what: 'odometer', value: mi(10) })).toEqual([]);
  });

  it('an id keeps its kind while the part is on the rig', () => {
    expect(codes(book(), 'fit', TODAY, { part: 'spare', kind: 'spare-wheel', isNew: true })).toEqual([]);
    const [taken] = refused(book(), 'fit', TODAY, { part: 'spare', kind: 'bearings', isNew: true });
    expect(taken).toMatchObject({ code: 'logbook.part-fitted', what: expect.stringContaining('spare-wheel') });
    const [unknown] = refused(book(), 'fit', TODAY, { part: 'x', kind: 'wheel-spare', isNew: true });
    expect(unknown).toMatchObject({ code: 'logbook.kind-unknown' });
    expect(unknown!.expected!.split(', ')[0]).toBe('spare-wheel');
    const pen = book();
    pen.write('set', TODAY, { key: 'own-part-kind/awning', value: { name: 'Awning' } as never });
    expect(codes(pen, 'fit', TODAY, { part: 'x', kind: 'awning', isNew: true })).toEqual([]);
  });

  it('an upkeep is known, and belongs to the part', () => {
    const [unknown] = refused(book(), 'work', TODAY, { done: [good('bearings-1', 'repack')] });
    expect(unknown).toMatchObject({ code: 'logbook.upkeep-unknown' });
    expect(unknown!.expected!.split(', ')[0]).toBe('repack-bearings');
    const [other] = refused(book(), 'work', TODAY, { done: [good('bearings-1', 'adjust')] });
    expect(other).toMatchObject({ code: 'logbook.upkeep-part', expected: 'repack-bearings, grease-bearings' });
    const [none] = refused(book(), 'work', TODAY, { done: [good('spare', 'adjust')] });
    expect(none).toMatchObject({ code: 'logbook.upkeep-part', expected: 'a part with an upkeep of its own' });
    // One problem a job, and none of those that hold.
    expect(codes(book(), 'work', TODAY, { done: [good('spare'), good('bearings-1'), good('none')] })).toEqual([
      'logbook.upkeep-part',
      'logbook.part-unknown',
    ]);
    const pen = book();
    pen.write('set', TODAY, { key: 'own-upkeep/polish', value: { title: 'Polish' } as never });
    expect(codes(pen, 'work', TODAY, { done: [good('spare', 'polish')] })).toEqual([]);
    expect(codes(pen, 'work', TODAY, { done: [good('none', 'polish')] })).toEqual(['logbook.part-unknown']);
  });

  it('names at most four, the nearest in words and then in length', () => {
    const pen = new Pen();
    for (const part of ['a-1', 'tire-left-front', 'tire-left-rear', 'tire-right-rear', 'tire-9', 'jack'])
      pen.write('fit', '2024-01-05', { part, kind: 'bearings', isNew: false });
    const near = (part: string) => refused(pen, 'remove', TODAY, { part, reason: 'x' })[0]!.expected;
    expect(near('tire-left-back')).toBe('tire-left-rear, tire-left-front, tire-right-rear, tire-9');
    expect(near('jack-2')!.split(', ')[0]).toBe('jack');
  });
});

describe('trips', () => {
  const plan = { trip: 'coast', name: 'C', leave: '2026-05-01', return: '2026-05-03', miles: mi(9), chance: 1 };
  const made = { trip: 'coast', left: '2026-05-01', back: '2026-05-03', miles: mi(9) };
  it('are done or waived only where they were planned', () => {
    const pen = book();
    expect(refused(pen, 'trip-done', TODAY, made)[0]).toMatchObject({
      code: 'logbook.trip-unknown',
      where: `trip-done of ${TODAY}`,
      expected: 'a planned trip; there is none',
    });
    pen.write('trip', '2026-04-01', plan);
    expect(codes(pen, 'trip-done', TODAY, made)).toEqual([]);
    expect(refused(pen, 'trip-done', TODAY, { ...made, trip: 'coats' })[0]!.expected).toBe('coast');
    const waive = { trip: 'coast', finding: 'x', reason: 'y' };
    expect(codes(pen, 'waive', TODAY, waive)).toEqual([]);
    expect(codes(book(), 'waive', TODAY, waive)).toEqual(['logbook.trip-unknown']);
  });
});

describe('strikes', () => {
  it('strike what is there, but no strike, no statement, and not themselves', () => {
    const pen = book();
    const { id } = pen.entries[0]!;
    expect(codes(pen, 'strike', TODAY, { entry: id, reason: 'x' })).toEqual([]);
    const strike = pen.write('strike', TODAY, { entry: id, reason: 'x' });
    expect(refused(pen, 'strike', TODAY, { entry: strike.id, reason: 'x' })[0]).toMatchObject({
      code: 'logbook.strike-strike',
      next: expect.stringContaining('again'),
    });
    const witness = pen.write('witness', TODAY, { device: 'd' } as never);
    const state = pen.state();
    const own = new Pen().write('strike', TODAY, { entry: witness.id, reason: 'x' });
    expect(at(state, { ...own, id: idNumber(950) } as Entry).map(({ code }) => code)).toEqual([
      'logbook.strike-statement',
    ]);
    const itself = { ...own, id: idNumber(951), body: { entry: idNumber(951), reason: 'x' } } as Entry;
    expect(at(state, itself).map(({ code }) => code)).toContain('logbook.strike-itself');
    expect(at(state, itself).map(({ code }) => code)).not.toContain('logbook.strike-unknown');
  });
});

describe('ids and days', () => {
  it('the same entry twice is admitted, another under its id is not', () => {
    const pen = book();
    const [first] = pen.entries;
    expect(at(pen.state(), structuredClone(first!))).toEqual([]);
    const other = { ...first!, by: 'Ben' } as Entry;
    expect(at(pen.state(), other)).toMatchObject([
      { code: 'logbook.id-taken', what: expect.stringContaining(first!.id), where: 'fit of 2024-01-05' },
    ]);
  });

  it('today is no future, tomorrow is; of work it is said how to plan it', () => {
    const body = { part: 'spare', what: 'pressure-cold', value: psi(60) };
    expect(codes(book(), 'reading', TODAY, body)).toEqual([]);
    const [future] = refused(book(), 'reading', '2026-05-28', body);
    expect(future).toMatchObject({ code: 'logbook.future', expected: expect.stringContaining(TODAY) });
    expect(future!.next).not.toContain('pin');
    expect(refused(book(), 'work', '2026-05-28', { done: [good('bearings-1')] })[0]!.next).toContain('pin');
  });
});

describe('what this work put right', () => {
  const mending = (pen: Pen, mends: string[], done = [good('bearings-1')], on = '2026-05-10') =>
    codes(pen, 'work', on, { done, mends });

  it('was found wrong by work or a drill, of that part and upkeep, not struck, that day or before', () => {
    const pen = book();
    const worked = pen.write('work', '2026-05-01', {
      done: [good('bearings-1', 'repack-bearings', 'failed'), good('bearings-2')],
    });
    const drilled = pen.write('drill', '2026-05-10', {
      ...good('bearings-2', 'repack-bearings', 'failed'),
      who: 'Nell',
    });
    expect(mending(pen, [worked.id])).toEqual([]);
    expect(mending(pen, [drilled.id], [good('bearings-2')])).toEqual([]);
    expect(mending(pen, [worked.id, drilled.id], [good('bearings-1'), good('bearings-2')])).toEqual([]);
    expect(mending(pen, [drilled.id], [good('bearings-2')], '2026-05-09')).toEqual(['logbook.mends']);
    // Another part, another upkeep, work that did not go well, an entry that found nothing.
    expect(mending(pen, [worked.id], [good('bearings-2')])).toEqual(['logbook.mends']);
    expect(mending(pen, [worked.id], [good('bearings-1', 'grease-bearings')])).toEqual(['logbook.mends']);
    expect(mending(pen, [worked.id], [good('bearings-1', 'repack-bearings', 'failed')])).toEqual(['logbook.mends']);
    expect(mending(pen, [pen.entries[0]!.id, worked.id])).toEqual(['logbook.mends']);
    const [problem] = refused(pen, 'work', TODAY, { done: [good('bearings-1')], mends: [idNumber(77)] });
    expect(problem).toMatchObject({ where: `work of ${TODAY}: mends`, what: expect.stringContaining(idNumber(77)) });
    pen.write('strike', '2026-05-11', { entry: worked.id, reason: 'x' });
    expect(mending(pen, [worked.id])).toEqual(['logbook.mends']);
  });
});

describe('settings', () => {
  it('are known, hold, or are taken back', () => {
    expect(refused(book(), 'set', TODAY, { key: 'mood/x', value: 1 })[0]).toMatchObject({
      code: 'logbook.setting-unknown',
      what: 'There is no setting “mood”',
      expected: Object.keys(settingSchemas).join(', '),
    });
    expect(codes(book(), 'set', TODAY, { key: 'mood', value: null })).toEqual(['logbook.setting-unknown']);
    expect(codes(book(), 'set', TODAY, { key: 'units', value: null })).toEqual([]);
    expect(codes(book(), 'set', TODAY, { key: 'units', value: 'metric' })).toEqual([]);
    expect(refused(book(), 'set', TODAY, { key: 'units', value: 'furlongs' })).toMatchObject([
      { code: 'logbook.setting-value', where: `set of ${TODAY}: value` },
    ]);
  });
});

describe('an odometer does not run backwards', () => {
  const read = (pen: Pen, on: string, miles: number, vehicle: 'trailer' | 'tow' = 'trailer') =>
    refused(pen, 'reading', on, { vehicle, what: 'odometer', value: mi(miles) });
  const three = () => {
    const pen = book();
    for (const [on, miles] of [
      ['2026-04-01', 1000],
      ['2026-04-10', 1200],
      ['2026-04-20', 1500],
    ] as const)
      pen.write('reading', on, { vehicle: 'trailer', what: 'odometer', value: mi(miles) });
    return pen;
  };

  it.each([
    ['2026-03-01', 1000, true],
    ['2026-03-01', 1000.1, false],
    ['2026-04-05', 1000, true],
    ['2026-04-05', 999.9, false],
    ['2026-04-05', 1200, true],
    ['2026-04-05', 1200.1, false],
    // Of one day, in either order of writing: between the days around it.
    ['2026-04-10', 1100, true],
    ['2026-04-10', 1300, true],
    ['2026-04-10', 999, false],
    ['2026-04-10', 1501, false],
    ['2026-04-25', 1500, true],
    ['2026-04-25', 1499.9, false],
    ['2026-04-25', 90_000, true],
  ])('on %s at %f mi: %s', (on, miles, holds) => {
    expect(read(three(), on, miles).map(({ code }) => code)).toEqual(holds ? [] : ['logbook.odometer-backwards']);
    // The other vehicle’s instrument is another.
    expect(read(three(), on, miles, 'tow')).toEqual([]);
  });

  it('says whose, between what, and how to go on', () => {
    const [low] = read(three(), '2026-04-25', 1400);
    expect(low).toMatchObject({
      what: 'The trailer’s odometer would go backwards: 1,400.0 mi after 1,500.0 mi on 2026-04-20',
      where: 'reading of 2026-04-25',
      expected: '1,500.0 mi or more',
      next: expect.stringContaining('replaced'),
    });
    const [high] = read(three(), '2026-04-05', 1300);
    expect(high).toMatchObject({ expected: '1,200.0 mi or less', next: expect.stringContaining('date') });
    expect(high!.what).toContain('1,300.0 mi on 2026-04-05, but 1,200.0 mi on 2026-04-10');
    const pen = three();
    pen.write('reading', '2026-04-01', { vehicle: 'tow', what: 'odometer', value: mi(50_000) });
    expect(read(pen, '2026-04-05', 49_000, 'tow')[0]!.what).toContain('tow vehicle');
    // Both at once, of one entry.
    const plan = { trip: 'c', name: 'C', leave: '2026-05-01', return: '2026-05-03', miles: mi(9), chance: 1 };
    pen.write('trip', '2026-04-01', plan);
    const made = {
      trip: 'c',
      left: '2026-05-01',
      back: '2026-05-03',
      miles: mi(9),
      odometer: mi(1),
      odometerTow: mi(2),
    };
    expect(codes(pen, 'trip-done', '2026-05-03', made)).toEqual([
      'logbook.odometer-backwards',
      'logbook.odometer-backwards',
    ]);
  });

  it('of a new instrument counts from what it began with; of the old one up to its last', () => {
    const pen = three();
    const swap = { what: 'odometer', vehicle: 'trailer', was: mi(1300), now: mi(0), reason: 'new' } as const;
    expect(codes(pen, 'adjust', '2026-04-12', swap)).toEqual([]);
    const swapped = book();
    swapped.write('reading', '2026-04-01', { vehicle: 'trailer', what: 'odometer', value: mi(1000) });
    swapped.write('adjust', '2026-04-10', swap);
    expect(read(swapped, '2026-04-15', 20)).toEqual([]);
    expect(read(swapped, '2026-04-10', 20)).toEqual([]);
    expect(read(swapped, '2026-04-05', 1100)).toEqual([]);
    expect(read(swapped, '2026-04-05', 900).map(({ code }) => code)).toEqual(['logbook.odometer-backwards']);
    swapped.write('reading', '2026-04-20', { vehicle: 'trailer', what: 'odometer', value: mi(200) });
    expect(read(swapped, '2026-04-15', 201).map(({ code }) => code)).toEqual(['logbook.odometer-backwards']);
    expect(read(swapped, '2026-04-15', 200)).toEqual([]);
    // Before the exchange what came after says nothing.
    expect(read(swapped, '2026-04-05', 1250)).toEqual([]);
  });

  it('an entry that is already there is not held against itself', () => {
    const pen = book();
    pen.write('reading', '2026-04-10', { vehicle: 'trailer', what: 'odometer', value: mi(1200) });
    const low = pen.write('reading', '2026-04-11', { vehicle: 'trailer', what: 'odometer', value: mi(900) });
    expect(at(pen.state(), low)).toEqual([]);
  });
});
