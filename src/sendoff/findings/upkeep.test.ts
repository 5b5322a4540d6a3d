import { describe, expect, it } from 'vitest';
import { find, judge as judgeOn } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { departure, miles, months, smallCatalog } from '../../../test/support/small-catalog.ts';
import { soundRig, tripOf } from '../../../test/support/sound-rig.ts';
import type { Catalog } from '../../catalog/index.ts';

const NOW = '2026-06-10';
const judge = (logbook: Logbook, catalog: Catalog, now = NOW) => judgeOn(logbook, catalog, now);

const rig = soundRig()
  .add('fit', '2022-04-01', { part: 'hub', kind: 'hub', place: 'axle 2, left', isNew: false, odometer: '50000 mi' })
  .add('work', '2025-04-18', { done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }], odometer: '54310 mi' })
  .add('reading', '2026-06-09', { what: 'odometer', vehicle: 'trailer', value: '64120.4 mi' })
  .add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));
const repacked = rig.entries.find((entry) => entry.kind === 'work')!;

const repack = (more: object = {}): Catalog =>
  smallCatalog({
    upkeeps: [{ id: 'repack', part: 'hub', clocks: [miles(10000)], tools: ['packer'], setups: ['wheel-off'], ...more }],
    setups: [{ id: 'wheel-off', minutes: 30, tools: ['jack'], cautions: ['Never beneath a jack.'] }],
    kit: ['packer', 'jack'],
  });

describe('a duty that runs out by miles during the trip', () => {
  it('stops us when it is a matter of safety done at home, and names what lifts it', () => {
    const result = judge(rig, repack());
    const stop = find(result, 'upkeep/repack@hub');
    expect(stop.kind).toBe('stop');
    expect(result.judgement).toBe('hold');
    expect(stop.text).toContain('189.6 mi left');
    expect(stop.takes).toMatchObject({ minutes: 60, tools: ['Jack', 'Packer'], aboard: null, hands: 'owner' });
    expect(stop.takes!.entry).toEqual({ kind: 'work', upkeep: 'repack', parts: ['hub'] });
    expect(stop.cautions).toEqual(['Never beneath a jack.']);
    expect(stop.sources).toEqual(['practice']);
    expect(stop.evidence).toContain(repacked.id);
    expect(result.sentence).toBe('Not yet. One thing stops us, an hour at home.');
  });

  it('is a thing to do at its mile where it can be done at a stop', () => {
    const limit = find(judge(rig, repack({ place: 'anywhere' })), 'upkeep/repack@hub');
    expect(limit).toMatchObject({ kind: 'limit', atMiles: 189, counts: 'limits' });
    expect(limit.keepTo).toBe('by mile 189 of this trip');
  });

  it('is said with the price of going where only damage is at stake, and no more than said for comfort', () => {
    const damage = judge(rig, repack({ severity: 'damage' }));
    expect(find(damage, 'upkeep/repack@hub').kind).toBe('limit');
    expect(find(damage, 'upkeep/repack@hub').text).toContain('Going risks about $300: It fails.');
    expect(damage.judgement).toBe('limits');
    const comfort = judge(rig, repack({ severity: 'comfort' }));
    expect(find(comfort, 'upkeep/repack@hub').counts).toBe('nothing');
    expect(comfort.judgement).toBe('clear');
  });

  it('lasts when it is done, and the trip is clear', () => {
    const done = rig.add('work', NOW, {
      done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }],
      odometer: '64120.4 mi',
    });
    const result = judge(done, repack());
    expect(find(result, 'upkeep/repack@hub').kind).toBe('pass');
    expect(result.sentence).toBe('Clear. Nothing we know of runs out before we are home on Sun 21 Jun.');
  });

  it('follows the owner in what chance is accepted', () => {
    const nearly = judge(rig, repack({ clocks: [miles(10500)] }));
    const chance = Number(/(\d+) %/.exec(find(nearly, 'upkeep/repack@hub').text)?.[1]);
    expect(chance).toBeGreaterThan(5);
    const daring = rig.add('set', NOW, { key: 'alpha/safety', value: 0.95 });
    expect(find(judge(daring, repack({ clocks: [miles(10500)] })), 'upkeep/repack@hub').kind).toBe('pass');
  });
});

describe('a tentative trip', () => {
  const on = (chance: number, left: number) =>
    find(
      judgeOn(
        rig.add('trip', '2026-05-02', tripOf('2026-06-12', '2026-06-21', '640 mi', { chance })),
        repack({ clocks: [miles(9810.4 + left)] }),
        NOW,
        'palouse',
        1024,
      ),
      'upkeep/repack@hub',
    );
  const percent = (chance: number, left: number): number =>
    Number(/before Sun 21 Jun: (\d+) %/.exec(on(chance, left).text)?.[1]);

  it('is judged by the chance given that we go, however unsure the going is', () => {
    const sure = percent(1, 790);
    expect(sure).toBeGreaterThan(10);
    expect(sure).toBeLessThan(30);
    for (const chance of [0.3, 0.5, 0.87]) expect(Math.abs(percent(chance, 790) - sure)).toBeLessThan(5);
    expect(on(0.3, 790).text).not.toContain('certain');
  });

  it('is no stop that a sure trip is not', () => {
    expect(on(1, 1100).kind).toBe('pass');
    expect(on(0.16, 1100).kind).toBe('pass');
    expect(on(0.16, 100)).toMatchObject({ kind: 'stop' });
    expect(on(0.16, 100).text).toContain('certain');
  });
});

