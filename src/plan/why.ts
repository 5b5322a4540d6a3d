import { dateOf, formatDate } from '../dates/index.ts';
import type { Look, OutlookModel } from '../outlook/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import type { Horizon, Job } from './intervals.ts';
import { dayCostAt, type PlanInstance } from './optimise/index.ts';
import type { SetUpUnit } from './set-ups.ts';

/** Everything a placement is explained from. */
export interface Placement {
  readonly model: OutlookModel;
  readonly horizon: Horizon;
  readonly instance: PlanInstance;
  /** What `instance.setups` stand for, in its order. */
  readonly setUps: readonly SetUpUnit[];
  readonly jobs: readonly Job[];
  readonly visits: readonly (readonly number[])[];
}

const money = (value: number): string => formatQuantity({ value, unit: 'USD' }, { digits: 0 });

/** Why `look` of job `j` stands on slot `t`: what runs out, what it shares, and what the next best day would cost, all else kept. */
export function whyThere(placement: Placement, j: number, t: number, look: Look): string {
  const { jobs, horizon } = placement;
  const { lookOnly } = jobs[j]!;
  const before = placement.visits[j]![placement.visits[j]!.indexOf(t) - 1];
  const again = before === undefined ? undefined : formatDate(dateOf(horizon.slots[before - 1]!.day), 'day');
  const reason = again
    ? `Once more after ${again}: by then ${pastShare(placement, j, before!, t)}.`
    : lookOnly
      ? `Not on record yet: ${look.upkeep.look}`
      : look.item.why;
  const sharing = sharedText(placement, j, t);
  const other = secondBest(placement, j, t);
  const price = other
    ? ` ${formatDate(dateOf(horizon.slots[other.slot - 1]!.day), 'no-year')} would cost ${other.more < 0.5 ? 'the same' : `${money(other.more)} more`}, all else kept.`
    : ' No other free day would do.';
  return `${reason}${sharing}${price}`;
}

/** How far an upkeep done at `s` has run down by slot `t`. */
function pastShare({ model, jobs, horizon }: Placement, j: number, s: number, t: number): string {
  const [look] = jobs[j]!.looks;
  const out = new Float64Array(model.scene.draws.count);
  look.runsOutAfter(horizon.slots[s - 1]!.day, out);
  const next = horizon.slots[t]?.day ?? horizon.throughDay;
  const chance = out.reduce((n, day) => n + (day < next ? 1 : 0), 0) / out.length;
  return `${Math.round(chance * 100)} % likely to run out before the free day that follows`;
}

function sharedText({ model, instance, setUps, jobs, visits }: Placement, j: number, t: number): string {
  const own = instance.jobs[j]!.setups;
  const titles = [...new Set(own.map((g) => setUps[g]!.setup))].flatMap((setup) => {
    const units = own.filter((g) => setUps[g]!.setup === setup);
    const sharing = jobs.filter(
      (_, i) => visits[i]!.includes(t) && units.some((g) => instance.jobs[i]!.setups.includes(g)),
    );
    const others = sharing.reduce((sum, { looks }) => sum + looks.length, -1);
    const title = model.scene.catalog.setups.get(setup)!.title.toLowerCase();
    return others > 0 ? [`${title} (with ${others} other${others === 1 ? '' : 's'})`] : [];
  });
  return titles.length ? ` Shares: ${titles.join(', ')}.` : '';
}

/** The cheapest other slot between the visits before and after, with the set-ups and the day it would open or spare. */
export function secondBest(
  { instance, visits }: Placement,
  j: number,
  t: number,
): { readonly slot: number; readonly more: number } | undefined {
  const own = visits[j]!;
  const at = own.indexOf(t);
  const before = own[at - 1] ?? 0;
  const after = own[at + 1] ?? instance.slots + 1;
  const cost = (slot: number): number | null => {
    const first = instance.jobs[j]!.intervalCost[before]?.[slot] ?? null;
    const second = instance.jobs[j]!.intervalCost[slot]?.[after] ?? null;
    return first === null || second === null ? null : first + second + openingCost(instance, visits, j, slot);
  };
  const now = cost(t);
  if (now === null) return undefined;
  let best: { slot: number; more: number } | undefined;
  for (let slot = before + 1; slot < after; slot++) {
    if (slot === t || !fits(instance, visits, j, slot)) continue;
    const other = cost(slot);
    if (other !== null && (!best || other - now < best.more)) best = { slot, more: other - now };
  }
  return best;
}

/** What job `j` alone adds on a slot: the day and the set-ups that no other job there needs. */
function openingCost(instance: PlanInstance, visits: Placement['visits'], j: number, slot: number): number {
  const others = visits.flatMap((slots, i) => (i !== j && slots.includes(slot) ? [i] : []));
  const used = new Set(others.flatMap((i) => instance.jobs[i]!.setups));
  const setups = instance.jobs[j]!.setups.filter((g) => !used.has(g)).reduce(
    (sum, g) => sum + instance.setups[g]!.cost,
    0,
  );
  return setups + (others.length ? 0 : dayCostAt(instance, slot));
}

function fits(instance: PlanInstance, visits: Placement['visits'], j: number, slot: number): boolean {
  if (!instance.capacityMinutes) return true;
  const there = visits.flatMap((slots, i) => (i === j || slots.includes(slot) ? [i] : []));
  const setups = new Set(there.flatMap((i) => instance.jobs[i]!.setups));
  const minutes =
    there.reduce((sum, i) => sum + instance.jobs[i]!.minutes, 0) +
    [...setups].reduce((sum, g) => sum + instance.setups[g]!.minutes, 0);
  return minutes <= instance.capacityMinutes[slot - 1]!;
}
