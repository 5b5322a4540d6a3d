import { describe, expect, it } from 'vitest';
import { find, judge as judgeOn } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { departure, smallCatalog } from '../../../test/support/small-catalog.ts';
import { soundRig, threePasses, tripOf } from '../../../test/support/sound-rig.ts';
import type { Upkeep } from '../../catalog/index.ts';

const pressure = (id: string, part: string, days: number): Partial<Upkeep> & { id: string; part: string } => ({
  id,
  part,
  minutes: 4,
  place: 'anywhere',
  clocks: [
    {
      kind: 'limit',
      reading: 'pressure-cold',
      side: 'below',
      limitFact: 'pressureColdMin',
      driftPerMonth: -2.5,
      driftSpread: 1,
      readingError: 1,
      staleDays: days,
      source: 'practice',
    },
    departure(days),
  ],
});
const catalog = smallCatalog({
  parts: [
    { id: 'spare-tire', name: 'Spare tire' },
    { id: 'tire', name: 'Tire' },
  ],
  upkeeps: [
    pressure('set-tire-pressure', 'tire', 1),
    pressure('set-spare-pressure', 'spare-tire', 30),
    {
      id: 'renew-tire',
      part: 'spare-tire',
      clocks: [{ kind: 'age', from: 72, by: 120, countedFrom: 'made', label: 'governs', source: 'practice' }],
    },
  ],
});

const PLACES = ['axle 1, left', 'axle 1, right', 'axle 2, left', 'axle 2, right'];
const facts = { size: 'ST225/75R15 D', pressureColdMin: '65 psi', pressureColdMax: '65 psi', loadMax: '2540 lb' };

function withTires(logbook: Logbook, more: Record<string, unknown> = {}): Logbook {
  return PLACES.reduce(
    (book, place, i) =>
      book.add('fit', '2022-04-01', {
        part: `tire-${i + 1}`,
        kind: 'tire',
        place,
        isNew: true,
        facts: { ...facts, ...more },
      }),
    logbook,
  );
}
const read = (logbook: Logbook, part: string, on: string, value: string, temperature?: string): Logbook =>
  logbook.add('reading', on, { part, what: 'pressure-cold', value, ...(temperature ? { temperature } : {}) });
const readAll = (logbook: Logbook, on: string, value: string, temperature = '68 degF'): Logbook =>
  PLACES.reduce((book, _place, i) => read(book, `tire-${i + 1}`, on, value, temperature), logbook);

const planned = (logbook: Logbook, more: Record<string, unknown> = {}): Logbook =>
  logbook.add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi', more));
const spare = (logbook: Logbook, more: Record<string, unknown> = {}): Logbook =>
  logbook.add('fit', '2022-04-01', {
    part: 'spare',
    kind: 'spare-tire',
    isNew: false,
    madeOn: '2021-05',
    facts,
    ...more,
  });
const judge = (logbook: Logbook, now = '2026-06-11') => judgeOn(logbook, catalog, now);

