import { Ascent, BRANCH } from './ascent.ts';
import { copyDecided, type Decided, decideJob, decideSlot, undecided } from './decided.ts';
import { Gains } from './gains.ts';
import type { Model } from './model.ts';
import { addAt, keepPrices, type Prices, type PricesKept } from './prices.ts';
import type { Relaxation } from './relaxation.ts';
import type { Rhythms } from './rhythms.ts';

/** Evaluations: on a branch taken up, and on a branch only tried. */
const ROUNDS_TAKEN = 3;
const ROUNDS_TRIED = 1;
const STEP = 0.1;
/** Where all set-ups are decided, rounds of the quick relaxation, its step and its patience. */
const ROUNDS_QUICK = 60;
const ROUNDS_QUICK_TRIED = 6;
const STEP_QUICK = 0.15;
const PATIENCE_QUICK = 20;
/** Rounds over which jobs' visits are counted before jobs are decided. */
const ROUNDS_COUNTED = 20;
/** How much more a whole day counts than one set-up when the most promising decision is looked for. */
const DAY_WEIGHT = 20;
/** How much the gains at present prices count beside how undecided the averages are. */
const GAIN_WEIGHT = 0.05;
/** Above this many open branches the deepest is taken up instead of the lowest, to keep memory bounded. */
const BRANCHES_MANY = 20_000;

interface Branch {
  readonly decided: Decided;
  readonly prices: PricesKept;
  readonly rhythms: Int32Array;
  readonly bound: number;
}

interface Decision {
  readonly score: number;
  decide(decided: Decided, yes: boolean): void;
}

/**
 * Branch and bound over "is this day open?" and "is this set up on that day?", lowest bound first. Each branch starts from its
 * parent's prices. The proven bound of the whole is the lowest bound of any branch still open.
 */
export class Tree {
  /** Branches taken up so far. */
  taken = 0;
  /** What the slots chose to set up on the branch last taken up: a hint for a plan. Null when the branch was cut. */
  hint: Int32Array | null = null;
  /** The best plan of the branch last taken up, as bits by job, when nothing was left to decide on it; else null. */
  leaf: Int32Array | null = null;
  readonly #model: Model;
  readonly #relaxation: Relaxation;
  readonly #quick: Ascent;
  readonly #rhythms: Rhythms;
  readonly #strong: Ascent;
  readonly #gains: Gains;
  readonly #heap: Branch[] = [];
  #provenBelow = Number.POSITIVE_INFINITY;

  /** Start at the bound and prices that `root` has climbed to over `rhythms`; `quick` climbs over `relaxation`. */
  constructor(relaxation: Relaxation, quick: Ascent, rhythms: Rhythms, root: Ascent) {
    const { model } = rhythms;
    this.#model = model;
    this.#relaxation = relaxation;
    this.#quick = quick;
    this.#rhythms = rhythms;
    this.#strong = new Ascent(rhythms, BRANCH);
    this.#gains = new Gains(model);
    this.#push(this.#keep(undecided(model), root.bound, root.best));
  }

  /** Everything has been looked at: nothing better than the last target exists. */
  get done(): boolean {
    return this.#heap.length === 0;
  }

