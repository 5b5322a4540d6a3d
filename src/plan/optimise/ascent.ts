import type { Decided } from './decided.ts';
import { Direction, type Relaxed } from './direction.ts';
import { copyPrices, freePrices, type Prices } from './prices.ts';

const STEP_CUT = 0.6;
/** A climb aims beyond its target by this share of it: towards the target itself its steps would dwindle and never reach it. */
const AIM_BEYOND = 1e-3;
/** Steps over known answers are this much shorter; two more of them before each evaluation, up to a number. */
const STEP_KNOWN = 0.3;
const KNOWN_MORE = 2;
const KNOWN_MOST = 30;

/** How one relaxation is best climbed. */
export interface Manner {
  /** Evaluations without a better bound after which the step is cut. */
  readonly patience: number;
  /** A step below this is of no use. */
  readonly stepLeast: number;
  /** The climb aims at `target`, a little over the cost of the plan in hand, where that is not too far above the bound it has. */
  aim(target: number, bound: number): number;
  /** The answers are averaged over about so many evaluations, looked at once in so many. */
  readonly averaged: number;
  readonly averagedEvery: number;
  /** Steps over known answers, where they are remembered, before the first evaluation. */
  readonly knownFirst: number;
}

/** Climbing where an evaluation is quick. */
export const QUICK: Manner = {
  patience: 6,
  stepLeast: 0.004,
  aim: (target, bound) => (target < Number.POSITIVE_INFINITY ? target : bound + 0.05 * (1 + Math.abs(bound))),
  averaged: 40,
  averagedEvery: 3,
  knownFirst: 0,
};

/** Climbing where an evaluation is slow and starts from prices that are good already. */
export const STRONG: Manner = {
  patience: 6,
  stepLeast: 0,
  aim: (target, bound) => Math.min(target, bound + 0.02 * (1 + Math.abs(bound))),
  averaged: 10,
  averagedEvery: 1,
  knownFirst: 0,
};

/** The same on a branch, where much is known from the branches before. */
export const BRANCH: Manner = { ...STRONG, knownFirst: 15 };

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
  /** Evaluations so far, and what the last of them gave. */
  #rounds = 0;
  #value = Number.NaN;
  #evaluationWork = 0;

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
    this.#value = Number.NaN;
  }

  /**
   * Go on for at most `rounds` evaluations, or until the bound reaches `target`; `heard` is called after each. True when going on is of no
   * use: the target is reached, all agrees, or the step has shrunk to nothing.
   */
  climb(decided: Decided, rounds: number, target: number, heard?: () => void): boolean {
    const relaxed = this.#relaxed;
    for (let k = 0; k < rounds; k++) {
      if (this.#rounds > 0 && !this.#move(decided, target)) return true;
      this.#moveOverKnown(decided, target);
      const before = relaxed.work;
      this.#value = relaxed.evaluate(decided);
      this.#evaluationWork = relaxed.work - before;
      this.#since++;
      if (this.#value > this.bound) {
        if (this.#value > this.bound + 1e-5 * Math.abs(this.#value)) this.#since = 0;
        this.bound = this.#value;
        copyPrices(this.best, relaxed.now);
      }
      if (this.bound >= target) return true;
      this.#average(decided);
      this.#rounds++;
      heard?.();
    }
    return false;
  }

  /** Back to the best prices of the climb: the bound there. */
  settle(decided: Decided): number {
    if (this.#value === this.bound) return this.bound;
    copyPrices(this.#relaxed.now, this.best);
    return this.#relaxed.evaluate(decided);
  }

  /** One step from the evaluation last made. False when there is nowhere to go. */
  #move(decided: Decided, target: number): boolean {
    const { stepLeast } = this.#manner;
    const relaxed = this.#relaxed;
    if (this.#since > this.#patience) {
      this.#step *= STEP_CUT;
      this.#since = 0;
      copyPrices(relaxed.now, this.best);
      if (this.#step < stepLeast) return false;
    }
    relaxed.pull(this.#direction, decided);
    if (this.#direction.norm < 1e-12) return false;
    this.#direction.follow((this.#step * this.#toGo(target, this.bound, this.#value)) / this.#direction.norm);
    return true;
  }

  /** How far below what is aimed at `value` lies. */
  #toGo(target: number, bound: number, value: number): number {
    return this.#manner.aim(target + AIM_BEYOND * (1 + Math.abs(target)), bound) - value;
  }

  /** Steps over known answers, to where another evaluation is worth its time; they take no more work than the last one did. */
  #moveOverKnown(decided: Decided, target: number): void {
    const relaxed = this.#relaxed;
    if (relaxed.evaluateKnown === undefined) return;
    const direction = this.#direction;
    const workMost = relaxed.work + this.#evaluationWork;
    const most = Math.min(this.#manner.knownFirst + KNOWN_MORE * this.#rounds, KNOWN_MOST);
    for (let step = 0; step < most && relaxed.work < workMost; step++) {
      const value = relaxed.evaluateKnown(decided);
      if (value === Number.POSITIVE_INFINITY) return;
      this.#average(decided);
      relaxed.pull(direction, decided);
      if (direction.norm < 1e-12) return;
      const bound = this.bound === Number.NEGATIVE_INFINITY ? value : this.bound;
      direction.follow((this.#step * STEP_KNOWN * Math.max(0, this.#toGo(target, bound, value))) / direction.norm);
    }
  }

  #average(decided: Decided): void {
    const { model, setUp, days } = this.#relaxed;
    const { averaged, averagedEvery } = this.#manner;
    if (this.#rounds % averagedEvery !== 0) return;
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
