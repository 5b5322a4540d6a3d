import type { Model } from './model.ts';
import { Openings } from './openings.ts';
import { Random } from './random.ts';

/** Share of the disturbances that put a stretch of the plan out of step, and that move whole days; the rest change single set-ups. */
const OUT_OF_STEP = 0.6;
const WHOLE_DAYS = 0.25;
/** Of the stretches put out of step, those that take all groups with them. */
const ALL_GROUPS = 0.7;

/**
 * Iterated local search over openings: disturb the best plan, descend again, keep the better (Lourenço, Martin and Stützle 2003).
 * Days are what plans get stuck on, so days are mostly what is disturbed.
 */
export class Drift {
  readonly openings: Openings;
  /** Paths of the best plan so far, as bits by job, and its cost. */
  readonly bestVisits: Int32Array;
  best = Number.POSITIVE_INFINITY;
  readonly #model: Model;
  readonly #random: Random;
  readonly #bestOpen: Int32Array;
  readonly #open: Int32Array;

  constructor(model: Model, seed: number) {
    this.#model = model;
    this.openings = new Openings(model);
    this.#random = new Random(seed);
    this.bestVisits = new Int32Array(model.jobs);
    this.#bestOpen = new Int32Array(model.groups);
    this.#open = new Int32Array(model.groups);
  }

  /** Openings of the best plan so far. */
  get bestOpen(): Int32Array {
    return this.#bestOpen;
  }

  /** Start over with minutes priced, at openings that were good without. */
  priceMinutes(minute: Float64Array): void {
    this.openings.priceMinutes(minute);
    this.best = Number.POSITIVE_INFINITY;
    this.from(this.#bestOpen.slice());
  }

  /** Descend from these openings; true when that gives a new best plan. */
  from(open: Int32Array): boolean {
    const { openings } = this;
    openings.load(open);
    openings.descend();
    if (openings.cost >= this.best - 1e-7) return false;
    this.best = openings.cost;
    this.#bestOpen.set(openings.open);
    this.bestVisits.set(openings.visits);
    return true;
  }

  /** Disturb the best plan and descend; true when that gives a new best plan. */
  round(): boolean {
    return this.from(this.disturbed(this.#bestOpen));
  }

  /** These openings with a few of them changed at random. */
  disturbed(open: Int32Array): Int32Array {
    this.#open.set(open);
    const changes = 1 + this.#random.below(3);
    const kind = this.#random.next();
    if (kind < OUT_OF_STEP) this.#disturbStep();
    else if (kind < OUT_OF_STEP + WHOLE_DAYS) for (let k = 0; k < changes; k++) this.#disturbDay();
    else for (let k = 0; k <= changes; k++) this.#disturbSetup();
    return this.#open;
  }

  #disturbDay(): void {
    const { slots, groups } = this.#model;
    const open = this.#open;
    const t = 1 + this.#random.below(slots);
    let days = 0;
    for (let g = 0; g < groups; g++) days |= open[g] as number;
    if (((days >>> t) & 1) === 0) {
      for (let g = 0; g < groups; g++) open[g] = (open[g] as number) | (1 << t);
      return;
    }
    const to = t + ([0, 0, -1, 1][this.#random.below(4)] as number);
    for (let g = 0; g < groups; g++) {
      if ((((open[g] as number) >>> t) & 1) === 0) continue;
      open[g] = (open[g] as number) & ~(1 << t);
      if (to !== t && to >= 1 && to <= slots) open[g] = (open[g] as number) | (1 << to);
    }
  }

  /**
   * All that is set up over a stretch of slots, for one group or for all, one slot sooner or later. Plans for odd days and for even days
   * may cost nearly the same, and no change of a few days leads from one to the other.
   */
  #disturbStep(): void {
    const { groups, slots } = this.#model;
    const open = this.#open;
    const random = this.#random;
    const from = 1 + random.below(slots);
    const to = random.next() < 0.5 ? slots : Math.min(slots, from + 1 + random.below(slots));
    const stretch = ((2 << to) - 1) & -(1 << from);
    const later = random.next() < 0.5;
    const only = random.next() < ALL_GROUPS ? -1 : random.below(groups);
    for (let g = 0; g < groups; g++) {
      if (only >= 0 && g !== only) continue;
      const now = open[g] as number;
      const moved = later ? (now & stretch) << 1 : (now & stretch) >>> 1;
      open[g] = ((now & ~stretch) | moved) & ((2 << slots) - 2);
    }
  }

  #disturbSetup(): void {
    const g = this.#random.below(this.#model.groups);
    this.#open[g] = (this.#open[g] as number) ^ (1 << (1 + this.#random.below(this.#model.slots)));
  }
}
