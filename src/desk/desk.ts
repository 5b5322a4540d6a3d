import type { Catalog } from '../catalog/index.ts';
import type { RigState } from '../logbook/index.ts';
import type { LookOptions } from '../outlook/index.ts';
import { makePlan, type Plan, type PlanModel, type PlanOptions } from '../plan/index.ts';
import { ok, type Result } from '../problem/index.ts';
import { type OutlookDesk, openOutlookDesk } from './outlook-desk.ts';

/** One rig on one day, ready to be asked. */
export interface Desk extends OutlookDesk {
  /** Which upkeep on which yard day. */
  plan(options?: PlanOptions): Result<Plan>;
  planModel(options?: PlanOptions): Result<PlanModel>;
}

/** Opens the desk. `now` is the day the answers are for. */
export function openDesk(state: RigState, given: Catalog, options: LookOptions): Desk {
  const desk = openOutlookDesk(state, given, options);
  let usualPlan: Result<PlanModel> | undefined;
  const planModel = (planOptions?: PlanOptions): Result<PlanModel> => {
    if (planOptions) return makePlan(desk.outlookModel(), planOptions);
    usualPlan ??= makePlan(desk.outlookModel());
    return usualPlan;
  };
  return {
    ...desk,
    planModel,
    plan: (planOptions) => {
      const made = planModel(planOptions);
      return made.ok ? ok(made.value.plan) : made;
    },
  };
}
