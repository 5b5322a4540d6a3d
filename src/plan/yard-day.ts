import { addDays, dateOf } from '../dates/index.ts';
import type { Look } from '../outlook/index.ts';
import type { Job } from './intervals.ts';
import { dayCostAt } from './optimise/index.ts';
import { workOrder } from './order.ts';
import { setUpUnits, wheelsAt } from './set-ups.ts';
import type { PlannedJob, YardDay } from './types.ts';
import { type Placement, whyThere } from './why.ts';

/** One yard day told: jobs in working order with a running total, set-ups, tools and parts gathered once. */
export function yardDay(placement: Placement, slot: number): YardDay {
  const { model, horizon, jobs, visits, instance } = placement;
  const { catalog, state } = model.scene;
  const date = dateOf(horizon.slots[slot - 1]!.day);
  const here = jobs.flatMap((job, j) =>
    visits[j]!.includes(slot)
      ? job.looks.map((look) => ({
          job,
          j,
          look,
          ...ordering(job, look),
          wheels: wheelsAt(look.item, state, catalog, look.upkeep),
        }))
      : [],
  );
  const ordered = workOrder(here, catalog);
  const setupIds = [...new Set(ordered.flatMap(({ job }) => job.setups))];
  const paid = new Map(
    ordered.flatMap(({ job }) => setUpUnits(catalog, job.setups, job.wheels)).map((unit) => [unit.key, unit] as const),
  );
  const setups = setupIds.map((id) => {
    const minutes = [...paid.values()].reduce((sum, unit) => sum + (unit.setup === id ? unit.minutes : 0), 0);
    return { ...catalog.setups.get(id)!, minutes };
  });
  const toolIds = new Set([
    ...setups.flatMap((setup) => setup.tools),
    ...here.flatMap(({ job, look }) => (job.lookOnly ? [] : look.upkeep.tools)),
  ]);
  const setupCost = setups.reduce((sum, setup) => sum + (setup.minutes / 60) * horizon.weights.hourlyValue, 0);
  const workCost = here.reduce(
    (sum, { job }) => sum + job.partsCost + (job.minutes / 60) * horizon.weights.hourlyValue,
    0,
  );
  return {
    date,
    minutes: ordered.at(-1)?.endsAtMinute ?? 0,
    minutesFree: horizon.slots[slot - 1]!.minutes,
    setups: setups.map(({ id, title, minutes }) => ({ id, title, minutes })),
    jobs: ordered.map(({ job: { job, j, look }, endsAtMinute }): PlannedJob => {
      const { item, upkeep } = look;
      return {
        item: item.id,
        upkeep: upkeep.id,
        part: item.part,
        title: job.lookOnly
          ? `Read and write down: ${item.title.charAt(0).toLowerCase()}${item.title.slice(1)}`
          : item.title,
        place: item.place,
        setups: job.setups,
        minutes: job.minutes,
        endsAtMinute,
        pinned: horizon.pins.get(item.id)?.on === slot,
        why: whyThere(placement, j, slot, look),
        evidence: item.evidence,
        sources: item.sources,
      };
    }),
    tools: [...toolIds].map((id) => catalog.kit.get(id)?.name ?? id).sort(),
    parts: partsFor(
      here.map(({ job }) => job),
      date,
    ),
    cost: Math.round((setupCost + workCost + dayCostAt(instance, slot)) * 100) / 100,
  };
}

function ordering(job: Job, { upkeep, item }: Look) {
  return {
    upkeep: job.lookOnly ? { ...upkeep, goesAfter: [] } : upkeep,
    place: item.place,
    minutes: job.minutes,
    setups: job.setups,
  };
}

/** Consumables of the day, one line a thing, with how many parts want it and the last day to order it. */
function partsFor(jobs: readonly Job[], date: string): YardDay['parts'] {
  const byName = new Map<string, { times: number; quantity: string; cost: number; leadDays: number }>();
  for (const job of jobs) {
    if (job.lookOnly) continue;
    for (const { what, quantity, cost, leadDays } of job.looks[0].upkeep.consumables) {
      const known = byName.get(`${what}\n${quantity}`);
      byName.set(`${what}\n${quantity}`, {
        times: (known?.times ?? 0) + 1,
        quantity,
        cost: (known?.cost ?? 0) + cost,
        leadDays: Math.max(known?.leadDays ?? 0, leadDays),
      });
    }
  }
  return [...byName].map(([name, { times, quantity, cost, leadDays }]) => ({
    what: name.split('\n')[0]!,
    quantity: times > 1 ? `${times} × ${quantity}` : quantity,
    cost: Math.round(cost * 100) / 100,
    ...(leadDays > 0 ? { orderBy: addDays(date, -leadDays) } : {}),
  }));
}
