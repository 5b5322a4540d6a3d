import type { Model } from './model.ts';
import { bitCount, PathMemory } from './paths.ts';

/** An improvement smaller than this is rounding, not progress. */
const LEAST_GAIN = 1e-7;

/**
 * Local search over *which set-up is open on which slot*, for plans without a limit on hours. With the openings given, each job is
 * a shortest path over the slots where all its set-ups are open, so a plan is nothing but its openings, and a change of openings
 * re-solves only the jobs it touches.
 */
export class Openings {
  readonly model: Model;
  /** Slots open, as bits, by group; every one of them is used by some job. */
  readonly open: Int32Array;
  /** The path of each job, as bits. */
  readonly visits: Int32Array;
  cost = Number.POSITIVE_INFINITY;

  readonly #paths: PathMemory;
  #minute: Float64Array | null = null;
  readonly #value: Float64Array;
  readonly #trialOpen: Int32Array;
  readonly #trialValue: Float64Array;
  readonly #trialVisits: Int32Array;
  readonly #touched: Int32Array;
  #touchedCount = 0;
  readonly #stamp: Int32Array;
  #stampNow = 0;
  readonly #keptOpen: Int32Array;

  constructor(model: Model) {
    this.model = model;
    this.#paths = new PathMemory(model);
    this.open = new Int32Array(model.groups);
    this.visits = new Int32Array(model.jobs);
    this.#value = new Float64Array(model.jobs);
    this.#trialOpen = new Int32Array(model.groups);
    this.#keptOpen = new Int32Array(model.groups);
    this.#trialValue = new Float64Array(model.jobs);
    this.#trialVisits = new Int32Array(model.jobs);
    this.#touched = new Int32Array(model.jobs);
    this.#stamp = new Int32Array(model.jobs);
  }

  /** Shortest paths solved so far, those remembered counted a tenth: the measure of work. */
  get work(): number {
    return this.#paths.solved + 0.1 * this.#paths.asked;
  }

  /** From now on a minute on slot `t` costs `minute[t]`: how the search is kept off slots that are short of hours. */
  priceMinutes(minute: Float64Array): void {
    this.#minute = minute.slice();
    this.#paths.priceMinutes(minute);
  }

  /** Start from these openings; the cost is Infinity when some job has no path left. */
  load(open: Int32Array): void {
    const { model } = this;
    this.open.set(open);
    for (let j = 0; j < model.jobs; j++) {
      this.#value[j] = this.#paths.cheapest(j, this.#allowed(j, open));
      this.visits[j] = this.#paths.visits;
    }
    this.#closeUnused();
  }

