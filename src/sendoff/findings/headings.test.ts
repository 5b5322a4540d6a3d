import { describe, expect, it } from 'vitest';
import { find, judge as judgeOn } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { departure, months, smallCatalog } from '../../../test/support/small-catalog.ts';
import { soundRig, tripOf } from '../../../test/support/sound-rig.ts';
import type { Catalog, Clock } from '../../catalog/index.ts';

const planned = (logbook: Logbook): Logbook =>
  logbook.add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));
const judge = (logbook: Logbook, catalog: Catalog, now = '2026-06-11') => judgeOn(planned(logbook), catalog, now);
const byLabel: Clock = { kind: 'age', countedFrom: 'made', label: 'required', source: 'practice' };
const byAge = (by: number, from = by): Clock => ({
  kind: 'age',
  from,
  by,
  countedFrom: 'made',
  label: 'governs',
  source: 'practice',
});

describe('papers', () => {
  const catalog = smallCatalog({
    upkeeps: [
      {
        id: 'renew-insurance',
        part: 'insurance',
        clocks: [byLabel],
        severity: 'damage',
        place: 'anywhere',
        look: 'Read the card.',
      },
      { id: 'carry-card', part: 'insurance', clocks: [departure(1)], place: 'anywhere' },
      { id: 'renew-registration', part: 'registration', clocks: [byLabel], look: 'Read the sticker.' },
    ],
  });
  const rig = (goodThrough: string) =>
    soundRig()
      .add('fit', '2025-01-01', { part: 'insurance', kind: 'insurance', isNew: true })
      .add('paper', '2025-06-20', { part: 'insurance', goodThrough });

  it('stop us where they lapse before the return, whatever the catalog says a lapse costs', () => {
    const stop = find(judge(rig('2026-06-20'), catalog), 'papers/renew-insurance@insurance');
    expect(stop).toMatchObject({
      kind: 'stop',
      severity: 'safety',
      takes: { entry: { kind: 'paper', part: 'insurance' } },
    });
    expect(find(judge(rig('2026-06-21'), catalog), 'papers/renew-insurance@insurance').kind).toBe('pass');
    const renewed = rig('2026-06-20').add('paper', '2026-06-11', { part: 'insurance', goodThrough: '2027-06-20' });
    expect(find(judge(renewed, catalog), 'papers/renew-insurance@insurance').kind).toBe('pass');
  });

  it('are aboard by a check before leaving, like any other', () => {
    const early = find(judge(rig('2027-06-20'), catalog, '2026-06-01'), 'papers/carry-card');
    expect(early).toMatchObject({ kind: 'limit', takes: { entry: { kind: 'work' } } });
  });

  it('are asked for where none is on record, for each vehicle', () => {
    const result = judge(soundRig(), catalog);
    expect(find(result, 'papers/unknown-insurance')).toMatchObject({ kind: 'unproven', counts: 'hold' });
    expect(find(result, 'papers/unknown-registration-trailer').text).toContain('Read the sticker.');
    const one = soundRig().add('fit', '2026-01-01', {
      part: 'plate',
      kind: 'registration',
      vehicle: 'tow',
      isNew: true,
      goodThrough: '2027-01',
    });
    expect(judge(one, catalog).findings.map((finding) => finding.id)).not.toContain('papers/unknown-registration-tow');
    const none = soundRig().add('set', '2026-01-01', { key: 'fact/absent-insurance', value: 'self-insured' });
    expect(judge(none, catalog).findings.map((finding) => finding.id)).not.toContain('papers/unknown-insurance');
  });
});

