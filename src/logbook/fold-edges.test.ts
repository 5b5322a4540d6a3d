/** The fold with entries set aside, decided about and struck: the same from any order of arrival, and each at its edge. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { catalogOf, mi, Pen, partKind, psi } from '../../test/support/rig.ts';
import {
  addEntry,
  chainOf,
  EMPTY,
  type Entry,
  type EntryKind,
  emptyState,
  foldEntries,
  judgeAlone,
  judgeBy,
  newest,
  quarantineKey,
  type RigState,
  soundState,
  stateThrough,
  withUnread,
} from './index.ts';

/** Everything a reader of the state can see, as plain JSON. */
function seen(state: RigState) {
  return {
    chains: [...state.subjects]
      .map(([subject, aspects]) => [
        subject,
        [...aspects].map(([aspect, chain]) => [aspect, chain.map(({ id }) => id)]).sort(),
      ])
      .sort(),
    struck: [...state.struck].map(([id, strike]) => [id, strike.id]).sort(),
    aside: [...state.aside].map(([id, one]) => [id, one.decision, one.releasable, one.problems.length]).sort(),
    size: state.entries.size,
  };
}
const ids = (state: RigState) => [...state.aside].map(([id]) => id);
const decide = (pen: Pen, entry: Entry, value: 'release' | 'reject' | null, on = '2026-05-10') =>
  pen.write('set', on, { key: quarantineKey(entry.id), value });
const strike = (pen: Pen, entry: Entry, on = '2026-05-20') =>
  pen.write('strike', on, { entry: entry.id, reason: 'slip of the pen' });
/** An odometer of seven digits: most unlikely, and harms nothing (`measured.ts`). */
const odd = (pen: Pen, on = '2026-05-01') =>
  pen.write('reading', on, { vehicle: 'trailer', what: 'odometer', value: mi(1_500_000) });
const good = (pen: Pen, on: string, miles: number) =>
  pen.write('reading', on, { vehicle: 'trailer', what: 'odometer', value: mi(miles) });
const track = (state: RigState) => chainOf(state, 'odometer/trailer', 'reading').map(({ id }) => id);

