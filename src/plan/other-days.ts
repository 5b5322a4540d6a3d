import { dateOf } from '../dates/index.ts';
import { dayCostAt } from './optimise/index.ts';
import type { Placement } from './why.ts';

/** What doing some jobs on another free day would cost, all else kept; `null` where that day cannot hold them. */
export interface OtherDay {
  readonly date: string;
  readonly more: number | null;
}

/**
 * The price of every free day for the jobs of `items` that stand on `date`, all else kept: known at once, and never less than what a plan
 * made anew round that day costs. Empty where nothing of it stands there.
 */
export function otherDays(placement: Placement, items: readonly string[], date: string): OtherDay[] {
  const { instance, horizon, jobs, visits } = placement;
  const from = horizon.slots.findIndex((slot) => dateOf(slot.day) === date) + 1;
  const moved = jobs.flatMap((job, j) =>
    visits[j]!.includes(from) && job.looks.some((look) => items.includes(look.item.id)) ? [j] : [],
  );
  if (from === 0 || moved.length === 0) return [];

  /** Intervals before and after, and what the jobs open on that day that nobody else has paid for. */
  const costOn = (slot: number): number | null => {
    let cost = 0;
    for (const j of moved) {
      const own = visits[j]!;
      const at = own.indexOf(from);
      const before = own[at - 1] ?? 0;
      const after = own[at + 1] ?? instance.slots + 1;
      if (slot <= before || slot >= after) return null;
      const first = instance.jobs[j]!.intervalCost[before]?.[slot] ?? null;
      const second = instance.jobs[j]!.intervalCost[slot]?.[after] ?? null;
      if (first === null || second === null) return null;
      cost += first + second;
    }
    const others = visits.flatMap((slots, i) => (!moved.includes(i) && slots.includes(slot) ? [i] : []));
    const paid = new Set(others.flatMap((i) => instance.jobs[i]!.setups));
    const opened = new Set(moved.flatMap((j) => instance.jobs[j]!.setups).filter((g) => !paid.has(g)));
    const minutes = (list: readonly number[]): number => list.reduce((sum, i) => sum + instance.jobs[i]!.minutes, 0);
    const setUps = [...new Set([...paid, ...opened])].reduce((sum, g) => sum + instance.setups[g]!.minutes, 0);
    const free = instance.capacityMinutes?.[slot - 1] ?? Infinity;
    if (slot !== from && minutes(others) + minutes(moved) + setUps > free) return null;
    for (const g of opened) cost += instance.setups[g]!.cost;
    return others.length === 0 ? cost + dayCostAt(instance, slot) : cost;
  };

  const now = costOn(from);
  return horizon.slots.map((slot, i) => {
    const cost = now === null ? null : costOn(i + 1);
    return { date: dateOf(slot.day), more: cost === null ? null : cost - now! };
  });
}
