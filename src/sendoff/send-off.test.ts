import { describe, expect, it } from 'vitest';
import { find, judge } from '../../test/support/judge.ts';
import { Logbook } from '../../test/support/logbook.ts';
import { departure, months, smallCatalog } from '../../test/support/small-catalog.ts';
import { soundRig, tripOf } from '../../test/support/sound-rig.ts';
import type { Clock, Upkeep } from '../catalog/index.ts';
import { lookAhead } from '../outlook/index.ts';
import { sendOff } from './index.ts';

const after: Clock = {
  kind: 'after',
  setups: ['wheel-off'],
  upkeeps: [],
  atMiles: [10, 25, 50].map((value) => ({ value, unit: 'mi' })),
  atDays: [],
  source: 'practice',
};
const duty = (id: string, part: string, more: Partial<Upkeep> = {}) => ({ id, part, ...more });
const catalog = smallCatalog({
  parts: [
    { id: 'hub', per: 'wheel', expected: true, identify: ['Dust cap.'] },
    { id: 'alarm', per: 'rig', expected: true, identify: ['Date on its back.'] },
    { id: 'wheel-nuts', per: 'rig', expected: true },
  ],
  upkeeps: [
    duty('repack', 'hub', {
      setups: ['wheel-off'],
      minutes: 45,
      clocks: [months(12)],
      failure: { cost: 4000, steepness: 1, consequence: 'Fire' },
    }),
    duty('adjust', 'hub', { setups: ['wheel-off'], minutes: 15, clocks: [months(12)] }),
    duty('test-alarm', 'alarm', { minutes: 2, clocks: [departure(1)] }),
    duty('retorque', 'wheel-nuts', { minutes: 12, place: 'anywhere', clocks: [after] }),
  ],
  setups: [{ id: 'wheel-off', minutes: 30 }],
});

const fitted = soundRig()
  .add('fit', '2022-04-01', { part: 'hub-1', kind: 'hub', place: 'axle 1, left', isNew: false, odometer: '50000 mi' })
  .add('fit', '2022-04-01', { part: 'alarm', kind: 'alarm', isNew: true })
  .add('fit', '2022-04-01', { part: 'nuts', kind: 'wheel-nuts', isNew: true });
const trip = (book: Logbook) => book.add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));
const done = (upkeep: string, part: string) => ({ upkeep, part, outcome: 'good' });
const old = fitted.add('work', '2025-04-18', {
  done: [done('repack', 'hub-1'), done('adjust', 'hub-1')],
  odometer: '54310 mi',
});
const checked = old.add('work', '2025-04-20', { done: [done('retorque', 'nuts')], odometer: '54365 mi' });

describe('follow-ups of recent work', () => {
  const at = (odometer: string) =>
    trip(
      old
        .add('work', '2026-06-10', { done: [done('repack', 'hub-1'), done('adjust', 'hub-1')], odometer: '60000 mi' })
        .add('reading', '2026-06-11', { what: 'odometer', vehicle: 'trailer', value: odometer }),
    );

  it('fall on the miles of the trip: 10, 25 and 50 after a wheel was off', () => {
    const result = judge(at('60000 mi'), catalog, '2026-06-11');
    const limits = result.findings.filter((finding) => finding.group === 'follow-ups');
    expect(limits.map((finding) => [finding.kind, finding.atMiles])).toEqual([
      ['limit', 10],
      ['limit', 25],
      ['limit', 50],
    ]);
    expect(limits[0]!.evidence).toContain(at('60000 mi').entries.find((entry) => entry.on === '2026-06-10')!.id);
    expect(find(result, 'upkeep/repack@hub-1').kind).toBe('pass');
  });

  it('are counted from where the odometer stands on leaving, and stop us when overdue', () => {
    const result = judge(at('60012 mi'), catalog, '2026-06-11');
    const told = result.findings.filter((finding) => finding.group === 'follow-ups');
    expect(told.map((finding) => [finding.kind, finding.atMiles])).toEqual([
      ['stop', undefined],
      ['limit', 13],
      ['limit', 38],
    ]);
    const again = at('60012 mi').add('work', '2026-06-11', {
      done: [done('retorque', 'nuts')],
      odometer: '60012 mi',
    });
    expect(
      judge(again, catalog, '2026-06-11').findings.filter((one) => one.kind === 'stop' && one.group === 'follow-ups'),
    ).toEqual([]);
  });
});

