import type { Model } from './model.ts';
import { Openings } from './openings.ts';
import { Random } from './random.ts';

/** Share of the disturbances that move whole days; the rest open and close single set-ups. */
const WHOLE_DAYS = 0.75;

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
    if (this.#random.next() < WHOLE_DAYS) for (let k = 0; k < changes; k++) this.#disturbDay();
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

  #disturbSetup(): void {
    const g = this.#random.below(this.#model.groups);
    this.#open[g] = (this.#open[g] as number) ^ (1 << (1 + this.#random.below(this.#model.slots)));
  }
}
