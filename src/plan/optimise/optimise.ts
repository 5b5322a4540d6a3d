import { fail, ok, type Result, unwrap } from '../../problem/index.ts';
import { costOf } from './cost.ts';
import { checkInstance, type PlanInstance } from './instance.ts';
import { modelOf } from './model.ts';
import { type PlanFound, PlanSearch } from './search.ts';

/** Shortest paths solved when neither a clock nor a limit is given: a second or two on a present-day machine. */
export const WORK_LIMIT_DEFAULT = 2_000_000;

export interface OptimiseOptions {
  /** Milliseconds that only rise; without it the search runs to `workLimit`, and is the same on every machine. */
  readonly clock?: () => number;
  /** Stop after this many milliseconds of `clock`. */
  readonly budgetMilliseconds?: number;
  /** Stop after about this many shortest paths. */
  readonly workLimit?: number;
  /** Stop once (cost − bound) / cost is no more than this (0.01 is one per cent). */
  readonly gapTarget?: number;
  /** An earlier plan to start from; what of it is no longer allowed is placed anew. */
  readonly warmStart?: readonly (readonly number[])[];
  readonly onImprove?: (found: PlanFound) => void;
  /** Asked between slices of work; true stops the search with what it has. */
  readonly cancelled?: () => boolean;
  readonly seed?: number;
}

/** A search that can be run in slices, so that a worker stays responsive. */
export interface ResumableSearch {
  /** Run until `stop` says so (asked every few milliseconds of work) or everything is proven. */
  run(stop: (search: ResumableSearch) => boolean): void;
  readonly done: boolean;
  /** Cost of the best plan so far (Infinity while none fits the hours), and what no plan can cost less than. */
  readonly cost: number;
  readonly bound: number;
  /** Shortest paths solved so far. */
  readonly rounds: number;
  /** The best plan and the bound so far; problem `plan.hours-short` while no plan fits the hours. */
  readonly result: Result<PlanFound>;
}

/**
 * Open a search. Problems: `plan.instance-invalid`; `plan.job-impossible` naming each job that has no allowed path.
 */
export function createSearch(
  instance: PlanInstance,
  options: { readonly seed?: number; readonly warmStart?: readonly (readonly number[])[] } = {},
): Result<ResumableSearch> {
  const checked = checkInstance(instance);
  if (!checked.ok) return checked;
  const model = modelOf(instance);
  if (!model.ok) return model;
  const search = new PlanSearch(model.value, options.seed ?? 1, options.warmStart);
  return ok({
    run(stop) {
      do search.step();
      while (!search.done && !stop(this));
    },
    get done() {
      return search.done;
    },
    get cost() {
      return search.cost;
    },
    get bound() {
      return search.bound;
    },
    get rounds() {
      return search.work;
    },
    get result() {
      const { found } = search;
      return found === null ? fail(search.shortage) : ok({ ...found, cost: costOf(instance, found.visits) });
    },
  });
}

/**
 * Find a plan of least cost and a bound below which no plan exists. Anytime: a first plan at once, then better plans and a higher
 * bound until they meet, the limit is reached, or the caller cancels. The same instance, seed and work limit give the same answer.
 *
 * Problems: `plan.instance-invalid`; `plan.job-impossible`; `plan.hours-short` when no plan that fits the hours was found.
 */
export function optimise(instance: PlanInstance, options: OptimiseOptions = {}): Result<PlanFound> {
  const { clock, budgetMilliseconds, gapTarget = 0, onImprove, cancelled } = options;
  const workLimit = options.workLimit ?? (clock === undefined ? WORK_LIMIT_DEFAULT : Number.POSITIVE_INFINITY);
  const started = clock?.() ?? 0;
  const opened = createSearch(instance, options);
  if (!opened.ok) return opened;
  let lastCost = Number.POSITIVE_INFINITY;
  opened.value.run((search) => {
    if (onImprove !== undefined && search.cost < lastCost) {
      lastCost = search.cost;
      onImprove(unwrap(search.result));
    }
    if (cancelled?.() || search.rounds >= workLimit) return true;
    if (clock !== undefined && budgetMilliseconds !== undefined && clock() - started >= budgetMilliseconds) return true;
    return search.cost - search.bound <= gapTarget * Math.abs(search.cost);
  });
  return opened.value.result;
}
