/**
 * The optimiser against things outside it: optima found by a general mixed-integer solver (HiGHS 1.15), both kept values and solved
 * afresh, and two classical grouping problems whose optima are known by other means.
 */
import loadHighs from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { costOf, instanceFromJson, optimise, type PlanInstance, type PlanJob } from '../../src/plan/optimise/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import optima from '../data/plan/optima.json';
import { planInstance } from '../support/plan-instance.ts';
import { planProgram } from '../support/plan-program.ts';

describe('known optima (test/data/plan/optima.json, HiGHS 1.15)', () => {
  for (const row of optima.rows) {
    const name = `${row.jobs} ${row.slots} ${row.setups} ${row.seed}${row.tight ? ' tight' : ''}`;
    it(`brackets ${name}: ${row.optimal ? 'optimal' : 'best in 60 s'} ${row.cost}`, () => {
      const instance = unwrap(instanceFromJson(planInstance(row.jobs, row.slots, row.setups, row.seed, row.tight)));
      const found = unwrap(optimise(instance, { workLimit: 2_000_000 }));
      expect(costOf(instance, found.visits)).toBeCloseTo(found.cost, 6);
      expect(found.bound).toBeLessThanOrEqual(row.cost + 0.005);
      if (row.optimal) expect(found.cost).toBeGreaterThanOrEqual(row.cost - 0.01);
      else expect(found.cost).toBeLessThanOrEqual(row.cost);
      expect(found.cost).toBeLessThanOrEqual(row.cost * 1.005);
      if (found.proven && row.optimal) expect(found.cost).toBeCloseTo(row.cost, 2);
      if (row.jobs < 80 || !row.tight) expect(found.proven).toBe(true);
      expect(found.cost - found.bound).toBeLessThanOrEqual(0.01 * found.cost);
    });
  }
});

describe('random instances, solved afresh by HiGHS', () => {
  let highs: Awaited<ReturnType<typeof loadHighs>>;
  beforeAll(async () => {
    highs = await loadHighs();
  });
  for (let seed = 101; seed <= 112; seed++) {
    const tight = seed % 2 === 0;
    it(`agrees on 10 6 3 ${seed}${tight ? ' tight' : ''}`, () => {
      const instance = unwrap(instanceFromJson(planInstance(10, 6, 3, seed, tight)));
      const solved = highs.solve(planProgram(instance), { output_flag: false, mip_rel_gap: 1e-7 });
      expect(solved.Status).toBe('Optimal');
      const found = unwrap(optimise(instance, { workLimit: 500_000 }));
      expect(found.proven).toBe(true);
      expect(found.cost).toBeCloseTo(solved.ObjectiveValue, 2);
    });
  }
});

const onceOnly = (slots: number, allowed: (slot: number) => number | null): PlanJob['intervalCost'] =>
  Array.from({ length: slots + 1 }, (_, s) =>
    Array.from({ length: slots + 2 }, (_, t) =>
      t <= s ? null : s === 0 ? (t <= slots ? allowed(t) : null) : t === slots + 1 ? 0 : null,
    ),
  );

/** Each job once, on a slot where `cost` allows it; nothing else costs anything but the day. */
function onceEach(slots: number, dayCost: number, costs: readonly ((slot: number) => number | null)[]): PlanInstance {
  const jobs = costs.map((cost) => ({ setups: [], minutes: 0, intervalCost: onceOnly(slots, cost) }));
  return { slots, dayCost, setups: [], capacityMinutes: null, jobs };
}

describe('fewest workshop days: each job once within [earliest, latest]', () => {
  // The fewest points that stab all intervals: greedy by latest end is optimal (a textbook theorem), worked by hand here.
  // Half days double the grid: slot 1 is day 0, slot 2 is day 0.5, and so on.
  const CASES: { windows: [number, number][]; days: number }[] = [
    {
      windows: [
        [1, 4],
        [2, 6],
        [5, 8],
        [7, 10],
        [9, 12],
      ],
      days: 3,
    },
    {
      windows: [
        [0, 3],
        [2, 5],
        [3, 7],
        [6, 9],
        [8, 8],
      ],
      days: 2,
    },
    {
      windows: [
        [0, 1],
        [2, 3],
        [4, 5],
      ],
      days: 3,
    },
    {
      windows: [
        [0, 10],
        [1, 2],
        [3, 4],
        [3.5, 9],
      ],
      days: 2,
    },
  ];
  for (const { windows, days } of CASES)
    it(`${JSON.stringify(windows)} → ${days}`, () => {
      const day = (slot: number): number => (slot - 1) / 2;
      const within = windows.map(
        ([from, to]) =>
          (slot: number) =>
            day(slot) >= from && day(slot) <= to ? 0 : null,
      );
      const found = unwrap(optimise(onceEach(25, 1, within)));
      expect(found.proven).toBe(true);
      expect(found.cost).toBeCloseTo(days, 9);
    });
});

describe('opportunistic grouping: a session costs S, doing job i early costs w a month, none late', () => {
  // The grouping problem of Wildeman, Dekker and Smit 1997; these optima by trying every partition, each session when its first job is due.
  const CASES = [
    { due: [2, 3, 5, 6, 9, 10], session: 3, cost: 12, months: [2, 5, 9] },
    { due: [0, 2, 4, 7, 9], session: 10, cost: 28, months: [0, 7] },
  ];
  for (const { due, session, cost, months } of CASES)
    it(`due ${due.join(' ')}, S ${session} → ${cost}`, () => {
      const early = due.map((month) => (slot: number) => (slot - 1 <= month ? month - (slot - 1) : null));
      const found = unwrap(optimise(onceEach(11, session, early)));
      expect(found.proven).toBe(true);
      expect(found.cost).toBeCloseTo(cost, 9);
      expect([...new Set(found.visits.flat())].map((slot) => slot - 1).sort((a, b) => a - b)).toEqual(months);
    });
});
