/**
 * `tire-margins`: what is left between load and rating, for every tire, axle and side.
 *
 * Source: 49 CFR 571.110 and 571.120 S5.1.2: the tires of an axle are rated together for at least its GAWR. Published
 * advice of a reserve (10 %) is an owner-forum figure and not used as a limit.
 */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { convert, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { loadAt } from './law.ts';
import { type TireSpec, tireRating } from './rating.ts';
import { tooLowProblem } from './tire-load.ts';

export interface FittedTire extends TireSpec {
  /** `axle 2, left`. */
  readonly place: string;
  readonly side: 'left' | 'right';
  /** Cold gauge pressure, brought to the conditions of the trip. */
  readonly pressure: Quantity;
  /** Load of this wheel where it was weighed alone. */
  readonly load?: Quantity | undefined;
}

export interface AxleTires {
  readonly name: string;
  /** Load of the axle, from a scale. */
  readonly load: Quantity;
  readonly rating?: Quantity | undefined;
  readonly tires: readonly FittedTire[];
}

export interface Margin {
  readonly place: string;
  readonly load: Quantity;
  readonly rated: Quantity;
  readonly margin: Quantity;
  /** Margin as a share of the rating. */
  readonly share: Quantity;
}

export interface TireMargins {
  readonly tires: readonly Margin[];
  readonly axles: readonly Margin[];
  readonly sides: readonly Margin[];
  /** Axles whose tires are rated for less than the axle (571.110, 571.120). */
  readonly underRated: readonly string[];
  readonly tightest: Margin;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

function mixedProblem(axle: AxleTires): Problem | null {
  const names = new Set(
    axle.tires.map(
      (tire) => `${tire.family} ${tire.size.toUpperCase().replace(/\s/g, '')} ${tire.loadRange.toUpperCase()}`,
    ),
  );
  if (names.size <= 1) return null;
  return {
    code: 'tire.mixed-axle',
    what: `Different tires on one axle: ${[...names].join(' and ')}.`,
    where: axle.name,
    expected: 'one size, family and load range across an axle',
    next: 'Fit a matching pair before you tow.',
  };
}

function marginOf(place: string, load: number, rated: number, unit: Quantity['unit']): Margin {
  const mass = (lb: number) => convert(quantity(lb, 'lb'), unit);
  return {
    place,
    load: mass(load),
    rated: mass(rated),
    margin: mass(rated - load),
    share: quantity((100 * (rated - load)) / rated, '%'),
  };
}

/** Wheel loads of an axle in pounds: as weighed, the rest shared equally by the tires that were not. */
function wheelLoads(axle: AxleTires): Result<readonly number[]> {
  const total = valueIn(axle.load, 'lb');
  const weighed = axle.tires.map((tire) => (tire.load === undefined ? null : valueIn(tire.load, 'lb')));
  const known = weighed.reduce((sum: number, lb) => sum + (lb ?? 0), 0);
  const open = weighed.filter((lb) => lb === null).length;
  // A wheel scale may differ from the axle scale by a step at each end.
  const slack = 40;
  if (total <= 0 || known > total + slack || (open === 0 && Math.abs(known - total) > slack)) {
    return fail({
      code: 'tire.loads-do-not-add-up',
      what: `The wheels of ${axle.name} carry ${Math.round(known)} lb by themselves, the axle ${Math.round(total)} lb.`,
      where: axle.name,
      expected: 'wheel loads that add up to the load of their axle',
      next: 'Weigh wheels and axle on the same visit.',
    });
  }
  return ok(weighed.map((lb) => lb ?? (total - known) / open));
}

/**
 * Margins of every tire at its own cold pressure, of every axle and side.
 *
 * @returns margins in the unit of each axle's load; `tire.mixed-axle`, `tire.no-tires`, `tire.loads-do-not-add-up`, and those
 * of tireRating
 */
export function tireMargins(input: { readonly axles: readonly AxleTires[] }): Result<TireMargins> {
  const tires: (Margin & { side: 'left' | 'right'; lb: number; ratedLb: number })[] = [];
  const axles: Margin[] = [];
  const underRated: string[] = [];
  const assumed: string[] = [];
  const cautions: string[] = [];
  for (const axle of input.axles) {
    if (axle.tires.length < 2)
      return fail({
        code: 'tire.no-tires',
        what: `${axle.name} needs its tires named, left and right.`,
        where: axle.name,
      });
    const mixed = mixedProblem(axle);
    if (mixed !== null) return fail(mixed);
    const loads = wheelLoads(axle);
    if (!loads.ok) return loads;
    if (axle.tires.some((tire) => tire.load === undefined))
      assumed.push(`${axle.name}: its load shared equally by the wheels not weighed alone`);
    let rated = 0;
    let ratedFull = 0;
    for (const [i, tire] of axle.tires.entries()) {
      const rating = tireRating(tire);
      if (!rating.ok)
        return fail({ ...rating.problems[0]!, where: `${tire.place}: ${rating.problems[0]!.where ?? ''}` });
      const low = tooLowProblem(rating.value, tire.pressure);
      if (low !== null) return fail({ ...low, where: `${tire.place}: pressure` });
      const lb = loadAt(rating.value, valueIn(tire.pressure, 'psi')).lb;
      cautions.push(...rating.value.cautions.map((caution) => `${tire.place}: ${caution}`));
      rated += lb;
      ratedFull += rating.value.points.at(-1)!.lb;
      tires.push({
        ...marginOf(tire.place, loads.value[i]!, lb, axle.load.unit),
        side: tire.side,
        lb: loads.value[i]!,
        ratedLb: lb,
      });
    }
    axles.push(marginOf(axle.name, valueIn(axle.load, 'lb'), rated, axle.load.unit));
    if (axle.rating !== undefined && ratedFull < valueIn(axle.rating, 'lb') * (1 - 1e-9)) underRated.push(axle.name);
  }
  if (tires.length === 0) return fail({ code: 'tire.no-tires', what: 'No axle was given.', where: 'axles' });
  const sides = (['left', 'right'] as const).flatMap((side) => {
    const own = tires.filter((tire) => tire.side === side);
    const sum = (pick: (tire: (typeof own)[number]) => number) => own.reduce((total, tire) => total + pick(tire), 0);
    return own.length === 0
      ? []
      : [
          marginOf(
            side,
            sum((t) => t.lb),
            sum((t) => t.ratedLb),
            own[0]!.load.unit,
          ),
        ];
  });
  for (const name of underRated)
    cautions.push(`The tires of ${name} are rated for less than the axle (49 CFR 571.110, 571.120).`);
  const plain = tires.map(({ side: _side, lb: _lb, ratedLb: _rated, ...margin }) => margin);
  const tightest = plain.reduce((a, b) => (b.share.value < a.share.value ? b : a));
  return ok({
    tires: plain,
    axles,
    sides,
    underRated,
    tightest,
    limitedBy: tightest.place,
    assumed: [...new Set(assumed)],
    cautions: [...new Set(cautions)],
  });
}
