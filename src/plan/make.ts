import { dateOf, dayNumber } from '../dates/index.ts';
import { power } from '../elementary/index.ts';
import { settingOf, settingsOf } from '../logbook/index.ts';
import type { OutlookModel } from '../outlook/index.ts';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type Horizon, type Job, jobOf, together, UseCount } from './intervals.ts';
import { belongs } from './kinds.ts';
import { onTheWay, type Placed } from './on-the-way.ts';
import { type OptimiseOptions, optimise, type PlanInstance } from './optimise/index.ts';
import { type SetUpUnit, setUpUnits, wheelsAt } from './set-ups.ts';
import { slotsOf } from './slots.ts';
import type { Plan } from './types.ts';
import { type Appetite, weightsOf } from './weights.ts';
import type { Placement } from './why.ts';
import { yardDay } from './yard-day.ts';

/** How far ahead is planned. */
export const HORIZON_DAYS = 548;

export interface PlanOptions extends OptimiseOptions {
  /** Another appetite than the owner's own, to compare. */
  readonly appetite?: Appetite;
  /** An earlier plan, to start from. */
  readonly after?: PlanModel;
}

/** A plan is good enough to be shown when nothing better than this share exists. */
const GAP_TARGET = 0.005;
/** Shortest paths solved where the caller sets no limit of time or work: about a second on a present-day machine. */
const WORK_LIMIT = 400_000;

/** A plan with what stands behind it, for what-if and for tests. */
export interface PlanModel {
  readonly plan: Plan;
  readonly placement: Placement;
}

/**
 * Which upkeep on which yard day, for the next eighteen months.
 *
 * Problems: `plan.no-free-day` (the owner has no workable day in the horizon), and those of the optimiser.
 */
export function makePlan(model: OutlookModel, options: PlanOptions = {}): Result<PlanModel> {
  const horizon = horizonOf(model, options.appetite);
  if (horizon.slots.length === 0) {
    return fail({
      code: 'plan.no-free-day',
      what: 'There is no free day at home in the next eighteen months',
      expected: 'at least one weekday with free hours',
      next: 'Say which days you can work: set free-days.',
    });
  }
  const { after, appetite: _, ...given } = options;
  const search: OptimiseOptions = {
    gapTarget: GAP_TARGET,
    ...(given.clock ? {} : { workLimit: WORK_LIMIT }),
    ...given,
  };
  const warnings: string[] = [];
  let tried = solve(model, horizon, search, after?.placement);
  if (!tried.ok && hoursShort(tried.problems)) {
    warnings.push(
      'There is more safety work than free hours before it is due. Free another day, or have some of it done.',
    );
    const lenient = { ...horizon, strict: false };
    tried = solve(model, lenient, search, after?.placement);
    if (!tried.ok && hoursShort(tried.problems)) tried = solve(model, withoutHours(lenient), search, after?.placement);
  }
  if (!tried.ok) return tried;
  const { placement, cost, bound } = tried.value;
  return ok({ plan: planTold(placement, cost, bound, warnings), placement });
}

/** No plan fits the hours; or a single job is longer than every day on which it may be done. */
const hoursShort = (problems: readonly Problem[]): boolean =>
  problems.some(({ code }) => code === 'plan.hours-short' || code === 'plan.job-impossible');
const withoutHours = (horizon: Horizon): Horizon => ({
  ...horizon,
  slots: horizon.slots.map((slot) => ({ ...slot, minutes: MINUTES_A_DAY })),
});
const MINUTES_A_DAY = 24 * 60;

interface Solved {
  readonly placement: Placement;
  readonly cost: number;
  readonly bound: number;
}

