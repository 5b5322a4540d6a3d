/**
 * Load and pressure of one tire: the rows first, the family's law only between two rows and never above the upper one,
 * below the first row a straight line to zero, which stays under every published table.
 *
 * Source of the law: Tire and Rim Association load formula, load ∝ pressure^n (families.ts). Source of the straight line:
 * a stiffness model asks for pressure in proportion to load, more than the tables do (Tire Society, 2009).
 */

import { power } from '../elementary/index.ts';
import { LAW_EXPONENT } from './families.ts';
import type { Rating } from './rating.ts';

/** `table` a row says so · `between-rows` the law, held under the upper row · `below-table` the straight line. */
export type LoadBasis = 'table' | 'between-rows' | 'below-table';

/** Under this share of the lowest published pressure nothing sensible can be said: the tire is flat. */
export const SHARE_OF_LOWEST_ROW = 0.5;

/** Load by the law alone, from one known point. */
export function loadByLaw(point: { psi: number; lb: number }, psi: number, exponent: number): number {
  return point.lb * power(psi / point.psi, exponent);
}

/** Pressure by the law alone, from one known point. */
export function pressureByLaw(point: { psi: number; lb: number }, lb: number, exponent: number): number {
  return point.psi * power(lb / point.lb, 1 / exponent);
}

/**
 * Between rows the law counts for 1 % less. From rows 15 psi apart it overrates the published rows in between by up to 0.5 %
 * (ST225/75R15), and a margin must never rest on that.
 */
const BETWEEN_SHARE = 0.99;

/** Equal but for the last digits that a change of units leaves. */
const SAME = 1e-9;

/** Pounds a tire may carry at a cold pressure in psi; never more than the rating's last row. */
export function loadAt(
  rating: Pick<Rating, 'points' | 'family'>,
  psi: number,
): { readonly lb: number; readonly basis: LoadBasis } {
  const { points } = rating;
  const last = points.at(-1)!;
  if (psi >= last.psi * (1 - SAME)) return { lb: last.lb, basis: 'table' };
  const first = points[0]!;
  if (psi < first.psi * (1 - SAME)) return { lb: (first.lb * psi) / first.psi, basis: 'below-table' };
  const i = points.findIndex((point) => point.psi * (1 - SAME) > psi);
  const lower = points[i - 1]!;
  const upper = points[i]!;
  if (Math.abs(psi - lower.psi) <= lower.psi * SAME) return { lb: lower.lb, basis: 'table' };
  const n = LAW_EXPONENT[rating.family];
  // From below and from above, the smaller of the two; the lower row itself is allowed in any case.
  const law = BETWEEN_SHARE * Math.min(loadByLaw(lower, psi, n), loadByLaw(upper, psi, n));
  return { lb: Math.max(lower.lb, Math.min(law, upper.lb)), basis: 'between-rows' };
}

/** Steps in which load tables are printed, psi. */
const TABLE_STEP_PSI = 5;

export interface PressureFor {
  /** Cold pressure to set, psi. */
  readonly psi: number;
  readonly basis: 'table' | 'between-rows' | 'lowest-row';
}

/**
 * The cold pressure a load needs, psi: the first row that carries it; between rows further apart than a table's step, the
 * law, rounded up to the next step. Null where even the last row does not carry it.
 */
export function pressureFor(rating: Pick<Rating, 'points' | 'family'>, lb: number): PressureFor | null {
  const { points } = rating;
  const i = points.findIndex((point) => point.lb * (1 + SAME) >= lb);
  if (i < 0) return null;
  const upper = points[i]!;
  if (i === 0) return { psi: upper.psi, basis: lb < upper.lb * (1 - SAME) ? 'lowest-row' : 'table' };
  const lower = points[i - 1]!;
  if (upper.psi - lower.psi <= TABLE_STEP_PSI * (1 + SAME)) return { psi: upper.psi, basis: 'table' };
  const n = LAW_EXPONENT[rating.family];
  const law = Math.max(pressureByLaw(lower, lb / BETWEEN_SHARE, n), pressureByLaw(upper, lb / BETWEEN_SHARE, n));
  const stepped = Math.ceil((law * (1 - SAME)) / TABLE_STEP_PSI) * TABLE_STEP_PSI;
  return stepped >= upper.psi ? { psi: upper.psi, basis: 'table' } : { psi: stepped, basis: 'between-rows' };
}