describe('gas', () => {
  const catalog = smallCatalog({
    parts: [
      { id: 'lp-system', group: 'LP gas', per: 'rig', expected: true },
      { id: 'lp-cylinder', group: 'LP gas' },
    ],
    upkeeps: [
      { id: 'requalify', part: 'lp-cylinder', clocks: [byAge(144)], place: 'shop' },
      { id: 'renew-alarm', part: 'lp-alarm', clocks: [byAge(84, 60)], restores: true },
      {
        id: 'leak-test',
        part: 'lp-system',
        clocks: [{ kind: 'season', before: 'first trip', source: 'practice' }],
        restores: false,
      },
    ],
  });
  const rig = (cylinder: string, alarm: string) =>
    soundRig()
      .add('fit', '2022-04-01', { part: 'cylinder-1', kind: 'lp-cylinder', isNew: false, madeOn: cylinder })
      .add('fit', '2022-04-01', { part: 'alarm', kind: 'lp-alarm', isNew: false, madeOn: alarm })
      .add('fit', '2022-04-01', { part: 'gas', kind: 'lp-system', isNew: false });

  it('in a cylinder past its date may be used up', () => {
    // Twelve years from manufacture: 49 CFR 180.205 and 180.209.
    const limit = find(judge(rig('2014-05', '2023-01'), catalog), 'gas/requalify@cylinder-1');
    expect(limit).toMatchObject({ kind: 'limit', takes: { hands: 'shop' } });
    expect(limit.keepTo).toContain('may not be filled again');
    expect(find(judge(rig('2014-07', '2023-01'), catalog), 'gas/requalify@cylinder-1').kind).toBe('pass');
  });

  it('alarms stop us past their life, and are limits between advice and limit', () => {
    expect(find(judge(rig('2020-01', '2019-06-01'), catalog), 'gas/renew-alarm@alarm')).toMatchObject({
      kind: 'stop',
      takes: { entry: { kind: 'fit', part: 'alarm', partKind: 'lp-alarm' } },
    });
    expect(find(judge(rig('2020-01', '2020-01-01'), catalog), 'gas/renew-alarm@alarm').kind).toBe('limit');
    expect(find(judge(rig('2020-01', '2022-03-01'), catalog), 'gas/renew-alarm@alarm').kind).toBe('pass');
  });

  it('must be tested for leaks this season', () => {
    const book = rig('2020-01', '2023-01');
    const tested = (on: string, outcome: string) =>
      find(
        judge(book.add('work', on, { done: [{ upkeep: 'leak-test', part: 'gas', outcome }] }), catalog),
        'gas/leak-test@gas',
      ).kind;
    expect(tested('2025-04-18', 'good')).toBe('stop');
    expect(tested('2026-04-18', 'good')).toBe('pass');
    expect(tested('2026-04-18', 'failed')).toBe('stop');
  });

  it('is asked after where no alarm and no cylinder is on record, unless the rig has no gas', () => {
    const ids = (book: Logbook) => judge(book, catalog).findings.map((finding) => finding.id);
    expect(ids(soundRig())).toContain('gas/unknown-lp-alarm');
    const none = soundRig().add('set', '2026-01-01', { key: 'fact/absent-lp-system', value: 'all electric' });
    expect(ids(none)).not.toContain('gas/unknown-lp-alarm');
  });
});

describe('brakes', () => {
  const catalog = smallCatalog({ upkeeps: [{ id: 'prove', part: 'drum-brake', clocks: [months(12)] }] });
  const rig = soundRig()
    .add('fit', '2022-04-01', {
      part: 'brake-1',
      kind: 'drum-brake',
      place: 'axle 1, left',
      isNew: true,
      facts: { drumDiameter: '12 in' },
    })
    .add('work', '2026-04-01', { done: [{ upkeep: 'prove', part: 'brake-1', outcome: 'good' }] });
  const amperes = (value: string) =>
    find(
      judge(rig.add('reading', '2026-06-01', { part: 'brake-1', what: 'brake-current', value }), catalog),
      'brakes/current@brake-1',
    );

  it('without current, or shorted, stop us; with too little they are looked at again', () => {
    // 3.0 A a 12 in brake in service, at most 12 V / 3.2 Ω = 3.75 A (axle maker's table; resistance of the magnets).
    expect(amperes('0 A').kind).toBe('stop');
    expect(amperes('2.9 A').kind).toBe('pass');
    expect(amperes('2.2 A').kind).toBe('limit');
    expect(amperes('4.4 A').kind).toBe('stop');
  });

  it('need their gain set on the road, unless they were proven this week', () => {
    expect(find(judge(rig, catalog), 'brakes/gain').kind).toBe('limit');
    const proven = rig.add('work', '2026-06-10', { done: [{ upkeep: 'prove', part: 'brake-1', outcome: 'good' }] });
    expect(find(judge(proven, catalog), 'brakes/gain').kind).toBe('pass');
  });
});

