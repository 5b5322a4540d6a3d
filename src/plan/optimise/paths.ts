import type { Model } from './model.ts';

/** Work space of `PathFinder`: one job's shortest path at a time. */
export class PathFinder {
  readonly #model: Model;
  readonly #list: Int32Array;
  readonly #reach: Float64Array;
  readonly #before: Int32Array;
  /** The slots of the last path found, as bits. */
  visits = 0;

  constructor(model: Model) {
    this.#model = model;
    this.#list = new Int32Array(model.nodes);
    this.#reach = new Float64Array(model.nodes);
    this.#before = new Int32Array(model.nodes);
  }

  /** Cost of the cheapest path of job `j` using only slots in `allowed` (bits); Infinity when there is none. Sets `visits`. */
  cheapest(j: number, allowed: number): number {
    return this.cheapestPriced(j, allowed, null, 0);
  }

  /** The same, where standing on slot `t` costs `price[offset + t]` more. */
  cheapestPriced(j: number, allowed: number, price: Float64Array | null, offset: number): number {
    const { nodes, arc, jobSlots } = this.#model;
    const list = this.#list;
    const reach = this.#reach;
    const before = this.#before;
    let count = 1;
    list[0] = 0;
    reach[0] = 0;
    let bits = (allowed & (jobSlots[j] as number)) | (1 << (nodes - 1));
    while (bits !== 0) {
      const low = bits & -bits;
      bits ^= low;
      const t = 31 - Math.clz32(low);
      const row = (j * nodes + t) * nodes;
      let best = Number.POSITIVE_INFINITY;
      let from = -1;
      for (let k = 0; k < count; k++) {
        const value = (reach[k] as number) + (arc[row + (list[k] as number)] as number);
        if (value < best) {
          best = value;
          from = k;
        }
      }
      if (from < 0) continue;
      if (price !== null && t < nodes - 1) best += price[offset + t] as number;
      list[count] = t;
      reach[count] = best;
      before[count] = from;
      count++;
    }
    const last = count - 1;
    if (list[last] !== nodes - 1) {
      this.visits = 0;
      return Number.POSITIVE_INFINITY;
    }
    let visits = 0;
    for (let k = before[last] as number; k > 0; k = before[k] as number) visits |= 1 << (list[k] as number);
    this.visits = visits;
    return reach[last] as number;
  }
}

/** Entries remembered a job: a power of two. */
const REMEMBERED = 256;

/** Shortest paths at fixed prices, remembered: local search asks for the same job and the same slots again and again. */
export class PathMemory {
  readonly #model: Model;
  readonly #paths: PathFinder;
  readonly #key: Int32Array;
  readonly #cost: Float64Array;
  readonly #path: Int32Array;
  readonly #price: Float64Array;
  #priced = false;
  /** Paths asked for, and paths really solved. */
  asked = 0;
  solved = 0;
  /** The slots of the last path asked for, as bits. */
  visits = 0;

  constructor(model: Model) {
    this.#model = model;
    this.#paths = new PathFinder(model);
    this.#key = new Int32Array(model.jobs * REMEMBERED).fill(-1);
    this.#cost = new Float64Array(model.jobs * REMEMBERED);
    this.#path = new Int32Array(model.jobs * REMEMBERED);
    this.#price = new Float64Array(model.jobs * model.nodes);
  }

  /** From now on a minute on slot `t` costs `minute[t]`. */
  priceMinutes(minute: Float64Array): void {
    const { jobs, nodes, jobMinutes } = this.#model;
    for (let j = 0; j < jobs; j++)
      for (let t = 0; t < nodes; t++) this.#price[j * nodes + t] = (minute[t] as number) * (jobMinutes[j] as number);
    this.#priced = true;
    this.#key.fill(-1);
  }

  /** As `PathFinder.cheapest`, minutes priced. */
  cheapest(j: number, allowed: number): number {
    const key = allowed & (this.#model.jobSlots[j] as number);
    const at = j * REMEMBERED + (Math.imul(key, 0x9e3779b1) >>> 24);
    this.asked++;
    if (this.#key[at] !== key) {
      this.solved++;
      this.#cost[at] = this.#paths.cheapestPriced(j, key, this.#priced ? this.#price : null, j * this.#model.nodes);
      this.#path[at] = this.#paths.visits;
      this.#key[at] = key;
    }
    this.visits = this.#path[at] as number;
    return this.#cost[at] as number;
  }
}

/** Number of bits set. */
export function bitCount(bits: number): number {
  let v = bits - ((bits >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  return Math.imul((v + (v >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/** The slots in `bits`, rising. */
export function slotsOf(bits: number): number[] {
  const slots: number[] = [];
  for (let rest = bits; rest !== 0; rest &= rest - 1) slots.push(31 - Math.clz32(rest & -rest));
  return slots;
}

/** The bits of a list of slots. */
export function bitsOf(slots: readonly number[]): number {
  return slots.reduce((bits, slot) => bits | (1 << slot), 0);
}