  /** Take improving steps until none is left: single openings, shifts, whole days closed, moved, opened. */
  descend(): void {
    if (this.cost === Number.POSITIVE_INFINITY) return;
    this.#trialOpen.set(this.open);
    while (this.#toggles(false) || this.#shifts() || this.#dayMoves() || this.#dayOpenings());
  }

  #allowed(j: number, open: Int32Array): number {
    const { useStart, useGroup } = this.model;
    let allowed = -1;
    for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++)
      allowed &= open[useGroup[u] as number] as number;
    return allowed;
  }

  /** What the openings themselves cost: set-ups and days. */
  #openCost(open: Int32Array): number {
    const { groups, groupCost, groupMinutes, dayCost } = this.model;
    let cost = 0;
    let days = 0;
    for (let g = 0; g < groups; g++) {
      const bits = open[g] as number;
      cost += (groupCost[g] as number) * bitCount(bits);
      if (this.#minute !== null)
        for (let rest = bits; rest !== 0; rest &= rest - 1)
          cost += (groupMinutes[g] as number) * (this.#minute[31 - Math.clz32(rest & -rest)] as number);
      days |= bits;
    }
    for (let rest = days; rest !== 0; rest &= rest - 1) cost += dayCost[31 - Math.clz32(rest & -rest)] as number;
    return cost;
  }

  #closeUnused(): void {
    const { model, visits } = this;
    let cost = 0;
    for (let j = 0; j < model.jobs; j++) cost += this.#value[j] as number;
    for (let g = 0; g < model.groups; g++) {
      let used = 0;
      for (let k = model.groupStart[g] as number; k < (model.groupStart[g + 1] as number); k++)
        used |= visits[model.groupJobs[k] as number] as number;
      this.open[g] = (this.open[g] as number) & used;
    }
    this.cost = cost + this.#openCost(this.open);
  }

  /** The cost with the trial openings in place of the present ones. */
  #evaluateTrial(): number {
    const { model, open, visits } = this;
    const trial = this.#trialOpen;
    this.#touchedCount = 0;
    this.#stampNow++;
    let cost = this.cost - this.#openCost(open) + this.#openCost(trial);
    for (let g = 0; g < model.groups; g++) {
      const opened = (trial[g] as number) & ~(open[g] as number);
      if (trial[g] === open[g]) continue;
      for (let k = model.groupStart[g] as number; k < (model.groupStart[g + 1] as number); k++) {
        const j = model.groupJobs[k] as number;
        if (this.#stamp[j] === this.#stampNow) continue;
        const allowed = this.#allowed(j, trial);
        const loses = (visits[j] as number) & ~allowed;
        const gains = opened & allowed & (model.jobSlots[j] as number);
        if (loses === 0 && gains === 0) continue;
        this.#stamp[j] = this.#stampNow;
        const value = this.#paths.cheapest(j, allowed);
        if (value === Number.POSITIVE_INFINITY) return value;
        this.#trialValue[j] = value;
        this.#trialVisits[j] = this.#paths.visits;
        this.#touched[this.#touchedCount++] = j;
        cost += value - (this.#value[j] as number);
      }
    }
    return cost;
  }

  #takeTrial(): void {
    for (let k = 0; k < this.#touchedCount; k++) {
      const j = this.#touched[k] as number;
      this.#value[j] = this.#trialValue[j] as number;
      this.visits[j] = this.#trialVisits[j] as number;
    }
    this.open.set(this.#trialOpen);
    this.#closeUnused();
    this.#trialOpen.set(this.open);
  }

  /** Keep the trial when it is cheaper; either way the trial is the present state again afterwards. */
  #improves(): boolean {
    if (this.#evaluateTrial() < this.cost - LEAST_GAIN) {
      this.#takeTrial();
      return true;
    }
    this.#trialOpen.set(this.open);
    return false;
  }

  #toggles(closingOnly: boolean): boolean {
    const { groups, slots } = this.model;
    let better = false;
    for (let g = 0; g < groups; g++)
      for (let t = 1; t <= slots; t++) {
        if (closingOnly && (((this.open[g] as number) >>> t) & 1) === 0) continue;
        this.#trialOpen[g] = (this.open[g] as number) ^ (1 << t);
        if (this.#improves()) better = true;
      }
    return better;
  }

  #shifts(): boolean {
    const { groups, slots } = this.model;
    let better = false;
    for (let g = 0; g < groups; g++)
      for (let t = 1; t <= slots; t++)
        for (const by of [-2, -1, 1, 2]) {
          const to = t + by;
          const now = this.open[g] as number;
          if (((now >>> t) & 1) === 0) break;
          if (to < 1 || to > slots || ((now >>> to) & 1) === 1) continue;
          this.#trialOpen[g] = (now & ~(1 << t)) | (1 << to);
          if (this.#improves()) better = true;
        }
    return better;
  }

  /** Close whole days, or move all that is set up on one to a neighbour. */
  #dayMoves(): boolean {
    const { groups, slots } = this.model;
    let better = false;
    for (let t = 1; t <= slots; t++)
      for (const by of [0, -1, 1, -2, 2]) {
        const to = t + by;
        if (to < 1 || to > slots) continue;
        let any = false;
        for (let g = 0; g < groups; g++) {
          const now = this.open[g] as number;
          if (((now >>> t) & 1) === 0) continue;
          any = true;
          this.#trialOpen[g] = by === 0 ? now & ~(1 << t) : (now & ~(1 << t)) | (1 << to);
        }
        if (!any) break;
        if (this.#improves()) better = true;
      }
    return better;
  }

  /** Open everything on a closed day, then close greedily what does not pay; keep the result only when it is cheaper. */
  #dayOpenings(): boolean {
    const { groups, slots } = this.model;
    let days = 0;
    for (let g = 0; g < groups; g++) days |= this.open[g] as number;
    for (let t = 1; t <= slots; t++) {
      if (((days >>> t) & 1) === 1) continue;
      const before = this.cost;
      this.#keptOpen.set(this.open);
      for (let g = 0; g < groups; g++) this.#trialOpen[g] = (this.open[g] as number) | (1 << t);
      this.#evaluateTrial();
      this.#takeTrial();
      while (this.#toggles(true));
      if (this.cost < before - LEAST_GAIN) return true;
      this.load(this.#keptOpen);
      this.#trialOpen.set(this.open);
    }
    return false;
  }
}
