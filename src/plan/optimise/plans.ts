import { Drift } from './drift.ts';
import type { Model } from './model.ts';
import { bitsOf } from './paths.ts';
import { Rearranging } from './rearrange.ts';

/** Rounds of one warm search from start to cold. */
const ROUNDS_WARM = 5000;
const ROUNDS_A_SLICE = 50;
/** Without limited hours: the share of the work that goes into disturbing openings; the rest rearranges jobs. */
const DRIFT_SHARE = 0.75;

/**
 * Everything that looks for good plans, under one roof. Without limited hours a plan is its openings, and drifting among them is
 * strongest. With limited hours the openings are only where a plan starts from: it is built into the hours and then rearranged.
 */
export class Plans {
  /** The best plan so far: its cost, Infinity while none fits the hours, and its paths as bits by job. */
  best = Number.POSITIVE_INFINITY;
  readonly bestVisits: Int32Array;
  readonly rearranging: Rearranging;
  readonly #model: Model;
  readonly #drift: Drift;
  #roundsLeft = 0;
  #warmSearches = 0;
  /** Openings the bound came upon, from which no warm search has started yet. */
  #hint: Int32Array | null = null;

  constructor(model: Model, seed: number) {
    this.#model = model;
    this.#drift = new Drift(model, seed);
    this.rearranging = new Rearranging(model, seed);
    this.bestVisits = new Int32Array(model.jobs);
  }

  get work(): number {
    return this.#drift.openings.work + this.rearranging.placement.work;
  }

  /** A first plan: open everything and close what does not pay. Its cost without hours is a scale for the whole search. */
  start(): number {
    const { groups, slots } = this.#model;
    this.#drift.from(new Int32Array(groups).fill(((1 << (slots + 1)) - 1) & ~1));
    if (this.#model.hasCapacity) this.#build(this.#drift.bestOpen);
    else this.#takeDrift();
    return this.#drift.best;
  }

  /** Keep of an earlier plan what still holds; jobs whose path is no longer allowed are placed anew. */
  startFrom(earlier: readonly (readonly number[])[]): void {
    this.rearranging.adopt(Int32Array.from({ length: this.#model.jobs }, (_, j) => bitsOf(earlier[j] ?? [])));
    this.#takeRearranged();
    if (!this.#model.hasCapacity && this.#drift.from(this.#openingsOf(this.rearranging.placement.visits)))
      this.#takeDrift();
  }

  /** With limited hours: what a minute is worth on each slot, so that openings keep off the slots short of hours. */
  priceMinutes(minute: Float64Array): void {
    if (this.#model.hasCapacity) this.#drift.priceMinutes(minute);
  }

  /** Openings from elsewhere that may lead to a good plan. */
  tryOpenings(open: Int32Array): void {
    if (!this.#model.hasCapacity) {
      this.#drift.from(open);
      this.#takeDrift();
    } else this.#hint = open.slice();
  }

  /** A whole plan from elsewhere. */
  tryPlan(visits: Int32Array): void {
    this.rearranging.start(visits);
    this.#takeRearranged();
  }

  /** Look for a better plan for about `work` shortest paths. */
  improve(work: number): void {
    if (this.#model.hasCapacity) this.#rearrange(work);
    else {
      const until = this.#drift.openings.work + work * DRIFT_SHARE;
      while (this.#drift.openings.work < until) {
        this.#drift.round();
        this.#takeDrift();
      }
      this.#rearrange(work * (1 - DRIFT_SHARE));
    }
  }

  #rearrange(work: number): void {
    const { placement } = this.rearranging;
    const until = placement.work + work;
    while (placement.work < until) {
      if (this.#roundsLeft <= 0) this.#next();
      this.rearranging.run(ROUNDS_A_SLICE);
      this.#roundsLeft -= ROUNDS_A_SLICE;
      this.#takeRearranged();
    }
  }

  /** Where the next warm search starts. With limited hours by turns: what the bound came upon, the best plan, that disturbed. */
  #next(): void {
    const turn = this.#warmSearches++ % 3;
    if (this.best === Number.POSITIVE_INFINITY) this.#build(this.#drift.bestOpen);
    else if (this.#model.hasCapacity && turn === 0 && this.#hint !== null) {
      this.#buildFrom(this.#hint);
      this.#hint = null;
    } else if (this.#model.hasCapacity && turn === 2)
      this.#buildFrom(this.#drift.disturbed(this.#openingsOf(this.bestVisits)));
    else this.rearranging.start(this.bestVisits);
    this.rearranging.heat(ROUNDS_WARM);
    this.#roundsLeft = ROUNDS_WARM;
  }

  #buildFrom(open: Int32Array): void {
    const { openings } = this.#drift;
    openings.load(open);
    openings.descend();
    this.#build(openings.open);
  }

  #build(open: Int32Array): void {
    this.rearranging.build(open);
    this.#takeRearranged();
  }

  #openingsOf(visits: Int32Array): Int32Array {
    const { groups, useJob, useGroup } = this.#model;
    const open = new Int32Array(groups);
    for (let u = 0; u < useJob.length; u++)
      open[useGroup[u] as number] = (open[useGroup[u] as number] as number) | (visits[useJob[u] as number] as number);
    return open;
  }

  #takeDrift(): void {
    if (this.#drift.best < this.best - 1e-7) this.#take(this.#drift.best, this.#drift.bestVisits);
  }

  #takeRearranged(): void {
    const { best, bestVisits } = this.rearranging;
    if (best >= this.best - 1e-7) return;
    this.#take(best, bestVisits);
    if (this.#model.hasCapacity) return;
    this.#drift.from(this.#openingsOf(bestVisits));
    this.#takeDrift();
  }

  #take(cost: number, visits: Int32Array): void {
    this.best = cost;
    this.bestVisits.set(visits);
  }
}
