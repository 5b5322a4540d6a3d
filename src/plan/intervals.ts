import type { Severity } from '../catalog/index.ts';
import { dayNumber } from '../dates/index.ts';
import { expm1 } from '../elementary/index.ts';
import { chanceIfMade, type Look, type OutlookModel } from '../outlook/index.ts';
import { belongs } from './kinds.ts';
import type { Slot } from './slots.ts';
import type { Weights } from './weights.ts';

/** One job for the optimiser: an upkeep that work at home can do something about, of one part or of several that stand alike. */
export interface Job {
  /** At least one; all of one upkeep. */
  readonly looks: readonly [Look, ...Look[]];
  /** True where the job is only to look and write down what is missing (a date on a label, a reading), not to renew. */
  readonly lookOnly: boolean;
  /** Set-ups it needs: to read a label none, to measure those of the work itself. */
  readonly setups: readonly string[];
  /** Of each part: minutes, and what is used up, in money. */
  readonly minutes: number;
  readonly partsCost: number;
  /** Days until everything needed can be here. */
  readonly leadDays: number;
  /** Of all parts together. */
  readonly intervalCost: (number | null)[][];
  /** Chance that one part of it runs out on a trip between slots `s` and `t`, where it could not be done; in the shape of `intervalCost`. */
  readonly roadChance: number[][];
  /** Trips before which it should be done and no free day allows it: by slot 0 only. */
  readonly late: readonly string[];
}

/** Reading a date or a code off a part. Estimate. */
const LOOK_MINUTES = 5;
/** Sample paths that the interval costs are taken over. */
const PATHS = 64;
/** A day at home wears a part this share of a day on the road. Assumption, for the cost of running over only, never for due dates. */
const HOME_WEAR = 0.1;

/** Use by day, from today: a running count in which a mean day of the horizon counts as one. */
export class UseCount {
  readonly #from: number;
  readonly #sum: Float64Array;

  constructor(from: number, through: number, trips: readonly { leave: number; back: number; chance: number }[]) {
    this.#from = from;
    const wear = new Float64Array(through - from + 1).fill(HOME_WEAR);
    for (const trip of trips) {
      for (let day = Math.max(trip.leave, from); day <= Math.min(trip.back, through); day++) {
        wear[day - from] = Math.max(wear[day - from]!, HOME_WEAR + (1 - HOME_WEAR) * trip.chance);
      }
    }
    const mean = wear.reduce((sum, x) => sum + x, 0) / wear.length;
    this.#sum = new Float64Array(wear.length + 1);
    wear.forEach((x, i) => {
      this.#sum[i + 1] = this.#sum[i]! + x / mean;
    });
  }

  /** Use from today to `day`; negative before today, at the mean pace. */
  at(day: number): number {
    const i = day - this.#from;
    if (i <= 0) return i;
    const last = this.#sum.length - 1;
    if (i >= last) return this.#sum[last]! + (i - last);
    const whole = Math.floor(i);
    return this.#sum[whole]! + (i - whole) * (this.#sum[whole + 1]! - this.#sum[whole]!);
  }
}

export interface Horizon {
  readonly nowDay: number;
  readonly throughDay: number;
  readonly slots: readonly Slot[];
  readonly trips: readonly {
    readonly id: string;
    readonly name: string;
    readonly leave: number;
    readonly back: number;
    readonly chance: number;
    /** Whether it is made, by path; null where it surely is. */
    readonly made: Float64Array | null;
  }[];
  readonly use: UseCount;
  readonly weights: Weights;
  /** True: safety work is never put behind a trip it would not outlast, as long as any free day lies before. False (when there are
   *  fewer hours than such work): it may be, and is charged as one certain failure for each such trip. */
  readonly strict: boolean;
  readonly alpha: Readonly<Record<Severity, number>>;
  /** Slots (1 …) a job is pinned to, or kept off, by item id. */
  readonly pins: ReadonlyMap<string, { readonly on: number | null; readonly off: readonly number[] }>;
}

/** The interval costs of one upkeep: `[s][t]`, done at slot `s` (0 now) and next at `t` (slots + 1: the horizon). */
export function jobOf(look: Look, model: OutlookModel, horizon: Horizon): Job | null {
  if (belongs(look) !== 'yard day' || !look.runsOutAtHome) return null;
  const { upkeep, item } = look;
  const lookOnly = item.state === 'unproven' && (item.clock === 'age' || item.clock === 'limit');
  const setups = lookOnly && item.clock === 'age' ? [] : upkeep.setups;
  const partsCost = lookOnly ? 0 : upkeep.consumables.reduce((sum, part) => sum + part.cost, 0);
  const minutes = lookOnly ? LOOK_MINUTES : upkeep.minutes;
  const leadDays = lookOnly ? 0 : Math.max(0, ...upkeep.consumables.map((part) => part.leadDays));
  const work = partsCost + (minutes / 60) * horizon.weights.hourlyValue;
  const days = [horizon.nowDay, ...horizon.slots.map((slot) => slot.day), horizon.throughDay];
  const first = strided(look.runsOutAtHome);
  const full = new Float64Array(model.scene.draws.count);
  const table: (number | null)[][] = [];
  const roadChance: number[][] = [];
  let late: string[] = [];
  for (let s = 0; s <= horizon.slots.length; s++) {
    let out = first;
    let all = look.runsOutAtHome;
    if (s > 0) {
      if (lookOnly) full.fill(Infinity);
      else look.runsOutAfter(days[s]!, full);
      out = strided(full);
      all = full;
    }
    const lastAt = s === 0 ? lastUse(look, horizon) : horizon.use.at(days[s]!);
    const row = rowOf({ look, horizon, days, leadDays, work, out, all, s, lastAt });
    if (s === 0) late = row.late;
    // A label once read stays read.
    if (lookOnly && s > 0) row.costs.fill(null, 0, -1);
    table.push(row.costs);
    roadChance.push(row.chances);
  }
  return { looks: [look], lookOnly, setups, minutes, partsCost, leadDays, intervalCost: table, roadChance, late };
}

