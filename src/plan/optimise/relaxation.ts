import { MINUTES_TOLERANCE } from './cost.ts';
import type { Decided } from './decided.ts';
import type { Direction, Relaxed } from './direction.ts';
import type { Model } from './model.ts';
import { copyPrices, freePrices, type Prices, type PricesKept } from './prices.ts';

/** How far below its computed value a bound is stated, relative: sums of a few thousand doubles err by less than 1e-12. */
export const BOUND_MARGIN = 1e-10;

/**
 * The Lagrangian relaxation. Given prices, every job looks for its own shortest path and every slot decides for itself what to set
 * up: the sum of these independent optima is never above the optimum of the whole, whatever the prices.
 */
export class Relaxation implements Relaxed {
  readonly model: Model;
  readonly now: Prices;
  /** Jobs' paths and slots' set-ups at the prices last evaluated, as bits by job and by group; the days set up at all. */
  readonly visits: Int32Array;
  readonly setUp: Int32Array;
  days = 0;
  /** Shortest paths solved so far. */
  work = 0;

  readonly #reduced: Float64Array;
  readonly #jobPrice: Float64Array;
  readonly #reach: Float64Array;
  readonly #before: Int32Array;
  /** Arcs between the open nodes: those into the k-th open node of job j start at `#arcStart[j * nodes + k]`. */
  readonly #arcs: Float64Array;
  readonly #arcStart: Int32Array;
  readonly #arcFirst: Int32Array;
  readonly #open: Int32Array;
  #openCount = 0;
  #laidOutFor = -1;

  constructor(model: Model) {
    const { jobs, groups, nodes } = model;
    this.model = model;
    this.now = freePrices(model);
    this.visits = new Int32Array(jobs);
    this.setUp = new Int32Array(groups);
    this.#reduced = new Float64Array(groups * nodes);
    this.#jobPrice = new Float64Array(nodes);
    this.#reach = new Float64Array(nodes);
    this.#before = new Int32Array(nodes);
    this.#arcs = new Float64Array((jobs * nodes * (nodes - 1)) / 2);
    this.#arcStart = new Int32Array(jobs * nodes);
    this.#arcFirst = new Int32Array(jobs * nodes);
    this.#open = new Int32Array(nodes);
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

  /** Go on from prices as a branch keeps them. A set-up that is paid for whatever happens needs none: the bound is never lower without. */
  load(prices: PricesKept, decided: Decided): void {
    copyPrices(this.now, prices);
    const { useGroup, nodes } = this.model;
    const { use } = this.now;
    for (let u = 0; u < useGroup.length; u++)
      for (let rest = decided.setOpen[useGroup[u] as number] as number; rest !== 0; rest &= rest - 1)
        use[u * nodes + 31 - Math.clz32(rest & -rest)] = 0;
  }

  /** Where a job goes and nothing is set up the price must rise, where it is set up for nobody, fall. */
  pull(direction: Direction): void {
    const { useJob, useGroup } = this.model;
    for (let u = 0; u < useJob.length; u++)
      direction.pullUse(u, this.visits[useJob[u] as number] as number, this.setUp[useGroup[u] as number] as number);
    direction.pullMinutes(this);
  }

  /** The bound at the present prices under what is decided; Infinity when a job has no path left. Never above the true optimum. */
  evaluate(decided: Decided): number {
    const paths = this.#jobsOptimum(decided);
    if (paths === Number.POSITIVE_INFINITY) return paths;
    const value = paths + this.#slotsOptimum(decided);
    return value - BOUND_MARGIN * (1 + Math.abs(value));
  }

  /** The bound with nothing priced: exact where all set-ups are decided and hours do not bind. */
  unpriced(decided: Decided): number {
    this.now.use.fill(0);
    this.now.minute.fill(0);
    return this.evaluate(decided);
  }

  /** Slots, as bits, that get too short when every job takes its own best path with nothing priced. */
  crowdedUnpriced(decided: Decided): number {
    const { nodes, jobs, groups, jobMinutes, groupMinutes, capacity } = this.model;
    if (this.unpriced(decided) === Number.POSITIVE_INFINITY) return 0;
    let crowded = 0;
    for (let t = 1; t < nodes - 1; t++) {
      let used = 0;
      for (let j = 0; j < jobs; j++) if (((this.visits[j] as number) >>> t) & 1) used += jobMinutes[j] as number;
      for (let g = 0; g < groups; g++)
        if (((decided.setOpen[g] as number) >>> t) & 1) used += groupMinutes[g] as number;
      if (used > (capacity[t] as number) + MINUTES_TOLERANCE) crowded |= 1 << t;
    }
    return crowded;
  }

  /** Lay out the arcs between the slots that are not closed, so that closed days cost nothing. Needed when closed days change. */
  #layOut(dayClosed: number): void {
    if (this.#laidOutFor === dayClosed) return;
    this.#laidOutFor = dayClosed;
    const { jobs, nodes, arc, jobSlots } = this.model;
    const open = this.#open;
    let count = 0;
    for (let t = 0; t < nodes; t++) if (((dayClosed >>> t) & 1) === 0) open[count++] = t;
    this.#openCount = count;
    let at = 0;
    for (let j = 0; j < jobs; j++)
      for (let k = 1; k < count; k++) {
        const t = open[k] as number;
        const row = (j * nodes + t) * nodes;
        const can = k === count - 1 || (((jobSlots[j] as number) >>> t) & 1) === 1;
        let first = k;
        if (can)
          for (let i = k - 1; i >= 0; i--)
            if ((arc[row + (open[i] as number)] as number) < Number.POSITIVE_INFINITY) first = i;
        this.#arcStart[j * nodes + k] = at;
        this.#arcFirst[j * nodes + k] = first;
        for (let i = first; i < k; i++) this.#arcs[at++] = arc[row + (open[i] as number)] as number;
      }
  }

  #jobsOptimum(decided: Decided): number {
    const { jobs, nodes, useStart, useGroup, jobMinutes, groups, groupCost, groupMinutes, hasCapacity } = this.model;
    const { use, minute } = this.now;
    const reduced = this.#reduced;
    this.#layOut(decided.dayClosed);
    for (let g = 0; g < groups; g++)
      for (let t = 1; t < nodes - 1; t++)
        reduced[g * nodes + t] = (groupCost[g] as number) + (minute[t] as number) * (groupMinutes[g] as number);
    this.work += jobs;
    let total = 0;
    for (let j = 0; j < jobs; j++) {
      let closed = decided.jobNotThere[j] as number;
      const price = this.#jobPrice;
      if (hasCapacity) for (let t = 1; t < nodes - 1; t++) price[t] = (minute[t] as number) * (jobMinutes[j] as number);
      const first = useStart[j] as number;
      const last = (useStart[j + 1] as number) - 1;
      for (let u = first; u <= last; u++) {
        const g = useGroup[u] as number;
        const set = u === first && !hasCapacity;
        closed |= decided.setClosed[g] as number;
        for (let t = 1, at = u * nodes + 1, to = g * nodes + 1; t < nodes - 1; t++, at++, to++) {
          const paid = use[at] as number;
          price[t] = set ? paid : (price[t] as number) + paid;
          reduced[to] = (reduced[to] as number) - paid;
        }
      }
      total += this.#jobPath(j, closed, decided.jobThere[j] as number);
      if (total === Number.POSITIVE_INFINITY) return total;
    }
    return total;
  }