describe('an entry that cannot be true', () => {
  it('is in no chain but kept, until it is released; rejecting it leaves it out', () => {
    const pen = new Pen();
    const first = good(pen, '2026-04-01', 1000);
    const doubtful = odd(pen);
    expect(track(pen.state())).toEqual([first.id]);
    expect(pen.state().entries.size).toBe(2);
    expect(pen.state().aside.get(doubtful.id)).toMatchObject({ entry: doubtful, releasable: true });
    expect(pen.state().aside.get(doubtful.id)).not.toHaveProperty('decision');
    decide(pen, doubtful, 'reject');
    expect(pen.state().aside.get(doubtful.id)).toMatchObject({ decision: 'reject' });
    expect(track(pen.state())).toEqual([first.id]);
    decide(pen, doubtful, 'release', '2026-05-11');
    expect(ids(pen.state())).toEqual([]);
    expect(track(pen.state())).toEqual([first.id, doubtful.id]);
    // The newest word holds, whichever it is; taken back, the entry is set aside again without a decision.
    decide(pen, doubtful, null, '2026-05-12');
    expect(pen.state().aside.get(doubtful.id)).not.toHaveProperty('decision');
    expect(track(pen.state())).toEqual([first.id]);
  });

  it('a decision of an earlier day, written later, does not outrank a later one', () => {
    const pen = new Pen();
    const doubtful = odd(pen);
    decide(pen, doubtful, 'release', '2026-05-12');
    decide(pen, doubtful, 'reject', '2026-05-11');
    for (const state of [
      pen.state(),
      pen.entries.reduce(addEntry, EMPTY),
      pen.entries.toReversed().reduce(addEntry, EMPTY),
    ])
      expect(track(state)).toEqual([doubtful.id]);
  });

  it('what harms is not let count, whatever was decided; nor is what decides or strikes', () => {
    const pen = new Pen();
    const endless = pen.write('reading', '2026-05-01', { part: 'x', what: 'y', value: psi(1e308) });
    decide(pen, endless, 'release');
    const doubtful = pen.write('set', '2300-01-01', { key: quarantineKey(endless.id), value: 'release' });
    const itself = pen.write('strike', '2026-05-02', { entry: endless.id, reason: 'x' });
    const turned = { ...itself, body: { entry: itself.id, reason: 'x' } } as Entry;
    const all = [...pen.entries.filter((one) => one !== itself), turned];
    const state = foldEntries(all);
    expect(ids(state).sort()).toEqual([endless.id, doubtful.id, turned.id].sort());
    for (const [, { releasable }] of state.aside) expect(releasable).toBe(false);
    expect(state.aside.get(endless.id)).toMatchObject({ decision: 'release' });
    // A strike that cannot be true strikes nothing.
    expect([...state.struck]).toEqual([]);
    expect(seen(all.reduce(addEntry, EMPTY))).toEqual(seen(state));
  });

  it('a strike takes it out of the list, and a struck decision decides nothing', () => {
    const pen = new Pen();
    const doubtful = odd(pen);
    const released = decide(pen, doubtful, 'release');
    strike(pen, released);
    expect(ids(pen.state())).toEqual([doubtful.id]);
    expect(pen.state().aside.get(doubtful.id)).not.toHaveProperty('decision');
    expect(seen(pen.entries.reduce(addEntry, EMPTY))).toEqual(seen(pen.state()));
    strike(pen, doubtful);
    expect(ids(pen.state())).toEqual([]);
    expect(track(pen.state())).toEqual([]);
    expect(seen(pen.entries.reduce(addEntry, EMPTY))).toEqual(seen(pen.state()));
  });

  it('is the same in every order of arrival, one by one or all at once', () => {
    const pen = new Pen();
    const [first, second, third] = [odd(pen), odd(pen, '2026-05-02'), odd(pen, '2026-05-02')];
    good(pen, '2026-05-02', 1200);
    decide(pen, first, 'reject', '2026-05-03');
    const later = decide(pen, first, 'release', '2026-05-04');
    decide(pen, second, 'release');
    decide(pen, third, 'reject');
    const plain = good(pen, '2026-05-05', 1300);
    // About an entry that needs none.
    decide(pen, plain, 'reject');
    strike(pen, later);
    const once = strike(pen, second);
    strike(pen, second, '2026-05-19');
    strike(pen, once);
    pen.write('set', '2026-05-10', { key: 'quarantine/none', value: 'release' });
    const whole = seen(foldEntries(pen.entries));
    fc.assert(
      fc.property(fc.shuffledSubarray(pen.entries, { minLength: pen.entries.length }), (order) => {
        expect(seen(order.reduce(addEntry, EMPTY))).toEqual(whole);
        expect(seen([...order, ...order].reduce(addEntry, EMPTY))).toEqual(whole);
        expect(seen(foldEntries(order))).toEqual(whole);
      }),
      { numRuns: 400 },
    );
    // The earliest strike is the one that counts.
    expect(pen.state().struck.get(second.id)).toMatchObject({ on: '2026-05-19' });
    expect(track(pen.state())).toContain(plain.id);
  });
});

