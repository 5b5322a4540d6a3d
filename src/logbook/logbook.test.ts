import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { idNumber } from '../../test/support/keeping.ts';
import { catalogOf, mi, Pen, partKind, psi, upkeep } from '../../test/support/rig.ts';
import { unwrap } from '../problem/index.ts';
import {
  addEntry,
  admit,
  disagreements,
  EMPTY,
  type Entry,
  foldEntries,
  odometerTrack,
  partOf,
  partsOf,
  type RigState,
  readEntries,
  readEntry,
  tripsOf,
  writeEntry,
} from './index.ts';

const catalog = catalogOf(
  [partKind('bearings'), partKind('spare')],
  [upkeep('repack', 'bearings', [{ kind: 'months', every: 12, source: 'practice' }])],
);
const at = (today: string) => ({ catalog, today });
const codes = (state: RigState, entry: Entry, today = '2026-05-27') =>
  admit(state, entry, at(today)).map((problem) => problem.code);

function book(): Pen {
  const pen = new Pen();
  pen.write('enroll', '2024-01-05', { vehicle: 'trailer', name: 'Test trailer' });
  pen.write('fit', '2024-01-05', { part: 'bearings-1', kind: 'bearings', isNew: false });
  pen.write('fit', '2024-01-05', { part: 'spare', kind: 'spare', isNew: false });
  pen.write('reading', '2025-04-01', { vehicle: 'trailer', what: 'odometer', value: mi(50_000) });
  pen.write('work', '2025-04-18', {
    done: [{ upkeep: 'repack', part: 'bearings-1', outcome: 'good' }],
    odometer: mi(50_010.5),
  });
  pen.write('reading', '2025-05-01', { part: 'spare', what: 'pressure-cold', value: psi(60) });
  pen.write('trip', '2025-05-02', {
    trip: 'coast',
    name: 'Coast',
    leave: '2025-06-01',
    return: '2025-06-08',
    miles: mi(400),
    chance: 1,
  });
  pen.write('trip-done', '2025-06-08', {
    trip: 'coast',
    left: '2025-06-01',
    back: '2025-06-08',
    miles: mi(431),
    odometer: mi(50_445),
  });
  const mistake = pen.write('reading', '2025-07-01', { part: 'spare', what: 'pressure-cold', value: psi(6) });
  pen.write('strike', '2025-07-02', { entry: mistake.id, reason: 'slip of the pen' });
  return pen;
}

/** Everything a reader of the state can see, as plain JSON. */
function seen(state: RigState) {
  const chains = [...state.subjects]
    .map(([subject, aspects]) => [
      subject,
      [...aspects].map(([aspect, chain]) => [aspect, chain.map((entry) => entry.id)]).sort(),
    ])
    .sort();
  return { chains, struck: [...state.struck].map(([id, strike]) => [id, strike.id]).sort(), size: state.entries.size };
}