function solve(model: OutlookModel, horizon: Horizon, search: OptimiseOptions, before?: Placement): Result<Solved> {
  const { hourlyValue, dayCost } = horizon.weights;
  const jobs = together(model.looks.flatMap((look) => jobOf(look, model, horizon) ?? []));
  const unitsOf = jobs.map((job) => byAxle(unitsOfJob(job, model)));
  const setUps = dearest(unitsOf.flat());
  const indexOf = new Map(setUps.map(({ key }, g) => [key, g]));
  const instance: PlanInstance = {
    slots: horizon.slots.length,
    dayCost,
    setups: setUps.map(({ minutes }) => ({ cost: (minutes / 60) * hourlyValue, minutes })),
    capacityMinutes: horizon.slots.map((slot) => slot.minutes),
    jobs: jobs.map((job, j) => ({
      setups: [...new Set(unitsOf[j]!.map(({ key }) => indexOf.get(key)!))],
      minutes: job.minutes * job.looks.length,
      intervalCost: job.intervalCost,
    })),
  };
  const solved = optimise(instance, {
    ...search,
    ...(before ? { warmStart: visitsAgain(before, jobs, horizon) } : {}),
  });
  if (!solved.ok) return solved;
  const { cost, bound, visits } = solved.value;
  return ok({ placement: { model, horizon, instance, setUps, jobs, visits }, cost, bound });
}

/** Jobs that no free day is long enough for, set-ups included: they can stand on none, and the owner must know. */
function tooLong({ horizon, instance, jobs }: Placement): string[] {
  const longest = Math.max(0, ...horizon.slots.map((slot) => slot.minutes));
  const titles = instance.jobs.flatMap((job, j) => {
    const minutes = job.setups.reduce((sum, g) => sum + instance.setups[g]!.minutes, job.minutes);
    const due = jobs[j]!.looks.some(({ item }) => (item.dates.p50 ?? '9999') <= dateOf(horizon.throughDay));
    return due && minutes > longest && longest > 0
      ? [`${jobs[j]!.looks[0].item.title} (${Math.round(minutes / 6) / 10} h)`]
      : [];
  });
  if (titles.length === 0) return [];
  return [`No free day is long enough for: ${[...new Set(titles)].join('; ')}. Free a longer day, or do it over two.`];
}

/** Each key once, with the most minutes that any job wants of it: one side of an axle lifted for one job, both for another. */
function dearest(units: readonly SetUpUnit[]): SetUpUnit[] {
  const byKey = new Map<string, SetUpUnit>();
  for (const unit of units) {
    const known = byKey.get(unit.key);
    if (known === undefined || known.minutes < unit.minutes) byKey.set(unit.key, unit);
  }
  return [...byKey.values()];
}

/** The wheels of one axle as one: what the optimiser shares is an axle, since whoever lifts one side lifts the other. */
function byAxle(units: readonly SetUpUnit[]): SetUpUnit[] {
  const axles = new Map<string, Map<string, SetUpUnit>>();
  for (const unit of units) {
    const axle = unit.key.replace(/, (left|right)$/, '');
    const wheels = axles.get(axle) ?? new Map<string, SetUpUnit>();
    axles.set(axle, wheels.set(unit.key, unit));
  }
  return [...axles].map(([key, wheels]) => {
    const [first] = wheels.values();
    return { key, setup: first!.setup, minutes: [...wheels.values()].reduce((sum, { minutes }) => sum + minutes, 0) };
  });
}

/** What the set-ups of a job are paid by, over all its parts. */
function unitsOfJob(job: Job, { scene: { state, catalog } }: OutlookModel): SetUpUnit[] {
  return job.looks.flatMap(({ item, upkeep }) =>
    setUpUnits(catalog, job.setups, wheelsAt(item, state, catalog, upkeep)),
  );
}

/** An earlier plan's days as slots of this one: by job and date. */
function visitsAgain(before: Placement, jobs: readonly Job[], horizon: Horizon): number[][] {
  const slotOfDay = new Map(horizon.slots.map((slot, i) => [slot.day, i + 1]));
  const daysOf = new Map(
    before.jobs.flatMap((job, j) =>
      job.looks.map((look) => [look.item.id, before.visits[j]!.map((slot) => before.horizon.slots[slot - 1]!.day)]),
    ),
  );
  return jobs.map((job) => (daysOf.get(job.looks[0].item.id) ?? []).flatMap((day) => slotOfDay.get(day) ?? []));
}

