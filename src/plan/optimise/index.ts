/**
 * What lives here: the optimiser of the plan. Given what each stretch between two services of each job costs, which set-ups jobs
 * share, and the hours of each day, it finds on which days each job is done, and proves how far from the best possible that is.
 */
export { costOf, MINUTES_TOLERANCE } from './cost.ts';
export {
  checkInstance,
  dayCostAt,
  instanceFromJson,
  type PlanInstance,
  type PlanJob,
  type PlanSetup,
  SLOTS_MAX,
} from './instance.ts';
export { createSearch, type OptimiseOptions, optimise, type ResumableSearch, WORK_LIMIT_DEFAULT } from './optimise.ts';
export type { PlanFound } from './search.ts';
