/** What a tire is allowed to carry at which pressure: the rows that hold for one tire, the sidewall and the wheel above them. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { formatQuantity, type Quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { asDual } from './dual.ts';
import { isLoadRange, LOAD_RANGE_PSI, P_TIRE_DIVISOR, TIRE_SOURCES, type TireFamily, TWO_RATINGS } from './families.ts';
import { loadAt } from './law.ts';
import type { Point } from './plausible.ts';
import { COLD_PRESSURE, WHEEL_LOAD } from './ranges.ts';
import { type Against, joinSidewall, rangeLimit, rowsProblem, sidewallProblem } from './sidewall.ts';
import { familyProblem, namedSize } from './size.ts';
import { tireTables } from './tables/load-inflation.ts';

/** A load at a cold gauge pressure, from a sidewall or a maker's table. */
export interface RatedPoint {
  readonly load: Quantity;
  readonly pressure: Quantity;
}

/** What stands on the wheel, and on its valve. */
export interface WheelSpec {
  /** The most one wheel carries. */
  readonly load?: Quantity | undefined;
  /** The highest cold pressure of the wheel and its valve, the lower of the two. */
  readonly pressure?: Quantity | undefined;
}

/** A tire as its sidewall names it. */
export interface TireSpec {
  /** `ST225/75R15`; the family letters may be left out. */
  readonly size: string;
  readonly family: TireFamily;
  /** A letter, B to G and beyond; `SL`, `XL` or `LL` on a passenger tire. */
  readonly loadRange: string;
  readonly fitment?: 'single' | 'dual' | undefined;
  /** Maximum load and its pressure as moulded in the sidewall; outranks every table. */
  readonly sidewall?: RatedPoint | undefined;
  /** Rows of the tire maker's own table; outrank ours. */
  readonly rows?: readonly RatedPoint[] | undefined;
  /** What the loads of `sidewall` and `rows` are for; one tire alone where not given. */
  readonly ratedFor?: 'single' | 'dual' | undefined;
  readonly wheel?: WheelSpec | undefined;
  /** Where it is fitted. A P tire counts for less on anything but a car. */
  readonly vehicle?: 'trailer' | 'truck' | 'car' | undefined;
}

