import type { OutlookDesk } from '../../../desk/index.ts';
import { makePlan, type Plan, type PlanModel } from '../../../plan/index.ts';
import { ok, type Result } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';

const plans = new WeakMap<OutlookDesk, Result<PlanModel>>();

/** The plan of the state as it is now, made once a state and day. In a file of its own: only some views bring the planner along. */
export function planModelOf(keeper: Keeper): Result<PlanModel> {
  const desk = keeper.desk();
  const made = plans.get(desk) ?? makePlan(desk.outlookModel());
  plans.set(desk, made);
  return made;
}

export function planOf(keeper: Keeper): Result<Plan> {
  const made = planModelOf(keeper);
  return made.ok ? ok(made.value.plan) : made;
}

/** What a pin of this job speaks of: `inspect-roof.roof`. */
export const pinAbout = (item: string): string => item.replace('@', '.');
