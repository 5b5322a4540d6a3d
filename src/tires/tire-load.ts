/** `tire-load` and `tire-pressure-for`: the two readings of a load table. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  convertLike,
  formatQuantity,
  type Quantity,
  quantity,
  rangeProblem,
  systemOf,
  valueIn,
} from '../quantity/index.ts';
import { type LoadBasis, loadAt, type PressureFor, pressureFor, SHARE_OF_LOWEST_ROW } from './law.ts';
import { RESERVE_LEAST } from './limits.ts';
import { COLD_PRESSURE, WHEEL_LOAD } from './ranges.ts';
import { type Rating, type TireSpec, tireRating } from './rating.ts';

export interface TireLoad {
  /** What one tire may carry at this cold pressure. */
  readonly load: Quantity;
  readonly basis: LoadBasis;
  readonly limitedBy: string;
  readonly sourcesUsed: readonly string[];
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** In the units of the system in which another quantity was given; US where that one belongs to both. */
function like(value: number, unit: 'lb' | 'psi', asked: Quantity): Quantity {
  return systemOf(asked.unit) === null ? quantity(value, unit) : convertLike(quantity(value, unit), asked);
}

/** The problem of a pressure at which no load can be named, or null. */
export function pressureProblem(rating: Rating, pressure: Quantity): Problem | null {
  const wrong = rangeProblem([['pressure', pressure, COLD_PRESSURE]]);
  if (wrong !== null) return wrong;
  const lowest = rating.points[0]!.psi;
  if (valueIn(pressure, 'psi') >= lowest * SHARE_OF_LOWEST_ROW) return null;
  return {
    code: 'tire.pressure-too-low',
    what: `At ${formatQuantity(pressure)} this tire is flat or nearly so; it carries nothing that can be named.`,
    where: 'pressure',
    expected: `a cold gauge pressure; the table starts at ${plain(lowest)} psi`,
    next: 'Do not tow on it. A tire run this low is inspected off the rim before it is used again.',
  };
}

const plain = (value: number): string => String(Math.round(value));

/** What to say of a pressure above or below all rows. */
export function pressureCautions(rating: Rating, pressure: Quantity): readonly string[] {
  const psi = valueIn(pressure, 'psi');
  const most = formatQuantity(like(rating.psiMax, 'psi', pressure), { digits: 0 });
  const cautions: string[] = [];
  if (psi > rating.psiMax * (1 + 1e-9))
    cautions.push(
      `${formatQuantity(pressure)} is above the highest cold pressure of ${rating.name} (${most}, ${rating.limitedBy}): it adds no load. Bring it down to that, cold.`,
    );
  if (psi < rating.points[0]!.psi * (1 - 1e-9))
    cautions.push(
      `No published row this low (the table starts at ${plain(rating.points[0]!.psi)} psi): a bound on the safe side, not a rating. Inflate before towing.`,
    );
  return cautions;
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
  const wrong = pressureProblem(rating, input.pressure);
  if (wrong !== null) return fail(wrong);
  const psi = valueIn(input.pressure, 'psi');
  const { lb, basis } = loadAt(rating, psi);
  return ok({
    load: like(lb, 'lb', input.pressure),
    basis,
    limitedBy: psi >= rating.points.at(-1)!.psi * (1 - 1e-9) ? rating.limitedBy : 'the pressure',
    sourcesUsed: rating.sources,
    assumed: rating.assumed,
    cautions: [...rating.cautions, ...pressureCautions(rating, input.pressure)],
  });
}

/** What sets a pressure: a row of the table, the law between rows far apart, the first row, or the vehicle's label. */
export type PressureBasis = PressureFor['basis'] | 'label';

