import type { Problem } from '../../problem/index.ts';
import { undecided } from './decided.ts';
import type { Model } from './model.ts';
import { Openings } from './openings.ts';
import { bitsOf, slotsOf } from './paths.ts';
import { Pricing } from './prices.ts';
import { Rearranging } from './rearrange.ts';
import { Tree } from './tree.ts';

/** A plan is called proven when the bound comes this close to its cost, relative: far below a cent on any real plan. */
const PROVEN_TOLERANCE = 1e-7;
const ROOT_ROUNDS_A_STEP = 25;
const ROOT_ROUNDS_MOST = 600;
/** Share of the work that goes into looking for better plans, once the tree grows. */
const PLAN_SHARE = 0.25;

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
  readonly #pricing: Pricing;
  readonly #openings: Openings;
  readonly #rearranging: Rearranging;
  readonly #visits: Int32Array;
  #tree: Tree | null = null;
  #cost = Number.POSITIVE_INFINITY;
  #bound = Number.NEGATIVE_INFINITY;
  #stage: 'start' | 'root' | 'tree' | 'done' = 'start';
  #rootRounds = 0;
  #warmStart: readonly (readonly number[])[] | undefined;

  constructor(model: Model, seed: number, warmStart?: readonly (readonly number[])[]) {
    this.#model = model;
    this.#pricing = new Pricing(model);
    this.#openings = new Openings(model);
    this.#rearranging = new Rearranging(model, seed);
    this.#visits = new Int32Array(model.jobs);
    this.#warmStart = warmStart;
  }

  get done(): boolean {
    return this.#stage === 'done';
  }

  get work(): number {
    return (this.#tree?.work ?? this.#pricing.work) + this.#openings.work + this.#rearranging.placement.work;
  }

  /** The best plan so far, or null while none fits the hours. */
  get found(): PlanFound | null {
    if (this.#cost === Number.POSITIVE_INFINITY) return null;
    const bound = Math.min(this.#bound, this.#cost);
    return {
      cost: this.#cost,
      bound,
      visits: Array.from(this.#visits, slotsOf),
      proven: this.#stage === 'done' || bound >= this.#target,
      rounds: this.work,
    };
  }

  /** Why no plan fits, as far as is known. */
  get shortage(): Problem {
    const { model, overload, minutes, visits } = this.#rearranging.placement;
    const over = Array.from(minutes.keys()).filter(
      (t) => (minutes[t] as number) > (model.capacity[t] as number) + 1e-9,
    );
    const where = over.map((t) => {
      const jobs = Array.from(visits.keys()).filter((j) => ((visits[j] as number) >>> t) & 1);
      return `slot ${t} (jobs ${jobs.join(', ')})`;
    });
    return {
      code: 'plan.hours-short',
      what: `No plan that fits the hours was found; the closest is ${Math.ceil(overload)} minutes over`,
      where: where.join('; '),
      expected: 'days long enough for the jobs that must be done on them',
      next: 'Allow more hours on these days, open another day, or let one of these jobs run longer.',
    };
  }

  /** A little work (a millisecond or a few). */
  step(): void {
    if (this.#stage === 'start') this.#start();
    else if (this.#stage === 'root') this.#root();
    else if (this.#stage === 'tree') this.#branch();
    if (this.#bound >= this.#target) this.#stage = 'done';
  }

  /** Only plans cheaper than this are still of interest. */
  get #target(): number {
    return this.#cost - PROVEN_TOLERANCE * (1 + Math.abs(this.#cost));
  }

  /** What the climb aims at: the plan in hand, or above the bound while there is none. */
  get #aim(): number {
    if (this.#cost < Number.POSITIVE_INFINITY) return this.#target;
    const bound = Math.max(this.#pricing.bound, this.#bound);
    return bound === Number.NEGATIVE_INFINITY ? this.#openings.cost * 1.05 + 1 : bound + 0.05 * Math.abs(bound) + 1;
  }

  #take(cost: number, visits: Int32Array): void {
    if (cost >= this.#cost - 1e-7) return;
    this.#cost = cost;
    this.#visits.set(visits);
  }

  #takeOpenings(): void {
    const { cost, visits } = this.#openings;
    if (this.#model.hasCapacity) {
      this.#rearranging.build(this.#openings.open);
      this.#take(this.#rearranging.best, this.#rearranging.bestVisits);
      return;
    }
    if (cost < this.#cost - 1e-7) {
      this.#take(cost, visits);
      this.#rearranging.start(visits);
    }
  }

  #start(): void {
    const { groups, slots } = this.#model;
    if (this.#warmStart !== undefined) this.#startWarm(this.#warmStart);
    else {
      this.#openings.load(new Int32Array(groups).fill(((1 << (slots + 1)) - 1) & ~1));
      this.#openings.descend();
      this.#takeOpenings();
    }
    this.#pricing.sharePrices();
    this.#pricing.begin(1);
    this.#stage = 'root';
  }

  /** Keep of an earlier plan what still holds; jobs whose path is no longer allowed are placed anew. */
  #startWarm(warm: readonly (readonly number[])[]): void {
    const visits = Int32Array.from({ length: this.#model.jobs }, (_, j) => bitsOf(warm[j] ?? []));
    this.#rearranging.adopt(visits);
    this.#take(this.#rearranging.best, this.#rearranging.bestVisits);
    if (this.#model.hasCapacity) return;
    const open = new Int32Array(this.#model.groups);
    const { useJob, useGroup } = this.#model;
    const placed = this.#rearranging.placement.visits;
    for (let u = 0; u < useJob.length; u++)
      open[useGroup[u] as number] = (open[useGroup[u] as number] as number) | (placed[useJob[u] as number] as number);
    this.#openings.load(open);
    this.#openings.descend();
    this.#takeOpenings();
  }

  #root(): void {
    const finished = this.#pricing.climb(undecided(this.#model), ROOT_ROUNDS_A_STEP, this.#aim);
    this.#rootRounds += ROOT_ROUNDS_A_STEP;
    this.#bound = Math.max(this.#bound, this.#pricing.bound);
    this.#improvePlan(ROOT_ROUNDS_A_STEP * this.#model.jobs * 0.5);
    if (!finished && this.#rootRounds < ROOT_ROUNDS_MOST) return;
    this.#tree = new Tree(this.#model, this.#pricing);
    this.#stage = 'tree';
  }

  #branch(): void {
    const tree = this.#tree as Tree;
    const before = tree.work;
    tree.step(this.#cost < Number.POSITIVE_INFINITY ? this.#target : Number.MAX_VALUE);
    if (tree.hint !== null && !this.#model.hasCapacity) this.#tryHint(tree.hint);
    this.#improvePlan((tree.work - before) * PLAN_SHARE);
    if (tree.done) this.#stage = 'done';
    this.#bound = Math.max(this.#bound, Math.min(tree.bound, this.#target));
  }

  #tryHint(hint: Int32Array): void {
    this.#openings.load(hint);
    this.#openings.descend();
    this.#takeOpenings();
  }

  /** Look for a better plan for about `work` paths. */
  #improvePlan(work: number): void {
    const { placement } = this.#rearranging;
    const until = placement.work + work;
    while (placement.work < until)
      if (this.#rearranging.run(20)) this.#take(this.#rearranging.best, this.#rearranging.bestVisits);
  }
}
