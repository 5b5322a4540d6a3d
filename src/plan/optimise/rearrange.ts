import type { Model } from './model.ts';
import { Placement } from './placement.ts';
import { Random } from './random.ts';

/** Worse plans are followed while they are within this share of the present cost; the share falls as the search goes on. */
const TOLERANCE_START = 0.002;

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
  /** Overload of the present plan where none that fits has been found. */
  readonly #model: Model;
  readonly #random: Random;
  readonly #lifted: Int32Array;
  readonly #liftedFrom: Int32Array;
  #liftedCount = 0;
  #tolerance = TOLERANCE_START;
  #sinceBest = 0;

  constructor(model: Model, seed: number) {
    this.#model = model;
    this.placement = new Placement(model);
    this.bestVisits = new Int32Array(model.jobs);
    this.#random = new Random(seed);
    this.#lifted = new Int32Array(model.jobs);
    this.#liftedFrom = new Int32Array(model.jobs);
  }

  /** Start again from this plan. */
  start(visits: Int32Array): void {
    this.placement.load(visits);
    this.#tolerance = TOLERANCE_START;
    this.#sinceBest = 0;
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
  build(open: Int32Array): boolean {
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
    return placement.overload <= 1e-9;
  }

  /** `rounds` rounds of the search. True when a better plan was found. */
  run(rounds: number): boolean {
    const before = this.best;
    for (let k = 0; k < rounds; k++) this.#round();
    return this.best < before - 1e-7;
  }

  #note(): void {
    const { placement } = this;
    if (placement.overload > 1e-9 || placement.cost >= this.best - 1e-7) return;
    // Sums of minutes drift; only a plan counted afresh may become the best.
    placement.load(placement.visits.slice());
    if (placement.overload > 0 || placement.cost >= this.best - 1e-7) return;
    this.best = placement.cost;
    this.bestVisits.set(placement.visits);
    this.#sinceBest = 0;
  }

  #lift(j: number): void {
    const visits = this.placement.visits[j] as number;
    this.#lifted[this.#liftedCount] = j;
    this.#liftedFrom[j] = visits;
    this.#liftedCount++;
    this.placement.lift(j);
  }

  #round(): void {
    const { placement } = this;
    const before = placement.priced;
    this.#liftedCount = 0;
    const good = this.#change();
    const after = placement.priced;
    if (!good || after > before + Math.abs(before) * this.#tolerance * this.#random.next()) this.#undo();
    else if (after < before - 1e-7) this.#note();
    this.#sinceBest++;
    this.#tolerance = Math.max(this.#tolerance * 0.9995, 1e-5);
    if (this.#sinceBest > 4000) {
      if (this.best < Number.POSITIVE_INFINITY) placement.load(this.bestVisits);
      this.#tolerance = TOLERANCE_START;
      this.#sinceBest = 0;
    }
  }

  #undo(): void {
    for (let k = 0; k < this.#liftedCount; k++) {
      const j = this.#lifted[k] as number;
      this.placement.lift(j);
    }
    for (let k = 0; k < this.#liftedCount; k++) {
      const j = this.#lifted[k] as number;
      this.placement.place(j, this.#liftedFrom[j] as number);
    }
  }

  /** Lift some jobs and put them back otherwise. False when one of them found no way back (then everything must be undone). */
  #change(): boolean {
    const { groups, slots } = this.#model;
    const random = this.#random;
    const g = random.below(groups);
    const t = 1 + random.below(slots);
    const kind = random.next();
    if (kind < 0.3) return this.#toggle(g, t);
    if (kind < 0.5) return this.#shift(g, t, 1 + random.below(slots));
    if (kind < 0.65) return this.#emptySlot(t, random.next() < 0.5 ? 1 << t : 0);
    if (kind < 0.8) return this.#moveDay(t, t + [-2, -1, 1, 2][random.below(4)]!);
    if (kind < 0.9) return this.#regroup(g);
    return this.#scatter(2 + random.below(6));
  }

  #liftGroupAt(g: number, t: number): void {
    const { groupStart, groupJobs } = this.#model;
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) {
      const j = groupJobs[k] as number;
      if (((this.placement.visits[j] as number) >>> t) & 1) this.#lift(j);
    }
  }

  #reinsert(forbidden: number): boolean {
    const lifted = this.#lifted;
    this.#random.shuffle(lifted, this.#liftedCount);
    let good = true;
    for (let k = 0; k < this.#liftedCount; k++)
      if (!this.placement.insert(lifted[k] as number, forbidden)) good = false;
    return good;
  }

  #toggle(g: number, t: number): boolean {
    const { placement } = this;
    const { nodes, groupStart, groupJobs, jobSlots } = this.#model;
    if (placement.users[g * nodes + t] !== 0) {
      this.#liftGroupAt(g, t);
      return this.#reinsert(1 << t);
    }
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) {
      const j = groupJobs[k] as number;
      if (((jobSlots[j] as number) >>> t) & 1) this.#lift(j);
    }
    placement.use(g, t, 1);
    const good = this.#reinsert(0);
    placement.use(g, t, -1);
    return good;
  }

  #shift(g: number, t: number, to: number): boolean {
    if (t === to || this.placement.users[g * this.#model.nodes + t] === 0) return this.#toggle(g, to);
    this.#liftGroupAt(g, t);
    this.placement.use(g, to, 1);
    const good = this.#reinsert(1 << t);
    this.placement.use(g, to, -1);
    return good;
  }

  #emptySlot(t: number, forbidden: number): boolean {
    for (let j = 0; j < this.#model.jobs; j++) if (((this.placement.visits[j] as number) >>> t) & 1) this.#lift(j);
    return this.#reinsert(forbidden);
  }

  #moveDay(t: number, to: number): boolean {
    const { groups, slots, nodes } = this.#model;
    const { placement } = this;
    if (to < 1 || to > slots) return this.#emptySlot(t, 1 << t);
    let moved = 0;
    for (let g = 0; g < groups; g++) if (placement.users[g * nodes + t] !== 0 && g < 31) moved |= 1 << g;
    for (let j = 0; j < this.#model.jobs; j++) if (((placement.visits[j] as number) >>> t) & 1) this.#lift(j);
    for (let g = 0; g < groups && g < 31; g++) if ((moved >>> g) & 1) placement.use(g, to, 1);
    const good = this.#reinsert(1 << t);
    for (let g = 0; g < groups && g < 31; g++) if ((moved >>> g) & 1) placement.use(g, to, -1);
    return good;
  }

  #regroup(g: number): boolean {
    const { groupStart, groupJobs } = this.#model;
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++) this.#lift(groupJobs[k] as number);
    return this.#reinsert(0);
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
