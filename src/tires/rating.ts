/** What a tire is allowed to carry at which pressure: the rows that hold for one tire, and the sidewall above them. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type Quantity, valueIn } from '../quantity/index.ts';
import { LOAD_RANGE_PSI, P_TIRE_DIVISOR, TIRE_SOURCES, type TireFamily, TWO_RATINGS } from './families.ts';
import { tireTables } from './tables/load-inflation.ts';

/** A load at a cold gauge pressure, from a sidewall or a maker's table. */
export interface RatedPoint {
  readonly load: Quantity;
  readonly pressure: Quantity;
}

/** A tire as its sidewall names it. */
export interface TireSpec {
  /** `ST225/75R15`; the family letters may be left out. */
  readonly size: string;
  readonly family: TireFamily;
  /** B to G. */
  readonly loadRange: string;
  readonly fitment?: 'single' | 'dual' | undefined;
  /** Maximum load and its pressure as moulded in the sidewall; outranks every table. */
  readonly sidewall?: RatedPoint | undefined;
  /** Rows of the tire maker's own table; outrank ours. */
  readonly rows?: readonly RatedPoint[] | undefined;
  /** Where it is fitted. A P tire counts for less on anything but a car. */
  readonly vehicle?: 'trailer' | 'truck' | 'car' | undefined;
}

/** Rows in pounds and psi, rising in both; the last is the most the tire may carry and hold. */
export interface Rating {
  readonly name: string;
  readonly family: TireFamily;
  readonly points: readonly { readonly psi: number; readonly lb: number }[];
  /** Highest cold pressure, psi. */
  readonly psiMax: number;
  /** What sets the top: the sidewall, the load range or the end of the table. */
  readonly limitedBy: string;
  readonly sources: readonly string[];
  readonly cautions: readonly string[];
}

/** `st 225/75 r 15 bias` → `ST225/75R15`. */
function sizeKey(size: string, family: TireFamily): string {
  const plain = size.toUpperCase().replace(/\s|BIAS/g, '');
  const prefix = family === 'LT-bias' ? '' : family;
  return prefix !== '' && /^\d/.test(plain) && !plain.endsWith('LT') ? prefix + plain : plain;
}

function familyProblem(key: string, family: TireFamily): Problem | null {
  const letters = /^(ST|LT|P)/.exec(key)?.[1] ?? (key.endsWith('LT') ? 'LT-bias' : null);
  if (letters === null || letters === family || (letters === 'LT' && family === 'LT-bias')) return null;
  return {
    code: 'tire.family-mismatch',
    what: `${key} is a tire of the ${letters} family, not ${family}.`,
    where: 'family',
    expected: 'the family whose letters stand before the size',
    next: 'Each family has its own law; using another one overrates the tire.',
  };
}

function tablePoints(key: string, spec: TireSpec) {
  const table = tireTables.find((one) => one.size === key && one.fitment === (spec.fitment ?? 'single'));
  const rows = (table?.rows ?? []).filter((row) => row[2] <= spec.loadRange);
  const own = (spec.rows ?? []).map(({ pressure, load }) => ({
    psi: valueIn(pressure, 'psi'),
    lb: valueIn(load, 'lb'),
  }));
  if (own.length > 0) {
    return {
      points: own.sort((a, b) => a.psi - b.psi),
      sources: ['the tire maker’s table as entered'],
      known: true,
      top: own.at(-1)!.psi,
    };
  }
  // The highest pressure is the last row of exactly this range, or what the range usually allows.
  const exact = rows.filter((row) => row[2] === spec.loadRange);
  return {
    points: rows.map(([psi, lb]) => ({ psi, lb })),
    sources: [...new Set(rows.map((row) => TIRE_SOURCES[row[3]]))],
    known: table !== undefined,
    top: exact.length > 0 ? exact.at(-1)![0] : (LOAD_RANGE_PSI[spec.loadRange] ?? 0),
  };
}

/** Published rows that rise in both columns, as any load table does. */
function risingProblem(points: readonly { psi: number; lb: number }[]): Problem | null {
  const wrong = points.findIndex(
    (p, i) => p.psi <= 0 || p.lb <= 0 || (i > 0 && (p.psi <= points[i - 1]!.psi || p.lb < points[i - 1]!.lb)),
  );
  if (wrong < 0) return null;
  return {
    code: 'tire.rows-not-rising',
    what: 'More pressure never carries less: the rows do not rise.',
    where: `rows.${wrong}`,
    expected: 'rows of a load table, each with a higher pressure and a load at least as high',
  };
}

/** How far a sidewall may stand above the table before it must be a misreading; two known ratings differ by 8 %. */
const SIDEWALL_ABOVE_TABLE = 1.15;

