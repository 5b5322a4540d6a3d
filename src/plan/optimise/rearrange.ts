import { power } from '../../elementary/index.ts';
import type { Model } from './model.ts';
import { Placement } from './placement.ts';
import { Random } from './random.ts';

/** A warm search follows plans worse by up to this share of the cost; by the end of its rounds, this part of that. */
const TOLERANCE_START = 0.005;
const TOLERANCE_FALL = 0.03;
/** Sums of minutes drift by less than this. */
const OVERLOAD_NONE = 1e-9;
/** How much dearer minutes of overload become while a plan has some, and cheaper while it has none; never below this share of the first price. */
const OVERLOAD_STEP = 1.3;
const OVERLOAD_LEAST = 0.01;

/**
 * Search by lifting out a handful of jobs that belong together (a slot's, a set-up's) and putting them back one by one, in a
 * shuffled order, with a slot forbidden or a set-up opened for nothing first (ruin and recreate; Schrimpf and others 2000). Respects
 * hours; the only search that does, and a second neighbourhood where hours are no limit.
 */
export class Rearranging {
  readonly placement: Placement;
  readonly bestVisits: Int32Array;
  /** Cost of the best plan that fits its hours. */
  best = Number.POSITIVE_INFINITY;
  readonly #model: Model;
  readonly #random: Random;
  readonly #lifted: Int32Array;
  readonly #liftedFrom: Int32Array;
  #liftedCount = 0;
  /** Sum of the least costs of the jobs lifted and not yet put back. */
  #pending = 0;
  #limit = 0;
  readonly #moved: Int32Array;
  #movedCount = 0;
  #overloadFirst = 0;
  #tolerance = 0;
  #cooling = 1;

  constructor(model: Model, seed: number) {
    this.#model = model;
    this.placement = new Placement(model);
    this.bestVisits = new Int32Array(model.jobs);
    this.#random = new Random(seed);
    this.#lifted = new Int32Array(model.jobs);
    this.#liftedFrom = new Int32Array(model.jobs);
    this.#moved = new Int32Array(model.groups);
  }

  /** Start again from this plan. */
  start(visits: Int32Array): void {
    this.placement.load(visits);
    this.#note();
  }

  /** Start from paths that may no longer be allowed: those that are not are placed anew, the rest kept. */
  adopt(visits: Int32Array): void {
    const { placement } = this;
    placement.clear();
    const again: number[] = [];
    for (let j = 0; j < this.#model.jobs; j++)
      if (placement.allows(j, visits[j] as number)) placement.place(j, visits[j] as number);
      else again.push(j);
    for (const j of again) placement.insert(j, 0);
    this.#note();
  }

  /** Build a plan from nothing but openings that look good: their set-ups count as paid while the jobs go in. */
  build(open: Int32Array): void {
    const { placement } = this;
    const { jobs, groups, slots } = this.#model;
    const order = Int32Array.from({ length: jobs }, (_, j) => j);
    this.#random.shuffle(order, jobs);
    placement.clear();
    const each = (by: 1 | -1): void => {
      for (let g = 0; g < groups; g++)
        for (let t = 1; t <= slots; t++) if (((open[g] as number) >>> t) & 1) placement.use(g, t, by);
    };
    each(1);
    for (const j of order) placement.insert(j, 0);
    each(-1);
    this.#note();
  }

  /** Warm up: worse plans are followed again, less and less over the `rounds` to come. */
  heat(rounds: number): void {
    this.#tolerance = TOLERANCE_START;
    this.#cooling = power(TOLERANCE_FALL, 1 / rounds);
  }

  /** Back to the best plan. */
  back(): void {
    this.placement.load(this.bestVisits);
  }

  /** `rounds` rounds of the search. True when a better plan was found. */
  run(rounds: number): boolean {
    const before = this.best;
    this.#priceOverload();
    for (let k = 0; k < rounds; k++) this.#round();
    return this.best < before - 1e-7;
  }

  /**
   * Keep to the edge of the hours, which good plans fill: many a way from one to another leads over it. Until a plan fits, overload costs
   * the most; then first what a minute of that plan does, and more or less as the search stays over the hours or within.
   */
  #priceOverload(): void {
    const { placement } = this;
    if (this.best === Number.POSITIVE_INFINITY || !this.#model.hasCapacity) return;
    if (this.#overloadFirst === 0) {
      const minutes = placement.minutes.reduce((sum, of) => sum + of, 0);
      this.#overloadFirst = Math.min(Math.abs(this.best) / Math.max(minutes, 1), placement.overloadPriceMost);
      placement.overloadPrice = this.#overloadFirst;
    }
    const price = placement.overloadPrice * (placement.overload > OVERLOAD_NONE ? OVERLOAD_STEP : 1 / OVERLOAD_STEP);
    placement.overloadPrice = Math.min(
      Math.max(price, OVERLOAD_LEAST * this.#overloadFirst),
      placement.overloadPriceMost,
    );
  }

  #note(): void {
    const { placement } = this;
    if (placement.overload > OVERLOAD_NONE || placement.cost >= this.best - 1e-7) return;
    // Sums of minutes drift; only a plan counted afresh may become the best.
    placement.load(placement.visits.slice());
    if (placement.overload > 0 || placement.cost >= this.best - 1e-7) return;
    this.best = placement.cost;
    this.bestVisits.set(placement.visits);
  }

  #lift(j: number): void {
    const visits = this.placement.visits[j] as number;
    this.#lifted[this.#liftedCount] = j;
    this.#liftedFrom[j] = visits;
    this.#liftedCount++;
    this.#pending += this.placement.least[j] as number;
    this.placement.lift(j);
  }