describe('follow-ups that were passed by', () => {
  it('are one stop, as one check makes up for them', () => {
    const miles = old.add('reading', '2025-09-01', { what: 'odometer', vehicle: 'trailer', value: '56000 mi' });
    const stop = find(judge(trip(miles), catalog, '2026-06-11'), 'follow-ups/retorque@nuts');
    expect(stop.kind).toBe('stop');
    expect(stop.text).toContain('three of them overdue');
  });
});

describe('the judgement and its sentence', () => {
  it('counts the stops and the time at home, shared set-ups once', () => {
    const result = judge(trip(checked), catalog, '2026-06-10');
    // 45 and 15 minutes with one wheel off for 30: an hour and a half.
    expect(
      result.findings.filter((finding) => finding.kind === 'stop').map((finding) => finding.takes!.minutes),
    ).toEqual([45, 75]);
    expect(result.sentence).toBe('Not yet. Two things stop us, an hour and a half at home.');
  });

  it('puts stops by minutes to lift, then unproven, limits, passes', () => {
    const book = trip(checked).add('enroll', '2026-05-02', { vehicle: 'tow', name: 'Biscuit' });
    const kinds = judge(book, catalog, '2026-06-10').findings.map((finding) => finding.kind);
    const order = ['stop', 'unproven', 'limit', 'pass'];
    expect(kinds).toEqual([...kinds].sort((a, b) => order.indexOf(a) - order.indexOf(b)));
    expect(new Set(kinds)).toEqual(new Set(order));
    expect(judge(book, catalog, '2026-06-10').sentence).toMatch(/ One more is unproven\.$/);
  });

  it('says what is waived, and no longer counts it, for that trip only', () => {
    const book = ['upkeep/repack@hub-1', 'upkeep/adjust@hub-1'].reduce(
      (logbook, finding) =>
        logbook.add(
          'waive',
          '2026-06-10',
          { trip: 'palouse', finding, reason: 'Done at the shop, paper follows' },
          'Ben',
        ),
      trip(checked),
    );
    const result = judge(book, catalog, '2026-06-10');
    expect(result.judgement).toBe('limits');
    expect(find(result, 'upkeep/repack@hub-1')).toMatchObject({
      kind: 'stop',
      counts: 'nothing',
      waived: { by: 'Ben', reason: 'Done at the shop, paper follows', entry: book.entries.at(-2)!.id },
    });
    const next = book.add('trip', '2026-06-10', {
      ...tripOf('2026-07-12', '2026-07-21', '300 mi'),
      trip: 'coast',
      name: 'Coast',
    });
    expect(judge(next, catalog, '2026-06-10', 'coast').judgement).toBe('hold');
  });
});

describe('an empty logbook of an enrolled rig', () => {
  const result = judge(
    trip(new Logbook().add('enroll', '2026-05-01', { vehicle: 'trailer', name: 'Marigold' })),
    catalog,
    '2026-06-10',
  );

  it('is a hold with everything unproven, and the first step offered', () => {
    expect(result.judgement).toBe('hold');
    expect(new Set(result.findings.map((finding) => finding.kind))).toEqual(new Set(['unproven']));
    expect(result.sentence).toBe('Not yet. Nothing about this rig is proven yet.');
    expect(result.firstStep).toBe('Begin the walk-round at: hub. Dust cap.');
    expect(find(result, 'upkeep/unknown-hub').takes).toMatchObject({ entry: { kind: 'fit', partKind: 'hub' } });
  });
});

describe('what cannot be judged', () => {
  const ask = (book: Logbook, id: string, now = '2026-06-10') => {
    const { outlook } = lookAhead(book.state, catalog, { now, paths: 16 });
    const result = sendOff({ state: book.state, catalog, outlook, trip: id, now });
    if (result.ok) throw new Error('expected a problem');
    return result.problems[0]!;
  };

  it('is a problem with its next step', () => {
    expect(ask(new Logbook(), 'palouse')).toMatchObject({ code: 'sendoff.no-trailer' });
    expect(ask(new Logbook(), 'palouse').next).toContain('Enroll');
    expect(ask(soundRig(), 'palouse')).toMatchObject({ code: 'sendoff.no-trip' });
    expect(ask(trip(soundRig()), 'paluse')).toMatchObject({
      code: 'sendoff.trip-unknown',
      expected: 'one of palouse (12 Jun 2026)',
    });
    expect(ask(trip(soundRig()), 'palouse', '2026-07-01')).toMatchObject({ code: 'sendoff.trip-past' });
    const over = trip(soundRig()).add('trip-done', '2026-06-21', {
      trip: 'palouse',
      left: '2026-06-12',
      back: '2026-06-20',
      miles: '650 mi',
    });
    expect(ask(over, 'palouse', '2026-06-21')).toMatchObject({ code: 'sendoff.trip-done' });
  });
});
