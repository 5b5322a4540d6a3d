import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { Logbook } from '../../test/support/logbook.ts';
import { workOrder } from './order.ts';
import { setUpUnits, wheelsAt } from './set-ups.ts';

const catalog = shippedCatalog();
const wheels = ['axle 1, left', 'axle 1, right', 'axle 2, left', 'axle 2, right'];
const repack = catalog.upkeeps.get('repack-bearings')!;
const linings = catalog.upkeeps.get('inspect-linings')!;
const at = (upkeep: typeof repack, place: string) => ({
  upkeep,
  place,
  minutes: upkeep.minutes,
  setups: upkeep.setups,
});
const minutesOf = (jobs: readonly ReturnType<typeof at>[]): number => workOrder(jobs, catalog).at(-1)!.endsAtMinute;

describe('set-ups by the wheel', () => {
  // Common practice, no source: each further wheel is jacked, taken off and put back on its own; the chocks are laid once.
  it('cost more for every wheel, and less than once more for everything', () => {
    const [one, two, four] = [1, 2, 4].map((count) =>
      minutesOf(wheels.slice(0, count).map((place) => at(repack, place))),
    );
    expect(two! - one!).toBeGreaterThanOrEqual(repack.minutes + 20);
    expect(two!).toBeLessThan(2 * one!);
    expect(four! - two!).toBe(2 * (two! - one!));
  });

  it('are shared by two jobs at one wheel', () => {
    const both = minutesOf([at(repack, wheels[0]!), at(linings, wheels[0]!)]);
    expect(both).toBe(minutesOf([at(repack, wheels[0]!)]) + linings.minutes);
    const apart = minutesOf([at(repack, wheels[0]!), at(linings, wheels[1]!)]);
    expect(apart).toBeGreaterThan(both + 20);
  });

  it('are paid at both wheels of an axle, and at all wheels for a part of the whole rig', () => {
    const rig = wheels.reduce(
      (book, place, index) => book.add('fit', '2021-04-01', { part: `w${index}`, kind: 'wheel', place, isNew: false }),
      new Logbook([]),
    );
    expect(wheelsAt({ kind: 'leaf-springs', place: 'axle 1' }, rig.state, catalog)).toHaveLength(2);
    expect(wheelsAt({ kind: 'wheel-nuts', place: 'all round' }, rig.state, catalog)).toEqual(wheels);
    expect(wheelsAt({ kind: 'wheel-bearings', place: wheels[2]! }, rig.state, catalog)).toEqual([wheels[2]]);
    const keys = setUpUnits(catalog, ['roof-ladder', 'wheel-off'], wheels).map(({ key }) => key);
    expect(keys).toEqual(['roof-ladder', 'wheel-off', ...wheels.map((wheel) => `wheel-off@${wheel}`)]);
  });

  it('stay below a working day for repacking four hubs, and above half of one', () => {
    // Common practice, no source: an owner allows 45 min to 1 1/4 h a hub.
    const four = minutesOf(wheels.map((place) => at(repack, place)));
    expect(four).toBeGreaterThanOrEqual(4 * 45);
    expect(four).toBeLessThanOrEqual(4 * 75);
  });
});
