import type { Model } from './model.ts';
import { LEAST_GAIN, Shares } from './shares.ts';

/** Beginnings of rhythms looked at before the search of one group is broken off with the bound it has. */
const LOOKS_MOST = 4000;
/** As much work as one shortest path: this many looks, times members. */
const LOOKS_A_PATH = 12;

/**
 * One group by itself, solved exactly: on which slots is it best set up, when setting up on slot `t` costs `open[t]`, a job pays
 * `pay` for being there, and every member takes its cheapest path over the slots set up?
 *
 * Slots are decided one after the other, soonest first, all 2^slots ways if need be. What is still to come is bounded by the
 * relaxation with shares, improved first: good shares leave few beginnings worth a look.
 */
export class Rhythm extends Shares {
  /** The best rhythm found, as bits of slots; `visits` are the paths over it. */
  best = 0;
  /** No rhythm costs less than this. */
  value = 0;

  /** By `t * members + k`: cost of member `k` up to slot `t`, which the rhythm begun has. */
  readonly #reach: Float64Array;
  readonly #stack: Int32Array;
  readonly #along: Float64Array;
  /** By `t * members + k`: the earliest slot from which member `k` may go on to `t` or later. */
  readonly #oldest: Int32Array;
  readonly #before: Int32Array;
  #cost = 0;
  #leastLeft = 0;
  #looks = 0;

  constructor(model: Model, group: number, uses: readonly number[]) {
    super(model, group, uses);
    this.#reach = new Float64Array(model.nodes * uses.length);
    this.#stack = new Int32Array(model.nodes);
    this.#along = new Float64Array(model.nodes);
    this.#before = new Int32Array(model.nodes);
    this.#oldest = new Int32Array(model.nodes * uses.length);
    this.#findOldest();
  }

