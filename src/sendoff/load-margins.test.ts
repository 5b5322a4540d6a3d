import { describe, expect, it } from 'vitest';
import { soundRig, threePasses } from '../../test/support/sound-rig.ts';
import { weighingsOf } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { loadFigures, loadMargins } from './index.ts';

/**
 * The constructed three passes by hand: solo 3,200 + 2,800; slack 2,840 + 3,960 + 5,600; set 3,020 + 3,680 + 5,700 lb.
 * Tongue (2,840 + 3,960) − (3,200 + 2,800) = 800; trailer 5,600 + 800 = 6,400; tow vehicle at most 6,800; all together 12,400.
 */
const margins = (more = 0) => {
  const { state } = soundRig().add('weigh', '2026-06-01', threePasses(more));
  return loadMargins(state, unwrap(loadFigures(weighingsOf(state).at(-1)!)));
};
const row = (id: string, more = 0) => margins(more).find((one) => one.id === id)!;

describe('loads against ratings', () => {
  it.each([
    // load, rating, left, used
    ['trailer-axles', 5700, 7000, 1300, 81.43],
    ['trailer', 6400, 7000, 600, 91.43],
    ['coupler', 6400, 10_000, 3600, 64],
    ['chains', 6400, 15_000, 8600, 42.67],
    ['tongue', 800, 1000, 200, 80],
    ['receiver', 6400, 10_000, 3600, 64],
    ['ball', 6400, 10_000, 3600, 64],
    ['front-axle', 3020, 3600, 580, 83.89],
    ['rear-axle', 3960, 4200, 240, 94.29],
    ['tow-vehicle', 6800, 7200, 400, 94.44],
    ['combined', 12_400, 13_500, 1100, 91.85],
  ])('%s: %d lb of %d lb', (id, load, rating, left, used) => {
    const found = row(id);
    expect([found.load!.value, found.rating!.value, found.left!.value]).toEqual([load, rating, left]);
    expect(found.used).toBeCloseTo(used, 2);
    expect(found.origin).toContain('label');
  });

  it('are told the tightest first, over the rating before all', () => {
    const used = margins(700).map((one) => one.used ?? -1);
    expect(used).toEqual([...used].sort((a, b) => b - a));
    expect(margins(700)[0]).toMatchObject({ id: 'trailer', left: { value: -100, unit: 'lb' } });
  });

  it('take the strength stamped on the chains before the papers, and all axles by their number', () => {
    const { state } = soundRig()
      .add('fit', '2022-04-01', {
        part: 'chains',
        kind: 'safety-chains',
        isNew: false,
        facts: { breakingStrength: '6000 lb' },
      })
      .add('enroll', '2026-05-01', {
        vehicle: 'trailer',
        name: 'Marigold',
        axles: 3,
        ratings: { gawrAxle: { value: '2500 lb', origin: 'axle plate' } },
      });
    const found = loadMargins(state, unwrap(loadFigures(weighingsOf(state).at(-1)!)));
    expect(found.find((one) => one.id === 'chains')).toMatchObject({
      rating: { value: 6000, unit: 'lb' },
      left: { value: -400, unit: 'lb' },
      origin: 'breaking strength of each chain',
    });
    expect(found.find((one) => one.id === 'trailer-axles')).toMatchObject({ rating: { value: 7500, unit: 'lb' } });
    expect(found.find((one) => one.id === 'trailer')).toMatchObject({ rating: null, left: null, used: null });
  });
});