export interface TirePressureFor {
  /** Cold pressure to set: what the load and its reserve need, never under the label or the first row, never over any maximum. */
  readonly pressure: Quantity;
  readonly basis: PressureBasis;
  /** The least that carries the load at all and holds the floor. Under it the tire is not to be used. */
  readonly pressureLeast: Quantity;
  /** What the tire may carry at `pressure`. */
  readonly loadAtPressure: Quantity;
  /** loadAtPressure less the load. */
  readonly margin: Quantity;
  /** margin as a share of loadAtPressure. */
  readonly reserve: Quantity;
  /** False: less is left than is asked for as a reserve. */
  readonly reserveKept: boolean;
  /** Where the floor comes from. */
  readonly floor: 'label' | 'table';
  readonly pressureMax: Quantity;
  readonly limitedBy: string;
  readonly sourcesUsed: readonly string[];
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** The problem of a load or of a label, or null. */
function askedProblem(rating: Rating, load: Quantity, label: Quantity | undefined): Problem | null {
  const wrong = rangeProblem([
    ['load', load, WHEEL_LOAD],
    ['labelPressure', label, COLD_PRESSURE],
  ]);
  if (wrong !== null) return wrong;
  if (load.value <= 0) {
    return { code: 'tire.load', what: 'A wheel carries something.', where: 'load', expected: 'a load above zero' };
  }
  if (label === undefined) return null;
  const psi = valueIn(label, 'psi');
  if (psi <= 0) {
    return {
      code: 'tire.label',
      what: 'A label asks for a pressure above zero.',
      where: 'labelPressure',
      expected: 'the cold pressure of the vehicle’s label',
    };
  }
  if (psi <= rating.psiMax * LABEL_SLACK) return null;
  return {
    code: 'tire.label-above-max',
    what: `The label asks for ${formatQuantity(label)}, more than ${rating.name} may hold here (${formatQuantity(like(rating.psiMax, 'psi', label), { digits: 0 })}, ${rating.limitedBy}).`,
    where: 'labelPressure',
    expected: 'a tire and a wheel that hold the label’s pressure',
    next: 'Do not tow on it: the label, the sidewall and the wheel do not belong together.',
  };
}

/** 65 psi is printed as 450 kPa beside it, which is 65.3. */
const LABEL_SLACK = 1.01;

function overload(rating: Rating, load: Quantity): Problem {
  return {
    code: 'tire.overload',
    what: `${rating.name} carries at most ${formatQuantity(like(rating.points.at(-1)!.lb, 'lb', load))}, whatever its pressure.`,
    where: 'load',
    expected: `a load up to that, limited by ${rating.limitedBy}`,
    next: 'Take load off that wheel, or fit tires of a higher load range on wheels rated for them.',
  };
}

const NO_LABEL =
  'labelPressure: not given; the floor is the first row of the table, and nothing shows that the label allows so little';

/**
 * The cold pressure one tire needs for a load with its reserve. The heaviest wheel end decides for its whole axle.
 *
 * The vehicle's label is the floor; where it is not known, the first row of the table is, and the answer says so. The reserve is given up
 * before a maximum is passed, and then said to be.
 *
 * @param input.labelPressure cold pressure of the vehicle's label for the size that is fitted
 * @returns the pressure in the unit system of the load, or `tire.overload` where no pressure allows it, `tire.label-above-max`
 * @example ST225/75R15, ST, load range D, 2,020 lb → 55 psi (2,270 lb, 11 % left); 45 psi would leave nothing
 */
export function tirePressureFor(
  input: TireSpec & { readonly load: Quantity; readonly labelPressure?: Quantity | undefined },
): Result<TirePressureFor> {
  const rated = tireRating(input);
  if (!rated.ok) return rated;
  const rating = rated.value;
  const wrong = askedProblem(rating, input.load, input.labelPressure);
  if (wrong !== null) return fail(wrong);
  const lb = valueIn(input.load, 'lb');
  const least = pressureFor(rating, lb);
  if (least === null) return fail(overload(rating, input.load));
  const most = rating.points.at(-1)!;
  const wanted = pressureFor(rating, lb / (1 - RESERVE_LEAST)) ?? { psi: most.psi, basis: 'table' as const };
  const label = input.labelPressure === undefined ? 0 : Math.min(valueIn(input.labelPressure, 'psi'), rating.psiMax);
  const byLabel = label > wanted.psi;
  const psi = Math.max(wanted.psi, label);
  const at = loadAt(rating, psi).lb;
  const reserve = (at - lb) / at;
  const reserveKept = reserve >= RESERVE_LEAST * (1 - 1e-9);
  const show = (value: number, unit: 'lb' | 'psi') => like(value, unit, input.load);
  const basis = byLabel ? 'label' : wanted.basis;
  return ok({
    pressure: show(psi, 'psi'),
    basis,
    pressureLeast: show(Math.max(least.psi, label), 'psi'),
    loadAtPressure: show(at, 'lb'),
    margin: show(at - lb, 'lb'),
    reserve: quantity(100 * reserve, '%'),
    reserveKept,
    floor: label > rating.points[0]!.psi ? 'label' : 'table',
    pressureMax: show(rating.psiMax, 'psi'),
    limitedBy: reserveKept ? LIMITED[basis] : rating.limitedBy,
    sourcesUsed: rating.sources,
    assumed: [...rating.assumed, ...(input.labelPressure === undefined ? [NO_LABEL] : [])],
    cautions: [...rating.cautions, ...settingCautions(input, reserveKept, basis)],
  });
}

const LIMITED: Readonly<Record<PressureBasis, string>> = {
  label: 'the label',
  'lowest-row': 'the first row of the table',
  table: 'the load and its reserve',
  'between-rows': 'the load and its reserve',
};

/** What always goes with a pressure to set. */
function settingCautions(input: TireSpec, reserveKept: boolean, basis: PressureBasis): readonly string[] {
  const reserve = `${formatQuantity(quantity(100 * RESERVE_LEAST, '%'))} of the rating`;
  return [
    ...(reserveKept
      ? []
      : [
          `Less than ${reserve} is left, the usual reserve: a limit. Take load off this wheel, or go no further than to where you can.`,
        ]),
    ...(basis === 'lowest-row'
      ? ['The table publishes no lower pressure: this is its first row, not a permission to run the tire that soft.']
      : []),
    ...(input.family === 'ST'
      ? [
          'For ST tires at up to 65 mph; above that they need more pressure. Many trailer makers ask for the sidewall’s maximum at any load.',
        ]
      : []),
    'Set the same pressure across the axle, by its heaviest wheel; the placard and the maker’s table outrank this.',
  ];
}