  /** The cheapest priced path of job `j` that avoids `closed` and passes all of `there`; its slots go to `visits`. */
  #jobPath(j: number, closed: number, there: number): number {
    const count = this.#openCount;
    const open = this.#open;
    const arcs = this.#arcs;
    const reach = this.#reach;
    const before = this.#before;
    const price = this.#jobPrice;
    const base = j * this.model.nodes;
    let since = 0;
    for (let k = 1; k < count; k++) {
      const t = open[k] as number;
      let least = Number.POSITIVE_INFINITY;
      let from = -1;
      if (((closed >>> t) & 1) === 0) {
        const start = this.#arcFirst[base + k] as number;
        const first = Math.max(start, since);
        let at = (this.#arcStart[base + k] as number) + first - start;
        for (let i = first; i < k; i++, at++) {
          const value = (reach[i] as number) + (arcs[at] as number);
          if (value < least) {
            least = value;
            from = i;
          }
        }
      }
      if ((there >>> t) & 1) since = k;
      reach[k] = least + (price[t] as number);
      before[k] = from;
    }
    let bits = 0;
    for (let k = before[count - 1] as number; k > 0; k = before[k] as number) bits |= 1 << (open[k] as number);
    this.visits[j] = bits;
    return reach[count - 1] as number;
  }

  #slotsOptimum(decided: Decided): number {
    const { nodes, groups, dayCost, capacity, hasCapacity } = this.model;
    const { minute } = this.now;
    const reduced = this.#reduced;
    this.setUp.fill(0);
    this.days = 0;
    let total = 0;
    for (let t = 1; t < nodes - 1; t++) {
      const bit = 1 << t;
      if (decided.dayClosed & bit) continue;
      let value = (dayCost[t] as number) - (hasCapacity ? (minute[t] as number) * (capacity[t] as number) : 0);
      for (let g = 0; g < groups; g++) {
        const r = reduced[g * nodes + t] as number;
        if (r < 0 ? !((decided.setClosed[g] as number) & bit) : (decided.setOpen[g] as number) & bit) value += r;
      }
      if (value >= 0 && !(decided.dayOpen & bit)) continue;
      total += value;
      this.days |= bit;
      for (let g = 0; g < groups; g++) {
        const r = reduced[g * nodes + t] as number;
        if (r < 0 ? !((decided.setClosed[g] as number) & bit) : (decided.setOpen[g] as number) & bit)
          this.setUp[g] = (this.setUp[g] as number) | bit;
      }
    }
    return total;
  }
}
