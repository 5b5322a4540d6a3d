import type { Decided } from './decided.ts';
import { Direction, type Relaxed } from './direction.ts';
import { copyPrices, freePrices, type Prices } from './prices.ts';

const STEP_CUT = 0.6;

/** How one relaxation is best climbed. */
export interface Manner {
  /** Evaluations without a better bound after which the step is cut. */
  readonly patience: number;
  /** A step below this is of no use. */
  readonly stepLeast: number;
  /** The climb aims at `target`, the cost of the plan in hand, where that is not too far above the bound it has. */
  aim(target: number, bound: number): number;
  /** The answers are averaged over about so many evaluations, looked at once in so many. */
  readonly averaged: number;
  readonly averagedEvery: number;
}

/** Climbing where an evaluation is quick. */
export const QUICK: Manner = {
  patience: 6,
  stepLeast: 0.004,
  aim: (target, bound) => (target < Number.POSITIVE_INFINITY ? target : bound + 0.05 * (1 + Math.abs(bound))),
  averaged: 40,
  averagedEvery: 3,
};

/** Climbing where an evaluation is slow and starts from prices that are good already. */
export const STRONG: Manner = {
  patience: 6,
  stepLeast: 0,
  aim: (target, bound) => Math.min(target, bound + 0.02 * (1 + Math.abs(bound))),
  averaged: 10,
  averagedEvery: 1,
};

/**
 * Looks for prices that make the bound of a relaxation high: steps along averaged subgradients, their length by Polyak's rule against
 * the cost of the plan in hand.
 */
export class Ascent {
  readonly best: Prices;
  /** The bound at the best prices of the last climb. */
  bound = Number.NEGATIVE_INFINITY;
  /** Averages of the answers along the climb, by `group * nodes + slot` and by slot: a hint at what is still of two minds. */
  readonly setShare: Float64Array;
  readonly dayShare: Float64Array;
  readonly #relaxed: Relaxed;
  readonly #manner: Manner;
  readonly #direction: Direction;
  #step = 1;
  #patience = 0;
  #since = 0;
  #rounds = 0;

  constructor(relaxed: Relaxed, manner: Manner) {
    const { model, now } = relaxed;
    this.#relaxed = relaxed;
    this.#manner = manner;
    this.#direction = new Direction(model, now);
    this.best = freePrices(model);
    this.setShare = new Float64Array(model.groups * model.nodes);
    this.dayShare = new Float64Array(model.nodes);
  }

  /** Begin a climb from the present prices: nothing is known yet and the step is `step`. */
  begin(step: number, patience = this.#manner.patience): void {
    this.bound = Number.NEGATIVE_INFINITY;
    this.#direction.reset();
    this.#step = step;
    this.#patience = patience;
    this.#since = 0;
    this.#rounds = 0;
  }

  /**
   * Go on for at most `rounds` evaluations, or until the bound reaches `target`; `heard` is called after each. True when going on is of no
   * use: the target is reached, all agrees, or the step has shrunk to nothing.
   */
  climb(decided: Decided, rounds: number, target: number, heard?: () => void): boolean {
    const { stepLeast, averagedEvery, aim } = this.#manner;
    const relaxed = this.#relaxed;
    const direction = this.#direction;
    for (let k = 0; k < rounds; k++) {
      const value = relaxed.evaluate(decided);
      this.#since++;
      if (value > this.bound) {
        if (value > this.bound + 1e-5 * Math.abs(value)) this.#since = 0;
        this.bound = value;
        copyPrices(this.best, relaxed.now);
      }
      if (this.bound >= target) return true;
      heard?.();
      if (this.#since > this.#patience) {
        this.#step *= STEP_CUT;
        this.#since = 0;
        copyPrices(relaxed.now, this.best);
        if (this.#step < stepLeast) return true;
      }
      if (this.#rounds % averagedEvery === 0) this.#average(decided);
      relaxed.pull(direction, decided);
      this.#rounds++;
      if (direction.norm < 1e-12) return true;
      direction.follow((this.#step * (aim(target, this.bound) - value)) / direction.norm);
    }
    return false;
  }

  /** Back to the best prices of the climb: the bound there. */
  settle(decided: Decided): number {
    copyPrices(this.#relaxed.now, this.best);
    return this.#relaxed.evaluate(decided);
  }

  #average(decided: Decided): void {
    const { model, setUp, days } = this.#relaxed;
    const { averaged, averagedEvery } = this.#manner;
    const { nodes, groups, slots } = model;
    const newest = Math.max(averagedEvery / (this.#rounds + averagedEvery), averagedEvery / averaged);
    const open = days | decided.dayOpen;
    for (let t = 1; t <= slots; t++) {
      this.dayShare[t] = (this.dayShare[t] as number) * (1 - newest) + newest * ((open >>> t) & 1);
      for (let g = 0, at = t; g < groups; g++, at += nodes)
        this.setShare[at] = (this.setShare[at] as number) * (1 - newest) + newest * (((setUp[g] as number) >>> t) & 1);
    }
  }
}