describe('an interval shorter than the trip', () => {
  const short = repack({ clocks: [miles(500)] });

  it('stops us until it is done afresh, and is then a thing to do again on the way', () => {
    expect(find(judge(rig, short), 'upkeep/repack@hub').kind).toBe('stop');
    const done = rig.add('work', NOW, {
      done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }],
      odometer: '64120.4 mi',
    });
    expect(find(judge(done, short), 'upkeep/repack@hub')).toMatchObject({ kind: 'limit', atMiles: 500 });
  });

  it('is not taken for fresh where the trip only may run past it', () => {
    const half = rig.add('work', '2026-06-01', {
      done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }],
      odometer: '63400 mi',
    });
    const nearly = find(judge(half, repack({ clocks: [miles(1450)] })), 'upkeep/repack@hub');
    expect(nearly.kind).toBe('stop');
    expect(nearly.text).not.toContain('certain');
  });

  it('is no stop long before leaving, as nothing done today would still hold', () => {
    const weekly = repack({ clocks: [months(0.25)] });
    const early = judge(rig, weekly, '2026-05-20');
    expect(find(early, 'upkeep/repack@hub')).toMatchObject({ kind: 'limit' });
    expect(find(early, 'upkeep/repack@hub').keepTo).toContain('and again on the way');
    expect(find(judge(rig, weekly, '2026-06-11'), 'upkeep/repack@hub').kind).toBe('stop');
    const done = rig.add('work', '2026-06-11', { done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }] });
    expect(find(judge(done, weekly, '2026-06-11'), 'upkeep/repack@hub')).toMatchObject({
      kind: 'limit',
      onDay: '2026-06-19',
    });
  });
});

describe('a duty before every departure', () => {
  const lights = smallCatalog({ upkeeps: [{ id: 'test', part: 'lamp', clocks: [departure(1)], minutes: 5 }] });
  const lamps = rig
    .add('fit', '2022-04-01', { part: 'lamp-left', kind: 'lamp', place: 'left', isNew: true })
    .add('fit', '2022-04-01', { part: 'lamp-right', kind: 'lamp', place: 'right', isNew: true });

  it('is one thing to do on leaving while it cannot be done yet', () => {
    const result = judge(lamps, lights);
    const limit = find(result, 'upkeep/test');
    expect(limit).toMatchObject({ kind: 'limit', parts: ['lamp-left', 'lamp-right'], part: null });
    expect(limit.keepTo).toBe('from Thu 11 Jun to Fri 12 Jun');
    expect(result.sentence).toBe('Clear with limits: one thing to do on leaving.');
  });

  it('stops us still where the trip should have left already, until it is done', () => {
    const late = judge(lamps, lights, '2026-06-13');
    expect(find(late, 'upkeep/test')).toMatchObject({ kind: 'stop', parts: ['lamp-left', 'lamp-right'] });
    const done = ['lamp-left', 'lamp-right'].map((part) => ({ upkeep: 'test', part, outcome: 'good' }));
    expect(judge(lamps.add('work', '2026-06-11', { done }), lights, '2026-06-13').judgement).toBe('clear');
  });

  it('stops us though another trip leaves before, and it can be done anywhere', () => {
    const other = lamps.add('trip', '2026-05-02', {
      ...tripOf('2026-06-11', '2026-06-11', '20 mi'),
      trip: 'lake',
      name: 'Lake',
    });
    const anywhere = smallCatalog({
      upkeeps: [{ id: 'test', part: 'lamp', clocks: [departure(7)], minutes: 5, place: 'anywhere' }],
    });
    expect(find(judge(other, anywhere, '2026-06-10'), 'upkeep/test').kind).toBe('stop');
  });

  it('stops us from the day on which it could be done, until it is', () => {
    const stop = find(judge(lamps, lights, '2026-06-11'), 'upkeep/test');
    expect(stop).toMatchObject({ kind: 'stop', takes: { minutes: 10, action: 'Test: left and right' } });
    const half = lamps.add('work', '2026-06-11', { done: [{ upkeep: 'test', part: 'lamp-left', outcome: 'good' }] });
    expect(find(judge(half, lights, '2026-06-12'), 'upkeep/test').parts).toEqual(['lamp-right']);
    const both = half.add('work', '2026-06-12', { done: [{ upkeep: 'test', part: 'lamp-right', outcome: 'good' }] });
    expect(judge(both, lights, '2026-06-12').judgement).toBe('clear');
  });
});

