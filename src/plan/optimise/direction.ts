import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import { freePrices, minutesOver, movePrices, type Prices } from './prices.ts';

/** Minutes are priced in money a minute; times this over a job's mean minutes their gradients have the size of the others. */
const MINUTES_SCALE = 0.15;
/** The direction followed is this share of the newest subgradient, and the rest of the direction before. */
const NEW_SHARE = 0.5;

/** What a relaxation answered at its prices: jobs' paths by job, set-ups by group, and days, all as bits of slots. */
export interface Answers {
  readonly visits: Int32Array;
  readonly setUp: Int32Array;
  readonly days: number;
}

/**
 * Where prices are moved to: subgradients, each fading as the next is added (Camerini, Fratta, Maffioli 1975). Where something is needed and
 * not there, its price is pulled up; where it is there and not needed, down, but no price below nothing.
 */
export class Direction {
  /** Its squared length. */
  norm = 0;
  readonly #model: Model;
  readonly #now: Prices;
  readonly #pulls: Prices;
  readonly #minutesScale: number;
  readonly #over: Float64Array;
  #weight = 1;

  /** `now`: the prices to be moved. */
  constructor(model: Model, now: Prices) {
    this.#model = model;
    this.#now = now;
    this.#pulls = freePrices(model);
    const minutes = model.jobMinutes.reduce((sum, of) => sum + of, 0);
    this.#minutesScale = minutes > 0 ? (MINUTES_SCALE * model.jobs) / minutes : 1;
    this.#over = new Float64Array(model.nodes);
  }

  /** No direction yet: the next subgradient counts in full. */
  reset(): void {
    this.#pulls.use.fill(0);
    this.#pulls.minute.fill(0);
    this.#pulls.day.fill(0);
    this.norm = 0;
    this.#weight = 1;
  }

  /** Use `u` needs these slots and is given those. */
  pullUse(u: number, needs: number, has: number): void {
    this.#pull(this.#now.use, this.#pulls.use, u * this.#model.nodes, needs, has);
  }

  /** Group `g` needs these days and those are open. */
  pullDay(g: number, needs: number, has: number): void {
    this.#pull(this.#now.day, this.#pulls.day, g * this.#model.nodes, needs, has);
  }

  /** Each slot needs the minutes of what is done there and has its hours. */
  pullMinutes({ visits, setUp, days }: Answers): void {
    if (!this.#model.hasCapacity) return;
    const over = this.#over;
    minutesOver(this.#model, over, visits, setUp, days);
    for (let t = 1; t <= this.#model.slots; t++)
      this.#add(this.#now.minute, this.#pulls.minute, t, this.#weight * (over[t] as number) * this.#minutesScale);
  }

  /** Move the prices by `step` along the direction; then it fades. */
  follow(step: number): void {
    const left = 1 - NEW_SHARE;
    const pulls = this.#pulls;
    this.norm =
      movePrices(this.#now.use, pulls.use, step, left) +
      movePrices(this.#now.day, pulls.day, step, left) +
      movePrices(this.#now.minute, pulls.minute, step * this.#minutesScale, left);
    this.#weight = NEW_SHARE;
  }

  #pull(prices: Float64Array, pulls: Float64Array, row: number, needs: number, has: number): void {
    for (let rest = needs ^ has; rest !== 0; rest &= rest - 1) {
      const bit = rest & -rest;
      this.#add(prices, pulls, row + 31 - Math.clz32(bit), needs & bit ? this.#weight : -this.#weight);
    }
  }

  #add(prices: Float64Array, pulls: Float64Array, at: number, by: number): void {
    const before = pulls[at] as number;
    const after = before + by;
    if (after < 0 && prices[at] === 0) return;
    pulls[at] = after;
    this.norm += after * after - before * before;
  }
}

/** A bound at given prices, and how its answers would have the prices moved. */
export interface Relaxed extends Answers {
  readonly model: Model;
  readonly now: Prices;
  /** Work done so far, in shortest paths. */
  readonly work: number;
  /** The bound at the present prices under what is decided; Infinity when nothing is left. Never above the true optimum. */
  evaluate(decided: Decided): number;
  /** The same over answers had before, where they are remembered: quick, no bound, and never below one. */
  evaluateKnown?(decided: Decided): number;
  /** The newest subgradient. */
  pull(direction: Direction, decided: Decided): void;
}
