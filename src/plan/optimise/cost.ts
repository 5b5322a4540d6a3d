import { dayCostAt, type PlanInstance } from './instance.ts';

/** Minutes may exceed what a slot has by this much: sums of decimal minutes are not exact. */
export const MINUTES_TOLERANCE = 1e-9;

/**
 * The cost of a plan, recomputed from nothing but the instance: intervals, set-ups once a slot, days once a slot.
 * `visits[j]` are the slots on which job `j` is done, rising. Throws when the plan breaks a rule: that is a broken invariant.
 */
export function costOf(instance: PlanInstance, visits: readonly (readonly number[])[]): number {
  const { slots, jobs, setups, capacityMinutes } = instance;
  if (visits.length !== jobs.length) throw new Error(`${visits.length} visit lists for ${jobs.length} jobs`);
  const closed = new Set(instance.slotsClosed ?? []);
  const setUp = Array.from({ length: slots + 1 }, () => new Set<number>());
  const open = new Set<number>();
  const minutes = new Float64Array(slots + 1);
  let cost = 0;
  jobs.forEach((job, j) => {
    let last = 0;
    for (const next of [...(visits[j] as readonly number[]), slots + 1]) {
      const interval = next > last ? job.intervalCost[last]?.[next] : undefined;
      if (interval === null || interval === undefined)
        throw new Error(`job ${j}: interval ${last} to ${next} is not allowed`);
      cost += interval;
      if (next <= slots) {
        if (closed.has(next)) throw new Error(`job ${j}: slot ${next} is closed`);
        open.add(next);
        for (const g of job.setups) (setUp[next] as Set<number>).add(g);
        minutes[next] = (minutes[next] as number) + job.minutes;
      }
      last = next;
    }
  });
  for (const slot of open) {
    cost += dayCostAt(instance, slot);
    let used = minutes[slot] as number;
    for (const g of setUp[slot] as Set<number>) {
      cost += (setups[g] as { cost: number }).cost;
      used += (setups[g] as { minutes: number }).minutes;
    }
    const available = capacityMinutes?.[slot - 1] ?? Number.POSITIVE_INFINITY;
    if (used > available + MINUTES_TOLERANCE) throw new Error(`slot ${slot}: ${used} minutes of ${available}`);
  }
  return cost;
}