  /** No plan costs less than this, or than the cost of the plan in hand. */
  get bound(): number {
    return Math.min(this.#provenBelow, this.#heap[0]?.bound ?? Number.POSITIVE_INFINITY);
  }

  /** Take up one branch. Only plans cheaper than `target` are of interest. */
  step(target: number): void {
    this.hint = null;
    this.leaf = null;
    const branch = this.#pop();
    if (branch === undefined || branch.bound >= target) {
      this.#heap.length = 0;
      return;
    }
    this.taken++;
    const decided = copyDecided(branch.decided);
    if (this.#isSettled(decided)) this.#stepSettled(branch, decided, target);
    else this.#stepOpen(branch, decided, target);
  }

  /** Are all set-ups of all slots decided? */
  #isSettled({ setOpen, setClosed }: Decided): boolean {
    const all = (1 << (this.#model.slots + 1)) - 2;
    return setOpen.every((open, g) => ((open | (setClosed[g] as number)) & all) === all);
  }

  #stepOpen(branch: Branch, decided: Decided, target: number): void {
    const strong = this.#climbStrong(branch, decided, ROUNDS_TAKEN, target);
    if (strong.bound >= target) return;
    const bound = Math.max(branch.bound, strong.settle(decided));
    if (bound >= target) return;
    this.hint = this.#rhythms.setUp.slice();
    const decisions = this.#slotDecisions(decided, bound, target);
    if (decisions === null) return;
    if (decisions.length > 0) this.#split(decided, bound, decisions, target);
    else this.#stepSettled(this.#keep(decided, bound, strong.best), decided, target);
  }

  #stepSettled(branch: Branch, decided: Decided, target: number): void {
    const bound = Math.max(branch.bound, this.#climbQuick(branch.prices, decided, ROUNDS_QUICK, target).bound);
    if (bound >= target) return;
    this.hint = this.#relaxation.setUp.slice();
    const decisions = this.#model.hasCapacity ? this.#jobDecisions(decided, target) : [];
    if (decisions === null) return;
    if (decisions.length > 0) this.#split(decided, bound, decisions, target);
    else this.#close(decided, bound);
  }

  /** Decide what the gains already decide; what is left to decide, or null when no plan is left. */
  #slotDecisions(decided: Decided, bound: number, target: number): Decision[] | null {
    const { slots, groups, nodes } = this.#model;
    const { dayShare, setShare } = this.#strong;
    const gains = this.#gains;
    gains.measure(this.#rhythms, decided);
    const list: Decision[] = [];
    const much = Math.min(target - bound, Math.abs(bound) + 1) / 4;
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
        if (cannotClose || cannotOpen) decideSlot(decided, g, t, cannotClose);
        else {
          const share = (g < 0 ? dayShare[t] : setShare[at]) as number;
          const split = 0.02 + Math.min(share, 1 - share);
          list.push({
            decide: (side, yes) => decideSlot(side, g, t, yes),
            score:
              split * (g < 0 ? DAY_WEIGHT : 1) +
              GAIN_WEIGHT * (Math.min(closing / much, 1) + Math.min(opening / much, 1)),
          });
        }
      }
    return list;
  }

  /** Split by the most promising decision; both sides are tried a little way, which orders them, and may cut one off at once. */
  #split(decided: Decided, bound: number, decisions: readonly Decision[], target: number): void {
    const settled = this.#isSettled(decided);
    const from = this.#keep(decided, bound, (settled ? this.#quick : this.#strong).best);
    const { decide } = decisions.reduce((best, other) => (other.score > best.score ? other : best));
    for (const yes of [false, true]) {
      const side = copyDecided(decided);
      decide(side, yes);
      const { bound: reached, best } = settled
        ? this.#climbQuick(from.prices, side, ROUNDS_QUICK_TRIED, target)
        : this.#climbStrong(from, side, ROUNDS_TRIED, target);
      if (reached < target) this.#push(this.#keep(side, Math.max(from.bound, reached), best));
    }
  }

  #climbStrong(from: Branch, decided: Decided, rounds: number, target: number): Ascent {
    this.#rhythms.load(from.prices, from.rhythms, decided);
    this.#strong.begin(STEP);
    this.#strong.climb(decided, rounds, target);
    return this.#strong;
  }

  #climbQuick(from: PricesKept, decided: Decided, rounds: number, target: number, heard?: () => void): Ascent {
    this.#relaxation.load(from, decided);
    this.#quick.begin(STEP_QUICK, PATIENCE_QUICK);
    this.#quick.climb(decided, rounds, target, heard);
    return this.#quick;
  }

  /**
   * All days and set-ups are decided, but minutes may still not let every job take its own best path: which job goes to which slot
   * is decided next, the job most of two minds first. Empty when all jobs' own best paths fit; null when no plan is left.
   */
  #jobDecisions(decided: Decided, target: number): Decision[] | null {
    const { jobs, slots, nodes, jobSlots } = this.#model;
    const { visits } = this.#relaxation;
    const from = keepPrices(this.#quick.best);
    const crowded = this.#relaxation.crowdedUnpriced(decided);
    if (crowded === 0) return [];
    const visited = new Float64Array(jobs * nodes);
    this.#climbQuick(from, decided, ROUNDS_COUNTED, target, () => {
      for (let j = 0; j < jobs; j++) addAt(visited.subarray(j * nodes), visits[j] as number, 1);
    });
    const list: Decision[] = [];
    for (let j = 0; j < jobs; j++)
      for (let t = 1; t <= slots; t++) {
        const known = (decided.jobThere[j] as number) | (decided.jobNotThere[j] as number) | ~(jobSlots[j] as number);
        if (((known | ~crowded) >>> t) & 1) continue;
        const share = (visited[j * nodes + t] as number) / ROUNDS_COUNTED;
        list.push({ decide: (side, yes) => decideJob(side, j, t, yes), score: Math.min(share, 1 - share) });
      }
    return list.length === 0 ? null : list;
  }

  /** Nothing is left to decide: every job takes its own best path, and what that costs is the bound. */
  #close(decided: Decided, bound: number): void {
    const cost = this.#relaxation.unpriced(decided);
    if (cost < Number.POSITIVE_INFINITY) this.leaf = this.#relaxation.visits.slice();
    this.#provenBelow = Math.min(this.#provenBelow, Math.max(bound, cost));
  }

  #keep(decided: Decided, bound: number, prices: Prices): Branch {
    return { decided, bound, prices: keepPrices(prices), rhythms: this.#rhythms.setUp.slice() };
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