/** Rows in pounds and psi, rising in both; the last is the most the tire may carry and hold. */
export interface Rating {
  readonly name: string;
  readonly family: TireFamily;
  readonly points: readonly Point[];
  /** Highest cold pressure, psi. */
  readonly psiMax: number;
  /** What sets the top: the sidewall, the wheel, the load range or the end of the table. */
  readonly limitedBy: string;
  readonly sources: readonly string[];
  /** What was not given and therefore assumed. */
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const pointOf = ({ pressure, load }: RatedPoint): Point => ({ psi: valueIn(pressure, 'psi'), lb: valueIn(load, 'lb') });

/** All published rows of a size in a fitment. */
const publishedRows = (key: string, fitment: 'single' | 'dual') =>
  tireTables.find((one) => one.size === key && one.fitment === fitment)?.rows ?? [];

const publishedPoints = (key: string, fitment: 'single' | 'dual'): readonly Point[] =>
  publishedRows(key, fitment).map(([psi, lb]) => ({ psi, lb }));

/** A tire whose names are known to fit together. */
interface Named {
  readonly spec: TireSpec;
  readonly key: string;
  readonly loadRange: string;
  /** `ST225/75R15 D`. */
  readonly name: string;
  readonly fitment: 'single' | 'dual';
  readonly ratedFor: 'single' | 'dual';
  readonly against: Against;
}

function named(spec: TireSpec): Result<Named> {
  const loadRange = spec.loadRange
    .toUpperCase()
    .replace(/\s/g, '')
    .replace(/^(?:LR|LOADRANGE)(?=.)/, '');
  if (!isLoadRange(loadRange, spec.family)) {
    return fail({
      code: 'tire.load-range',
      what: `\`${spec.loadRange}\` is no load range of a ${spec.family} tire.`,
      where: 'loadRange',
      expected: 'one letter, B to G, as moulded after LOAD RANGE; SL or XL on a passenger tire',
    });
  }
  const size = namedSize(spec.size, spec.family);
  if (size.loadRange !== null && size.loadRange !== loadRange) {
    return fail({
      code: 'tire.load-range',
      what: `The size says load range ${size.loadRange}, the load range says ${loadRange}.`,
      where: 'loadRange',
      expected: 'the letter moulded after LOAD RANGE',
      next: 'Read the sidewall again: one of the two is not of this tire.',
    });
  }
  const mismatch = familyProblem(size.key, spec.family);
  if (mismatch !== null) return fail(mismatch);
  const ratedFor = spec.ratedFor ?? 'single';
  const published = publishedPoints(size.key, ratedFor);
  return ok({
    spec,
    key: size.key,
    loadRange,
    name: `${size.key} ${loadRange}`,
    fitment: spec.fitment ?? 'single',
    ratedFor,
    against: { key: size.key, family: spec.family, loadRange, ratedFor, published },
  });
}

/** Figures as entered, as figures of the fitment asked for. */
function fitted({ key, fitment, ratedFor, spec, name }: Named, points: readonly Point[]): Result<readonly Point[]> {
  if (fitment === ratedFor || fitment === 'single') return ok(points);
  const reduced = asDual(points, key, spec.family);
  if (reduced !== null) return ok(reduced);
  return fail({
    code: 'tire.dual-unknown',
    what: `What ${name} carries in a pair is not published here; it is always less than alone.`,
    where: 'ratedFor',
    expected: 'the DUAL load of the sidewall or the maker’s table, and `ratedFor` dual',
    next: 'Read the smaller of the two loads moulded in the sidewall.',
  });
}

interface Rows {
  readonly points: readonly Point[];
  /** Highest pressure, psi; 0 where only the sidewall can say. */
  readonly top: number;
  readonly sources: readonly string[];
}

/** The rows that hold: the maker's as entered, else ours; none above the load range. */
function rowsOf(tire: Named): Result<Rows> {
  const { spec, key, loadRange, against, fitment } = tire;
  const usual = LOAD_RANGE_PSI[loadRange] ?? 0;
  const own = (spec.rows ?? []).map(pointOf).sort((a, b) => a.psi - b.psi);
  if (own.length > 0) {
    const wrong = rowsProblem(own, against);
    if (wrong !== null) return fail(wrong);
    // A maker's table runs on through all load ranges of the size; this tire's own range ends it.
    const most = rangeLimit(key, spec.family, loadRange) ?? Number.POSITIVE_INFINITY;
    const points = fitted(
      tire,
      own.filter((point) => point.psi <= most),
    );
    if (!points.ok) return points;
    return ok({
      points: points.value,
      top: points.value.at(-1)?.psi ?? 0,
      sources: ['the tire maker’s table as entered'],
    });
  }
  const rows = publishedRows(key, fitment).filter((row) => row[2] <= loadRange);
  const exact = rows.filter((row) => row[2] === loadRange).at(-1);
  const top = exact?.[0] ?? usual;
  return ok({
    points: rows.map(([psi, lb]) => ({ psi, lb })).filter((point) => point.psi <= top),
    top,
    sources: [...new Set(rows.map((row) => TIRE_SOURCES[row[3]]))],
  });
}

/** Asks for what the tables do not have; never offers what was typed. */
function unknownProblem({ spec, key, loadRange, name, fitment }: Named): Problem {
  const ranges = [...new Set(publishedRows(key, fitment).map((row) => row[2]))];
  const others = tireTables
    .filter((one) => one.family === spec.family && one.fitment === fitment && one.size !== key)
    .filter((one) => one.rows.some((row) => row[2] <= loadRange))
    .map((one) => one.size);
  const asked = 'the maximum load and pressure of the sidewall, or the rows of the tire maker’s table';
  return {
    code: 'tire.size-unknown',
    what:
      ranges.length > 0
        ? `No published rows for ${name}: those of ${key} begin with load range ${ranges[0]}.`
        : `No published rows for ${name}${fitment === 'dual' ? ' in a pair' : ''}.`,
    where: 'size',
    expected: ranges.length > 0 || others.length === 0 ? asked : `${asked}; published are ${others.join(', ')}`,
    next: 'Read the sidewall, and enter its maximum load and pressure.',
  };
}

/** Rows and sidewall together, the sidewall on top. */
function topped(tire: Named): Result<Omit<Rating, 'assumed'>> {
  const { spec, name, key, loadRange, against, fitment, ratedFor } = tire;
  const rows = rowsOf(tire);
  if (!rows.ok) return rows;
  const base = { name, family: spec.family };
  if (spec.sidewall !== undefined) {
    const point = pointOf(spec.sidewall);
    const wrong = sidewallProblem(point, against);
    if (wrong !== null) return fail(wrong);
    const own = fitted(tire, [point]);
    if (!own.ok) return own;
    const joined = joinSidewall(rows.value.points, own.value[0]!, spec.family, name);
    const reduced = fitment === 'dual' && ratedFor === 'single';
    return ok({
      ...base,
      points: joined.points,
      psiMax: point.psi,
      limitedBy: 'the sidewall',
      sources: ['the tire’s own sidewall', ...rows.value.sources],
      cautions: [...joined.cautions, ...(reduced ? [REDUCED] : [])],
    });
  }
  if (TWO_RATINGS.includes(name) && spec.rows === undefined) {
    return fail({
      code: 'tire.two-ratings',
      what: `${name} is sold with two different ratings.`,
      where: 'sidewall',
      expected: 'the maximum load and pressure moulded in this tire’s sidewall',
    });
  }
  const { points, top, sources } = rows.value;
  const last = points.at(-1);
  if (last === undefined) return fail(unknownProblem({ ...tire, key, loadRange }));
  return ok({
    ...base,
    points,
    psiMax: top,
    limitedBy: last.psi === top ? `load range ${loadRange}` : 'the end of the published table',
    sources,
    cautions: fitment === 'dual' && ratedFor === 'single' && (spec.rows ?? []).length > 0 ? [REDUCED] : [],
  });
}

const REDUCED =
  'The figures entered are for one tire alone: in a pair it is taken to carry less, as the published pairs do.';
const DIVIDED = 'A passenger tire counts for its rating divided by 1.10 on a trailer or truck (49 CFR 571.120 S5.1.2).';

/** A passenger tire on anything but a car. */
function divided(rating: Omit<Rating, 'assumed'>, spec: TireSpec): Omit<Rating, 'assumed'> {
  if (spec.family !== 'P' || spec.vehicle === 'car') return rating;
  const points = rating.points.map((point) => ({ psi: point.psi, lb: point.lb / P_TIRE_DIVISOR }));
  return { ...rating, points, cautions: [...rating.cautions, DIVIDED] };
}

const NO_WHEEL = 'wheel: holds and carries what the tire does; not given';

/** Held under what the wheel and its valve hold and carry. */
function onWheel(rating: Omit<Rating, 'assumed'>, wheel: WheelSpec | undefined): Result<Rating> {
  const { load, pressure } = wheel ?? {};
  const wrong = rangeProblem([
    ['wheel.pressure', pressure, COLD_PRESSURE],
    ['wheel.load', load, WHEEL_LOAD],
  ]);
  if (wrong !== null) return fail(wrong);
  if ([pressure, load].some((figure) => figure !== undefined && figure.value <= 0)) {
    return fail({
      code: 'tire.wheel',
      what: 'A wheel holds and carries more than nothing.',
      where: 'wheel',
      expected: 'the figures stamped on the wheel and its valve',
    });
  }
  let { points, psiMax, limitedBy } = rating;
  const psi = pressure === undefined ? psiMax : valueIn(pressure, 'psi');
  if (psi < points[0]!.psi) {
    return fail({
      code: 'tire.wheel',
      what: `This wheel holds ${formatQuantity(pressure!)}, less than the lowest pressure at which ${rating.name} is rated (${Math.round(points[0]!.psi)} psi).`,
      where: 'wheel.pressure',
      expected: 'a wheel and valve that hold the pressure of their tire',
      next: 'Do not tow on it: fit a wheel rated for this tire.',
    });
  }
  if (psi < psiMax) {
    const top = { psi, lb: loadAt(rating, psi).lb };
    points = [...points.filter((point) => point.psi < psi), top];
    [psiMax, limitedBy] = [psi, 'the wheel'];
  }
  const most = load === undefined ? Number.POSITIVE_INFINITY : valueIn(load, 'lb');
  if (most < points.at(-1)!.lb) {
    points = points.map((point) => ({ psi: point.psi, lb: Math.min(point.lb, most) }));
    limitedBy = 'the wheel';
  }
  const unknown = load === undefined || pressure === undefined;
  return ok({ ...rating, points, psiMax, limitedBy, assumed: unknown ? [NO_WHEEL] : [] });
}

/**
 * The rows that hold for a tire, from the maker's own table, ours, and the sidewall, which wins; never above its load range, its wheel or
 * what any tire of its kind and size is rated for.
 *
 * @returns the rating, or `tire.load-range`, `tire.family-mismatch`, `tire.rows-not-rising`, `tire.rows-too-steep`, `tire.two-ratings`,
 * `tire.size-unknown`, `tire.rating-implausible`, `tire.rating-implausible`, `tire.dual-unknown`, `tire.wheel`, `quantity.out-of-range`
 */
export function tireRating(spec: TireSpec): Result<Rating> {
  const tire = named(spec);
  if (!tire.ok) return tire;
  const rating = topped(tire.value);
  return rating.ok ? onWheel(divided(rating.value, spec), spec.wheel) : rating;
}
