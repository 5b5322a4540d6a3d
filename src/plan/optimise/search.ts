import type { Problem } from '../../problem/index.ts';
import { Ascent, QUICK, STRONG } from './ascent.ts';
import { MINUTES_TOLERANCE } from './cost.ts';
import { undecided } from './decided.ts';
import type { Model } from './model.ts';
import { slotsOf } from './paths.ts';
import { Plans } from './plans.ts';
import { Relaxation } from './relaxation.ts';
import { Rhythms } from './rhythms.ts';
import { Tree } from './tree.ts';

/** A plan is called proven when the bound comes this close to its cost, relative: far below a cent on any real plan. */
const PROVEN_TOLERANCE = 1e-7;
/** Rounds of the quick relaxation at the root, and of the strong one after it. */
const QUICK_A_STEP = 25;
const QUICK_MOST = 100;
const STRONG_A_STEP = 2;
const STRONG_MOST = 8;
const STEP_STRONG = 0.05;
/**
 * Work on better plans for each unit of work on the bound: at the root while the quick relaxation climbs, then while the strong one does, on
 * the first branches, and on later ones; down to this part of it when nothing better was found for longer than half the work so far.
 */
const PLAN_SHARE_QUICK = 1;
const PLAN_SHARE_ROOT = 3;
const PLAN_SHARE_EARLY = 1;
const PLAN_SHARE_LATE = 0.5;
const PLAN_SHARE_LEAST = 0.4;
const BRANCHES_EARLY = 30;

/** A plan with what is proven about it. */
export interface PlanFound {
  /** Cost of the plan, as `costOf` recomputes it. */
  readonly cost: number;
  /** No plan costs less than this. */
  readonly bound: number;
  /** By job: the slots on which it is done, rising. */
  readonly visits: number[][];
  /** True when the bound has met the cost: nothing better exists. */
  readonly proven: boolean;
  /** Shortest paths solved: the measure of work, the same on every machine. */
  readonly rounds: number;
}

/**
 * One search, to be run in slices. First a plan at once, then prices for the bound, then the tree, with the search for better plans
 * going on beside. Deterministic: the same instance, seed and number of steps give the same state.
 */
export class PlanSearch {
  readonly #model: Model;
  /** The quick relaxation, the strong one, and the climb of each. */
  readonly #relaxation: Relaxation;
  readonly #rhythms: Rhythms;
  readonly #quick: Ascent;
  readonly #strong: Ascent;
  readonly #plans: Plans;
  #tree: Tree | null = null;
  #bound: number;
  #stage: 'start' | 'quick' | 'strong' | 'tree' | 'done' = 'start';
  #rounds = 0;
  /** The work done when the best plan was found. */
  #bestSince = 0;
  #warmStart: readonly (readonly number[])[] | undefined;

  constructor(model: Model, seed: number, warmStart?: readonly (readonly number[])[]) {
    this.#model = model;
    this.#relaxation = new Relaxation(model);
    this.#rhythms = new Rhythms(model);
    this.#quick = new Ascent(this.#relaxation, QUICK);
    this.#strong = new Ascent(this.#rhythms, STRONG);
    // With nothing priced every job takes its own best path: a bound from the very start.
    this.#bound = this.#relaxation.unpriced(undecided(model));
    this.#plans = new Plans(model, seed);
    this.#warmStart = warmStart;
  }

  get done(): boolean {
    return this.#stage === 'done';
  }

  get work(): number {
    return Math.round(this.#boundWork + this.#plans.work);
  }

  get #boundWork(): number {
    return this.#relaxation.work + this.#rhythms.work;
  }

  /** Cost of the best plan so far; Infinity while none fits the hours. */
  get cost(): number {
    return this.#plans.best;
  }

