import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import { copyPrices, freePrices, minutesOver, movePrices, type Prices, type PricesKept } from './prices.ts';
import { Relaxation } from './relaxation.ts';

/** Rounds without a better bound after which the step is cut: at the root, where speed counts, and on a branch. */
export const PATIENCE_ROOT = 6;
const PATIENCE_BRANCH = 20;
const STEP_CUT = 0.6;
const STEP_LEAST = 0.004;
/** The direction followed is this share of the newest subgradient, and the rest of the direction before. */
const NEW_SHARE = 0.5;
const OLD_SHARE = 1 - NEW_SHARE;
/** Minutes are priced in money a minute; times this over a job's mean minutes their gradients have the size of the others. */
const MINUTES_SCALE = 0.15;
/** While no plan is known, the climb aims this share above the bound it has. */
const AIM_ABOVE = 0.05;
/** The slots' answers are averaged over about this many rounds, looked at once in so many. */
const AVERAGED_ROUNDS = 40;
const AVERAGED_EVERY = 3;

/**
 * Looks for prices that make the bound high, by steps along averaged subgradients. The best reachable is the value of the linear
 * relaxation of the whole.
 */
export class Pricing extends Relaxation {
  readonly best: Prices;
  /** The bound at the best prices of the last climb. */
  bound = Number.NEGATIVE_INFINITY;
  /** Averages of the slots' and set-ups' answers along the climb: a hint at the fractional optimum. */
  readonly setShare: Float64Array;
  readonly dayShare: Float64Array;
  /** While `counting`: how often each job was on each slot during the climb, `visitCount[j * nodes + t]`. */
  readonly visitCount: Float64Array;
  counting = false;

  #step = 1;
  #since = 0;
  #patience = 0;
  #rounds = 0;
  readonly minutesScale: number;
  /** The direction, and its squared length: a pull down on a price that is already 0 is not kept. */
  readonly #direction: Prices;
  #norm = 0;
  readonly #over: Float64Array;

  constructor(model: Model) {
    super(model);
    this.best = freePrices(model);
    this.#direction = freePrices(model);
    const minutes = model.jobMinutes.reduce((sum, of) => sum + of, 0);
    this.minutesScale = minutes > 0 ? (MINUTES_SCALE * model.jobs) / minutes : 1;
    this.visitCount = new Float64Array(model.jobs * model.nodes);
    this.setShare = new Float64Array(model.groups * model.nodes);
    this.dayShare = new Float64Array(model.nodes);
    this.#over = new Float64Array(model.nodes);
  }

