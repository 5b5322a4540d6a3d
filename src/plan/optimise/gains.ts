import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import { PathFinder } from './paths.ts';
import type { Prices } from './prices.ts';
import type { Pricing } from './pricing.ts';

/**
 * How much the bound rises at the present prices when one more thing is decided: a day or a set-up forced open or kept closed.
 * A rise past the cost of a plan already had decides the opposite for good (reduced-cost fixing).
 */
export class Gains {
  /** By slot; by `group * nodes + slot`. */
  readonly dayOpen: Float64Array;
  readonly dayClosed: Float64Array;
  readonly setOpen: Float64Array;
  readonly setClosed: Float64Array;
  work = 0;
  readonly #model: Model;
  readonly #paths: PathFinder;
  readonly #price: Float64Array;
  readonly #reduced: Float64Array;

  constructor(model: Model) {
    this.#model = model;
    this.#paths = new PathFinder(model);
    this.dayOpen = new Float64Array(model.nodes);
    this.dayClosed = new Float64Array(model.nodes);
    this.setOpen = new Float64Array(model.groups * model.nodes);
    this.setClosed = new Float64Array(model.groups * model.nodes);
    this.#price = new Float64Array(model.nodes);
    this.#reduced = new Float64Array(model.groups);
  }

  /** Work out all gains at `pricing.best`; the bound there, to which they add. */
  measure(pricing: Pricing, decided: Decided): number {
    this.dayClosed.fill(0);
    this.setClosed.fill(0);
    for (let j = 0; j < this.#model.jobs; j++) this.#jobDetours(j, pricing.best, decided);
    for (let t = 1; t <= this.#model.slots; t++)
      if (((decided.dayClosed >>> t) & 1) === 0) this.#slotChanges(t, pricing.best, decided);
    return pricing.bound;
  }

  /** What it costs job `j` to avoid each slot it would visit. */
  #jobDetours(j: number, prices: Prices, decided: Decided): void {
    const { slots, nodes, useStart, useGroup, jobMinutes } = this.#model;
    // A job held to some slot has fewer ways to go: the difference of two free paths would claim too much.
    if (decided.jobThere[j] !== 0) return;
    const price = this.#price;
    let closed = decided.dayClosed | (decided.jobNotThere[j] as number);
    for (let t = 1; t <= slots; t++) price[t] = (prices.minute[t] as number) * (jobMinutes[j] as number);
    for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) {
      closed |= decided.setClosed[useGroup[u] as number] as number;
      for (let t = 1; t <= slots; t++) price[t] = (price[t] as number) + (prices.use[u * nodes + t] as number);
    }
    const least = this.#paths.cheapestPriced(j, ~closed, price, 0);
    const visits = this.#paths.visits;
    this.work++;
    for (let rest = visits; rest !== 0; rest &= rest - 1) {
      const bit = rest & -rest;
      const t = 31 - Math.clz32(bit);
      const gain = this.#paths.cheapestPriced(j, ~(closed | bit), price, 0) - least;
      this.work++;
      this.dayClosed[t] = (this.dayClosed[t] as number) + gain;
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++) {
        const at = (useGroup[u] as number) * nodes + t;
        this.setClosed[at] = (this.setClosed[at] as number) + gain;
      }
    }
  }

  /** What it costs slot `t` to be decided otherwise, added to the jobs' detours. */
  #slotChanges(t: number, prices: Prices, decided: Decided): void {
    const { nodes, groups, groupStart, groupUses, groupCost, groupMinutes, dayCost, capacity, hasCapacity } =
      this.#model;
    const bit = 1 << t;
    const minute = prices.minute[t] as number;
    let value = (dayCost[t] as number) - (hasCapacity ? minute * (capacity[t] as number) : 0);
    for (let g = 0; g < groups; g++) {
      let r = (groupCost[g] as number) + minute * (groupMinutes[g] as number);
      for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++)
        r -= prices.use[(groupUses[k] as number) * nodes + t] as number;
      this.#reduced[g] = r;
      if (r < 0 ? !((decided.setClosed[g] as number) & bit) : (decided.setOpen[g] as number) & bit) value += r;
    }
    const forced = (decided.dayOpen & bit) !== 0;
    const now = forced ? value : Math.min(0, value);
    this.dayOpen[t] = value - now;
    this.dayClosed[t] = (this.dayClosed[t] as number) - now;
    for (let g = 0; g < groups; g++) {
      const at = g * nodes + t;
      const r = this.#reduced[g] as number;
      const without = value - Math.min(0, r);
      this.setClosed[at] = (this.setClosed[at] as number) + (forced ? without : Math.min(0, without)) - now;
      this.setOpen[at] = value + Math.max(0, r) - now;
    }
  }
}
