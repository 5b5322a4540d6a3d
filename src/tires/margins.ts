/**
 * `tire-margins`: what is left between load and rating, for every tire, axle and side.
 *
 * Source: 49 CFR 571.110 and 571.120 S5.1.2: the tires of an axle are rated together for at least its GAWR, which is the maker's figure
 * on the certification label (49 CFR 567). A tire with less than the usual reserve left is named; the reserve is common practice.
 */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { loadAt } from './law.ts';
import { GAUGE_ERROR_PSI, RESERVE_LEAST } from './limits.ts';
import { AXLE_LOAD, WHEEL_LOAD } from './ranges.ts';
import { type TireSpec, tireRating } from './rating.ts';
import { pressureCautions, pressureProblem } from './tire-load.ts';

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
  /** Tires with less than the usual reserve left, those over their rating among them. */
  readonly thin: readonly string[];
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
  const wrong = rangeProblem([
    ['load', axle.load, AXLE_LOAD],
    ['rating', axle.rating, AXLE_LOAD],
    ...axle.tires.map((tire) => [`${tire.place}: load`, tire.load, WHEEL_LOAD] as const),
  ]);
  if (wrong !== null) return fail({ ...wrong, where: `${axle.name}: ${wrong.where}` });
  const nothing = weighed.findIndex((lb) => lb !== null && lb <= 0);
  if (nothing >= 0) {
    return fail({
      code: 'tire.load',
      what: 'A wheel carries something.',
      where: `${axle.tires[nothing]!.place}: load`,
      expected: 'a load above zero, or none where the wheel was not weighed alone',
    });
  }
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
  readonly psi: number;
  readonly cautions: readonly string[];
}

function wheelOf(tire: FittedTire, lb: number, unit: Quantity['unit']): Result<Wheel> {
  const rating = tireRating(tire);
  if (!rating.ok) return fail({ ...rating.problems[0]!, where: `${tire.place}: ${rating.problems[0]!.where ?? ''}` });
  const wrong = pressureProblem(rating.value, tire.pressure);
  if (wrong !== null) return fail({ ...wrong, where: `${tire.place}: pressure` });
  const ratedLb = loadAt(rating.value, valueIn(tire.pressure, 'psi')).lb;
  return ok({
    margin: marginOf(tire.place, lb, ratedLb, unit),
    side: tire.side,
    lb,
    ratedLb,
    ratedFullLb: rating.value.points.at(-1)!.lb,
    psi: valueIn(tire.pressure, 'psi'),
    cautions: [...rating.value.cautions, ...pressureCautions(rating.value, tire.pressure)].map(
      (caution) => `${tire.place}: ${caution}`,
    ),
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

/** What to say of a tire that is over its rating, or has less than the usual reserve left. */
function thinCaution({ place, margin, share }: Margin): string {
  if (margin.value < 0)
    return `Over: ${place} by ${formatQuantity(quantity(-margin.value, margin.unit), { digits: 0 })}. Do not tow until it is under.`;
  return `${place}: ${formatQuantity(share, { digits: 0 })} left, less than the usual reserve of ${formatQuantity(quantity(100 * RESERVE_LEAST, '%'))}: a limit.`;
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
  const uneven: string[] = [];
  for (const axle of input.axles) {
    const own = wheelsOf(axle);
    if (!own.ok) return own;
    wheels.push(...own.value);
    const pressures = own.value.map((wheel) => wheel.psi);
    if (Math.max(...pressures) - Math.min(...pressures) > 2 * GAUGE_ERROR_PSI)
      uneven.push(
        `The tires of ${axle.name} differ in pressure by more than a gauge does: set them alike, by the heaviest wheel.`,
      );
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
  const thin = tires.filter((margin) => valueIn(margin.share, 'ratio') < RESERVE_LEAST * (1 - 1e-9));
  const shared = input.axles.filter((axle) => axle.tires.some((tire) => tire.load === undefined));
  return ok({
    tires,
    axles,
    sides,
    underRated,
    thin: thin.map((margin) => margin.place),
    tightest,
    limitedBy: tightest.place,
    assumed: shared.map((axle) => `${axle.name}: its load shared equally by the wheels not weighed alone`),
    cautions: [
      ...thin.map(thinCaution),
      ...uneven,
      ...new Set(wheels.flatMap((wheel) => wheel.cautions)),
      ...underRated.map((name) => `The tires of ${name} are rated for less than the axle (49 CFR 571.110, 571.120).`),
    ],
  });
}
