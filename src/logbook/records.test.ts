import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { idNumber } from '../../test/support/keeping.ts';
import { mi, Pen, psi } from '../../test/support/rig.ts';
import {
  addEntry,
  EMPTY,
  ENTRY_LIMITS,
  type Entry,
  foldEntries,
  quarantineKey,
  readEntry,
  sortRecords,
} from './index.ts';

const DAY = '2026-05-01';
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

/** A trip of 640,000 miles in nine days: nobody drove it. */
const unlikely = { trip: 'moon', left: '2026-04-01', back: '2026-04-09', miles: mi(640_000) };

function book() {
  const pen = new Pen();
  pen.write('fit', DAY, { part: 'spare', kind: 'spare-tire', isNew: false });
  const odd = pen.write('trip-done', DAY, unlikely);
  return { pen, odd };
}

describe('records are sorted, and none is dropped', () => {
  it('into what counts, what a newer version wrote, and what cannot be true', () => {
    const { pen, odd } = book();
    const [fit] = pen.entries;
    const nested = Array.from({ length: 40 }).reduce((inner: unknown) => [inner], 1);
    const records = [
      fit,
      { ...fit, id: idNumber(71), v: 2, body: { anything: true } },
      { ...fit, id: idNumber(72), kind: 'telegram' },
      { ...fit, id: idNumber(73), body: { ...fit!.body, colour: 'red' } },
      odd,
      { ...fit, id: idNumber(74), body: { part: 'spare' } },
      { ...fit, id: idNumber(75), kind: 'set', body: { key: 'own-upkeep/x', value: nested } },
      'no entry at all',
      { v: 2 },
      { ...fit, by: 'Ben' },
    ].map(plain);
    const sorted = sortRecords(records);
    expect(sorted.entries.map(({ id }) => id)).toEqual([fit!.id]);
    expect(sorted.newer.map(({ index, id, problems }) => [index, id, problems[0]!.code])).toEqual([
      [1, idNumber(71), 'logbook.entry-newer'],
      [2, idNumber(72), 'logbook.entry-kind'],
      [3, idNumber(73), 'logbook.entry-field'],
    ]);
    expect(sorted.newer.map(({ raw }) => raw)).toEqual(records.slice(1, 4));
    expect(
      sorted.doubtful.map(({ index, id, problems, costly, releasable }) => [
        index,
        id,
        problems[0]!.code,
        costly,
        releasable,
      ]),
    ).toEqual([
      [4, odd.id, 'logbook.bounds', false, true],
      [5, idNumber(74), 'logbook.entry-invalid', false, false],
      [6, idNumber(75), 'logbook.entry-cost', true, false],
      [7, null, 'logbook.entry-invalid', false, false],
      [8, null, 'logbook.entry-newer', false, false],
      [9, fit!.id, 'logbook.id-taken', false, false],
    ]);
  });

  it('whatever JSON comes', () => {
    const [fit] = book().pen.entries;
    const changed = fc
      .record({ key: fc.constantFrom('id', 'rig', 'kind', 'on', 'at', 'v', 'body', 'x'), value: fc.jsonValue() })
      .map(({ key, value }) => ({ ...fit, [key]: value }));
    fc.assert(
      fc.property(fc.array(fc.oneof(fc.jsonValue(), changed, fc.constant(fit)), { maxLength: 8 }), (records) => {
        const { entries, newer, doubtful } = sortRecords(records);
        expect(entries.length + newer.length + doubtful.length).toBe(records.length);
        for (const one of [...newer, ...doubtful]) expect(one.raw).toBe(records[one.index]);
      }),
      { numRuns: 500 },
    );
  });
});