describe('which chains an entry is in', () => {
  const done = [
    { upkeep: 'look', part: 'a', outcome: 'good' as const, readings: [{ what: 'tread', value: psi(1) }] },
    { upkeep: 'look', part: 'a', outcome: 'failed' as const, readings: [{ what: 'tread', value: psi(2) }] },
    { upkeep: 'oil', part: 'b', outcome: 'good' as const },
  ];
  const rows: [EntryKind, string, unknown, string[]][] = [
    ['enroll', '2026-01-01', { vehicle: 'tow', name: 'T' }, ['vehicle/tow enroll']],
    ['fit', '2026-01-01', { part: 'a', kind: 'tire', isNew: true }, ['part/a fit']],
    [
      'fit',
      '2026-01-01',
      { part: 'a', kind: 'tire', isNew: true, odometer: mi(5) },
      ['odometer/trailer reading', 'part/a fit'],
    ],
    ['remove', '2026-01-01', { part: 'a', reason: 'worn' }, ['part/a fit']],
    ['reading', '2026-01-01', { vehicle: 'tow', what: 'odometer', value: mi(5) }, ['odometer/tow reading']],
    ['reading', '2026-01-01', { what: 'odometer', value: mi(5) }, ['odometer/trailer reading']],
    ['reading', '2026-01-01', { part: 'a', what: 'tread', value: psi(5) }, ['part/a reading/tread']],
    ['work', '2026-01-01', { done }, ['part/a reading/tread', 'part/a work/look', 'part/b work/oil', 'work work']],
    [
      'work',
      '2026-01-01',
      { done: done.slice(2), odometer: mi(1), odometerTow: mi(2) },
      ['odometer/tow reading', 'odometer/trailer reading', 'part/b work/oil', 'work work'],
    ],
    [
      'work',
      '2026-01-01',
      { done: done.slice(2), odometerTow: mi(2) },
      ['odometer/tow reading', 'part/b work/oil', 'work work'],
    ],
    ['drill', '2026-01-01', { upkeep: 'try', part: 'a', who: 'Nell', outcome: 'good' }, ['part/a work/try']],
    ['paper', '2026-01-01', { part: 'a', goodThrough: '2027-01-01' }, ['part/a paper']],
    [
      'trip',
      '2026-01-01',
      { trip: 'coast', name: 'C', leave: '2026-02-01', return: '2026-02-03', miles: mi(9), chance: 1 },
      ['trip/coast plan'],
    ],
    [
      'trip-done',
      '2026-02-03',
      { trip: 'coast', left: '2026-02-01', back: '2026-02-03', miles: mi(9), odometer: mi(100) },
      ['odometer/trailer reading', 'trip/coast done'],
    ],
    [
      'adjust',
      '2026-01-01',
      { what: 'odometer', vehicle: 'tow', was: mi(5), now: mi(0), reason: 'new' },
      ['odometer/tow reading'],
    ],
    ['weigh', '2026-01-01', { tongue: { value: 700, unit: 'lb' } }, ['weighings weigh']],
    ['carry', '2026-01-01', { item: 'jack', aboard: true }, ['kit/jack carry']],
    ['set', '2026-01-01', { key: 'units', value: 'us' }, ['setting/units set']],
    ['waive', '2026-01-01', { trip: 'coast', finding: 'x', reason: 'y' }, ['trip/coast waive']],
  ];
  it.each(rows)('%s %s %j', (kind, on, body, places) => {
    const pen = new Pen();
    const entry = pen.write(kind, on, body as never);
    for (const state of [pen.state(), addEntry(EMPTY, entry)]) {
      const found = [...state.subjects].flatMap(([subject, aspects]) =>
        [...aspects].map(([aspect, chain]) => {
          expect(chain).toEqual([entry]);
          return `${subject} ${aspect}`;
        }),
      );
      expect(found.sort()).toEqual(places);
    }
    // Struck, it leaves no chain and no subject behind.
    strike(pen, entry);
    expect([...pen.state().subjects]).toEqual([]);
    expect([...pen.entries.reduce(addEntry, EMPTY).subjects]).toEqual([]);
  });

  it('stands in the order of days, then of writing; a neighbor stays when one is struck', () => {
    const pen = new Pen();
    const [b, a, c, a2] = [
      good(pen, '2026-02-02', 20),
      good(pen, '2026-02-01', 10),
      good(pen, '2026-02-03', 30),
      good(pen, '2026-02-01', 11),
    ];
    const order = [a, a2, b, c].map(({ id }) => id);
    expect(track(pen.state())).toEqual(order);
    expect(track(pen.entries.reduce(addEntry, EMPTY))).toEqual(order);
    strike(pen, b!);
    expect(track(pen.entries.reduce(addEntry, EMPTY))).toEqual([a, a2, c].map(({ id }) => id));
    const chain = chainOf(pen.state(), 'odometer/trailer', 'reading');
    expect(newest(chain, 'reading')).toBe(c);
    expect(newest(chain, 'adjust')).toBeUndefined();
    expect(newest([], 'reading')).toBeUndefined();
    expect(chainOf(pen.state(), 'odometer/none', 'reading')).toEqual([]);
    expect(chainOf(pen.state(), 'odometer/trailer', 'none')).toEqual([]);
  });
});

