/** From a quantity to the text a person reads. Rounding happens here and nowhere earlier. */

import { convert, type Quantity } from './convert.ts';
import { type Dimension, type System, type UnitId, units } from './units.ts';

const DEFAULTS: Readonly<Record<Dimension, readonly [us: UnitId, metric: UnitId]>> = {
  length: ['mi', 'km'],
  area: ['ft2', 'm2'],
  volume: ['gal', 'L'],
  mass: ['lb', 'kg'],
  force: ['lbf', 'N'],
  pressure: ['psi', 'kPa'],
  'pressure-rate': ['psi/wk', 'kPa/wk'],
  temperature: ['degF', 'degC'],
  'temperature-difference': ['deltaF', 'deltaK'],
  torque: ['lb-ft', 'N-m'],
  time: ['h', 'h'],
  calendar: ['month', 'month'],
  speed: ['mph', 'km/h'],
  flow: ['ft3/min', 'L/min'],
  'mass-rate': ['lb/h', 'kg/h'],
  energy: ['BTU', 'MJ'],
  power: ['BTU/h', 'W'],
  density: ['lb/gal', 'kg/L'],
  'electric-potential': ['V', 'V'],
  'electric-current': ['A', 'A'],
  'electric-charge': ['Ah', 'Ah'],
  'electric-resistance': ['ohm', 'ohm'],
  concentration: ['mg/L', 'mg/L'],
  ratio: ['%', '%'],
  count: ['each', 'each'],
  money: ['USD', 'USD'],
};

/**
 * The unit of a system for a dimension. With a hint (the unit it was read in) the size is kept: inches become
 * millimetres, miles kilometres, inches of water millibar.
 */
export function preferredUnit(dimension: Dimension, system: System, hint?: UnitId): UnitId {
  if (hint !== undefined && units[hint].dimension === dimension) {
    const own = units[hint];
    if (own.system === 'both' || own.system === system) return hint;
    return own.counterpart as UnitId;
  }
  return DEFAULTS[dimension][system === 'us' ? 0 : 1];
}

/** The system a unit belongs to, or null where it belongs to both. */
export function systemOf(unit: UnitId): System | null {
  const { system } = units[unit];
  return system === 'both' ? null : system;
}

/**
 * The quantity in the unit system in which another was given, in the unit a person would use: an answer in the system of
 * its question. Kept as it is where the other belongs to both systems (volts, hours).
 *
 * @param hint a unit of the wanted size, such as `in` for a short length; the quantity's own by default
 */
export function convertLike(q: Quantity, like: Quantity, hint: UnitId = q.unit): Quantity {
  const system = systemOf(like.unit);
  return convert(q, system === null ? hint : preferredUnit(units[q.unit].dimension, system, hint));
}

/** The nearest number of so many decimals, halves away from zero, as the decimal text of the value stands (1.005 → 1.01). */
export function roundForDisplay(value: number, digits: number): number {
  const rounded = Number(`${Math.round(Number(`${Math.abs(value)}e${digits}`))}e${-digits}`);
  const result = Number.isFinite(rounded) ? Math.sign(value) * rounded : Number(value.toFixed(digits));
  return result === 0 ? 0 : result;
}

/** `18,204.6`, with a real minus sign. `exactly` keeps trailing zeros. */
export function formatNumber(value: number, digits: number, exactly = false): string {
  const fixed = Math.abs(roundForDisplay(value, digits)).toFixed(digits);
  const [whole = '', fraction = ''] = fixed.split('.');
  const kept = exactly ? fraction : fraction.replace(/0+$/, '');
  const grouped = whole.replace(/\B(?=(\d{3})+(?!\d))/g, ',');
  const sign = roundForDisplay(value, digits) < 0 ? '−' : '';
  return `${sign}${grouped}${kept === '' ? '' : `.${kept}`}`;
}

export interface FormatOptions {
  /** Exactly so many decimals; without it, at most the unit's own, trailing zeros dropped. */
  readonly digits?: number;
  /** Show in this unit. */
  readonly unit?: UnitId;
  /** Show in this system; kept as it is where the unit belongs to both. */
  readonly system?: System;
}

/**
 * A quantity as text.
 *
 * @example formatQuantity(quantity(18204.6, 'mi')) // '18,204.6 mi'
 * @example formatQuantity(quantity(50, 'psi'), { system: 'metric' }) // '345 kPa'
 */
export function formatQuantity(q: Quantity, options: FormatOptions = {}): string {
  const from = units[q.unit];
  const unit =
    options.unit ?? (options.system === undefined ? q.unit : preferredUnit(from.dimension, options.system, q.unit));
  const { value } = convert(q, unit);
  const { symbol, digits } = units[unit];
  const number = formatNumber(value, options.digits ?? digits, options.digits !== undefined);
  if (unit === 'USD') {
    const cents =
      options.digits === undefined && !Number.isInteger(roundForDisplay(value, 2))
        ? formatNumber(value, 2, true)
        : number;
    return cents.startsWith('−') ? `−$${cents.slice(1)}` : `$${cents}`;
  }
  return symbol === '' ? number : `${number} ${symbol}`;
}
