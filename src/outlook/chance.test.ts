import { describe, expect, it } from 'vitest';
import { look, milesEvery, repacked, started, trip } from '../../test/support/outlook-rig.ts';
import { mi } from '../../test/support/rig.ts';
import { dayNumber } from '../dates/index.ts';
import { chanceIfMade, chanceOnTrip } from './index.ts';

const NOW = '2026-06-11';

/** A job with `left` miles left on the eve of a trip of 640 planned miles that is made with this chance. */
function rig(left: number, chance: number) {
  const pen = started();
  repacked(pen, '2025-04-18', 50_000);
  pen.write('reading', NOW, { vehicle: 'trailer', what: 'odometer', value: mi(60_000 - left) });
  trip(pen, 'palouse', '2026-06-12', '2026-06-21', 640, chance);
  return look(pen, [milesEvery(10_000)], NOW);
}

describe('the chance that a job comes due on a trip, given that we go', () => {
  // Before any finished trip, log(driven/planned) is Student-t with 8 degrees, location ln 1.08, scale 0.12 √(1 + 1/4). Upper points
  // of t with 8 degrees from the printed table: 1.397 (10 %), 0.889 (20 %), 1.860 (5 %).
  const milesAt = (t: number): number => 640 * 1.08 * Math.exp(0.12 * Math.sqrt(1.25) * t);

  it.each([1, 0.87, 0.5, 0.3, 0.16])(
    'is that of the table of Student’s t, whatever the chance of going (%d)',
    (chance) => {
      for (const [t, upper] of [
        [1.397, 0.1],
        [0.889, 0.2],
        [1.86, 0.05],
      ] as const) {
        const { outlook } = rig(milesAt(t), chance);
        const told = chanceOnTrip(outlook.items[0]!, 'palouse');
        // 1,024 paths, of which only the share of the chance is counted; a few miles of short hops come on top.
        expect(Math.abs(told - upper)).toBeLessThan(0.01 + Math.sqrt((upper * (1 - upper)) / (1024 * chance)));
      }
    },
  );

  it('is counted on the paths on which the trip is made', () => {
    const { outlook, looks, scene } = rig(800, 0.3);
    const made = scene.draws.made[0]!;
    const until = dayNumber('2026-06-21') + 1;
    let going = 0;
    let due = 0;
    looks[0]!.runsOut.forEach((day, p) => {
      if (made[p] !== 1) return;
      going++;
      if (day < until) due++;
    });
    expect(going / made.length).toBeCloseTo(0.3, 2);
    expect(chanceOnTrip(outlook.items[0]!, 'palouse')).toBeCloseTo(due / going, 3);
    expect(chanceIfMade(looks[0]!.runsOut, until, made)).toBe(due / going);
  });

  it('is not none because hardly any path goes', () => {
    // Driven 640 miles with 100 left: it comes due on the trip, however unlikely the trip is.
    for (const chance of [0.01, 0.001, 0.00001])
      expect(chanceOnTrip(rig(100, chance).outlook.items[0]!, 'palouse')).toBe(1);
    const nobody = new Float64Array(4);
    expect(chanceIfMade(Float64Array.of(1, 2, 3, 4), 3, nobody)).toBe(1);
  });

  it('is certain of a trip that the outlook does not speak of: unknown is never fine', () => {
    expect(chanceOnTrip(rig(5_000, 1).outlook.items[0]!, 'nowhere')).toBe(1);
  });
});
