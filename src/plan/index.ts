/**
 * What lives here: which upkeep on which yard day. Free days as slots, what each interval between two services costs, the optimiser
 * (`optimise/`, with a README of its own), the working order of a day, and the sentence that explains each placement. Pure.
 */
export { HORIZON_DAYS, makePlan, type PlanModel, type PlanOptions } from './make.ts';
export { type OtherDay, otherDays } from './other-days.ts';
export { setUpUnits, wheelsAt } from './set-ups.ts';
export { FREE_DAYS_DEFAULT } from './slots.ts';
export type { OnTheWay, Plan, PlannedJob, YardDay } from './types.ts';
export { APPETITE_DEFAULT, APPETITES, type Appetite, type Weights, weightsOf } from './weights.ts';
