/**
 * The units the rooms know, each with its exact definition.
 *
 * Source of the factors: NIST Special Publication 811 (2008), appendix B, exact values (printed there in bold), and the
 * definitions they rest on: 1 in = 0.0254 m, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s², 1 US gal = 231 in³,
 * 1 Btu_IT = 1055.05585262 J. Columns of water and mercury are the conventional ones (1000 and 13595.1 kg/m³).
 */

import { exact, type Rational } from './rational.ts';

/** What a quantity measures. A month has no fixed length in hours, so calendar intervals are a dimension of their own. */
export type Dimension =
  | 'length'
  | 'area'
  | 'volume'
  | 'mass'
  | 'force'
  | 'pressure'
  | 'pressure-rate'
  | 'temperature'
  | 'temperature-difference'
  | 'torque'
  | 'time'
  | 'calendar'
  | 'speed'
  | 'flow'
  | 'mass-rate'
  | 'energy'
  | 'power'
  | 'density'
  | 'electric-potential'
  | 'electric-current'
  | 'electric-charge'
  | 'electric-resistance'
  | 'concentration'
  | 'ratio'
  | 'count'
  | 'money';

/** Which customary system a unit belongs to; `both` where one unit serves everywhere (volt, hour, per cent). */
export type System = 'us' | 'metric';

export interface UnitDefinition {
  readonly dimension: Dimension;
  /** How it is written after a number. */
  readonly symbol: string;
  /** In words, plural. */
  readonly name: string;
  readonly system: System | 'both';
  /** Size in the dimension's base unit, exact. */
  readonly factor: Rational;
  /** Added to the value before the factor (temperatures only): base = (value + offset) · factor. */
  readonly offset: Rational;
  /** Most decimals worth showing. */
  readonly digits: number;
  /** The unit of the other system a person would use in its place. */
  readonly counterpart: string;
  /** Other ways to write it; compared without case, spaces, dots, hyphens and degree signs. */
  readonly aliases: readonly string[];
}

const zero = exact('0');

function unit(
  dimension: Dimension,
  symbol: string,
  name: string,
  factor: string,
  options: { system?: System; digits?: number; other?: string; offset?: string; also?: string } = {},
): UnitDefinition {
  return {
    dimension,
    symbol,
    name,
    system: options.system ?? 'both',
    factor: exact(factor),
    offset: options.offset === undefined ? zero : exact(options.offset),
    digits: options.digits ?? 2,
    counterpart: options.other ?? '',
    aliases: (options.also ?? '').split('|').filter((alias) => alias !== ''),
  };
}

const us = (digits: number, other: string, also = '', offset?: string) =>
  ({ system: 'us', digits, other, also, ...(offset === undefined ? {} : { offset }) }) as const;
const si = (digits: number, other: string, also = '', offset?: string) =>
  ({ system: 'metric', digits, other, also, ...(offset === undefined ? {} : { offset }) }) as const;
const any = (digits: number, also = '') => ({ digits, also });

const GALLON = '231 * 0.0254 * 0.0254 * 0.0254';
const POUND_FORCE = '0.45359237 * 9.80665';
const PSI = `${POUND_FORCE} / 0.0254 / 0.0254`;
const BTU = '1055.05585262';

