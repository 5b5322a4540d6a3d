import { MINUTES_TOLERANCE } from './cost.ts';
import type { Decided } from './decided.ts';
import type { Model } from './model.ts';

/** Rounds without a better bound after which the step is cut: at the root, where speed counts, and on a branch. */
export const PATIENCE_ROOT = 6;
const PATIENCE_BRANCH = 12;
const STEP_CUT = 0.6;
const STEP_LEAST = 0.004;
/** Share of the newest gradient in the direction followed (the rest is the direction before). */
const NEW_SHARE = 0.5;
/** Minutes are priced in money a minute; times this over a job's mean minutes their gradients have the size of the others. */
const MINUTES_SCALE = 0.35;
/** How far below its computed value a bound is stated, relative: sums of a few thousand doubles err by less than 1e-12. */
const BOUND_MARGIN = 1e-10;
/** While no plan is known, the climb aims this share above the bound it has. */
const AIM_ABOVE = 0.05;
/** The averages of the answers look back about this many rounds. */
const AVERAGED_ROUNDS = 40;

/** A set of prices: what each job pays to each of its set-ups on each slot, and what a minute costs on each slot. */
export interface Prices {
  /** `use[u * nodes + t]` ≥ 0. */
  readonly use: Float64Array;
  /** `minute[t]` ≥ 0. */
  readonly minute: Float64Array;
}

/** Prices as the search tree keeps them: half the memory, and any prices give a true bound. */
export interface PricesKept {
  readonly use: Float32Array | Float64Array;
  readonly minute: Float32Array | Float64Array;
}

/** Prices of nothing. */
export function freePrices(model: Model): Prices {
  return { use: new Float64Array(model.useJob.length * model.nodes), minute: new Float64Array(model.nodes) };
}

/** Write one set of prices over another. */
export function copyPrices(to: Prices, from: Prices): void {
  to.use.set(from.use);
  to.minute.set(from.minute);
}

/**
 * The Lagrangian bound. Given prices, every job looks for its own shortest path and every slot decides for itself what to set up:
 * the sum of these independent optima is never above the optimum of the whole, whatever the prices. `climb` looks for prices that
 * make it high, by steps along averaged subgradients; the best reachable is the value of the linear relaxation.
 */
export class Pricing {
  readonly model: Model;
  readonly now: Prices;
  readonly best: Prices;
  /** The bound at the best prices of the last climb. */
  bound = Number.NEGATIVE_INFINITY;
  /** Jobs' paths and slots' set-ups at the prices last evaluated. */
  readonly visits: Int32Array;
  readonly setUp: Int32Array;
  days = 0;
  /** Averages of the slots' and set-ups' answers along the climb: a hint at the fractional optimum. */
  readonly setShare: Float64Array;
  readonly dayShare: Float64Array;
  /** While `counting`: how often each job was on each slot during the climb, `visitCount[j * nodes + t]`. */
  readonly visitCount: Float64Array;
  counting = false;
  /** Shortest paths solved so far. */
  work = 0;

  #step = 1;
  #since = 0;
  #patience = 0;
  #rounds = 0;
  readonly #minutesScale: number;
  readonly #direction: Prices;
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
    this.model = model;
    this.now = freePrices(model);
    this.best = freePrices(model);
    this.#direction = freePrices(model);
    const minutes = model.jobMinutes.reduce((sum, of) => sum + of, 0);
    this.#minutesScale = minutes > 0 ? (MINUTES_SCALE * model.jobs) / minutes : 1;
    this.visits = new Int32Array(model.jobs);
    this.setUp = new Int32Array(model.groups);
    this.visitCount = new Float64Array(model.jobs * model.nodes);
    this.setShare = new Float64Array(model.groups * model.nodes);
    this.dayShare = new Float64Array(model.nodes);
    this.#reduced = new Float64Array(model.groups * model.nodes);
    this.#jobPrice = new Float64Array(model.nodes);
    this.#reach = new Float64Array(model.nodes);
    this.#before = new Int32Array(model.nodes);
    this.#arcs = new Float64Array((model.jobs * model.nodes * (model.nodes - 1)) / 2);
    this.#arcStart = new Int32Array(model.jobs * model.nodes);
    this.#arcFirst = new Int32Array(model.jobs * model.nodes);
    this.#open = new Int32Array(model.nodes);
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

