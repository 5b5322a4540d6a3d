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
  if (total <= 0 || (open > 0 ? known >= total : Math.abs(known - total) > slack)) {
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

/** A tire's margin with what sums need: pounds and side. */
interface Wheel {
  readonly margin: Margin;
  readonly side: 'left' | 'right';
  readonly lb: number;
  readonly ratedLb: number;
  /** What it may carry at its highest pressure. */
  readonly ratedFullLb: number;
  readonly cautions: readonly string[];
}

function wheelOf(tire: FittedTire, lb: number, unit: Quantity['unit']): Result<Wheel> {
  const rating = tireRating(tire);
  if (!rating.ok) return fail({ ...rating.problems[0]!, where: `${tire.place}: ${rating.problems[0]!.where ?? ''}` });
  const low = tooLowProblem(rating.value, tire.pressure);
  if (low !== null) return fail({ ...low, where: `${tire.place}: pressure` });
  const ratedLb = loadAt(rating.value, valueIn(tire.pressure, 'psi')).lb;
  return ok({
    margin: marginOf(tire.place, lb, ratedLb, unit),
    side: tire.side,
    lb,
    ratedLb,
    ratedFullLb: rating.value.points.at(-1)!.lb,
    cautions: rating.value.cautions.map((caution) => `${tire.place}: ${caution}`),
  });
}

/** The wheels of one axle, in the order given. */
function wheelsOf(axle: AxleTires): Result<readonly Wheel[]> {
  if (axle.tires.length < 2) {
    return fail({
      code: 'tire.no-tires',
      what: `${axle.name} needs its tires named, left and right.`,
      where: axle.name,
    });
  }
  const mixed = mixedProblem(axle);
  if (mixed !== null) return fail(mixed);
  const loads = wheelLoads(axle);
  if (!loads.ok) return loads;
  const wheels: Wheel[] = [];
  for (const [i, tire] of axle.tires.entries()) {
    const wheel = wheelOf(tire, loads.value[i]!, axle.load.unit);
    if (!wheel.ok) return wheel;
    wheels.push(wheel.value);
  }
  return ok(wheels);
}

const sumOf = (wheels: readonly Wheel[], pick: 'lb' | 'ratedLb' | 'ratedFullLb') =>
  wheels.reduce((sum, wheel) => sum + wheel[pick], 0);

/**
 * Margins of every tire at its own cold pressure, of every axle and side.
 *
 * @returns margins in the unit of each axle's load; `tire.mixed-axle`, `tire.no-tires`, `tire.loads-do-not-add-up`, and those
 * of tireRating
 */
export function tireMargins(input: { readonly axles: readonly AxleTires[] }): Result<TireMargins> {
  const wheels: Wheel[] = [];
  const axles: Margin[] = [];
  const underRated: string[] = [];
  for (const axle of input.axles) {
    const own = wheelsOf(axle);
    if (!own.ok) return own;
    wheels.push(...own.value);
    axles.push(marginOf(axle.name, valueIn(axle.load, 'lb'), sumOf(own.value, 'ratedLb'), axle.load.unit));
    const rating = axle.rating === undefined ? 0 : valueIn(axle.rating, 'lb');
    if (sumOf(own.value, 'ratedFullLb') < rating * (1 - 1e-9)) underRated.push(axle.name);
  }
  const [first] = wheels;
  if (first === undefined) return fail({ code: 'tire.no-tires', what: 'No axle was given.', where: 'axles' });
  const sides = (['left', 'right'] as const).flatMap((side) => {
    const own = wheels.filter((wheel) => wheel.side === side);
    return own.length === 0 ? [] : [marginOf(side, sumOf(own, 'lb'), sumOf(own, 'ratedLb'), first.margin.load.unit)];
  });
  const tires = wheels.map((wheel) => wheel.margin);
  const tightest = tires.reduce((a, b) => (b.share.value < a.share.value ? b : a));
  const shared = input.axles.filter((axle) => axle.tires.some((tire) => tire.load === undefined));
  return ok({
    tires,
    axles,
    sides,
    underRated,
    tightest,
    limitedBy: tightest.place,
    assumed: shared.map((axle) => `${axle.name}: its load shared equally by the wheels not weighed alone`),
    cautions: [
      ...new Set(wheels.flatMap((wheel) => wheel.cautions)),
      ...underRated.map((name) => `The tires of ${name} are rated for less than the axle (49 CFR 571.110, 571.120).`),
    ],
  });
}
