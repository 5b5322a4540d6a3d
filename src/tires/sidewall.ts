/** Figures that a person read off a sidewall or a maker's table, held against what is published, before anything rests on them. */

import type { Problem } from '../problem/index.ts';
import { LAW_EXPONENT, LOAD_RANGE_PSI, type TireFamily } from './families.ts';
import { loadByLaw } from './law.ts';
import { implausible, type Point } from './plausible.ts';
import { isMetricSize } from './size.ts';

/** How far a figure may stand above the published rows of its size: the two ratings that one size is sold with differ by 8 %. */
const ABOVE_TABLE = 1.1;
/**
 * The same for figures of one tire of a pair: what the tire carries alone stands 8 % and more above them (published rows), and is what a
 * person reads by mistake.
 */
const ABOVE_PAIRS = 1.05;
/** Sidewalls in kilopascals are rounded, and some vans' tires of a range hold 3 psi more than its usual pressure (from memory). */
const ABOVE_RANGE = 1.05;
/** No load table gains more load than pressure; printed loads are rounded to 5 lb. */
const STEEPER_THAN_PRESSURE = 1.02;

/** Whether the load range's usual pressure is a limit for this size: small and old sizes have ranges of their own. */
export function rangeLimit(key: string, family: TireFamily, loadRange: string): number | null {
  const psi = LOAD_RANGE_PSI[loadRange];
  return psi !== undefined && family !== 'P' && isMetricSize(key) ? psi * ABOVE_RANGE : null;
}

/** The most that published rows make plausible at a pressure, or null where none are known. */
function tableMost({ published, family, ratedFor }: Against, psi: number): number | null {
  if (published.length === 0) return null;
  const near = published.filter((point) => point.psi <= psi + 0.5).at(-1) ?? published[0]!;
  return (
    (ratedFor === 'dual' ? ABOVE_PAIRS : ABOVE_TABLE) * loadByLaw(near, Math.max(psi, near.psi), LAW_EXPONENT[family])
  );
}

/** What a figure is held against. */
export interface Against {
  readonly key: string;
  readonly family: TireFamily;
  readonly loadRange: string;
  readonly ratedFor: 'single' | 'dual';
  /** All published rows of the size in the fitment the figure is for, whatever their range. */
  readonly published: readonly Point[];
}

/** The problem with one rated figure, or null. */
export function figureProblem(point: Point, against: Against, where: string): Problem | null {
  const { key, family, loadRange } = against;
  const wrong = implausible(point, key, family, where);
  if (wrong !== null) return wrong;
  const most = tableMost(against, point.psi);
  if (most === null || point.lb <= most) return null;
  return {
    code: 'tire.rating-implausible',
    what: `${key} ${loadRange} as entered carries ${Math.round(point.lb)} lb at ${Math.round(point.psi)} psi; its published rows allow no more than about ${Math.round(most)} lb.`,
    where: `${where}.load`,
    expected: 'the maximum load of one tire, near the published rows',
    next: 'Read the sidewall again: the single and the dual figure stand side by side, in pounds and kilograms.',
  };
}

/** The problem with a sidewall, or null. */
export function sidewallProblem(point: Point, against: Against): Problem | null {
  const most = rangeLimit(against.key, against.family, against.loadRange);
  if (most !== null && point.psi > most) {
    return {
      code: 'tire.rating-implausible',
      what: `Load range ${against.loadRange} holds ${LOAD_RANGE_PSI[against.loadRange]} psi; the sidewall as entered says ${Math.round(point.psi)} psi.`,
      where: 'sidewall.pressure',
      expected: 'the load range and the maximum cold pressure moulded in the same sidewall',
      next: 'Read both again: one of them is not of this tire.',
    };
  }
  return figureProblem(point, against, 'sidewall');
}

/** The problem with the rows of a maker's table, in order of pressure, or null: as any load table they rise in both columns. */
export function rowsProblem(points: readonly Point[], against: Against): Problem | null {
  for (const [i, point] of points.entries()) {
    const before = points[i - 1];
    const rises = before === undefined || (point.psi > before.psi && point.lb >= before.lb);
    if (!rises) {
      return {
        code: 'tire.rows-not-rising',
        what: 'More pressure never carries less: the rows do not rise.',
        where: `rows.${i}`,
        expected: 'rows of a load table, each with a higher pressure and a load at least as high',
      };
    }
    if (before !== undefined && point.lb / before.lb > STEEPER_THAN_PRESSURE * (point.psi / before.psi)) {
      return {
        code: 'tire.rows-too-steep',
        what: `From ${Math.round(before.psi)} to ${Math.round(point.psi)} psi the rows gain more load than pressure: no load table does.`,
        where: `rows.${i}`,
        expected: 'rows of one load table, in one unit each',
        next: 'Read both rows again.',
      };
    }
    const wrong = figureProblem(point, against, `rows.${i}`);
    if (wrong !== null) return wrong;
  }
  return null;
}

/**
 * Rows below the sidewall's point, and that point on top. A tire that is rated for less than its size's rows at the top is taken to carry
 * less in the same proportion all the way down.
 */
export function joinSidewall(
  points: readonly Point[],
  sidewall: Point,
  family: TireFamily,
  name: string,
): { readonly points: readonly Point[]; readonly cautions: readonly string[] } {
  const below = points.filter((point) => point.psi < sidewall.psi - 0.5);
  const same = points.find((point) => Math.abs(point.psi - sidewall.psi) <= 0.5);
  const last = below.at(-1);
  const table = same?.lb ?? (last === undefined ? null : loadByLaw(last, sidewall.psi, LAW_EXPONENT[family]));
  const share = table === null ? 1 : Math.min(1, sidewall.lb / table);
  const kept = below.map(({ psi, lb }) => ({ psi, lb: Math.min(lb * share, sidewall.lb) }));
  const differs = same !== undefined && Math.abs(same.lb - sidewall.lb) > 0.5;
  return {
    points: [...kept, sidewall],
    cautions: differs
      ? [
          `The sidewall of this ${name} (${Math.round(sidewall.lb)} lb) differs from the published row (${Math.round(same.lb)} lb): the sidewall holds.`,
        ]
      : [],
  };
}