  #round(): void {
    const { placement } = this;
    const before = placement.priced;
    this.#limit = before + Math.abs(before) * this.#tolerance * this.#random.next();
    this.#liftedCount = 0;
    this.#pending = 0;
    placement.keep();
    const good = this.#change();
    const after = placement.priced;
    if (!good || after > this.#limit) this.#undo();
    else this.#note();
    this.#tolerance *= this.#cooling;
  }

  #undo(): void {
    const { placement } = this;
    placement.restore();
    for (let k = 0; k < this.#liftedCount; k++) {
      const j = this.#lifted[k] as number;
      placement.visits[j] = this.#liftedFrom[j] as number;
    }
  }

  /** Lift some jobs and put them back otherwise. False when one of them found no way back (then everything must be undone). */
  #change(): boolean {
    const { groups, slots } = this.#model;
    const random = this.#random;
    const g = random.below(groups);
    const t = 1 + random.below(slots);
    const kind = random.next();
    if (kind < 0.4) return this.#toggle(g, t);
    if (kind < 0.5) return this.#shift(g, t, 1 + random.below(slots));
    if (kind < 0.55) return this.#emptySlot(t, random.next() < 0.5 ? 1 << t : 0);
    if (kind < 0.65) return this.#moveDay(t, t + [-2, -1, 1, 2][random.below(4)]!);
    if (kind < 0.85) return this.#regroup(g);
    return this.#scatter(2 + random.below(6));
  }

  #liftGroupAt(g: number, t: number): void {
    const { groupStart, groupJobs } = this.#model;
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) {
      const j = groupJobs[k] as number;
      if (((this.placement.visits[j] as number) >>> t) & 1) this.#lift(j);
    }
  }

  /** Put the lifted jobs back. False as soon as the plan is sure to become dearer than the limit; `refund` may still come back. */
  #reinsert(forbidden: number, refund = 0): boolean {
    const { placement } = this;
    const lifted = this.#lifted;
    const limit = this.#limit + refund + 1e-7;
    this.#random.shuffle(lifted, this.#liftedCount);
    for (let k = 0; k < this.#liftedCount; k++) {
      const j = lifted[k] as number;
      this.#pending -= placement.least[j] as number;
      const most = limit - placement.priced - this.#pending;
      const asBefore = placement.costOn(j, (this.#liftedFrom[j] as number) & ~forbidden) + 1e-9;
      if (!placement.insert(j, forbidden, Math.min(most, asBefore))) return false;
    }
    return true;
  }

  #toggle(g: number, t: number): boolean {
    const { placement } = this;
    const { groupStart, groupJobs, jobSlots } = this.#model;
    if (placement.uses(g, t)) {
      this.#liftGroupAt(g, t);
      return this.#reinsert(1 << t);
    }
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) {
      const j = groupJobs[k] as number;
      if (((jobSlots[j] as number) >>> t) & 1 && placement.likes(j, t)) this.#lift(j);
    }
    if (this.#liftedCount === 0) return false;
    const before = placement.priced;
    placement.use(g, t, 1);
    const good = this.#reinsert(0, placement.priced - before);
    placement.use(g, t, -1);
    return good;
  }

  #shift(g: number, t: number, to: number): boolean {
    if (t === to || !this.placement.uses(g, t)) return this.#toggle(g, to);
    this.#liftGroupAt(g, t);
    const before = this.placement.priced;
    this.placement.use(g, to, 1);
    const good = this.#reinsert(1 << t, this.placement.priced - before);
    this.placement.use(g, to, -1);
    return good;
  }

  #emptySlot(t: number, forbidden: number): boolean {
    for (let j = 0; j < this.#model.jobs; j++) if (((this.placement.visits[j] as number) >>> t) & 1) this.#lift(j);
    return this.#reinsert(forbidden);
  }

  #moveDay(t: number, to: number): boolean {
    const { groups, slots } = this.#model;
    const { placement } = this;
    if (to < 1 || to > slots) return this.#emptySlot(t, 1 << t);
    this.#movedCount = 0;
    for (let g = 0; g < groups; g++) if (placement.uses(g, t)) this.#moved[this.#movedCount++] = g;
    for (let j = 0; j < this.#model.jobs; j++) if (((placement.visits[j] as number) >>> t) & 1) this.#lift(j);
    const before = placement.priced;
    for (let k = 0; k < this.#movedCount; k++) placement.use(this.#moved[k] as number, to, 1);
    const good = this.#reinsert(1 << t, placement.priced - before);
    for (let k = 0; k < this.#movedCount; k++) placement.use(this.#moved[k] as number, to, -1);
    return good;
  }

  #regroup(g: number): boolean {
    this.#liftGroup(g);
    return this.#reinsert(0);
  }

  #liftGroup(g: number): void {
    const { groupStart, groupJobs } = this.#model;
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) this.#lift(groupJobs[k] as number);
  }

  #scatter(count: number): boolean {
    for (let k = 0; k < count; k++) {
      const j = this.#random.below(this.#model.jobs);
      let already = false;
      for (let i = 0; i < this.#liftedCount; i++) if (this.#lifted[i] === j) already = true;
      if (!already) this.#lift(j);
    }
    return this.#reinsert(0);
  }
}