  /** No plan costs less than this. */
  get bound(): number {
    return Math.min(this.#bound, this.#plans.best);
  }

  /** The best plan so far, or null while none fits the hours. */
  get found(): PlanFound | null {
    const { cost, bound } = this;
    if (cost === Number.POSITIVE_INFINITY) return null;
    const visits = Array.from(this.#plans.bestVisits, slotsOf);
    return { cost, bound, visits, proven: bound >= this.#target, rounds: this.work };
  }

  /** Why no plan fits, as far as is known. */
  get shortage(): Problem {
    const { model, overload, minutes, visits } = this.#plans.rearranging.placement;
    const over = Array.from(minutes.keys()).filter(
      (t) => (minutes[t] as number) > (model.capacity[t] as number) + MINUTES_TOLERANCE,
    );
    const where = over.map((t) => {
      const jobs = Array.from(visits.keys()).filter((j) => ((visits[j] as number) >>> t) & 1);
      return `slot ${t} (jobs ${jobs.join(', ')})`;
    });
    return {
      code: 'plan.hours-short',
      what: this.done
        ? 'No plan fits the hours: every way was tried'
        : `No plan that fits the hours was found; the last one tried is ${Math.ceil(overload)} minutes over`,
      where: where.join('; '),
      expected: 'days long enough for the jobs that must be done on them',
      next: 'Allow more hours on these days, open another day, or let one of these jobs run longer.',
    };
  }

  /** A little work (a millisecond or a few). */
  step(): void {
    const { best } = this.#plans;
    if (this.#stage === 'start') this.#start();
    else if (this.#stage === 'quick') this.#climbQuick();
    else if (this.#stage === 'strong') this.#climbStrong();
    else if (this.#stage === 'tree') this.#branch();
    if (this.#plans.best < best) this.#bestSince = this.work;
    if (this.#bound >= this.#target) this.#stage = 'done';
  }

  /** Only plans cheaper than this are still of interest. */
  get #target(): number {
    const { best } = this.#plans;
    return best === Number.POSITIVE_INFINITY ? best : best - PROVEN_TOLERANCE * (1 + Math.abs(best));
  }

  /** Look for better plans, for as much work as the bound has taken since `before`, times `share`. */
  #improvePlans(share: number, before: number): void {
    const lucky = Math.max(PLAN_SHARE_LEAST, Math.min(1, (2 * this.#bestSince) / Math.max(1, this.work)));
    this.#plans.improve((this.#boundWork - before) * share * lucky);
  }

  #start(): void {
    this.#plans.start();
    if (this.#warmStart !== undefined) this.#plans.startFrom(this.#warmStart);
    this.#relaxation.sharePrices();
    this.#quick.begin(1);
    this.#stage = 'quick';
  }

  /** Prices of the quick relaxation first: they are most of the way to those of the strong one. */
  #climbQuick(): void {
    const before = this.#boundWork;
    const finished = this.#quick.climb(undecided(this.#model), QUICK_A_STEP, this.#target);
    this.#rounds += QUICK_A_STEP;
    this.#bound = Math.max(this.#bound, this.#quick.bound);
    this.#improvePlans(PLAN_SHARE_QUICK, before);
    if (!finished && this.#rounds < QUICK_MOST) return;
    this.#plans.priceMinutes(this.#quick.best.minute);
    this.#plans.tryOpenings(this.#relaxation.setUp);
    this.#rhythms.adopt(this.#quick.best, undecided(this.#model));
    this.#strong.begin(STEP_STRONG);
    this.#rounds = 0;
    this.#stage = 'strong';
  }

  #climbStrong(): void {
    const before = this.#boundWork;
    const finished = this.#strong.climb(undecided(this.#model), STRONG_A_STEP, this.#target);
    this.#rounds += STRONG_A_STEP;
    this.#bound = Math.max(this.#bound, this.#strong.bound);
    this.#plans.tryOpenings(this.#rhythms.setUp);
    this.#improvePlans(PLAN_SHARE_ROOT, before);
    if (!finished && this.#rounds < STRONG_MOST) return;
    this.#tree = new Tree(this.#relaxation, this.#quick, this.#rhythms, this.#strong);
    this.#stage = 'tree';
  }

  #branch(): void {
    const tree = this.#tree as Tree;
    const before = this.#boundWork;
    tree.step(this.#target);
    if (tree.leaf !== null) this.#plans.tryPlan(tree.leaf);
    else if (tree.hint !== null) this.#plans.tryOpenings(tree.hint);
    this.#improvePlans(tree.taken <= BRANCHES_EARLY ? PLAN_SHARE_EARLY : PLAN_SHARE_LATE, before);
    this.#bound = Math.max(this.#bound, Math.min(tree.bound, this.#target));
    if (tree.done) this.#stage = 'done';
  }
}
