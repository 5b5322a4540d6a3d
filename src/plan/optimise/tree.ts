import { copyDecided, type Decided, undecided } from './decided.ts';
import { Gains } from './gains.ts';
import type { Model } from './model.ts';
import { PathFinder } from './paths.ts';
import type { PricesKept, Pricing } from './prices.ts';

/** Rounds of climbing: on a branch taken up, and on a branch only tried. */
export const TUNE = { taken: 40, tried: 12, decisions: 6, step: 0.5, day: 3, gain: 1e-3 };
/** Decisions tried on both sides before one is chosen. */
/** Above this many open branches the deepest is taken up instead of the lowest, to keep memory bounded. */
const BRANCHES_MANY = 20_000;

interface Branch {
  readonly decided: Decided;
  readonly prices: PricesKept;
  readonly bound: number;
}

interface Decision {
  /** A group, or -1 for the whole day. */
  readonly g: number;
  readonly t: number;
  readonly score: number;
}

/**
 * Branch and bound over "is this day open?" and "is this set up on that day?", lowest bound first. Each branch starts from its
 * parent's prices. The proven bound of the whole is the lowest bound of any branch still open.
 */
export class Tree {
  readonly pricing: Pricing;
  /** Branches taken up so far. */
  taken = 0;
  /** The slots' own answers on the branch last taken up: a hint for a plan. Null when the branch was cut. */
  hint: Int32Array | null = null;
  /** A leaf's openings, where everything was decided: worth turning into a plan. */
  readonly #model: Model;
  readonly #gains: Gains;
  readonly #paths: PathFinder;
  readonly #heap: Branch[] = [];
  #provenBelow = Number.POSITIVE_INFINITY;

  constructor(model: Model, pricing: Pricing) {
    this.#model = model;
    this.pricing = pricing;
    this.#gains = new Gains(model);
    this.#paths = new PathFinder(model);
    this.#push(this.#keep(undecided(model), pricing.bound));
  }

  /** Everything has been looked at: nothing better than the last target exists. */
  get done(): boolean {
    return this.#heap.length === 0;
  }

  /** No plan costs less than this, or than the cost of the plan in hand. */
  get bound(): number {
    return Math.min(this.#provenBelow, this.#heap[0]?.bound ?? Number.POSITIVE_INFINITY);
  }

  get work(): number {
    return this.pricing.work + this.#gains.work;
  }

  /** Take up one branch. Only plans cheaper than `target` are of interest. */
  step(target: number): void {
    this.hint = null;
    const branch = this.#pop();
    if (branch === undefined || branch.bound >= target) {
      this.#heap.length = 0;
      return;
    }
    this.taken++;
    const { pricing } = this;
    const decided = copyDecided(branch.decided);
    const bound = Math.max(branch.bound, pricing.climbFrom(branch.prices, decided, TUNE.taken, target, TUNE.step));
    if (bound >= target) return;
    this.hint = pricing.setUp.slice();
    const decisions = this.#fixAndList(decided, target);
    if (decisions === null) return;
    if (decisions.length === 0) this.#close(decided, bound);
    else this.#split(decided, bound, decisions, target);
  }

  /** Decide what the gains already decide; what is left to decide, most promising first, or null when no plan is left. */
  #fixAndList(decided: Decided, target: number): Decision[] | null {
    const { slots, groups, nodes } = this.#model;
    const { pricing } = this;
    const gains = this.#gains;
    const bound = gains.measure(pricing, decided);
    const list: Decision[] = [];
    for (let t = 1; t <= slots; t++)
      for (let g = -1; g < groups; g++) {
        const at = g * nodes + t;
        const known =
          g < 0
            ? decided.dayOpen | decided.dayClosed
            : (decided.setOpen[g] as number) | (decided.setClosed[g] as number);
        if ((known >>> t) & 1) continue;
        const closing = (g < 0 ? gains.dayClosed[t] : gains.setClosed[at]) as number;
        const opening = (g < 0 ? gains.dayOpen[t] : gains.setOpen[at]) as number;
        const cannotClose = bound + closing >= target;
        const cannotOpen = bound + opening >= target;
        if (cannotClose && cannotOpen) return null;
        if (cannotClose || cannotOpen) this.#decide(decided, g, t, cannotClose);
        else {
          const share = (g < 0 ? pricing.dayShare[t] : pricing.setShare[at]) as number;
          const split = 0.02 + Math.min(share, 1 - share);
          list.push({ g, t, score: split * (g < 0 ? TUNE.day : 1) + TUNE.gain * (Math.min(closing, 50) + Math.min(opening, 50)) });
        }
      }
    return list.sort((a, b) => b.score - a.score);
  }