function withSidewall(
  points: readonly { psi: number; lb: number }[],
  sidewall: RatedPoint,
  name: string,
): Result<{ points: { psi: number; lb: number }[]; cautions: string[] }> {
  const psi = valueIn(sidewall.pressure, 'psi');
  const lb = valueIn(sidewall.load, 'lb');
  if (psi <= 0 || lb <= 0) {
    return fail({
      code: 'tire.sidewall',
      what: 'A sidewall rates a load and a pressure above zero.',
      where: 'sidewall',
    });
  }
  const table = points.filter((point) => point.psi <= psi).at(-1);
  const expected = table === undefined ? Number.POSITIVE_INFINITY : table.lb * (psi / table.psi);
  if (table !== undefined && lb > expected * SIDEWALL_ABOVE_TABLE) {
    return fail({
      code: 'tire.sidewall-implausible',
      what: `The sidewall as entered carries ${Math.round(lb)} lb at ${Math.round(psi)} psi; the table gives ${table.lb} lb at ${table.psi} psi.`,
      where: 'sidewall.load',
      expected: 'the SINGLE maximum load of the sidewall, near the table’s',
      next: 'Read the sidewall again: the single and the dual rating stand side by side, in pounds and kilograms.',
    });
  }
  const cautions =
    table !== undefined && table.psi === psi && table.lb !== lb
      ? [
          `The sidewall of this ${name} (${Math.round(lb)} lb) differs from the table (${table.lb} lb): the sidewall holds.`,
        ]
      : [];
  const kept = points
    .filter((point) => point.psi < psi)
    .map((point) => ({ psi: point.psi, lb: Math.min(point.lb, lb) }));
  return ok({ points: [...kept, { psi, lb }], cautions });
}

/**
 * The rows that hold for a tire, from the maker's own table, ours, and the sidewall, which wins.
 *
 * @returns the rating, or `tire.load-range`, `tire.family-mismatch`, `tire.rows-not-rising`, `tire.two-ratings`,
 * `tire.size-unknown`, `tire.sidewall`, `tire.sidewall-implausible`
 */
export function tireRating(input: TireSpec): Result<Rating> {
  const spec = { ...input, loadRange: input.loadRange.trim().toUpperCase() };
  if (LOAD_RANGE_PSI[spec.loadRange] === undefined) {
    return fail({
      code: 'tire.load-range',
      what: `\`${input.loadRange}\` is no load range.`,
      where: 'loadRange',
      expected: 'one letter, B to G, as moulded after LOAD RANGE',
    });
  }
  const key = sizeKey(spec.size, spec.family);
  const name = `${key} ${spec.loadRange}`;
  const mismatch = familyProblem(key, spec.family);
  if (mismatch !== null) return fail(mismatch);
  const table = tablePoints(key, spec);
  const falling = risingProblem(table.points);
  if (falling !== null) return fail(falling);
  if (spec.sidewall === undefined && TWO_RATINGS.includes(name) && spec.rows === undefined) {
    return fail({
      code: 'tire.two-ratings',
      what: `${name} is sold with two different ratings.`,
      where: 'sidewall',
      expected: 'the maximum load and pressure moulded in this tire’s sidewall',
    });
  }
  const cautions: string[] = [];
  let points = table.points.filter((point) => point.psi <= table.top);
  let limitedBy = points.at(-1)?.psi === table.top ? `load range ${spec.loadRange}` : 'the end of the published table';
  let psiMax = table.top;
  if (spec.sidewall !== undefined) {
    const joined = withSidewall(points, spec.sidewall, name);
    if (!joined.ok) return joined;
    points = joined.value.points;
    cautions.push(...joined.value.cautions);
    limitedBy = 'the sidewall';
    psiMax = valueIn(spec.sidewall.pressure, 'psi');
  }
  if (points.length === 0) {
    const known = [...new Set(tireTables.filter((one) => one.family === spec.family).map((one) => one.size))];
    return fail({
      code: 'tire.size-unknown',
      what: `No published rows for ${name}${table.known ? ' in this load range' : ''}.`,
      where: 'size',
      expected:
        known.length === 0 ? 'the sidewall’s maximum load and pressure' : `one of ${known.join(', ')}, or the sidewall`,
      next: 'Enter the maximum load and pressure of the sidewall, or the rows of the tire maker’s table.',
    });
  }
  const divided = spec.family === 'P' && (spec.vehicle ?? 'trailer') !== 'car';
  if (divided) {
    points = points.map((point) => ({ psi: point.psi, lb: point.lb / P_TIRE_DIVISOR }));
    cautions.push(
      'A passenger tire counts for its rating divided by 1.10 on a trailer or truck (49 CFR 571.120 S5.1.2).',
    );
  }
  const sources = [...(spec.sidewall === undefined ? [] : ['the tire’s own sidewall']), ...table.sources];
  return ok({ name, family: spec.family, points, psiMax, limitedBy, sources, cautions });
}