  /** The bound at the present prices under what is decided; Infinity when a job has no path left. Never above the true optimum. */
  evaluate(decided: Decided): number {
    const paths = this.#jobsOptimum(decided);
    if (paths === Number.POSITIVE_INFINITY) return paths;
    const value = paths + this.#slotsOptimum(decided);
    return value - BOUND_MARGIN * (1 + Math.abs(value));
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
      this.#average(decided, 1 / Math.min(this.#rounds + 1, AVERAGED_ROUNDS));
      const norm = this.#turn(this.#rounds === 0 ? 1 : NEW_SHARE);
      this.#rounds++;
      if (norm < 1e-12) return true;
      const aim = target < Number.POSITIVE_INFINITY ? target : this.bound + AIM_ABOVE * (1 + Math.abs(this.bound));
      this.#move((this.#step * (aim - value)) / norm);
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

  /** Fold the present answers into the running averages. */
  #average(decided: Decided, share: number): void {
    const { nodes, groups } = this.model;
    for (let t = 1; t < nodes - 1; t++) {
      const day = ((this.days | decided.dayOpen) >>> t) & 1;
      this.dayShare[t] = (this.dayShare[t] as number) * (1 - share) + share * day;
      for (let g = 0, at = t; g < groups; g++, at += nodes)
        this.setShare[at] =
          (this.setShare[at] as number) * (1 - share) + share * (((this.setUp[g] as number) >>> t) & 1);
    }
  }

  /** Turn the direction towards the newest subgradient; the squared length of its useful part. */
  #turn(newShare: number): number {
    const { nodes, useJob, useGroup, hasCapacity } = this.model;
    const { use } = this.now;
    const direction = this.#direction.use;
    const oldShare = 1 - newShare;
    for (let k = 0; k < direction.length; k++) direction[k] = (direction[k] as number) * oldShare;
    for (let u = 0; u < useJob.length; u++) {
      const does = this.visits[useJob[u] as number] as number;
      const set = this.setUp[useGroup[u] as number] as number;
      for (let rest = does & ~set; rest !== 0; rest &= rest - 1) {
        const at = u * nodes + 31 - Math.clz32(rest & -rest);
        direction[at] = (direction[at] as number) + newShare;
      }
      for (let rest = set & ~does; rest !== 0; rest &= rest - 1) {
        const at = u * nodes + 31 - Math.clz32(rest & -rest);
        direction[at] = (direction[at] as number) - newShare;
      }
    }
    let norm = 0;
    for (let k = 0; k < direction.length; k++) {
      const turned = direction[k] as number;
      if (turned > 0 || (use[k] as number) > 0) norm += turned * turned;
    }
    return hasCapacity ? norm + this.#turnMinutes(newShare) : norm;
  }

  #turnMinutes(newShare: number): number {
    const { nodes, jobs, groups, jobMinutes, groupMinutes, capacity } = this.model;
    const direction = this.#direction.minute;
    let norm = 0;
    for (let t = 1; t < nodes - 1; t++) {
      let over = (this.days >>> t) & 1 ? -(capacity[t] as number) : 0;
      for (let j = 0; j < jobs; j++) if (((this.visits[j] as number) >>> t) & 1) over += jobMinutes[j] as number;
      for (let g = 0; g < groups; g++) if (((this.setUp[g] as number) >>> t) & 1) over += groupMinutes[g] as number;
      const turned = (1 - newShare) * (direction[t] as number) + newShare * over * this.#minutesScale;
      direction[t] = turned;
      if (turned > 0 || (this.now.minute[t] as number) > 0) norm += turned * turned;
    }
    return norm;
  }

  #move(step: number): void {
    const { use, minute } = this.now;
    const direction = this.#direction;
    for (let k = 0; k < use.length; k++) {
      const price = (use[k] as number) + step * (direction.use[k] as number);
      use[k] = Math.max(price, 0);
    }
    if (!this.model.hasCapacity) return;
    for (let t = 1; t < minute.length - 1; t++) {
      const price = (minute[t] as number) + step * (direction.minute[t] as number) * this.#minutesScale;
      minute[t] = Math.max(price, 0);
    }
  }
}