  #decide(decided: Decided, g: number, t: number, open: boolean): void {
    const bit = 1 << t;
    if (open) {
      decided.dayOpen |= bit;
      if (g >= 0) decided.setOpen[g] = (decided.setOpen[g] as number) | bit;
    } else if (g >= 0) decided.setClosed[g] = (decided.setClosed[g] as number) | bit;
    else {
      decided.dayClosed |= bit;
      for (let k = 0; k < decided.setClosed.length; k++) decided.setClosed[k] = (decided.setClosed[k] as number) | bit;
    }
  }

  /** Try both sides of the most promising decisions a little way and split by the one that raises the bounds most. */
  #split(decided: Decided, bound: number, decisions: readonly Decision[], target: number): void {
    const from = { use: this.pricing.best.use.slice(), minute: this.pricing.best.minute.slice() };
    const room = target - bound;
    let chosen: Branch[] = [];
    let chosenScore = -1;
    for (const { g, t } of decisions.slice(0, TUNE.decisions)) {
      const sides: Branch[] = [];
      let score = 1;
      let cut = false;
      for (const open of [false, true]) {
        const side = copyDecided(decided);
        this.#decide(side, g, t, open);
        const reached = Math.max(bound, this.pricing.climbFrom(from, side, TUNE.tried, target, TUNE.step));
        if (reached >= target) cut = true;
        else sides.push(this.#keep(side, reached));
        score *= Math.max(Math.min(reached - bound, room), 1e-3 * room);
      }
      if (cut || score > chosenScore) {
        chosenScore = score;
        chosen = sides;
      }
      if (cut) break;
    }
    for (const side of chosen) this.#push(side);
  }

  /** Everything is decided. Without a limit on hours the branch has one best plan, and its cost is the bound. */
  #close(decided: Decided, bound: number): void {
    const { jobs, slots, groups, useStart, useGroup, hasCapacity, dayCost, groupCost } = this.#model;
    if (hasCapacity) {
      this.#provenBelow = Math.min(this.#provenBelow, bound);
      return;
    }
    let cost = 0;
    for (let j = 0; j < jobs; j++) {
      let allowed = ~decided.dayClosed;
      for (let u = useStart[j] as number; u < (useStart[j + 1] as number); u++)
        allowed &= decided.setOpen[useGroup[u] as number] as number;
      cost += this.#paths.cheapest(j, allowed);
    }
    for (let t = 1; t <= slots; t++) {
      if ((decided.dayOpen >>> t) & 1) cost += dayCost[t] as number;
      for (let g = 0; g < groups; g++) if (((decided.setOpen[g] as number) >>> t) & 1) cost += groupCost[g] as number;
    }
    this.hint = decided.setOpen.slice();
    this.#provenBelow = Math.min(this.#provenBelow, Math.max(bound, cost));
  }

  #keep(decided: Decided, bound: number): Branch {
    const { best } = this.pricing;
    return { decided, bound, prices: { use: Float32Array.from(best.use), minute: Float32Array.from(best.minute) } };
  }

  #push(branch: Branch): void {
    const heap = this.#heap;
    let at = heap.push(branch) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if ((heap[above] as Branch).bound <= branch.bound) break;
      heap[at] = heap[above] as Branch;
      at = above;
    }
    heap[at] = branch;
  }

  #pop(): Branch | undefined {
    const heap = this.#heap;
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return last;
    // With too many branches open, the newest one is gone into until it is closed.
    if (heap.length > BRANCHES_MANY) return last;
    const top = heap[0] as Branch;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= heap.length) break;
      if (below + 1 < heap.length && (heap[below + 1] as Branch).bound < (heap[below] as Branch).bound) below++;
      if (last.bound <= (heap[below] as Branch).bound) break;
      heap[at] = heap[below] as Branch;
      at = below;
    }
    heap[at] = last;
    return top;
  }
}
