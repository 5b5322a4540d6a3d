import { describe, expect, it } from 'vitest';
import { planInstance } from '../../../test/support/plan-instance.ts';
import { unwrap } from '../../problem/index.ts';
import { costOf, createSearch, instanceFromJson, optimise } from './index.ts';

const instance = (jobs: number, slots: number, setups: number, seed: number, tight = false) =>
  unwrap(instanceFromJson(planInstance(jobs, slots, setups, seed, tight)));

describe('optimise', () => {
  it('recomputes its cost and stays above its bound', () => {
    for (const tight of [false, true])
      for (let seed = 1; seed <= 5; seed++) {
        const given = instance(20, 8, 5, seed, tight);
        const found = unwrap(optimise(given, { workLimit: 100_000 }));
        expect(costOf(given, found.visits)).toBeCloseTo(found.cost, 6);
        expect(found.bound).toBeLessThanOrEqual(found.cost);
      }
  });

  it('gives the same plan for the same seed and limit, in one run or in slices', () => {
    const given = instance(30, 10, 5, 9, true);
    const once = unwrap(optimise(given, { workLimit: 60_000, seed: 3 }));
    const search = unwrap(createSearch(given, { seed: 3 }));
    while (!search.done && search.rounds < 60_000) search.run(() => true);
    expect(unwrap(search.result)).toEqual(once);
  });
});
