import type { Decided } from './decided.ts';
import type { Model } from './model.ts';
import { addAt, type Prices } from './prices.ts';
import type { Rhythm } from './rhythm.ts';

/** Rhythms remembered of one group; the one not the cheapest for longest makes room. */
const KNOWN_MOST = 120;
/** As much work as one shortest path: this many terms of a price. */
const TERMS_A_PATH = 350;

/**
 * The rhythms one group was answered with before, each with its members' paths. At other prices the cost of each is a sum of a few
 * dozen terms; the cheapest of them is never below the exact answer, is often the same, and is there in a fiftieth of its time.
 */
export class KnownRhythms {
  /** Shortest paths that would have taken as long as what was priced here. */
  work = 0;
  /** The rhythm last found cheapest, as bits of slots. */
  rhythm = 0;
  readonly #model: Model;
  readonly #group: number;
  /** By member: its job, and by further use of any member: the use, and which member. */
  readonly #jobs: Int32Array;
  readonly #uses: Int32Array;
  readonly #useMember: Int32Array;
  /** By rhythm: its bits, its cost before all prices, when it was last of use; by rhythm and slot: its minutes; and its paths. */
  readonly #bits = new Int32Array(KNOWN_MOST);
  readonly #base = new Float64Array(KNOWN_MOST);
  readonly #lastUsed = new Int32Array(KNOWN_MOST);
  readonly #minutes: Float64Array;
  readonly #visits: Int32Array;
  #count = 0;
  #clock = 0;
  #cheapest = 0;

  /** `further`: 1 for uses that are priced by themselves, beside the one by which a job belongs to its group. */
  constructor(model: Model, { group, uses }: Rhythm, further: Uint8Array) {
    this.#model = model;
    this.#group = group;
    this.#jobs = Int32Array.from(uses, (u) => model.useJob[u] as number);
    const priced: number[] = [];
    const members: number[] = [];
    this.#jobs.forEach((j, k) => {
      for (let u = model.useStart[j] as number; u < (model.useStart[j + 1] as number); u++)
        if (further[u]) {
          priced.push(u);
          members.push(k);
        }
    });
    this.#uses = Int32Array.from(priced);
    this.#useMember = Int32Array.from(members);
    this.#minutes = new Float64Array(KNOWN_MOST * model.nodes);
    this.#visits = new Int32Array(KNOWN_MOST * uses.length);
  }

  /** Member `k`'s path over the rhythm last found cheapest. */
  visits(k: number): number {
    return this.#visits[this.#cheapest * this.#jobs.length + k] as number;
  }

  /** Remember what was solved at these prices; `open`: what setting up costs by slot, without its minutes. */
  add({ best, visits, cost }: Rhythm, open: Float64Array, now: Prices): void {
    const members = this.#jobs.length;
    this.#clock++;
    const same = this.#find(best, visits);
    const at = same ?? this.#room();
    this.#lastUsed[at] = this.#clock;
    if (same !== null) return;
    this.#bits[at] = best;
    this.#visits.set(visits, at * members);
    const { nodes, groupMinutes, jobMinutes } = this.#model;
    const minutes = this.#minutes.subarray(at * nodes, (at + 1) * nodes).fill(0);
    addAt(minutes, best, groupMinutes[this.#group] as number);
    for (let k = 0; k < members; k++)
      addAt(minutes, visits[k] as number, jobMinutes[this.#jobs[k] as number] as number);
    this.#base[at] = 0;
    this.#base[at] = cost - this.#price(at, open, now);
  }

  /** The cost of the cheapest known rhythm that what is decided allows; Infinity when it allows none. */
  findCheapest(open: Float64Array, now: Prices, decided: Decided): number {
    const closed = decided.setClosed[this.#group] as number;
    const must = decided.setOpen[this.#group] as number;
    let least = Number.POSITIVE_INFINITY;
    for (let at = 0; at < this.#count; at++) {
      const bits = this.#bits[at] as number;
      if ((bits & closed) !== 0 || (bits & must) !== must || !this.#furtherAllowed(at, decided)) continue;
      const cost = this.#price(at, open, now);
      if (cost >= least) continue;
      least = cost;
      this.#cheapest = at;
    }
    if (least === Number.POSITIVE_INFINITY) return least;
    this.#lastUsed[this.#cheapest] = this.#clock;
    this.rhythm = this.#bits[this.#cheapest] as number;
    return least;
  }

  #furtherAllowed(at: number, { setClosed }: Decided): boolean {
    const { useGroup } = this.#model;
    const row = at * this.#jobs.length;
    for (let i = 0; i < this.#uses.length; i++) {
      const closed = setClosed[useGroup[this.#uses[i] as number] as number] as number;
      if (((this.#visits[row + (this.#useMember[i] as number)] as number) & closed) !== 0) return false;
    }
    return true;
  }

  #price(at: number, open: Float64Array, { use, minute }: Prices): number {
    const { nodes, slots, hasCapacity } = this.#model;
    const row = at * this.#jobs.length;
    let cost = this.#base[at] as number;
    for (let rest = this.#bits[at] as number; rest !== 0; rest &= rest - 1)
      cost += open[31 - Math.clz32(rest & -rest)] as number;
    if (hasCapacity)
      for (let t = 1, m = at * nodes + 1; t <= slots; t++, m++)
        cost += (this.#minutes[m] as number) * (minute[t] as number);
    for (let i = 0; i < this.#uses.length; i++) {
      const prices = (this.#uses[i] as number) * nodes;
      for (let rest = this.#visits[row + (this.#useMember[i] as number)] as number; rest !== 0; rest &= rest - 1)
        cost += use[prices + 31 - Math.clz32(rest & -rest)] as number;
    }
    this.work += (slots + this.#uses.length) / TERMS_A_PATH;
    return cost;
  }

  #find(bits: number, visits: Int32Array): number | null {
    const members = this.#jobs.length;
    for (let at = 0; at < this.#count; at++)
      if (this.#bits[at] === bits && visits.every((path, k) => this.#visits[at * members + k] === path)) return at;
    return null;
  }

  #room(): number {
    if (this.#count < KNOWN_MOST) return this.#count++;
    let oldest = 0;
    for (let at = 1; at < KNOWN_MOST; at++)
      if ((this.#lastUsed[at] as number) < (this.#lastUsed[oldest] as number)) oldest = at;
    return oldest;
  }
}