describe('the fold', () => {
  it('is the same in a thousand random orders of arrival, one by one or all at once', () => {
    const { entries } = book();
    const whole = seen(foldEntries(entries));
    fc.assert(
      fc.property(fc.shuffledSubarray(entries, { minLength: entries.length }), (shuffled) => {
        expect(seen(shuffled.reduce(addEntry, EMPTY))).toEqual(whole);
        expect(seen(foldEntries(shuffled))).toEqual(whole);
      }),
      { numRuns: 1000 },
    );
  });

  it('takes the same entry twice as once', () => {
    const { entries } = book();
    expect(seen([...entries, ...entries].reduce(addEntry, EMPTY))).toEqual(seen(foldEntries(entries)));
  });

  it('never changes a state in place', () => {
    const { entries } = book();
    const half = foldEntries(entries.slice(0, 5));
    const before = seen(half);
    entries.slice(5).reduce(addEntry, half);
    expect(seen(half)).toEqual(before);
  });

  it('a struck entry is gone from the state but kept, whichever comes first', () => {
    const { entries } = book();
    const state = foldEntries(entries);
    expect(
      partOf(state, 'spare')!
        .readings.get('pressure-cold')!
        .map((reading) => reading.value.value),
    ).toEqual([60]);
    expect(state.entries.size).toBe(entries.length);
  });

  it('shows how things stood at the end of an earlier day', () => {
    const pen = book();
    expect(tripsOf(pen.state('2025-06-07'))[0]!.done).toBeUndefined();
    expect(partOf(pen.state('2025-07-01'), 'spare')!.readings.get('pressure-cold')).toHaveLength(2);
    expect(odometerTrack(pen.state('2025-04-10'), 'trailer').newest!.totalMiles).toBe(50_000);
  });

  it('forgets readings and work of a part that was replaced by a new one', () => {
    const pen = book();
    pen.write('fit', '2026-01-10', { part: 'spare', kind: 'spare', isNew: true });
    expect(partOf(pen.state(), 'spare')!.readings.get('pressure-cold') ?? []).toHaveLength(0);
    pen.write('remove', '2026-02-01', { part: 'spare', reason: 'stolen' });
    expect(partsOf(pen.state()).map((part) => part.id)).toEqual(['bearings-1']);
  });

  it('shows two writers’ work of one day side by side', () => {
    const pen = book();
    const done = { done: [{ upkeep: 'repack', part: 'bearings-1', outcome: 'good' as const }] };
    pen.write('work', '2026-05-01', done, 'Ada');
    expect(disagreements(pen.state())).toHaveLength(0);
    pen.write('work', '2026-05-01', done, 'Ben');
    expect(disagreements(pen.state())).toMatchObject([{ part: 'bearings-1', upkeep: 'repack' }]);
  });

  it('keeps what was found wrong beside the work that put it right, whichever clock was behind', () => {
    const pen = book();
    const done = (outcome: 'good' | 'failed') => [{ upkeep: 'repack', part: 'bearings-1', outcome }];
    const work = (state: RigState) =>
      partOf(state, 'bearings-1')!
        .work.get('repack')!
        .filter(({ on }) => on > '2026');
    // Numbered in the order of writing; Ben's clock is behind, so that his id comes first.
    const [early, late] = [
      pen.write('work', '2026-05-01', { done: done('good') }, 'Ben'),
      pen.write('work', '2026-05-01', { done: done('failed') }, 'Ada'),
    ];
    const before = foldEntries(pen.entries.filter((entry) => entry !== early));
    const mending = { ...early, body: { done: done('good'), mends: [late.id] } } as Entry;
    expect(admit(before, mending, at('2026-05-27'))).toEqual([]);
    const after = addEntry(before, mending);
    expect(work(after)).toMatchObject([{ outcome: 'good', mended: [{ outcome: 'failed', entry: { by: 'Ada' } }] }]);
    expect(disagreements(after)).toEqual([]);
    // Without the word of it the two contradict each other, and with the mending struck the failure stands.
    expect(disagreements(pen.state())).toHaveLength(1);
    const struck = addEntry(after, pen.write('strike', '2026-05-02', { entry: mending.id, reason: 'not so' }));
    expect(work(struck)).toMatchObject([{ outcome: 'failed' }]);
    // Nothing else can be put right: work that was good, another part, work of a later day, nothing at all.
    const wrongly = (mends: string, more = {}) =>
      codes(before, { ...mending, id: idNumber(99), ...more, body: { done: done('good'), mends: [mends] } } as Entry);
    expect(wrongly(late.id)).toEqual([]);
    expect(wrongly(late.id, { on: '2026-04-30' })).toEqual(['logbook.mends']);
    expect(wrongly(idNumber(5))).toEqual(['logbook.mends']);
    expect(wrongly(idNumber(98))).toEqual(['logbook.mends']);
  });
});