const definitions = {
  mi: unit('length', 'mi', 'miles', '1609.344', us(1, 'km', 'mile|miles')),
  km: unit('length', 'km', 'kilometres', '1000', si(1, 'mi', 'kilometre|kilometres|kilometer|kilometers')),
  yd: unit('length', 'yd', 'yards', '0.9144', us(1, 'm', 'yard|yards')),
  ft: unit('length', 'ft', 'feet', '0.3048', us(1, 'm', "foot|feet|'|′")),
  in: unit('length', 'in', 'inches', '0.0254', us(3, 'mm', 'inch|inches|"|″|”')),
  m: unit('length', 'm', 'metres', '1', si(2, 'ft', 'metre|metres|meter|meters')),
  cm: unit('length', 'cm', 'centimetres', '0.01', si(1, 'in', 'centimetre|centimetres|centimeter|centimeters')),
  mm: unit('length', 'mm', 'millimetres', '0.001', si(2, 'in', 'millimetre|millimetres|millimeter|millimeters')),

  in2: unit('area', 'in²', 'square inches', '0.0254 * 0.0254', us(2, 'cm2', 'sqin')),
  ft2: unit('area', 'ft²', 'square feet', '0.3048 * 0.3048', us(1, 'm2', 'sqft')),
  cm2: unit('area', 'cm²', 'square centimetres', '0.0001', si(1, 'in2')),
  m2: unit('area', 'm²', 'square metres', '1', si(2, 'ft2')),

  gal: unit('volume', 'gal', 'gallons', GALLON, us(2, 'L', 'gallon|gallons|us gal')),
  qt: unit('volume', 'qt', 'quarts', `${GALLON} / 4`, us(2, 'L', 'quart|quarts')),
  pt: unit('volume', 'pt', 'pints', `${GALLON} / 8`, us(2, 'mL', 'pint|pints')),
  cup: unit('volume', 'cup', 'cups', `${GALLON} / 16`, us(2, 'mL', 'cups')),
  floz: unit('volume', 'fl oz', 'fluid ounces', `${GALLON} / 128`, us(2, 'mL', 'fluid ounce|fluid ounces')),
  tbsp: unit('volume', 'tbsp', 'tablespoons', `${GALLON} / 256`, us(2, 'mL', 'tablespoon|tablespoons')),
  tsp: unit('volume', 'tsp', 'teaspoons', `${GALLON} / 768`, us(2, 'mL', 'teaspoon|teaspoons')),
  ft3: unit('volume', 'ft³', 'cubic feet', '0.3048 * 0.3048 * 0.3048', us(3, 'L', 'cu ft|cuft|cubic feet')),
  L: unit('volume', 'L', 'litres', '0.001', si(2, 'gal', 'litre|litres|liter|liters')),
  mL: unit(
    'volume',
    'mL',
    'millilitres',
    '0.000001',
    si(1, 'floz', 'cc|millilitre|millilitres|milliliter|milliliters'),
  ),
  m3: unit('volume', 'm³', 'cubic metres', '1', si(4, 'ft3')),

  lb: unit('mass', 'lb', 'pounds', '0.45359237', us(1, 'kg', 'lbs|pound|pounds|#')),
  oz: unit('mass', 'oz', 'ounces', '0.45359237 / 16', us(1, 'g', 'ounce|ounces')),
  ton: unit('mass', 'ton', 'short tons', '0.45359237 * 2000', us(2, 't', 'tons|short ton|short tons')),
  kg: unit('mass', 'kg', 'kilograms', '1', si(1, 'lb', 'kgs|kilo|kilos|kilogram|kilograms')),
  g: unit('mass', 'g', 'grams', '0.001', si(1, 'oz', 'gram|grams')),
  t: unit('mass', 't', 'tonnes', '1000', si(3, 'ton', 'tonne|tonnes|metric ton|metric tons')),

  lbf: unit('force', 'lbf', 'pounds-force', POUND_FORCE, us(1, 'N', 'lb|lbs|pound|pounds')),
  N: unit('force', 'N', 'newtons', '1', si(0, 'lbf', 'newton|newtons')),
  kN: unit('force', 'kN', 'kilonewtons', '1000', si(3, 'lbf')),
  kgf: unit('force', 'kgf', 'kilograms-force', '9.80665', si(1, 'lbf', 'kg')),

  psi: unit(
    'pressure',
    'psi',
    'pounds per square inch',
    PSI,
    us(1, 'kPa', 'psig|lb/in2|lbf/in2|pounds per square inch'),
  ),
  inH2O: unit(
    'pressure',
    'in. w.c.',
    'inches of water',
    '9806.65 * 0.0254',
    us(2, 'mbar', 'in wc|in h2o|"wc|" w.c.|iwc'),
  ),
  inHg: unit('pressure', 'inHg', 'inches of mercury', '13595.1 * 9.80665 * 0.0254', us(2, 'hPa', 'in hg|"hg')),
  kPa: unit('pressure', 'kPa', 'kilopascals', '1000', si(0, 'psi', 'kilopascal|kilopascals')),
  bar: unit('pressure', 'bar', 'bar', '100000', si(2, 'psi', 'bars')),
  mbar: unit('pressure', 'mbar', 'millibar', '100', si(1, 'inH2O', 'millibar|millibars')),
  hPa: unit('pressure', 'hPa', 'hectopascals', '100', si(1, 'inHg')),
  Pa: unit('pressure', 'Pa', 'pascals', '1', si(0, 'inH2O', 'pascal|pascals')),
  MPa: unit('pressure', 'MPa', 'megapascals', '1000000', si(3, 'psi')),
  atm: unit('pressure', 'atm', 'standard atmospheres', '101325', any(4, 'atmosphere|atmospheres')),

  'psi/d': unit('pressure-rate', 'psi/day', 'psi a day', `${PSI} / 86400`, us(3, 'kPa/d', 'psi per day')),
  'psi/wk': unit('pressure-rate', 'psi/week', 'psi a week', `${PSI} / 604800`, us(2, 'kPa/wk', 'psi per week')),
  'kPa/d': unit('pressure-rate', 'kPa/day', 'kilopascals a day', '1000 / 86400', si(2, 'psi/d', 'kpa per day')),
  'kPa/wk': unit('pressure-rate', 'kPa/week', 'kilopascals a week', '1000 / 604800', si(1, 'psi/wk', 'kpa per week')),

  degF: unit(
    'temperature',
    '°F',
    'degrees Fahrenheit',
    '5 / 9',
    us(0, 'degC', 'f|deg f|fahrenheit|degrees f|degrees fahrenheit', '459.67'),
  ),
  degC: unit(
    'temperature',
    '°C',
    'degrees Celsius',
    '1',
    si(0, 'degF', 'c|deg c|celsius|degrees c|degrees celsius', '273.15'),
  ),
  K: unit('temperature', 'K', 'kelvins', '1', si(2, 'degF', 'kelvin|kelvins')),
  deltaF: unit('temperature-difference', 'F°', 'Fahrenheit degrees', '5 / 9', us(1, 'deltaK', 'f|deg f|delta f')),
  deltaK: unit('temperature-difference', 'K', 'kelvins', '1', si(1, 'deltaF', 'c|deg c|delta c|delta k|kelvin')),

  'lb-ft': unit(
    'torque',
    'lb-ft',
    'pound-feet',
    `${POUND_FORCE} * 0.3048`,
    us(0, 'N-m', 'ft-lb|ft-lbs|lbs-ft|lbf ft|ft lbf|foot pounds|pound feet|foot-pound'),
  ),
  'lb-in': unit(
    'torque',
    'lb-in',
    'pound-inches',
    `${POUND_FORCE} * 0.0254`,
    us(0, 'N-m', 'in-lb|in-lbs|lbs-in|lbf in|inch pounds|inch-pound'),
  ),
  'N-m': unit('torque', 'N·m', 'newton-metres', '1', si(0, 'lb-ft', 'nm|newton metres|newton meters')),

  s: unit('time', 's', 'seconds', '1', any(1, 'sec|secs|second|seconds')),
  min: unit('time', 'min', 'minutes', '60', any(1, 'mins|minute|minutes')),
  h: unit('time', 'h', 'hours', '3600', any(2, 'hr|hrs|hour|hours')),
  d: unit('time', 'days', 'days', '86400', any(1, 'day|days')),
  wk: unit('time', 'weeks', 'weeks', '604800', any(1, 'week|weeks')),

  month: unit('calendar', 'months', 'months', '1', any(1, 'mo|mos|month|months')),
  year: unit('calendar', 'years', 'years', '12', any(1, 'yr|yrs|year|years|y')),

  mph: unit('speed', 'mph', 'miles per hour', '1609.344 / 3600', us(0, 'km/h', 'mi/h|miles per hour')),
  'km/h': unit('speed', 'km/h', 'kilometres per hour', '1000 / 3600', si(0, 'mph', 'kph|kmh|km/hr')),
  'm/s': unit('speed', 'm/s', 'metres per second', '1', si(1, 'ft/s')),
  'ft/s': unit('speed', 'ft/s', 'feet per second', '0.3048', us(1, 'm/s', 'fps')),

  'ft3/min': unit(
    'flow',
    'ft³/min',
    'cubic feet per minute',
    '0.3048 * 0.3048 * 0.3048 / 60',
    us(2, 'L/min', 'cfm|cu ft/min'),
  ),
  'ft3/h': unit(
    'flow',
    'ft³/h',
    'cubic feet per hour',
    '0.3048 * 0.3048 * 0.3048 / 3600',
    us(5, 'L/h', 'cfh|cu ft/h|ft3/hr'),
  ),
  gpm: unit('flow', 'gal/min', 'gallons per minute', `${GALLON} / 60`, us(2, 'L/min', 'gpm')),
  'L/min': unit('flow', 'L/min', 'litres per minute', '0.001 / 60', si(1, 'ft3/min', 'lpm')),
  'L/h': unit('flow', 'L/h', 'litres per hour', '0.001 / 3600', si(3, 'ft3/h', 'l/hr')),

  'lb/h': unit('mass-rate', 'lb/h', 'pounds per hour', '0.45359237 / 3600', us(2, 'kg/h', 'lb/hr')),
  'kg/h': unit('mass-rate', 'kg/h', 'kilograms per hour', '1 / 3600', si(2, 'lb/h', 'kg/hr')),

  BTU: unit('energy', 'BTU', 'British thermal units', BTU, us(0, 'kJ', 'btus|btu it')),
  Wh: unit('energy', 'Wh', 'watt-hours', '3600', any(0, 'watt hour|watt hours')),
  kWh: unit('energy', 'kWh', 'kilowatt-hours', '3600000', any(2, 'kilowatt hour|kilowatt hours')),
  J: unit('energy', 'J', 'joules', '1', si(0, 'BTU', 'joule|joules')),
  kJ: unit('energy', 'kJ', 'kilojoules', '1000', si(0, 'BTU')),
  MJ: unit('energy', 'MJ', 'megajoules', '1000000', si(1, 'BTU')),

  W: unit('power', 'W', 'watts', '1', any(0, 'watt|watts')),
  kW: unit('power', 'kW', 'kilowatts', '1000', any(2, 'kilowatt|kilowatts')),
  'BTU/h': unit('power', 'BTU/h', 'BTU per hour', `${BTU} / 3600`, us(0, 'W', 'btu/hr|btuh|btu per hour')),
  hp: unit('power', 'hp', 'horsepower', `${POUND_FORCE} * 0.3048 * 550`, us(1, 'kW', 'horsepower')),

  'lb/gal': unit(
    'density',
    'lb/gal',
    'pounds per gallon',
    '0.45359237 / 231 / 0.0254 / 0.0254 / 0.0254',
    us(3, 'kg/L', 'lbs/gal'),
  ),
  'kg/L': unit('density', 'kg/L', 'kilograms per litre', '1000', si(4, 'lb/gal', 'kg/l')),
  'kg/m3': unit('density', 'kg/m³', 'kilograms per cubic metre', '1', si(1, 'lb/gal')),

  V: unit('electric-potential', 'V', 'volts', '1', any(2, 'volt|volts|vdc|vac|v dc|v ac')),
  mV: unit('electric-potential', 'mV', 'millivolts', '0.001', any(0, 'millivolt|millivolts')),
  A: unit('electric-current', 'A', 'amperes', '1', any(2, 'amp|amps|ampere|amperes')),
  mA: unit('electric-current', 'mA', 'milliamperes', '0.001', any(0, 'milliamp|milliamps')),
  Ah: unit('electric-charge', 'Ah', 'ampere-hours', '3600', any(1, 'amp hour|amp hours|ampere hours|amphr')),
  ohm: unit('electric-resistance', 'Ω', 'ohms', '1', any(3, 'ohm|ohms')),
  mohm: unit('electric-resistance', 'mΩ', 'milliohms', '0.001', any(1, 'milliohm|milliohms')),

  'mg/L': unit(
    'concentration',
    'mg/L',
    'milligrams per litre',
    '1',
    any(1, 'mg per l|milligrams per litre|milligrams per liter'),
  ),
  ppm: unit('concentration', 'ppm', 'parts per million in water', '1', any(1, 'parts per million')),
  'g/L': unit('concentration', 'g/L', 'grams per litre', '1000', any(2)),

  '%': unit('ratio', '%', 'per cent', '1 / 100', any(1, 'percent|per cent|pct')),
  ratio: unit('ratio', '', 'as a plain ratio', '1', any(4, 'fraction|times')),
  ppmv: unit('ratio', 'ppm', 'parts per million by volume', '1 / 1000000', any(0, 'ppm')),

  each: unit('count', '', 'pieces', '1', any(2, 'pc|pcs|piece|pieces|ea|nights|night|times|count')),
  USD: unit('money', '$', 'dollars', '1', any(2, 'usd|dollar|dollars|$')),
} as const satisfies Record<string, UnitDefinition>;

/** The name of a unit as it stands in JSON: `psi`, `degF`, `lb-ft`. */
export type UnitId = keyof typeof definitions;

export const units: Readonly<Record<UnitId, UnitDefinition>> = definitions;

export const unitIds = Object.keys(definitions) as readonly UnitId[];

/** The units in which a dimension can be given. */
export function unitsOf(dimension: Dimension): readonly UnitId[] {
  return unitIds.filter((id) => units[id].dimension === dimension);
}

/** What a unit measures. */
export function dimensionOf(id: UnitId): Dimension {
  return units[id].dimension;
}

/** How a unit is written after a number: `in. w.c.`. */
export function unitSymbol(id: UnitId): string {
  return units[id].symbol;
}

export function isUnitId(text: string): text is UnitId {
  return Object.hasOwn(definitions, text);
}
