/** A value with its unit, and exact conversion between units of one dimension. */

import { power } from '../elementary/index.ts';
import { minus, over, rational, times } from './rational.ts';
import { type UnitId, units } from './units.ts';

/** A value kept as the person read it. Pressures are gauge pressures unless a field says otherwise. */
export interface Quantity {
  readonly value: number;
  readonly unit: UnitId;
}

/** Nothing is nothing: −0 comes of rounding and of subtraction, prints as `-0`, and is not equal to 0 where values are compared bit by bit. */
const unsigned = (value: number): number => (value === 0 ? 0 : value);

/** A quantity from a finite number, never −0; throws on NaN and infinities (an invariant of the caller). */
export function quantity(value: number, unit: UnitId): Quantity {
  if (!Number.isFinite(value)) throw new Error(`invariant: ${value} ${unit} is not a finite quantity`);
  return { value: unsigned(value), unit };
}

/** to = (from · num + add) / den, all three whole numbers (or the nearest doubles where they exceed 2^53). */
interface Line {
  readonly num: number;
  readonly add: number;
  readonly den: number;
}

const lines = new Map<string, Line>();

function line(from: UnitId, to: UnitId): Line {
  const key = `${from}>${to}`;
  const known = lines.get(key);
  if (known !== undefined) return known;
  const a = units[from];
  const b = units[to];
  if (a.dimension !== b.dimension) {
    throw new Error(`invariant: ${from} (${a.dimension}) cannot become ${to} (${b.dimension})`);
  }
  const slope = over(a.factor, b.factor);
  const shift = minus(times(a.offset, slope), b.offset);
  // One common denominator, so that 212 °F is (212·5 − 160)/9 °C with a single rounding.
  const den = rational(slope.den * shift.den, 1n).num;
  const num = slope.num * shift.den;
  const add = shift.num * slope.den;
  const common = [num, add, den].reduce((x, y) => {
    let [p, q] = [x < 0n ? -x : x, y < 0n ? -y : y];
    while (q !== 0n) [p, q] = [q, p % q];
    return p;
  });
  const made = { num: Number(num / common), add: Number(add / common), den: Number(den / common) };
  lines.set(key, made);
  return made;
}

/**
 * The quantity's value in another unit of the same dimension. Factors are exact fractions, so a result differs from the
 * true one by at most two roundings. Throws where the dimensions differ.
 *
 * @example valueIn(quantity(50, 'psi'), 'kPa') // 344.737864658...
 */
export function valueIn(q: Quantity, unit: UnitId): number {
  if (q.unit === unit) return q.value;
  const { num, add, den } = line(q.unit, unit);
  return (q.value * num + add) / den;
}

/** The same quantity in another unit. */
export function convert(q: Quantity, unit: UnitId): Quantity {
  return { value: unsigned(valueIn(q, unit)), unit };
}

/** −1, 0 or 1 as `a` is less than, the same as or more than `b`. */
export function compare(a: Quantity, b: Quantity): -1 | 0 | 1 {
  const other = valueIn(b, a.unit);
  return a.value < other ? -1 : a.value > other ? 1 : 0;
}

/** Decimals written in the shortest text of a number, at most 9; −1 where it has more or an exponent. */
function decimalsOf(value: number): number {
  const text = String(value);
  if (text.includes('e')) return -1;
  const point = text.indexOf('.');
  const decimals = point < 0 ? 0 : text.length - point - 1;
  return decimals > 9 ? -1 : decimals;
}

/**
 * The sum of two decimals as a person would write it: 0.1 + 0.2 is 0.3, so that tenths of miles never drift.
 * Numbers with more than nine decimals, or too large for that, are added as doubles.
 */
function decimalSum(a: number, b: number): number {
  const [da, db] = [decimalsOf(a), decimalsOf(b)];
  if (da < 0 || db < 0) return a + b;
  const scale = power(10, Math.max(da, db));
  const sum = Math.round(a * scale) + Math.round(b * scale);
  return Number.isSafeInteger(sum) && Math.abs(a * scale) < 2 ** 52 && Math.abs(b * scale) < 2 ** 52
    ? sum / scale
    : a + b;
}

/** a + b in the unit of `a`. */
export function add(a: Quantity, b: Quantity): Quantity {
  return { value: unsigned(decimalSum(a.value, valueIn(b, a.unit))), unit: a.unit };
}

/** a − b in the unit of `a`. */
export function subtract(a: Quantity, b: Quantity): Quantity {
  return { value: unsigned(decimalSum(a.value, -valueIn(b, a.unit))), unit: a.unit };
}
