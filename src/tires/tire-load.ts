/** `tire-load` and `tire-pressure-for`: the two readings of a load table. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { convertLike, formatQuantity, type Quantity, quantity, systemOf, valueIn } from '../quantity/index.ts';
import { type LoadBasis, loadAt, pressureFor, SHARE_OF_LOWEST_ROW } from './law.ts';
import { type Rating, type TireSpec, tireRating } from './rating.ts';

export interface TireLoad {
  /** What one tire may carry at this cold pressure. */
  readonly load: Quantity;
  readonly basis: LoadBasis;
  readonly limitedBy: string;
  readonly sourcesUsed: readonly string[];
  readonly cautions: readonly string[];
}

/** In the units of the system in which another quantity was given; US where that one belongs to both. */
function like(value: number, unit: 'lb' | 'psi', asked: Quantity): Quantity {
  return systemOf(asked.unit) === null ? quantity(value, unit) : convertLike(quantity(value, unit), asked);
}

/** A pressure at which no load can be named, or null. */
export function tooLowProblem(rating: Rating, pressure: Quantity): Problem | null {
  const lowest = rating.points[0]!.psi;
  if (valueIn(pressure, 'psi') >= lowest * SHARE_OF_LOWEST_ROW) return null;
  return {
    code: 'tire.pressure-too-low',
    what: `At ${formatQuantity(pressure)} this tire is flat or nearly so; it carries nothing that can be named.`,
    where: 'pressure',
    expected: `a cold gauge pressure; the table starts at ${lowest} psi`,
    next: 'Do not tow on it. A tire run this low is inspected off the rim before it is used again.',
  };
}

/**
 * What one tire may carry at a cold gauge pressure: a published row, the family's law between two rows, never above the
 * last row, the load range or the sidewall.
 *
 * @returns the load in the unit system of the pressure, or a Problem: `tire.pressure-too-low` and those of tireRating
 * @example ST225/75R15, ST, load range D, 65 psi → 2,540 lb, table
 */
export function tireLoad(input: TireSpec & { readonly pressure: Quantity }): Result<TireLoad> {
  const rated = tireRating(input);
  if (!rated.ok) return rated;
  const rating = rated.value;
  const psi = valueIn(input.pressure, 'psi');
  const low = tooLowProblem(rating, input.pressure);
  if (low !== null) return fail(low);
  const { lb, basis } = loadAt(rating, psi);
  const over = psi > rating.psiMax * (1 + 1e-9);
  const cautions = [...rating.cautions];
  if (over)
    cautions.push(
      `${formatQuantity(input.pressure)} is above the highest cold pressure of ${rating.name} (${rating.psiMax} psi): it adds no load.`,
    );
  if (basis === 'below-table')
    cautions.push(
      `No published row this low (the table starts at ${rating.points[0]!.psi} psi): a bound on the safe side, not a rating.`,
    );
  return ok({
    load: like(lb, 'lb', input.pressure),
    basis,
    limitedBy: over || psi >= rating.points.at(-1)!.psi * (1 - 1e-9) ? rating.limitedBy : 'the pressure',
    sourcesUsed: rating.sources,
    cautions,
  });
}

export interface TirePressureFor {
  /** Cold pressure to set: a row of the table, or the law rounded up to the next 5 psi between rows far apart. */
  readonly pressure: Quantity;
  readonly basis: 'table' | 'between-rows' | 'lowest-row';
  /** What the tire may carry at that pressure. */
  readonly loadAtPressure: Quantity;
  /** loadAtPressure less the load. */
  readonly margin: Quantity;
  readonly pressureMax: Quantity;
  readonly limitedBy: string;
  readonly sourcesUsed: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * The cold pressure one tire needs for a load. The heaviest wheel end decides for its whole axle.
 *
 * @returns the pressure in the unit system of the load, or `tire.overload` where no pressure allows it
 * @example ST225/75R15, ST, load range D, 1,800 lb → 40 psi, table
 */
export function tirePressureFor(input: TireSpec & { readonly load: Quantity }): Result<TirePressureFor> {
  const rated = tireRating(input);
  if (!rated.ok) return rated;
  const rating = rated.value;
  const lb = valueIn(input.load, 'lb');
  if (lb <= 0) {
    return fail({
      code: 'tire.load',
      what: 'A wheel carries something.',
      where: 'load',
      expected: 'a load above zero',
    });
  }
  const needed = pressureFor(rating, lb);
  if (needed === null) {
    const most = rating.points.at(-1)!;
    return fail({
      code: 'tire.overload',
      what: `${rating.name} carries at most ${formatQuantity(like(most.lb, 'lb', input.load))}, whatever its pressure.`,
      where: 'load',
      expected: `a load up to that, limited by ${rating.limitedBy}`,
      next: 'Take load off that wheel, or fit tires of a higher load range on wheels rated for them.',
    });
  }
  const at = loadAt(rating, needed.psi).lb;
  const cautions = [...rating.cautions];
  if (needed.basis === 'lowest-row') cautions.push('The table publishes no lower pressure: this is its first row.');
  cautions.push(
    'Set the same pressure across the axle, by its heaviest wheel; the placard and the maker’s table outrank this.',
  );
  return ok({
    pressure: like(needed.psi, 'psi', input.load),
    basis: needed.basis,
    loadAtPressure: like(at, 'lb', input.load),
    margin: like(at - lb, 'lb', input.load),
    pressureMax: like(rating.psiMax, 'psi', input.load),
    limitedBy: rating.limitedBy,
    sourcesUsed: rating.sources,
    cautions,
  });
}