describe('cold pressure', () => {
  const rig = planned(spare(withTires(soundRig())));

  it('is brought to one temperature: 62 psi at 35 °F are 67 psi at 68 °F', () => {
    // (62 + 14.696) · (527.67 / 494.67) − 14.696 = 67.1 psi, the gas law with absolute temperatures (°F + 459.67).
    const cold = find(judge(readAll(rig, '2026-06-11', '62 psi', '35 degF')), 'tires/pressure@tire-1');
    expect(cold).toMatchObject({ kind: 'limit', keepTo: 'at most 65 psi cold' });
    expect(cold.text).toContain('which is 67.1 psi at 68 °F');
    const hot = find(judge(readAll(rig, '2026-06-11', '65 psi', '100 degF')), 'tires/pressure@tire-1');
    expect(hot.kind).toBe('stop');
    expect(hot.takes!.action).toBe('Inflate to 65 psi cold at 68 °F: Tire, axle 1, left');
  });

  it('passes at the mark, and a gauge error below it', () => {
    expect(find(judge(readAll(rig, '2026-06-11', '65 psi')), 'tires/pressure@tire-1').kind).toBe('pass');
    expect(find(judge(readAll(rig, '2026-06-11', '64.2 psi')), 'tires/pressure@tire-1').kind).toBe('pass');
    expect(find(judge(readAll(rig, '2026-06-11', '63.5 psi')), 'tires/pressure@tire-1').kind).toBe('stop');
  });

  it('is one round on leaving while a reading would be too old by then, then unproven', () => {
    const book = readAll(rig, '2026-05-20', '66 psi');
    const early = judge(book, '2026-06-01');
    expect(find(early, 'tires/pressure')).toMatchObject({
      kind: 'limit',
      parts: ['tire-1', 'tire-2', 'tire-3', 'tire-4'],
    });
    expect(find(early, 'tires/pressure').keepTo).toContain('at least 65 psi cold at 68 °F');
    expect(find(judge(book), 'tires/pressure@tire-3')).toMatchObject({ kind: 'unproven', counts: 'hold' });
  });

  it('of the spare holds for thirty days, and stops us where it is low however old the reading', () => {
    expect(find(judge(read(rig, 'spare', '2026-05-14', '66 psi', '68 degF')), 'tires/pressure@spare').kind).toBe(
      'pass',
    );
    expect(find(judge(read(rig, 'spare', '2026-05-12', '66 psi', '68 degF')), 'tires/pressure@spare').kind).toBe(
      'unproven',
    );
    const low = find(judge(read(rig, 'spare', '2025-10-12', '38 psi', '12 degC')), 'tires/pressure@spare');
    expect(low).toMatchObject({ kind: 'stop', upkeep: 'set-spare-pressure', takes: { minutes: 4 } });
  });

  it('without its temperature is known less well, and said to be', () => {
    const unsure = find(judge(read(rig, 'spare', '2026-06-01', '66 psi')), 'tires/pressure@spare');
    expect(unsure).toMatchObject({ kind: 'limit', keepTo: 'read again with its temperature' });
    expect(find(judge(read(rig, 'spare', '2026-06-01', '58 psi')), 'tires/pressure@spare').kind).toBe('stop');
    expect(find(judge(read(rig, 'spare', '2026-06-01', '72 psi')), 'tires/pressure@spare').kind).not.toBe('stop');
  });

  it('counts as set where the work says so and nothing was read since', () => {
    const low = read(rig, 'spare', '2026-05-20', '38 psi', '68 degF');
    const set = low.add('work', '2026-06-10', {
      done: [{ upkeep: 'set-spare-pressure', part: 'spare', outcome: 'good' }],
    });
    expect(find(judge(set), 'tires/pressure@spare').kind).toBe('pass');
    expect(find(judge(read(set, 'spare', '2026-06-11', '50 psi', '68 degF')), 'tires/pressure@spare').kind).toBe(
      'stop',
    );
  });

  it('is said to be short on a cold morning of the trip', () => {
    const cold = judge(planned(readAll(rig, '2026-06-11', '65 psi'), { lowest: '28 degF' }));
    // (65 + 14.696) · (487.67 / 527.67) − 14.696 = 59.0 psi.
    expect(find(cold, 'tires/cold-mornings')).toMatchObject({ kind: 'limit', keepTo: '65 psi cold, also at 28 °F' });
    expect(find(cold, 'tires/cold-mornings').text).toContain('59 psi');
  });

  it('is what the load needs where that is more than the label', () => {
    // 5,900 lb on four tires of ST225/75R15: 1,475 lb each; the published row gives 1,430 lb at 25 psi and 1,600 at 30.
    const soft = planned(
      withTires(soundRig().add('weigh', '2026-05-04', threePasses(200)), { pressureColdMin: '20 psi' }),
    );
    expect(find(judge(readAll(soft, '2026-06-11', '25 psi')), 'tires/pressure@tire-1').kind).toBe('stop');
    expect(find(judge(readAll(soft, '2026-06-11', '30 psi')), 'tires/pressure@tire-1').kind).toBe('pass');
  });
});