describe('the owner decides about what was set aside', () => {
  const decide = (pen: Pen, about: Entry, value: 'release' | 'reject' | null) =>
    pen.write('set', DAY, { key: quarantineKey(about.id), value });
  const counts = (entries: readonly Entry[], id: string) => {
    const state = foldEntries(entries);
    return [
      state.subjects
        .get('trip/moon')
        ?.get('done')
        ?.some((entry) => entry.id === id) ?? false,
      state.aside.has(id),
    ];
  };

  it('releases it, rejects it, leaves it open again', () => {
    const { pen, odd } = book();
    expect(counts(pen.entries, odd.id)).toEqual([false, true]);
    const release = decide(pen, odd, 'release');
    expect(readEntry(plain(release), 'here').ok).toBe(true);
    expect(counts(pen.entries, odd.id)).toEqual([true, false]);
    expect(sortRecords(pen.entries.map(plain)).doubtful).toEqual([]);
    decide(pen, odd, 'reject');
    expect(counts(pen.entries, odd.id)).toEqual([false, true]);
    expect(sortRecords(pen.entries.map(plain)).doubtful).toMatchObject([{ id: odd.id, decision: 'reject' }]);
    decide(pen, odd, null);
    expect(sortRecords(pen.entries.map(plain)).doubtful).toMatchObject([{ id: odd.id, releasable: true }]);
    pen.write('strike', DAY, { entry: odd.id, reason: 'never was' });
    expect(counts(pen.entries, odd.id)).toEqual([false, false]);
    expect(sortRecords(pen.entries.map(plain)).doubtful).toEqual([]);
  });

  it('cannot release what would harm: a strike of itself, a setting of another shape, another decision', () => {
    const { pen } = book();
    const itself = { ...pen.write('strike', DAY, { entry: idNumber(3), reason: 'x' }) };
    expect(itself.id).toBe(idNumber(3));
    const wrong = pen.write('set', DAY, { key: 'hourly-value', value: 'a lot' });
    const old = pen.write('set', '1900-01-01', { key: quarantineKey(idNumber(2)), value: 'release' });
    for (const one of [itself, wrong, old]) decide(pen, one as Entry, 'release');
    const { aside } = foldEntries(pen.entries);
    expect([...aside.keys()]).toEqual([idNumber(2), itself.id, wrong.id, old.id]);
  });

  it('in whatever order it all arrives, one by one or at once', () => {
    const { pen, odd } = book();
    const release = decide(pen, odd, 'release');
    decide(pen, odd, 'reject');
    const again = decide(pen, odd, 'release');
    pen.write('strike', DAY, { entry: again.id, reason: 'not so' });
    pen.write('strike', DAY, { entry: release.id, reason: 'not so' });
    const other = pen.write('trip-done', DAY, { ...unlikely, trip: 'mars' });
    decide(pen, other, 'release');
    pen.write('strike', DAY, { entry: idNumber(10), reason: 'itself' });
    pen.write('strike', DAY, { entry: idNumber(9), reason: 'of a decision' });
    pen.write('strike', DAY, { entry: idNumber(7), reason: 'of a strike' });
    pen.write('strike', DAY, { entry: '!', reason: 'of nothing' });
    const seen = (state: typeof EMPTY) => ({
      aside: [...state.aside].map(([id, { decision }]) => [id, decision]),
      struck: [...state.struck].map(([id, strike]) => [id, strike.id]),
      chains: [...state.subjects].map(([name, aspects]) => [
        name,
        [...aspects].map(([aspect, chain]) => [aspect, chain.map(({ id }) => id)]).sort(),
      ]),
    });
    const whole = seen(foldEntries(pen.entries));
    expect(whole.aside).toEqual([
      [odd.id, 'reject'],
      [other.id, undefined],
      [idNumber(10), undefined],
    ]);
    fc.assert(
      fc.property(fc.shuffledSubarray(pen.entries, { minLength: pen.entries.length }), (shuffled) => {
        expect(seen(shuffled.reduce(addEntry, EMPTY))).toEqual(whole);
        expect(seen(foldEntries(shuffled))).toEqual(whole);
      }),
      { numRuns: 500 },
    );
  });
});

