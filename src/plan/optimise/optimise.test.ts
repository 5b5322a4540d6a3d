import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exhaustiveOptimum } from '../../../test/support/plan-exhaustive.ts';
import { planInstance } from '../../../test/support/plan-instance.ts';
import { unwrap } from '../../problem/index.ts';
import { costOf, createSearch, instanceFromJson, optimise, type PlanFound, type PlanInstance } from './index.ts';

const instance = (jobs: number, slots: number, setups: number, seed: number, tight = false) =>
  unwrap(instanceFromJson(planInstance(jobs, slots, setups, seed, tight)));

/** Tiny instances of every shape: arcs missing, set-ups shared or none, hours that bind or leave no plan, closed slots. */
const tiny: fc.Arbitrary<PlanInstance> = fc
  .record({
    slots: fc.integer({ min: 1, max: 4 }),
    setups: fc.integer({ min: 0, max: 3 }),
    jobs: fc.integer({ min: 1, max: 3 }),
  })
  .chain(({ slots, setups, jobs }) => {
    const amount = fc.integer({ min: 0, max: 400 }).map((n) => n / 10);
    const arc = fc.option(amount, { freq: 4 });
    return fc.record({
      slots: fc.constant(slots),
      dayCost: fc.oneof(amount, fc.array(amount, { minLength: slots, maxLength: slots })),
      setups: fc.array(fc.record({ cost: amount, minutes: amount }), { minLength: setups, maxLength: setups }),
      capacityMinutes: fc.option(fc.array(fc.integer({ min: 0, max: 120 }), { minLength: slots, maxLength: slots })),
      jobs: fc.array(
        fc.record({
          setups: fc.subarray(Array.from({ length: setups }, (_, g) => g)),
          minutes: amount,
          intervalCost: fc.array(fc.array(arc, { minLength: slots + 2, maxLength: slots + 2 }), {
            minLength: slots + 1,
            maxLength: slots + 1,
          }),
        }),
        { minLength: jobs, maxLength: jobs },
      ),
      slotsClosed: fc.subarray(
        Array.from({ length: slots }, (_, k) => k + 1),
        { maxLength: 1 },
      ),
    });
  });

describe('optimise against trying everything', () => {
  it('finds the optimum of tiny instances and proves it, or says that there is no plan', () => {
    fc.assert(
      fc.property(tiny, (given) => {
        const best = exhaustiveOptimum(given);
        const found = optimise(given, { workLimit: 20_000 });
        if (best === null) {
          expect(found.ok).toBe(false);
          return;
        }
        const { cost, bound, visits, proven } = unwrap(found);
        expect(bound).toBeLessThanOrEqual(best + 1e-9);
        expect(costOf(given, visits)).toBe(cost);
        expect(proven).toBe(true);
        expect(cost).toBeCloseTo(best, 4);
      }),
      { numRuns: 400 },
    );
  });

  it('never states a bound above the optimum, however early it is stopped', () => {
    fc.assert(
      fc.property(tiny, fc.integer({ min: 1, max: 200 }), (given, workLimit) => {
        const best = exhaustiveOptimum(given);
        const found = optimise(given, { workLimit });
        if (best === null || !found.ok) return;
        expect(found.value.bound).toBeLessThanOrEqual(best + 1e-9);
        expect(found.value.cost).toBeGreaterThanOrEqual(best - 1e-9);
      }),
      { numRuns: 200 },
    );
  });
});

describe('laws', () => {
  it('recomputes its cost and stays above its bound', () => {
    for (const tight of [false, true])
      for (let seed = 1; seed <= 4; seed++) {
        const given = instance(20, 8, 5, seed, tight);
        const found = unwrap(optimise(given, { workLimit: 100_000 }));
        expect(costOf(given, found.visits)).toBe(found.cost);
        expect(found.bound).toBeLessThanOrEqual(found.cost);
      }
  });

  it('never gets dearer with more hours, and cheapest with no limit', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const given = instance(12, 6, 4, seed, true);
      const hours = given.capacityMinutes as number[];
      const costs = [0.9, 1, 1.1, 1.3].map((factor) => {
        const found = optimise({ ...given, capacityMinutes: hours.map((minutes) => minutes * factor) });
        return found.ok && found.value.proven ? found.value.cost : Number.POSITIVE_INFINITY;
      });
      costs.push(unwrap(optimise({ ...given, capacityMinutes: null })).cost);
      for (let k = 1; k < costs.length; k++)
        expect(costs[k] as number).toBeLessThanOrEqual((costs[k - 1] as number) + 0.01);
      expect(costs[3]).toBeLessThan(Number.POSITIVE_INFINITY);
    }
  });

  it('gives the same plan for the same seed and limit, in one run or in slices', () => {
    for (const tight of [false, true]) {
      const given = instance(30, 10, 5, 9, tight);
      const once = unwrap(optimise(given, { workLimit: 60_000, seed: 3 }));
      const search = unwrap(createSearch(given, { seed: 3 }));
      while (!search.done && search.rounds < 60_000) search.run(() => true);
      expect(unwrap(search.result)).toEqual(once);
    }
  });

  it('improves step by step, and its bound only rises', () => {
    const costs: number[] = [];
    const given = instance(40, 12, 6, 3, true);
    const found = unwrap(
      optimise(given, { workLimit: 150_000, onImprove: (better: PlanFound) => costs.push(better.cost) }),
    );
    expect(costs.length).toBeGreaterThan(1);
    expect(costs).toEqual([...costs].sort((a, b) => b - a));
    expect(costs.at(-1)).toBe(found.cost);
    const search = unwrap(createSearch(given));
    let { bound } = search;
    expect(bound).toBeGreaterThan(0);
    for (let k = 0; k < 40; k++) {
      search.run(() => true);
      expect(search.bound).toBeGreaterThanOrEqual(bound);
      bound = search.bound;
    }
  });
});

