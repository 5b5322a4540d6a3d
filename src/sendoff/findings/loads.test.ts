import { describe, expect, it } from 'vitest';
import { find, judge as judgeOn } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { months, smallCatalog } from '../../../test/support/small-catalog.ts';
import { soundRig, threePasses, tripOf } from '../../../test/support/sound-rig.ts';

const catalog = smallCatalog({ upkeeps: [{ id: 'weigh-rig', part: 'rig-weights', clocks: [months(12)] }] });
const planned = (logbook: Logbook): Logbook =>
  logbook.add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));
const judge = (logbook: Logbook) => judgeOn(planned(logbook), catalog, '2026-06-11');

describe('loads of the newest weighing against the ratings', () => {
  // The tickets are the constructed case of the trade's three passes: tongue (2,840 + 3,960) − (3,200 + 2,800) = 800 lb, trailer
  // 800 + 5,600 = 6,400 lb, share 12.5 %, combination 12,400 lb.
  it('is clear where all hold, each with its number and where the rating was read', () => {
    const result = judge(soundRig());
    expect(result.judgement).toBe('clear');
    expect(find(result, 'loads/trailer').text).toBe('Trailer: 6,400 lb of 7,000 lb (label), 91 %: 600 lb left.');
    expect(find(result, 'loads/tongue').text).toContain('800 lb of 1,000 lb');
    expect(find(result, 'loads/combined').text).toContain('12,400 lb of 13,500 lb');
    expect(find(result, 'loads/rear-axle').text).toContain('3,960 lb of 4,200 lb');
    expect(find(result, 'loads/tongue-share').text).toContain('12.5 % of the trailer');
    expect(find(result, 'loads/weighing').kind).toBe('pass');
  });

  it('stops us over a rating until a lighter weighing says otherwise', () => {
    const heavy = soundRig().add('weigh', '2026-06-01', threePasses(700));
    const stop = find(judge(heavy), 'loads/trailer');
    expect(stop).toMatchObject({ kind: 'stop', takes: { action: 'Take 100 lb off the trailer, and weigh again' } });
    expect(find(judge(heavy.add('weigh', '2026-06-02', threePasses())), 'loads/trailer').kind).toBe('pass');
  });

  it('is a limit with five per cent or less left', () => {
    const tight = find(judge(soundRig().add('weigh', '2026-06-01', threePasses(400))), 'loads/trailer');
    expect(tight).toMatchObject({ kind: 'limit', keepTo: 'no more than 200 lb more on the trailer' });
  });

  it('is a limit outside the handbook’s band of the tongue, and unproven without one', () => {
    const band = (value: string | null) =>
      judge(soundRig().add('set', '2026-05-04', { key: 'fact/tongue-share', value }));
    expect(find(band('9-11'), 'loads/tongue-share')).toMatchObject({
      kind: 'limit',
      keepTo: '576 lb to 704 lb on the tongue',
    });
    expect(find(band(null), 'loads/tongue-share')).toMatchObject({ kind: 'unproven', counts: 'limits' });
  });

  it('is a limit outside 10 to 15 %, where most handbooks want it, also without the handbook of this rig', () => {
    // 800 lb on the tongue: of 9,400 lb they are 8.5 %, of 5,300 lb 15.1 %.
    const light = (more: number) =>
      judge(
        soundRig()
          .add('set', '2026-05-04', { key: 'fact/tongue-share', value: null })
          .add('weigh', '2026-06-01', threePasses(more)),
      );
    expect(find(light(3000), 'loads/tongue-share')).toMatchObject({
      kind: 'limit',
      counts: 'limits',
      keepTo: '940 lb to 1,410 lb on the tongue',
    });
    expect(find(light(3000), 'loads/tongue-share').sources).toEqual(['tongue-ten-fifteen']);
    expect(find(light(-1100), 'loads/tongue-share').text).toContain('most handbooks ask for 10 to 15 %');
    expect(find(light(-1100), 'loads/tongue-share').kind).toBe('limit');
  });
});

describe('what was not weighed, or long ago', () => {
  it('is unproven where the rig was never weighed', () => {
    const weighing = soundRig().last;
    const never = judge(soundRig().add('strike', '2026-05-05', { entry: weighing.id, reason: 'Not our ticket' }));
    expect(find(never, 'loads/weighing')).toMatchObject({ kind: 'unproven', counts: 'hold' });
    expect(never.judgement).toBe('hold');
  });

  it('is unproven where the tickets cannot be right', () => {
    const mixed = { ...threePasses(), hitchedSet: { front: '3020 lb', rear: '3680 lb', axles: '6900 lb' } };
    const result = judge(soundRig().add('weigh', '2026-06-01', mixed));
    expect(find(result, 'loads/weighing')).toMatchObject({ kind: 'unproven', counts: 'hold' });
  });

  it('is unproven for what this way of weighing does not say, and for ratings not on record', () => {
    const axles = judge(soundRig().add('weigh', '2026-06-01', { axles: '5600 lb' }));
    expect(find(axles, 'loads/trailer-axles').kind).toBe('pass');
    expect(find(axles, 'loads/unweighed').text).toContain('tongue on the receiver');
    const bare = judge(soundRig().add('enroll', '2026-05-02', { vehicle: 'tow', name: 'Biscuit' }));
    expect(find(bare, 'loads/ratings').text).toContain('receiver, ball');
    expect(bare.judgement).toBe('hold');
  });

  it('is a limit after a year, or once something heavy came aboard', () => {
    const old = soundRig().add('strike', '2026-05-05', { entry: soundRig().last.id, reason: 'Wrong date' });
    expect(find(judge(old.add('weigh', '2025-06-11', threePasses())), 'loads/weighing').kind).toBe('limit');
    expect(find(judge(old.add('weigh', '2025-06-12', threePasses())), 'loads/weighing').kind).toBe('pass');
    const rack = soundRig().add('carry', '2026-06-01', { item: 'bicycle-rack', aboard: true, weight: '80 lb' });
    expect(find(judge(rack), 'loads/weighing')).toMatchObject({
      kind: 'limit',
      keepTo: 'weigh at the first scale on the way',
    });
    // The rear axle had 240 lb left.
    const water = rack.add('carry', '2026-06-01', { item: 'water', aboard: true, weight: '330 lb' });
    expect(find(judge(water), 'loads/weighing')).toMatchObject({ kind: 'unproven', counts: 'hold' });
    const gone = water.add('carry', '2026-06-02', { item: 'water', aboard: false });
    expect(find(judge(gone), 'loads/weighing').kind).toBe('limit');
  });
});
