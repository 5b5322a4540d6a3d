import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import { copyPrices, freePrices, minutesOver, movePrices, type Prices } from './prices.ts';
import { Rhythms } from './rhythms.ts';

/** Evaluations without a better bound after which the step is cut. */
const PATIENCE = 6;
const STEP_CUT = 0.6;
/** The direction followed is this share of the newest subgradient, and the rest of the direction before. */
const NEW_SHARE = 0.5;
const OLD_SHARE = 1 - NEW_SHARE;
/** The climb aims at the cost of the plan in hand, but no further than this share above the bound it has. */
const AIM_ABOVE = 0.02;
/** The answers are averaged over about this many evaluations. */
const AVERAGED = 10;

/** Looks for prices at which the groups' own best rhythms agree about days, hours and shared jobs, and make the bound high. */
export class Tuning extends Rhythms {
  readonly best: Prices;
  /** The bound at the best prices of the last climb. */
  bound = Number.NEGATIVE_INFINITY;
  /** Averages of the answers along the climb: a hint at what is still of two minds. */
  readonly setShare: Float64Array;
  readonly dayShare: Float64Array;
  readonly #direction: Prices;
  #norm = 0;
  #step = 1;
  #since = 0;
  #rounds = 0;
  readonly #minutesScale: number;
  readonly #over: Float64Array;

  /** `minutesScale`: what a step on the price of a minute is multiplied by, so that it has the size of the others. */
  constructor(model: Model, minutesScale: number) {
    super(model);
    this.best = freePrices(model);
    this.#direction = freePrices(model);
    this.setShare = new Float64Array(model.groups * model.nodes);
    this.dayShare = new Float64Array(model.nodes);
    this.#over = new Float64Array(model.nodes);
    this.#minutesScale = minutesScale;
  }

  /** Begin a climb from the present prices: nothing is known yet and the step is `step`. */
  begin(step: number): void {
    this.bound = Number.NEGATIVE_INFINITY;
    this.#direction.use.fill(0);
    this.#direction.minute.fill(0);
    this.#direction.day.fill(0);
    this.#step = step;
    this.#since = 0;
    this.#rounds = 0;
    this.#norm = 0;
  }

  /** At most `rounds` evaluations, each a step further; true when going on is of no use. */
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
      if (this.#since > PATIENCE) {
        this.#step *= STEP_CUT;
        this.#since = 0;
        copyPrices(now, best);
      }
      this.#average(decided);
      this.#turn(this.#rounds === 0 ? 1 : NEW_SHARE, decided);
      this.#rounds++;
      if (this.#norm < 1e-12) return true;
      const aim = Math.min(target, this.bound + AIM_ABOVE * (1 + Math.abs(this.bound)));
      this.#move((this.#step * (aim - value)) / this.#norm);
    }
    return false;
  }

  /** Back to the best prices of the climb: the bound there. */
  settle(decided: Decided): number {
    copyPrices(this.now, this.best);
    return this.evaluate(decided);
  }

  #average(decided: Decided): void {
    const { nodes, groups, slots } = this.model;
    const newest = Math.max(1 / (this.#rounds + 1), 1 / AVERAGED);
    const days = this.days | decided.dayOpen;
    for (let t = 1; t <= slots; t++) {
      this.dayShare[t] = (this.dayShare[t] as number) * (1 - newest) + newest * ((days >>> t) & 1);
      for (let g = 0, at = t; g < groups; g++, at += nodes)
        this.setShare[at] =
          (this.setShare[at] as number) * (1 - newest) + newest * (((this.setUp[g] as number) >>> t) & 1);
    }
  }

  /** Add the newest subgradient: who needs what is not there pulls its price up, what is there for nobody pulls it down. */
  #turn(weight: number, decided: Decided): void {
    const { nodes, groups, useJob, useGroup, hasCapacity } = this.model;
    const { use, day } = this.now;
    const direction = this.#direction;
    for (let g = 0; g < groups; g++)
      this.#pull(
        day,
        direction.day,
        g * nodes,
        (this.setUp[g] as number) & ~decided.dayOpen,
        this.days & ~decided.dayOpen,
        weight,
      );
    for (let u = 0; u < useJob.length; u++) {
      if (!this.further[u]) continue;
      const open = decided.setOpen[useGroup[u] as number] as number;
      const visits = this.visits[useJob[u] as number] as number;
      this.#pull(
        use,
        direction.use,
        u * nodes,
        visits & ~open,
        (this.setUp[useGroup[u] as number] as number) & ~open,
        weight,
      );
    }
    if (hasCapacity) this.#pullMinutes(weight);
  }

  #pull(price: Float64Array, direction: Float64Array, row: number, needs: number, has: number, weight: number): void {
    for (let rest = needs ^ has; rest !== 0; rest &= rest - 1) {
      const bit = rest & -rest;
      const at = row + 31 - Math.clz32(bit);
      const before = direction[at] as number;
      const after = before + (needs & bit ? weight : -weight);
      if (after < 0 && price[at] === 0) continue;
      direction[at] = after;
      this.#norm += after * after - before * before;
    }
  }

  #pullMinutes(weight: number): void {
    const { model, now } = this;
    const over = this.#over;
    minutesOver(model, over, this.visits, this.setUp, this.days);
    const direction = this.#direction.minute;
    for (let t = 1; t <= model.slots; t++) {
      const before = direction[t] as number;
      const after = before + weight * (over[t] as number) * this.#minutesScale;
      if (after < 0 && now.minute[t] === 0) continue;
      direction[t] = after;
      this.#norm += after * after - before * before;
    }
  }

  #move(step: number): void {
    const { now } = this;
    const direction = this.#direction;
    this.#norm =
      movePrices(now.use, direction.use, step, OLD_SHARE) + movePrices(now.day, direction.day, step, OLD_SHARE);
    if (this.model.hasCapacity)
      this.#norm += movePrices(now.minute, direction.minute, step * this.#minutesScale, OLD_SHARE);
  }
}