describe('admission', () => {
  const write = (...[kind, on, body]: Parameters<Pen['write']>): { state: RigState; entry: Entry } => {
    const pen = book();
    const state = pen.state();
    return { state, entry: pen.write(kind, on, body) };
  };
  const refused = (...args: Parameters<Pen['write']>) => {
    const { state, entry } = write(...args);
    return codes(state, entry);
  };

  it('admits the whole book in its order', () => {
    const { entries } = book();
    entries.reduce((state, entry) => {
      expect(codes(state, entry)).toEqual([]);
      return addEntry(state, entry);
    }, EMPTY);
  });

  it('refuses an odometer that goes backwards, against earlier and later readings, and says how to go on', () => {
    expect(refused('reading', '2025-06-09', { vehicle: 'trailer', what: 'odometer', value: mi(50_444) })).toEqual([
      'logbook.odometer-backwards',
    ]);
    expect(refused('reading', '2025-04-10', { vehicle: 'trailer', what: 'odometer', value: mi(50_200) })).toEqual([
      'logbook.odometer-backwards',
    ]);
    expect(refused('reading', '2025-04-10', { vehicle: 'trailer', what: 'odometer', value: mi(50_005) })).toEqual([]);
    const { state, entry } = write('reading', '2025-06-09', { vehicle: 'trailer', what: 'odometer', value: mi(20) });
    expect(admit(state, entry, at('2026-05-27'))[0]).toMatchObject({ next: expect.stringContaining('replaced') });
  });

  it('takes a lower reading once the replacement is written down', () => {
    const pen = book();
    pen.write('adjust', '2025-08-01', {
      what: 'odometer',
      vehicle: 'trailer',
      was: mi(50_500),
      now: mi(0),
      reason: 'new hub odometer',
    });
    const state = pen.state();
    expect(
      codes(state, pen.write('reading', '2025-08-20', { vehicle: 'trailer', what: 'odometer', value: mi(120) })),
    ).toEqual([]);
  });

  it('refuses work done in the future, unknown parts, upkeeps, trips and settings', () => {
    const done = (part: string, duty = 'repack') => ({ done: [{ upkeep: duty, part, outcome: 'good' as const }] });
    expect(refused('work', '2026-05-28', done('bearings-1'))).toEqual(['logbook.future']);
    expect(refused('work', '2026-05-20', done('bearings-9'))).toEqual(['logbook.part-unknown']);
    expect(refused('work', '2026-05-20', done('bearings-1', 'polish'))).toEqual(['logbook.upkeep-unknown']);
    expect(refused('work', '2026-05-20', done('spare'))).toEqual(['logbook.upkeep-part']);
    expect(refused('fit', '2026-05-20', { part: 'x', kind: 'flux-capacitor', isNew: true })).toEqual([
      'logbook.kind-unknown',
    ]);
    expect(
      refused('trip-done', '2026-05-20', { trip: 'moon', left: '2026-05-19', back: '2026-05-20', miles: mi(1) }),
    ).toEqual(['logbook.trip-unknown']);
    expect(refused('set', '2026-05-20', { key: 'mood', value: 'good' })).toEqual(['logbook.setting-unknown']);
    expect(refused('set', '2026-05-20', { key: 'hourly-value', value: -3 })).toEqual(['logbook.setting-value']);
    expect(refused('strike', '2026-05-20', { entry: idNumber(999), reason: 'x' })).toEqual(['logbook.strike-unknown']);
  });
});

describe('reading entries', () => {
  it('round-trips every entry to the same text', () => {
    for (const entry of book().entries) {
      const text = writeEntry(entry);
      const read = readEntry(JSON.parse(text), 'here');
      expect(read.ok && writeEntry(read.value)).toBe(text);
    }
  });

  it('keeps any text and any figure whole on one line, in whatever order its keys came', () => {
    const note = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 }).filter((one) => one.trim() !== '');
    const figure = fc.double({ noNaN: true, noDefaultInfinity: true, min: 0, max: 1e6 }).map((value) => value + 0);
    fc.assert(
      fc.property(note, figure, fc.infiniteStream(fc.nat()), (text, value, order) => {
        const body = {
          part: 'spare',
          what: 'pressure-cold',
          value: { unit: 'psi', value },
          note: `${text}\n\u2028“"\\`,
        };
        const raw = { ...book().entries[0]!, kind: 'reading', body };
        const turned = (of: object): object =>
          Object.fromEntries(
            Object.entries(of)
              .map(
                ([key, inner]) => [key, typeof inner === 'object' ? turned(inner) : inner, order.next().value] as const,
              )
              .sort(([, , a], [, , b]) => a - b)
              .map(([key, inner]) => [key, inner]),
          );
        const [once, again] = [raw, turned(raw)].map((one) =>
          unwrap(readEntry(JSON.parse(JSON.stringify(one)), 'here')),
        );
        const line = writeEntry(once!);
        expect(line).not.toContain('\n');
        expect(writeEntry(again!)).toBe(line);
        expect(unwrap(readEntries(`${line}\n`)).map(writeEntry)).toEqual([line]);
        expect(unwrap(readEntries(line))[0]!.body).toEqual({ ...body, note: body.note.trim() });
      }),
    );
  });

  it('says field and line of what is wrong, and gives nothing back from a torn file', () => {
    const [first] = book().entries;
    const lines = `${writeEntry(first!)}\n${writeEntry(first!).slice(0, 60)}`;
    const torn = readEntries(lines);
    expect(torn).toMatchObject({ ok: false, problems: [{ code: 'logbook.json-torn', where: 'line 2' }] });
    const wrong = readEntry({ ...first, body: { vehicle: 'boat', name: 'x' } }, 'line 7');
    expect(wrong).toMatchObject({
      ok: false,
      problems: [{ code: 'logbook.entry-invalid', where: expect.stringContaining('line 7, enroll: body.vehicle') }],
    });
  });

  it('refuses entries of a newer version as such', () => {
    const [first] = book().entries;
    expect(readEntry({ ...first, v: 2 }, 'line 1')).toMatchObject({
      ok: false,
      problems: [{ code: 'logbook.entry-newer' }],
    });
  });
});
