import { describe, expect, it } from 'vitest';
import { planInstance } from '../../../test/support/plan-instance.ts';
import { unwrap } from '../../problem/index.ts';
import { instanceFromJson } from './instance.ts';
import { modelOf } from './model.ts';
import { PathFinder } from './paths.ts';
import { Random } from './random.ts';
import { Rhythm } from './rhythm.ts';

const SLOTS = 8;

/** A group of an instance of the benchmark family, with prices drawn at random. */
function priced(seed: number, noMore = 8) {
  const model = unwrap(modelOf(unwrap(instanceFromJson(planInstance(20, SLOTS, 5, seed)))));
  const random = new Random(seed);
  const group = random.below(model.groups);
  const uses = Array.from(
    model.groupUses.subarray(model.groupStart[group] as number, model.groupStart[group + 1] as number),
  ).slice(0, noMore);
  const rhythm = new Rhythm(model, group, uses);
  for (let t = 1; t <= SLOTS; t++) {
    rhythm.open[t] = 80 * random.next() - 10;
    for (let k = 0; k < rhythm.members; k++) {
      rhythm.pay[t * rhythm.members + k] = 15 * random.next();
      rhythm.share[t * rhythm.members + k] = 10 * random.next();
    }
  }
  return { model, rhythm, random };
}

/** The least cost of any rhythm that a condition lets through, by trying all of them, each member's path found by itself. */
function leastOfAll({ model, rhythm }: ReturnType<typeof priced>, lets: (bits: number) => boolean): number {
  const paths = new PathFinder(model);
  const prices = Array.from({ length: rhythm.members }, (_, k) =>
    Float64Array.from({ length: model.nodes }, (_, t) => rhythm.pay[t * rhythm.members + k] as number),
  );
  let least = Number.POSITIVE_INFINITY;
  for (let bits = 0; bits < 1 << (SLOTS + 1); bits += 2) {
    if (!lets(bits)) continue;
    let cost = 0;
    for (let t = 1; t <= SLOTS; t++) if ((bits >> t) & 1) cost += rhythm.open[t] as number;
    rhythm.uses.forEach((u, k) => {
      cost += paths.cheapestPriced(model.useJob[u] as number, bits, prices[k] as Float64Array, 0);
    });
    least = Math.min(least, cost);
  }
  return least;
}

describe('the best rhythm of one group', () => {
  it('is the least of all, whatever is closed or must be, and says when there is none', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const given = priced(seed);
      const { rhythm, random } = given;
      const closed = seed % 2 === 0 ? 2 << random.below(SLOTS) : 0;
      const must = seed % 3 === 0 ? (2 << random.below(SLOTS)) & ~closed : 0;
      const least = leastOfAll(given, (bits) => (bits & closed) === 0 && (bits & must) === must);
      const solved = rhythm.solve(closed, must, 4);
      expect(solved).toBe(least < Number.POSITIVE_INFINITY);
      if (!solved) continue;
      expect(rhythm.value).toBeCloseTo(least, 6);
      expect(rhythm.best & closed).toBe(0);
      expect(rhythm.best & must).toBe(must);
    }
  });

  it('never claims more for leaving a slot out, or setting it up, than that really costs', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const given = priced(seed);
      const { rhythm } = given;
      const closing = new Float64Array(SLOTS + 2);
      const opening = new Float64Array(SLOTS + 2);
      expect(rhythm.solve(0, 0, 10)).toBe(true);
      rhythm.measureGains(closing, opening, 0);
      for (let t = 1; t <= SLOTS; t++) {
        const without = leastOfAll(given, (bits) => ((bits >> t) & 1) === 0);
        const set = leastOfAll(given, (bits) => ((bits >> t) & 1) === 1);
        expect(rhythm.value + (closing[t] as number)).toBeLessThanOrEqual(without + 1e-6);
        expect(rhythm.value + (opening[t] as number)).toBeLessThanOrEqual(set + 1e-6);
      }
    }
  });
});