/**
 * Jobs of one upkeep whose parts stand alike (four tires last rotated on one day) made one: nobody rotates one tire in January and
 * three in February, and the optimiser has fewer of them to place. A pin sets its part apart.
 */
export function together(jobs: readonly Job[]): Job[] {
  const joined: Job[] = [];
  for (const job of jobs) {
    const i = joined.findIndex((other) => alike(other, job));
    if (i < 0) joined.push(job);
    else joined[i] = { ...joined[i]!, looks: [...joined[i]!.looks, ...job.looks] };
  }
  return joined.map((job) => ({
    ...job,
    intervalCost: job.intervalCost.map((row) => row.map((cost) => (cost === null ? null : cost * job.looks.length))),
  }));
}

function alike(a: Job, b: Job): boolean {
  return (
    a.looks[0].upkeep === b.looks[0].upkeep &&
    a.lookOnly === b.lookOnly &&
    a.intervalCost.every((row, s) => row.every((cost, t) => cost === b.intervalCost[s]![t]))
  );
}

function strided(days: Float64Array): Float64Array {
  const first = days[0]!;
  if (days.every((day) => day === first)) return Float64Array.of(first);
  const step = Math.max(1, Math.floor(days.length / PATHS));
  return days.filter((_, p) => p % step === 0);
}

function lastUse(look: Look, horizon: Horizon): number {
  const done = look.part!.work.get(look.upkeep.id)?.at(-1);
  return done ? horizon.use.at(dayNumber(done.on)) : -look.intervalDays;
}

interface Row {
  readonly look: Look;
  readonly horizon: Horizon;
  readonly days: readonly number[];
  readonly leadDays: number;
  readonly work: number;
  /** A share of the paths, and all of them. */
  readonly out: Float64Array;
  readonly all: Float64Array;
  readonly s: number;
  readonly lastAt: number;
}

function rowOf({ look, horizon, days, leadDays, work, out, all, s, lastAt }: Row): {
  costs: (number | null)[];
  chances: number[];
  late: string[];
} {
  const { slots, use, weights, alpha, trips, pins, nowDay } = horizon;
  const { upkeep, item } = look;
  const end = slots.length + 1;
  const costs = new Array<number | null>(end + 1).fill(null);
  const chances = new Array<number>(end + 1).fill(0);
  const uses = out.map((day) => (Number.isFinite(day) ? use.at(day) : Infinity));
  const pin = pins.get(item.id);
  const onTrip = ({ back, made }: Horizon['trips'][number]): number =>
    made ? chanceIfMade(all, back + 1, made) : share(out, back + 1);
  const hard = upkeep.severity === 'safety' && upkeep.place !== 'anywhere';
  const here = days[s]!;
  // From here on it would be on the road with too great a chance of running out.
  const risky = hard
    ? trips.filter((trip) => trip.leave > here && trip.chance >= 0.5 && onTrip(trip) > alpha.safety)
    : [];
  const tooLateFrom = risky[0]?.leave ?? Infinity;
  let nearest = true;
  const late: string[] = [];
  for (let t = s + 1; t <= end; t++) {
    const day = days[t]!;
    // Pinned, the owner may well have the parts already, and knows the weather.
    const slot = slots[t - 1];
    const closed = day < nowDay + leadDays || (upkeep.frostFree && slot?.frosty) || pin?.off.includes(t);
    if (slot && pin?.on !== t && closed) continue;
    if (pin?.on && s < pin.on && t !== pin.on) continue;
    const forbidden = (t < end ? day : Infinity) > tooLateFrom;
    if (forbidden && !nearest && horizon.strict) break;
    const missed = forbidden ? risky.filter((trip) => trip.leave < day) : [];
    late.push(...missed.map((trip) => trip.id));
    nearest = false;
    const last = trips.findLast((trip) => trip.leave > here && trip.leave < day);
    if (last && upkeep.place !== 'anywhere') chances[t] = last.chance * onTrip(last);
    const over = meanOver(uses, use.at(day), upkeep.failure.steepness / look.intervalDays);
    const wear = t === end ? work * usedShare(uses, use.at(day), lastAt) : work;
    const certain = horizon.strict ? 0 : missed.length;
    costs[t] = wear + upkeep.failure.cost * weights.riskFactor * (over + certain);
  }
  return { costs, chances, late };
}

function share(days: Float64Array, before: number): number {
  let n = 0;
  for (const day of days) if (day < before) n++;
  return n / days.length;
}

/** E[1 − exp(−rate · use run past the end)], from now on: what did not fail until today cannot fail yesterday. */
function meanOver(uses: Float64Array, at: number, rate: number): number {
  let sum = 0;
  for (const out of uses) {
    const from = Math.max(out, 0);
    if (at > from) sum += -expm1(-rate * (at - from));
  }
  return sum / uses.length;
}

/** How much of the work's worth is used up at the horizon: the share of its life, at most all. */
function usedShare(uses: Float64Array, at: number, since: number): number {
  let sum = 0;
  for (const out of uses)
    sum += Number.isFinite(out) ? Math.min(1, Math.max(0, (at - since) / Math.max(1, out - since))) : 0;
  return sum / uses.length;
}