function horizonOf(model: OutlookModel, appetite: Appetite | undefined): Horizon {
  const { scene, alpha } = model;
  const { nowDay, state } = scene;
  const throughDay = nowDay + HORIZON_DAYS;
  const trips = scene.draws.trips
    .map((trip, i) => ({ ...trip, made: trip.chance < 1 ? scene.draws.made[i]! : null }))
    .filter((trip) => trip.back >= nowDay && trip.leave <= throughDay);
  const slots = slotsOf(state, trips, nowDay, throughDay);
  const slotAt = (date: string): number => slots.findIndex((slot) => slot.day === dayNumber(date)) + 1;
  const pins = new Map<string, { on: number | null; off: number[] }>();
  for (const [key, pin] of settingsOf(state, 'pin')) {
    const item = key.replace('.', '@');
    const slot = slotAt(pin.day);
    if (slot === 0) continue;
    const known = pins.get(item) ?? { on: null, off: [] };
    if (pin.how === 'on') known.on = slot;
    else known.off.push(slot);
    pins.set(item, known);
  }
  return {
    nowDay,
    throughDay,
    slots,
    trips,
    use: new UseCount(nowDay, throughDay, trips),
    weights: weightsOf(state, appetite),
    strict: true,
    alpha,
    pins,
  };
}

function planTold(placement: Placement, cost: number, bound: number, warnings: string[]): Plan {
  const { model, horizon, jobs, visits } = placement;
  const placed = placedBySlot(jobs, visits);
  const late = new Map<string, string[]>();
  jobs.forEach((job, j) => {
    const first = visits[j]![0];
    for (const trip of new Set(job.late)) {
      const leave = horizon.trips.find((ahead) => ahead.id === trip)!.leave;
      if (first === undefined || horizon.slots[first - 1]!.day > leave)
        late.set(trip, [...(late.get(trip) ?? []), ...job.looks.map(({ item }) => `${item.title} (${item.place})`)]);
    }
  });
  for (const [trip, titles] of late) {
    const { name } = model.scene.draws.trips.find((ahead) => ahead.id === trip)!;
    warnings.push(`No free day before ${name} for: ${titles.join('; ')}. Free a day, or do not go without it.`);
  }
  warnings.push(...tooLong(placement));
  if (!settingOf(model.scene.state, 'free-days'))
    warnings.push('Your free days are not on record; Saturdays and Sundays, six hours each, are assumed.');
  const days = [...placed.keys()].map((slot) => yardDay(placement, slot));
  return {
    now: model.scene.now,
    through: dateOf(horizon.throughDay),
    cost: cents(cost),
    bound: cents(bound),
    minutes: days.reduce((sum, day) => sum + day.minutes, 0),
    ...roadTold(placement),
    days,
    onTheWay: onTheWay(model, horizon, placed),
    routine: model.looks.flatMap((look) =>
      belongs(look) === 'routine'
        ? [{ item: look.item.id, title: look.item.title, place: look.item.place, next: look.item.dates.p50 }]
        : [],
    ),
    later: jobs.flatMap(({ looks }, j) =>
      visits[j]!.length === 0
        ? looks.map(({ item: { id, title, place, dates } }) => ({ item: id, title, place, runsOut: dates.p50 }))
        : [],
    ),
    warnings,
  };
}

/** Upkeeps run out independently of each other, as far as one plan goes: the chance that none does is a product. */
function roadTold({ jobs, visits, instance }: Placement): Pick<Plan, 'chanceOnRoad' | 'onRoad'> {
  const thousandths = (chance: number): number => Math.round(chance * 1000) / 1000;
  let none = 1;
  const onRoad = jobs.flatMap((job, j) => {
    if (job.looks[0].upkeep.severity !== 'safety') return [];
    let lasts = 1;
    let s = 0;
    for (const t of [...visits[j]!, instance.slots + 1]) {
      lasts *= 1 - job.roadChance[s]![t]!;
      s = t;
    }
    none *= power(lasts, job.looks.length);
    return job.looks.map(({ item: { id, title, place } }) => ({
      ...{ item: id, title, place },
      chance: thousandths(1 - lasts),
    }));
  });
  return {
    chanceOnRoad: thousandths(1 - none),
    onRoad: onRoad.filter(({ chance }) => chance > 0).sort((a, b) => b.chance - a.chance),
  };
}

const cents = (value: number): number => Math.round(value * 100) / 100;

function placedBySlot(jobs: readonly Job[], visits: Placement['visits']): Placed {
  const placed = new Map<number, Job[]>();
  visits.forEach((slots, j) => {
    for (const slot of slots) placed.set(slot, [...(placed.get(slot) ?? []), jobs[j]!]);
  });
  return new Map([...placed].sort(([a], [b]) => a - b));
}