describe('a measured quantity', () => {
  const lining = smallCatalog({
    upkeeps: [
      {
        id: 'renew-lining',
        part: 'lining',
        clocks: [
          {
            kind: 'limit',
            reading: 'thickness',
            side: 'below',
            limit: { value: 2, unit: 'mm' },
            driftPerMonth: -0.01,
            driftSpread: 0.005,
            readingError: 0.05,
            staleDays: 90,
            source: 'practice',
          },
        ],
      },
    ],
  });
  const read = (on: string, value: string) =>
    rig
      .add('fit', '2022-04-01', { part: 'lining', kind: 'lining', isNew: false })
      .add('reading', on, { part: 'lining', what: 'thickness', value });

  it('proves what it says while the reading is fresh enough, then nothing', () => {
    expect(find(judge(read('2026-03-14', '6 mm'), lining), 'upkeep/renew-lining@lining').kind).toBe('pass');
    expect(find(judge(read('2026-03-13', '6 mm'), lining), 'upkeep/renew-lining@lining').kind).toBe('unproven');
    const early = judge(read('2026-03-01', '6 mm'), lining, '2026-03-13');
    expect(find(early, 'upkeep/renew-lining@lining')).toMatchObject({ kind: 'limit' });
    expect(find(judge(read('2026-06-01', '1.8 mm'), lining), 'upkeep/renew-lining@lining').kind).toBe('stop');
  });
});

describe('what failed and what is unproven', () => {
  const failed = rig.add('work', NOW, { done: [{ upkeep: 'repack', part: 'hub', outcome: 'failed' }] });
  const catalog = repack({ goWithLimits: { text: 'To the next shop, slowly.', source: 'practice' } });

  it('stops us where it failed, with the published way to go if there is one', () => {
    expect(find(judge(failed, catalog), 'upkeep/repack@hub')).toMatchObject({
      kind: 'stop',
      goWithLimits: 'To the next shop, slowly.',
    });
    expect(find(judge(failed, repack({ severity: 'damage' })), 'upkeep/repack@hub').kind).toBe('limit');
  });

  it('is not covered by a waiver that was written before it failed', () => {
    const waive = { trip: 'palouse', finding: 'upkeep/repack@hub', reason: 'New hub at my sister’s, 20 mi on.' };
    const waived = judge(failed.add('waive', NOW, waive), catalog);
    expect(find(waived, 'upkeep/repack@hub')).toMatchObject({ counts: 'nothing', waived: { by: 'Ada' } });
    expect(waived.judgement).toBe('clear');
    const before = rig.add('waive', NOW, waive).add('work', NOW, {
      done: [{ upkeep: 'repack', part: 'hub', outcome: 'failed' }],
    });
    expect(judge(before, catalog).judgement).toBe('hold');
  });

  it('counts the unproven by what is at stake', () => {
    const unknown = (severity: 'safety' | 'damage' | 'comfort') =>
      judge(rig, smallCatalog({ upkeeps: [{ id: 'test', part: 'hub', severity }] }));
    const first = (severity: 'safety' | 'damage' | 'comfort') => find(unknown(severity), 'upkeep/test@hub');
    expect(unknown('safety').judgement).toBe('hold');
    expect(first('safety')).toMatchObject({ kind: 'unproven', counts: 'hold', takes: { action: 'Look at the hub.' } });
    expect(unknown('damage').judgement).toBe('limits');
    expect(first('damage')).toMatchObject({ kind: 'unproven', counts: 'limits' });
    expect(unknown('comfort').judgement).toBe('clear');
    expect(first('comfort')).toMatchObject({ kind: 'unproven', counts: 'nothing' });
  });
});

describe('an odometer that nobody has read for over a year', () => {
  const silent = soundRig()
    .add('fit', '2022-04-01', { part: 'hub', kind: 'hub', place: 'axle 2, left', isNew: false, odometer: '50000 mi' })
    .add('work', '2025-05-01', { done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }], odometer: '54310 mi' })
    .add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));

  it('is read first: what is counted in its miles is not checked, and reading it lifts that', () => {
    const finding = find(judge(silent, repack()), 'upkeep/repack@hub');
    expect(finding).toMatchObject({ kind: 'unproven', counts: 'hold' });
    expect(finding.text).toContain('an odometer reading of the last 12 months (the newest is of 1 May 2025)');
    expect(finding.takes).toMatchObject({
      action: 'Read the odometer of the trailer',
      entry: { kind: 'odometer', vehicle: 'trailer' },
    });
    const read = silent.add('reading', NOW, { what: 'odometer', vehicle: 'trailer', value: '55000 mi' });
    expect(find(judge(read, repack()), 'upkeep/repack@hub').kind).toBe('pass');
  });

  it('does not make work of months ago look as good as new', () => {
    // 500 miles each: shorter than the trip, done in January, and not a word of the odometer since.
    const january = silent.add('work', '2026-01-10', {
      done: [{ upkeep: 'repack', part: 'hub', outcome: 'good' }],
      odometer: '54900 mi',
    });
    expect(find(judge(january, repack({ clocks: [miles(500)] })), 'upkeep/repack@hub').kind).toBe('stop');
  });
});