  /** Older slots than these lead nowhere any more: most looks then weigh only a few. */
  #findOldest(): void {
    const { members, arc } = this;
    const nodes = this.slots + 2;
    for (let k = 0; k < members; k++) {
      let oldest = nodes;
      for (let t = nodes - 1; t >= 1; t--) {
        for (let s = 0; s < Math.min(t, oldest); s++)
          if ((arc[(t * nodes + s) * members + k] as number) < Number.POSITIVE_INFINITY) oldest = s;
        this.#oldest[t * members + k] = oldest;
      }
    }
  }

  /**
   * Find the best rhythm that leaves out the slots in `closed` and has those in `must`, starting from the one in `best`; `rounds` go
   * into the shares first. False when some member has no path left.
   */
  solve(closed: number, must: number, rounds: number): boolean {
    const all = ((1 << (this.slots + 1)) - 2) & ~closed;
    this.closed = closed;
    this.must = must;
    this.best = (this.best & all) | must;
    this.#cost = this.#walk(this.best);
    if (this.#cost === Number.POSITIVE_INFINITY) {
      this.best = all;
      this.#cost = this.#walk(all);
      if (this.#cost === Number.POSITIVE_INFINITY) return false;
    }
    const relaxed = this.improve(rounds, this.#cost);
    this.#leastLeft = Number.POSITIVE_INFINITY;
    this.#looks = 0;
    this.#reach.fill(0, 0, this.members);
    this.#stack[0] = 0;
    this.#goOn(relaxed, 1, 1, 0, 0);
    this.work += (this.#looks * this.members) / LOOKS_A_PATH;
    this.value = Math.min(this.#cost, this.#leastLeft);
    this.#walk(this.best);
    return true;
  }

  /** What the best rhythm found costs: its value, unless the search was broken off. */
  get cost(): number {
    return this.#cost;
  }

  /** How much the value rises at least when slot `t` is left out (`closing[at + t]`), and when it is set up, as last solved. */
  measureGains(closing: Float64Array, opening: Float64Array, at: number): void {
    this.measure(closing, opening, at, this.value);
  }

  /** What a rhythm costs, every member on its cheapest path over it; the paths go to `visits`. Infinity when one has none. */
  #walk(rhythm: number): number {
    const { members, open, pay } = this;
    const nodes = this.slots + 2;
    const arc = this.arc;
    const stops = this.#stack;
    const along = this.#along;
    const before = this.#before;
    let count = 1;
    let total = 0;
    stops[0] = 0;
    for (let rest = rhythm; rest !== 0; rest &= rest - 1) {
      const t = 31 - Math.clz32(rest & -rest);
      stops[count++] = t;
      total += open[t] as number;
    }
    stops[count] = nodes - 1;
    for (let k = 0; k < members; k++) {
      for (let i = 1; i <= count; i++) {
        const t = stops[i] as number;
        let least = Number.POSITIVE_INFINITY;
        for (let h = 0; h < i; h++) {
          const value = (along[h] as number) + (arc[(t * nodes + (stops[h] as number)) * members + k] as number);
          if (value >= least) continue;
          least = value;
          before[i] = h;
        }
        along[i] = i < count ? least + (pay[t * members + k] as number) : least;
      }
      total += along[count] as number;
      if (total === Number.POSITIVE_INFINITY) return total;
      let bits = 0;
      for (let i = before[count] as number; i > 0; i = before[i] as number) bits |= 1 << (stops[i] as number);
      this.visits[k] = bits;
    }
    this.work += members / 4;
    return total;
  }

  /** Look into a beginning if it may still lead to something better; else remember how little what is left out could cost. */
  #goOn(bound: number, t: number, count: number, rhythm: number, cost: number): void {
    if (bound >= this.#cost - LEAST_GAIN || this.#looks >= LOOKS_MOST)
      this.#leastLeft = Math.min(this.#leastLeft, bound);
    else if (t <= this.slots) this.#look(t, count, rhythm, cost);
    else {
      this.#cost = bound;
      this.best = rhythm;
    }
  }

  /** Slots before `t` are decided: `rhythm`, in `#stack` with 0 before it, at `cost`. Try `t` both ways. */
  #look(t: number, count: number, rhythm: number, cost: number): void {
    const { members, pay } = this;
    const nodes = this.slots + 2;
    const arc = this.arc;
    const toGo = this.toGo;
    const reach = this.#reach;
    const stack = this.#stack;
    const oldest = this.#oldest;
    const here = t * members;
    const row = t * nodes * members;
    const rowAfter = row + nodes * members;
    this.#looks++;
    let bound = cost + (this.tail[t + 1] as number);
    let boundOpen = bound + (this.open[t] as number);
    for (let k = 0; k < members; k++) {
      let least = Number.POSITIVE_INFINITY;
      let stop = Number.POSITIVE_INFINITY;
      for (let i = count - 1; i >= 0 && (stack[i] as number) >= (oldest[here + k] as number); i--) {
        const s = (stack[i] as number) * members + k;
        const until = reach[s] as number;
        const passes = until + (toGo[rowAfter + s] as number);
        if (passes < least) least = passes;
        const stops = until + (arc[row + s] as number);
        if (stops < stop) stop = stops;
      }
      stop += pay[here + k] as number;
      reach[here + k] = stop;
      bound += least;
      const through = stop + (toGo[rowAfter + here + k] as number);
      boundOpen += Math.min(through, least);
    }
    const bit = 1 << t;
    if (this.must & bit) bound = Number.POSITIVE_INFINITY;
    if (this.closed & bit) boundOpen = Number.POSITIVE_INFINITY;
    if (bound <= boundOpen) this.#goOn(bound, t + 1, count, rhythm, cost);
    if (boundOpen < Number.POSITIVE_INFINITY) {
      stack[count] = t;
      this.#goOn(boundOpen, t + 1, count + 1, rhythm | bit, cost + (this.open[t] as number));
    }
    if (bound > boundOpen && bound < Number.POSITIVE_INFINITY) this.#goOn(bound, t + 1, count, rhythm, cost);
  }
}