  /** First prices: each set-up's cost shared among the jobs likely to use it together. */
  sharePrices(): void {
    const { groups, groupStart, groupUses, groupJobs, groupCost, jobSlots, nodes, slots } = this.model;
    for (let g = 0; g < groups; g++) {
      const members = (groupStart[g + 1] as number) - (groupStart[g] as number);
      const share = (groupCost[g] as number) / Math.max(1, members * 0.3);
      for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++)
        for (let t = 1; t <= slots; t++)
          if (((jobSlots[groupJobs[k] as number] as number) >>> t) & 1)
            this.now.use[(groupUses[k] as number) * nodes + t] = share;
    }
  }

  /** Begin a climb from the present prices: nothing is known yet and the step is `step`. */
  begin(step: number, patience: number): void {
    this.#patience = patience;
    this.bound = Number.NEGATIVE_INFINITY;
    this.#direction.use.fill(0);
    this.#direction.minute.fill(0);
    this.#step = step;
    this.#since = 0;
    this.#rounds = 0;
    this.#norm = 0;
  }

  /**
   * Go on climbing for at most `rounds` evaluations, or until the bound reaches `target` (a cost already had). True when going on is
   * of no use: the target is reached, or the step has shrunk to nothing. The best prices and bound so far are in `best` and `bound`.
   */
  climb(decided: Decided, rounds: number, target: number): boolean {
    const { now, best } = this;
    for (let k = 0; k < rounds; k++) {
      const value = this.evaluate(decided);
      this.#since++;
      if (value > this.bound) {
        if (value > this.bound + 1e-5 * Math.abs(value)) this.#since = 0;
        this.bound = value;
        copyPrices(best, now);
      }
      if (this.bound >= target) return true;
      if (this.counting) this.#count();
      if (this.#since > this.#patience) {
        this.#step *= STEP_CUT;
        this.#since = 0;
        copyPrices(now, best);
        if (this.#step < STEP_LEAST) return true;
      }
      if (this.#rounds % AVERAGED_EVERY === 0) this.#average(decided);
      const weight = this.#rounds === 0 ? 1 : NEW_SHARE;
      this.#turn(weight);
      if (this.model.hasCapacity) this.#turnMinutes(weight);
      this.#rounds++;
      if (this.#norm < 1e-12) return true;
      const aim = target < Number.POSITIVE_INFINITY ? target : this.bound + AIM_ABOVE * (1 + Math.abs(this.bound));
      this.#move((this.#step * (aim - value)) / this.#norm);
    }
    return false;
  }

  /** Climb from `prices` for at most `rounds` evaluations; the bound reached. */
  climbFrom(prices: PricesKept, decided: Decided, rounds: number, target: number, step: number): number {
    this.now.use.set(prices.use);
    this.now.minute.set(prices.minute);
    this.#forgive(decided);
    this.begin(step, PATIENCE_BRANCH);
    this.climb(decided, rounds, target);
    return this.bound;
  }

  /** A set-up that is paid for whatever happens needs no price: without one the bound is never lower. */
  #forgive(decided: Decided): void {
    const { useGroup, nodes } = this.model;
    const { use } = this.now;
    for (let u = 0; u < useGroup.length; u++)
      for (let rest = decided.setOpen[useGroup[u] as number] as number; rest !== 0; rest &= rest - 1)
        use[u * nodes + 31 - Math.clz32(rest & -rest)] = 0;
  }

  #count(): void {
    const { jobs, nodes } = this.model;
    for (let j = 0; j < jobs; j++)
      for (let rest = this.visits[j] as number; rest !== 0; rest &= rest - 1) {
        const at = j * nodes + 31 - Math.clz32(rest & -rest);
        this.visitCount[at] = (this.visitCount[at] as number) + 1;
      }
  }

  /** Fold the present answers into the running averages. */
  #average(decided: Decided): void {
    const { nodes, groups } = this.model;
    const share = Math.max(1 / (this.#rounds / AVERAGED_EVERY + 1), AVERAGED_EVERY / AVERAGED_ROUNDS);
    const days = this.days | decided.dayOpen;
    for (let t = 1; t < nodes - 1; t++) {
      this.dayShare[t] = (this.dayShare[t] as number) * (1 - share) + share * ((days >>> t) & 1);
      for (let g = 0, at = t; g < groups; g++, at += nodes)
        this.setShare[at] =
          (this.setShare[at] as number) * (1 - share) + share * (((this.setUp[g] as number) >>> t) & 1);
    }
  }

  /** Add the newest subgradient: where a job goes and nothing is set up the price must rise, where it is set up for nobody, fall. */
  #turn(weight: number): void {
    const { nodes, useJob, useGroup } = this.model;
    const { use } = this.now;
    const direction = this.#direction.use;
    let norm = this.#norm;
    for (let u = 0; u < useJob.length; u++) {
      const does = this.visits[useJob[u] as number] as number;
      const set = this.setUp[useGroup[u] as number] as number;
      for (let rest = does ^ set; rest !== 0; rest &= rest - 1) {
        const bit = rest & -rest;
        const at = u * nodes + 31 - Math.clz32(bit);
        const before = direction[at] as number;
        const after = before + (does & bit ? weight : -weight);
        if (after < 0 && use[at] === 0) continue;
        direction[at] = after;
        norm += after * after - before * before;
      }
    }
    this.#norm = norm;
  }

  #turnMinutes(weight: number): void {
    const { nodes } = this.model;
    const over = this.#over;
    minutesOver(this.model, over, this.visits, this.setUp, this.days);
    const direction = this.#direction.minute;
    for (let t = 1; t < nodes - 1; t++) {
      const before = direction[t] as number;
      const after = before + weight * (over[t] as number) * this.minutesScale;
      if (after < 0 && this.now.minute[t] === 0) continue;
      direction[t] = after;
      this.#norm += after * after - before * before;
    }
  }

  /** One step; then what remains of the direction for the next round, and its squared length. */
  #move(step: number): void {
    const { use, minute } = this.now;
    const direction = this.#direction;
    this.#norm = movePrices(use, direction.use, step, OLD_SHARE);
    if (this.model.hasCapacity) this.#norm += movePrices(minute, direction.minute, step * this.minutesScale, OLD_SHARE);
  }
}
