/** The least and the most that a quantity can be: what lies outside was misread or mistyped. */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from './convert.ts';
import { formatQuantity } from './format.ts';
import { type Dimension, dimensionOf, type UnitId, units } from './units.ts';

/** Both ends are allowed. */
export interface QuantityRange {
  readonly least: number;
  readonly most: number;
  readonly unit: UnitId;
}

/** A range; throws where it is empty (an invariant of the caller). */
export function range(least: number, most: number, unit: UnitId): QuantityRange {
  if (!(least <= most)) throw new Error(`invariant: no quantity lies between ${least} and ${most} ${unit}`);
  return { least, most, unit };
}

/** The same magnitude on both sides of zero. */
const within = (most: number, unit: UnitId): QuantityRange => range(-most, most, unit);

/**
 * By dimension, what nothing about a rig, its tow vehicle, its tools or its roads can exceed. A field that knows more declares
 * a narrower range. Magnitudes only, so that a field keeps its own words for a negative value.
 *
 * Source: our own choice, each at least ten times what any rig shows (common practice, no source).
 */
export const PLAUSIBLE: Readonly<Record<Dimension, QuantityRange>> = {
  length: within(2_000_000, 'mi'),
  area: within(100_000, 'ft2'),
  volume: within(100_000, 'gal'),
  mass: within(1_000_000, 'lb'),
  force: within(1_000_000, 'lbf'),
  pressure: within(10_000, 'psi'),
  'pressure-rate': within(10_000, 'psi/d'),
  temperature: range(-459.67, 3000, 'degF'),
  'temperature-difference': within(3000, 'deltaF'),
  torque: within(20_000, 'lb-ft'),
  time: within(100_000, 'd'),
  calendar: within(2400, 'month'),
  speed: within(300, 'mph'),
  flow: within(100_000, 'gpm'),
  'mass-rate': within(10_000, 'lb/h'),
  energy: within(10_000, 'kWh'),
  power: within(1_000_000, 'W'),
  density: within(100, 'lb/gal'),
  'electric-potential': within(1000, 'V'),
  'electric-current': within(10_000, 'A'),
  'electric-charge': within(100_000, 'Ah'),
  'electric-resistance': within(1e9, 'ohm'),
  concentration: within(1_000_000, 'mg/L'),
  ratio: within(10_000, '%'),
  count: within(1_000_000, 'each'),
  money: within(10_000_000, 'USD'),
};

/** The range in the words of a message, in a unit of the reader's: `0 to 200 psi`. */
export function rangeText({ least, most, unit }: QuantityRange, as: UnitId = unit): string {
  const end = (value: number): Quantity => quantity(Number(valueIn(quantity(value, unit), as).toPrecision(4)), as);
  const low = formatQuantity(end(least)).replace(` ${units[as].symbol}`, '');
  return `${low} to ${formatQuantity(end(most))}`;
}

/** As read; figures beyond all reading by their power of ten. */
function shown(q: Quantity): string {
  return Math.abs(q.value) < 1e9 ? formatQuantity(q) : `${q.value.toExponential(2)} ${units[q.unit].symbol}`.trimEnd();
}

/**
 * The quantity where it lies within the range, else `quantity.out-of-range`. The dimensions must agree.
 *
 * @example inRange(quantity(1e308, 'psi'), range(0, 200, 'psi')) // a Problem: expected 0 to 200 psi
 */
export function inRange(q: Quantity, limits: QuantityRange): Result<Quantity> {
  const value = valueIn(q, limits.unit);
  // A last bit lost on the way between units is no reason to refuse an end of the range.
  const slack = 1e-9 * Math.max(Math.abs(limits.least), Math.abs(limits.most), 1);
  if (value >= limits.least - slack && value <= limits.most + slack) return ok(q);
  const problem: Problem = {
    code: 'quantity.out-of-range',
    what: `\`${shown(q)}\` cannot be right.`,
    expected: rangeText(limits, q.unit),
    next: 'Check the figure and its unit.',
  };
  return fail(problem);
}

/** The range that fits a quantity of which no more is known than its unit. */
export function plausibleRange(unit: UnitId): QuantityRange {
  return PLAUSIBLE[dimensionOf(unit)];
}

/** The first figure that is out of its range, with its field; null where all can be. Figures that were not given are left out. */
export function rangeProblem(
  figures: readonly (readonly [where: string, figure: Quantity | undefined, limits: QuantityRange])[],
): Problem | null {
  for (const [where, figure, limits] of figures) {
    if (figure === undefined) continue;
    const held = inRange(figure, limits);
    if (!held.ok) return { ...held.problems[0]!, where };
  }
  return null;
}
