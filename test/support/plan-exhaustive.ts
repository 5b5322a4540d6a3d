import { costOf, type PlanInstance } from '../../src/plan/optimise/index.ts';

/** The least cost of any plan at all, by trying every combination of visits of every job; null when none is allowed. Tiny instances only. */
export function exhaustiveOptimum(instance: PlanInstance): number | null {
  const subsets = Array.from({ length: 1 << instance.slots }, (_, bits) =>
    Array.from({ length: instance.slots }, (_, k) => k + 1).filter((slot) => (bits >> (slot - 1)) & 1),
  );
  const ways = instance.jobs.map((job) =>
    subsets.filter((visits) => {
      const stops = [0, ...visits, instance.slots + 1];
      return stops.slice(1).every((to, k) => typeof job.intervalCost[stops[k] as number]?.[to] === 'number');
    }),
  );
  let best: number | null = null;
  const choose = (visits: number[][]): void => {
    if (visits.length < ways.length) {
      for (const way of ways[visits.length] as number[][]) choose([...visits, way]);
      return;
    }
    try {
      const cost = costOf(instance, visits);
      if (best === null || cost < best) best = cost;
    } catch {
      // Too many minutes on some slot, or a closed one: not a plan.
    }
  };
  choose([]);
  return best;
}