describe('load, speed and age of the tires', () => {
  const rig = readAll(planned(spare(withTires(soundRig()))), '2026-06-11', '65 psi');

  it('holds each tire against its rating at its pressure', () => {
    // 5,700 lb on four: 1,425 of 2,540 lb at 65 psi.
    const pass = find(judge(rig), 'tires/load@tire-1');
    expect(pass).toMatchObject({ kind: 'pass' });
    expect(pass.text).toContain('1,425 lb of 2,540 lb at 65 psi');
    // 25 psi carry 1,430 lb by the published row.
    const tight = planned(withTires(soundRig(), { pressureColdMin: '25 psi' }));
    expect(find(judge(readAll(tight, '2026-06-11', '25 psi')), 'tires/load@tire-1')).toMatchObject({ kind: 'limit' });
    const over = readAll(rig.add('weigh', '2026-05-05', threePasses(4800)), '2026-06-11', '65 psi');
    expect(find(judge(over), 'tires/load@tire-2')).toMatchObject({ kind: 'stop', takes: { entry: { kind: 'weigh' } } });
  });

  it('keeps a tenth of the rating in reserve: less is a limit (common practice, no source)', () => {
    // 2,540 lb at 65 psi less 10 % are 2,286 lb: 9,144 lb on four tires.
    const loaded = (axles: number) =>
      find(
        judge(readAll(rig.add('weigh', '2026-05-05', threePasses(axles - 5700)), '2026-06-11', '65 psi')),
        'tires/load@tire-1',
      );
    expect(loaded(9140).kind).toBe('pass');
    expect(loaded(9148)).toMatchObject({ kind: 'limit', counts: 'limits' });
    expect(loaded(9148).text).toContain('10 % is kept in reserve');
    expect(loaded(10_160).kind).toBe('limit');
    expect(loaded(10_164).kind).toBe('stop');
  });

  it('cannot tell without a weighing, and never skips', () => {
    const bare = planned(
      withTires(soundRig().add('strike', '2026-05-05', { entry: soundRig().last.id, reason: 'wrong rig' })),
    );
    expect(find(judge(bare), 'tires/load')).toMatchObject({ kind: 'unproven', counts: 'hold' });
    expect(find(judge(bare), 'loads/weighing')).toMatchObject({ kind: 'unproven', counts: 'hold' });
  });

  it('limits the speed to 65 mph without a symbol, to the symbol with one, and passes where the owner keeps below', () => {
    expect(find(judge(rig), 'tires/speed')).toMatchObject({ kind: 'limit', keepTo: '65 mph' });
    expect(judge(rig).judgement).toBe('hold');
    const kept = rig.add('set', '2026-06-01', { key: 'speed-max', value: { value: 100, unit: 'km/h' } });
    expect(find(judge(kept), 'tires/speed').kind).toBe('pass');
    const marked = planned(withTires(soundRig(), { speedSymbol: 'L' }));
    expect(find(judge(marked), 'tires/speed')).toMatchObject({ kind: 'limit', keepTo: '75 mph' });
  });

  it('is past its advice between six and ten years, and stops us from ten', () => {
    const aged = (madeOn: string) => find(judge(planned(spare(soundRig(), { madeOn }))), 'tires/renew-tire@spare');
    expect(aged('2021-05').kind).toBe('pass');
    expect(aged('2019-01')).toMatchObject({ kind: 'limit' });
    expect(aged('2019-01').text).toContain('the limit is 1 Jan 2029');
    expect(aged('2016-06-20')).toMatchObject({ kind: 'stop' });
    expect(aged('2016-06-22').kind).toBe('limit');
    // Made some day of 2016: taken as old as it can be.
    expect(aged('2016').kind).toBe('stop');
  });
});