describe('an earlier day, and what cannot be read', () => {
  it('the day itself is in, the next is not; strikes of later days too', () => {
    const pen = new Pen();
    const [first, next] = [good(pen, '2026-02-01', 10), good(pen, '2026-02-02', 20)];
    strike(pen, first, '2026-02-02');
    const whole = withUnread(pen.state(), { newer: 2, broken: 1 });
    const then = stateThrough(whole, '2026-02-01');
    expect(track(then)).toEqual([first.id]);
    expect(then.unread).toEqual({ newer: 2, broken: 1 });
    expect(then.judge).toBe(whole.judge);
    expect(track(stateThrough(whole, '2026-02-02'))).toEqual([next.id]);
    expect(EMPTY.unread).toEqual({ newer: 0, broken: 0 });
    expect(EMPTY.judge).toBe(judgeAlone);
    expect(foldEntries([]).unread).toEqual({ newer: 0, broken: 0 });
  });
});

describe('the state that a catalog finds sound', () => {
  const shipped = shippedCatalog();
  it('is the same one where nothing is doubted, and folded anew once where something is', () => {
    const pen = new Pen();
    pen.write('reading', '2026-05-01', { part: 'spare', what: 'pressure-cold', value: psi(65) });
    const fine = pen.state();
    expect(soundState(fine, shipped)).toBe(fine);
    // 650 psi is no tire’s, and only a catalog knows it.
    const wrong = pen.write('reading', '2026-05-02', { part: 'spare', what: 'pressure-cold', value: psi(650) });
    const state = withUnread(pen.state(), { newer: 0, broken: 3 });
    expect(state.aside.size).toBe(0);
    const sound = soundState(state, shipped);
    expect(ids(sound)).toEqual([wrong.id]);
    expect(sound.unread).toEqual({ newer: 0, broken: 3 });
    expect(soundState(state, shipped)).toBe(sound);
    expect(soundState(sound, shipped)).toBe(sound);
    expect(sound.judge).toBe(judgeBy(shipped));
    // Another catalog knows other things.
    expect(soundState(state, catalogOf([partKind('spare')], []))).toBe(state);
    strike(pen, wrong);
    const struck = pen.state();
    expect(soundState(struck, shipped)).toBe(struck);
    const aside = new Pen();
    odd(aside);
    const alone = aside.state();
    expect(alone.aside.size).toBe(1);
    expect(soundState(alone, shipped)).toBe(alone);
  });

  it('one judge a catalog', () => {
    expect(judgeBy(shipped)).toBe(judgeBy(shipped));
    expect(judgeBy(shipped)).not.toBe(judgeBy(catalogOf([], [])));
    expect(emptyState(judgeBy(shipped)).judge).toBe(judgeBy(shipped));
    const doubt = odd(new Pen());
    expect(judgeAlone(doubt)).toBe(judgeAlone(doubt));
    const fine = good(new Pen(), '2026-01-01', 5);
    expect([judgeAlone(fine), judgeAlone(fine)]).toEqual([undefined, undefined]);
  });

  it('an entry that a hand broke is set aside, and ends nothing', () => {
    const broken = { ...good(new Pen(), '2026-01-01', 5), kind: 'work', body: {} } as unknown as Entry;
    expect(judgeAlone(broken)).toMatchObject({ problems: [{ code: 'logbook.entry-invalid' }], releasable: false });
    expect(judgeAlone(broken)!.problems[0]!.where).toBe('work of 2026-01-01');
    const setting = new Pen().write('set', '2026-01-01', { key: 'units', value: 'furlongs' });
    expect(judgeAlone(setting)).toMatchObject({ problems: [{ code: 'logbook.setting-value' }], releasable: false });
    const planned = (leave: string) =>
      judgeAlone(
        new Pen().write('trip', '2026-01-01', { trip: 'a', name: 'A', leave, return: leave, miles: mi(9), chance: 1 }),
      );
    // Judged by the day it was written, not by today’s: ten years ahead, to the day.
    expect(planned('2036-01-01')).toBeUndefined();
    expect(planned('2036-01-02')).toMatchObject({ releasable: true, problems: [{}, {}] });
    expect(planned('2036-01-02')!.problems[0]!.where).toMatch(/^trip of 2026-01-01: (leave|return)$/);
  });
});
