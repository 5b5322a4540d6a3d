import type { Entry } from '../logbook/index.ts';
import { addEntry } from '../logbook/index.ts';
import { type LookOptions, lookAhead } from '../outlook/index.ts';
import { makePlan, type PlanModel, type PlanOptions } from '../plan/index.ts';
import { ok, type Result } from '../problem/index.ts';
import { ownedCatalog } from './owned-catalog.ts';

/** What a choice costs against the plan without it. Positive: more. */
export interface Price {
  readonly money: number;
  readonly minutes: number;
  readonly afternoons: number;
  /** Change of the chance that a safety upkeep runs out on the road. */
  readonly chanceOnRoad: number;
}

export interface WhatIf {
  readonly planModel: PlanModel;
  readonly price: Price;
}

/**
 * A choice tried out: entries not written yet (a pin, a day's hours, a trip moved, another appetite), laid over the logbook, and the plan
 * made again from where the one before stood. Nothing is written.
 */
export function whatIf(
  before: PlanModel,
  tried: readonly Entry[],
  look: LookOptions,
  options: PlanOptions = {},
): Result<WhatIf> {
  const { state, catalog } = before.placement.model.scene;
  const then = tried.reduce(addEntry, state);
  const model = lookAhead(then, ownedCatalog(then, catalog).catalog, look);
  const made = makePlan(model, { ...options, after: before });
  if (!made.ok) return made;
  const [was, is] = [before.plan, made.value.plan];
  return ok({
    planModel: made.value,
    price: {
      money: Math.round((is.cost - was.cost) * 100) / 100,
      minutes: is.minutes - was.minutes,
      afternoons: is.days.length - was.days.length,
      chanceOnRoad: Math.round((is.chanceOnRoad - was.chanceOnRoad) * 1000) / 1000,
    },
  });
}