describe('what an entry costs is judged before anything walks through it', () => {
  const [fit] = book().pen.entries;
  const codeOf = (kind: string, body: unknown): string => {
    const read = readEntry({ ...fit, kind, body }, 'here');
    return read.ok ? 'ok' : read.problems[0]!.code;
  };
  const job = { upkeep: 'repack', part: 'bearings', outcome: 'good' };

  it('a list that is its own only item, and one of a thousand million items of which none is looked at', () => {
    const endless: unknown[] = [];
    endless.push(endless);
    expect(codeOf('set', { key: 'own-upkeep/x', value: endless })).toBe('logbook.entry-cost');
    const wide = new Proxy([], {
      get(_, of) {
        if (of === 'length') return 1_000_000_000;
        throw new Error(`item ${String(of)} was looked at`);
      },
    });
    expect(codeOf('set', { key: 'own-upkeep/x', value: wide })).toBe('logbook.entry-cost');
  });

  it('lists in one another too deep for recursion, twenty thousand jobs, a text of millions, a hundred thousand fields', () => {
    const deep: unknown = JSON.parse('['.repeat(200_000) + ']'.repeat(200_000));
    const fields = Object.fromEntries(Array.from({ length: 100_000 }, (_, n) => [`k${n}`, n]));
    const costly: [string, unknown][] = [
      ['set', { key: 'own-upkeep/x', value: deep }],
      ['work', { done: Array.from({ length: 20_000 }, () => job) }],
      ['set', { key: 'fact/x', value: 'x'.repeat(10_000_000) }],
      ['set', { key: 'own-upkeep/x', value: fields }],
    ];
    for (const [kind, body] of costly) expect(codeOf(kind, body)).toBe('logbook.entry-cost');
  });

  it('an entry on its last allowed step is let in', () => {
    const nested = (depth: number): unknown => (depth === 0 ? 1 : [nested(depth - 1)]);
    // The entry and its body are two mappings around the value.
    expect(codeOf('set', { key: 'own-upkeep/x', value: nested(ENTRY_LIMITS.depth - 2) })).not.toBe(
      'logbook.entry-cost',
    );
    expect(codeOf('set', { key: 'own-upkeep/x', value: nested(ENTRY_LIMITS.depth - 1) })).toBe('logbook.entry-cost');
    const values = (count: number) =>
      codeOf('set', { key: 'own-upkeep/x', value: Array.from({ length: count }, () => 1) });
    // Beside the list itself: the entry, its seven other fields, the key and the value.
    const around = 1 + Object.keys(fit!).length + 2;
    expect(values(ENTRY_LIMITS.values - around)).not.toBe('logbook.entry-cost');
    expect(values(ENTRY_LIMITS.values - around + 1)).toBe('logbook.entry-cost');
  });

  it('lists and texts have their own most', () => {
    const done = (jobs: number) => ({ done: Array.from({ length: jobs }, () => job) });
    expect(codeOf('work', done(ENTRY_LIMITS.jobs))).toBe('ok');
    expect(codeOf('work', done(ENTRY_LIMITS.jobs + 1))).toBe('logbook.entry-invalid');
    const reading = { part: 'spare', what: 'pressure-cold', value: psi(60) };
    expect(codeOf('reading', { ...reading, note: 'x'.repeat(2000) })).toBe('ok');
    expect(codeOf('reading', { ...reading, note: 'x'.repeat(2001) })).toBe('logbook.entry-invalid');
    expect(codeOf('reading', { ...reading, what: 'x'.repeat(500) })).toBe('logbook.entry-invalid');
  });

  it.each(['__proto__', 'constructor', 'prototype'])('a field named %s', (name) => {
    const value: unknown = JSON.parse(`{ "${name}": 1 }`);
    expect(codeOf('set', { key: 'own-upkeep/x', value })).toBe('logbook.entry-invalid');
  });
});