describe('what a caller can ask for', () => {
  it('stops at the gap asked for, by the clock, or when cancelled', () => {
    const given = instance(40, 12, 6, 3);
    const near = unwrap(optimise(given, { gapTarget: 0.02 }));
    expect(near.cost - near.bound).toBeLessThanOrEqual(0.02 * near.cost);
    expect(near.proven).toBe(false);
    let now = 0;
    const ticks = unwrap(optimise(given, { clock: () => now++, budgetMilliseconds: 3 }));
    expect(ticks.rounds).toBeLessThan(near.rounds * 10);
    let asked = 0;
    unwrap(optimise(given, { cancelled: () => ++asked === 2 }));
    expect(asked).toBe(2);
  });

  it('starts from an earlier plan and never ends above it', () => {
    for (const tight of [false, true]) {
      const given = instance(40, 12, 6, 2, tight);
      const earlier = unwrap(optimise(given, { workLimit: 200_000 }));
      const again = unwrap(optimise(given, { workLimit: 1, warmStart: earlier.visits }));
      expect(again.cost).toBeLessThanOrEqual(earlier.cost + 1e-9);
    }
  });

  it('keeps off a closed slot and keeps a pinned job where it is pinned', () => {
    const given = instance(20, 8, 5, 2);
    const free = unwrap(optimise(given));
    const slot = (free.visits.find((visits) => visits.length > 0) as number[])[0] as number;
    const closed = unwrap(optimise({ ...given, slotsClosed: [slot] }, { warmStart: free.visits }));
    expect(closed.visits.flat()).not.toContain(slot);
    expect(closed.cost).toBeGreaterThanOrEqual(free.cost - 1e-6);
    const jobs = given.jobs.map((job, j) =>
      j === 0
        ? {
            ...job,
            intervalCost: job.intervalCost.map((row, s) => row.map((cost, t) => (s < 4 && t > 4 ? null : cost))),
          }
        : job,
    );
    const pinned = unwrap(optimise({ ...given, jobs }, { warmStart: free.visits }));
    expect(pinned.visits[0]).toContain(4);
    expect(pinned.cost).toBeGreaterThanOrEqual(free.cost - 1e-6);
  });

  it('plans jobs that need no set-up, and pays the day for them', () => {
    const job = {
      setups: [],
      minutes: 10,
      intervalCost: [
        [null, 5, 3, null],
        [null, null, 4, 9],
        [null, null, null, 1],
      ],
    };
    const found = unwrap(optimise({ slots: 2, dayCost: [7, 2], setups: [], capacityMinutes: [10, 10], jobs: [job] }));
    expect(found).toMatchObject({ cost: 3 + 2 + 1, visits: [[2]], proven: true });
  });
});

describe('what cannot be planned', () => {
  const job = (row: (number | null)[], minutes = 10) => ({ setups: [], minutes, intervalCost: [row, [null, null, 1]] });
  const base = { slots: 1, dayCost: 0, setups: [], capacityMinutes: null };

  it('names each job without a path', () => {
    const found = optimise({ ...base, jobs: [job([null, 1, 2]), job([null, null, null])] });
    expect(found).toMatchObject({ ok: false, problems: [{ code: 'plan.job-impossible', where: 'jobs[1]' }] });
  });

  it('names the slot that is short of hours, and the jobs on it', () => {
    const found = optimise({ ...base, capacityMinutes: [15], jobs: [job([null, 1, null]), job([null, 1, null])] });
    expect(found).toMatchObject({ ok: false, problems: [{ code: 'plan.hours-short', where: 'slot 1 (jobs 0, 1)' }] });
  });

  it('refuses a job too long for every day it may be done on', () => {
    const found = optimise({ ...base, capacityMinutes: [9], jobs: [job([null, 1, null])] });
    expect(found).toMatchObject({ ok: false, problems: [{ code: 'plan.job-impossible' }] });
  });

  it('refuses what is not an instance', () => {
    const bad = [
      null,
      {},
      { slots: 40, day_cost: 1, setups: [], jobs: [] },
      { slots: 1, day_cost: -1, setups: [], jobs: [] },
    ];
    for (const json of bad)
      expect(instanceFromJson(json)).toMatchObject({ ok: false, problems: [{ code: 'plan.instance-invalid' }] });
    expect(optimise({ ...base, jobs: [{ ...job([null, 1, 2]), setups: [3] }] })).toMatchObject({
      ok: false,
      problems: [{ code: 'plan.instance-invalid', where: 'jobs[0].setups' }],
    });
  });

  it('throws on a broken list of visits', () => {
    const given: PlanInstance = { ...base, capacityMinutes: [15], jobs: [job([null, 1, 2]), job([null, 1, 2])] };
    expect(costOf(given, [[], [1]])).toBe(2 + 1 + 1);
    expect(() => costOf(given, [[]])).toThrow();
    expect(() => costOf(given, [[1, 1], []])).toThrow(/interval/);
    expect(() => costOf(given, [[1], [1]])).toThrow(/20 minutes of 15/);
    expect(() => costOf({ ...given, slotsClosed: [1] }, [[1], []])).toThrow(/closed/);
  });
});