describe('kit', () => {
  const catalog = smallCatalog({
    parts: [{ id: 'slide-out' }, { id: 'coupler' }],
    kit: ['crank', 'drill', 'fuses'],
    mishaps: [
      {
        id: 'slide-stuck',
        parts: ['slide-out'],
        tools: ['crank'],
        spares: ['fuses'],
        alternatives: { crank: ['drill'] },
      },
      { id: 'boat-adrift', parts: ['boat'], tools: ['anchor'] },
    ],
  });
  const rig = soundRig().add('fit', '2022-04-01', { part: 'slide', kind: 'slide-out', isNew: true });
  const carry = (book: Logbook, item: string, aboard = true) => book.add('carry', '2026-05-01', { item, aboard });

  it('is unproven while nothing is on record, and then told once for all that is missing', () => {
    expect(find(judge(rig, catalog), 'kit/unknown')).toMatchObject({ kind: 'unproven', counts: 'limits' });
    const gap = judge(carry(rig, 'fuses'), catalog);
    expect(find(gap, 'kit/tools')).toMatchObject({
      kind: 'limit',
      text: expect.stringContaining('One tool not aboard, for one mishap'),
      takes: { entry: { kind: 'carry', items: ['crank'] } },
    });
    expect(JSON.stringify(gap.findings)).not.toContain('anchor');
  });

  it('takes another tool that does as well, and misses what went ashore', () => {
    const drill = carry(carry(rig, 'fuses'), 'drill');
    expect(find(judge(drill, catalog), 'kit/tools').kind).toBe('pass');
    expect(find(judge(carry(drill, 'drill', false), catalog), 'kit/tools').kind).toBe('limit');
  });
});

describe('practice', () => {
  const catalog = smallCatalog({
    upkeeps: [{ id: 'crank-by-hand', part: 'tongue-jack', drill: true, clocks: [months(12)] }],
  });
  const rig = soundRig().add('fit', '2022-04-01', { part: 'jack', kind: 'tongue-jack', isNew: false });
  const drilled = (on: string, book = rig) =>
    book.add('drill', on, { upkeep: 'crank-by-hand', part: 'jack', who: 'Ben', outcome: 'good' });

  it('is a limit on the first trip of a season and said on the later ones, never a stop', () => {
    expect(find(judge(rig, catalog), 'practice/crank-by-hand')).toMatchObject({
      kind: 'unproven',
      counts: 'limits',
    });
    expect(find(judge(drilled('2025-04-14'), catalog), 'practice/crank-by-hand')).toMatchObject({
      kind: 'limit',
      counts: 'limits',
    });
    const second = rig.add('trip', '2026-04-01', {
      ...tripOf('2026-05-20', '2026-05-22', '90 mi'),
      trip: 'lake',
      name: 'Lake',
    });
    expect(find(judge(second, catalog), 'practice/crank-by-hand')).toMatchObject({
      kind: 'unproven',
      counts: 'nothing',
    });
    expect(find(judge(drilled('2026-04-14'), catalog), 'practice/crank-by-hand').kind).toBe('pass');
  });
});

describe('the rig as a whole', () => {
  const catalog = smallCatalog({ upkeeps: [{ id: 'test', part: 'lamp' }] });

  it('is unproven where two people say different things of one job on one day', () => {
    const lamp = soundRig().add('fit', '2022-04-01', { part: 'lamp', kind: 'lamp', isNew: true });
    const done = (outcome: string) => ({ done: [{ upkeep: 'test', part: 'lamp', outcome }] });
    const book = lamp.add('work', '2026-06-01', done('failed'), 'Ada').add('work', '2026-06-01', done('good'), 'Ben');
    const said = find(judge(book, catalog), 'rig/disagreement-test@lamp');
    expect(said).toMatchObject({ kind: 'unproven', counts: 'hold' });
    expect(said.text).toContain('Ada says failed and Ben says good');
    const settled = book.add('work', '2026-06-02', done('good'), 'Ada');
    expect(judge(settled, catalog).judgement).toBe('clear');
  });
});
