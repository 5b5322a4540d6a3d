/**
 * What lives here: values with their units. Reading them as people write them, converting them exactly, showing them
 * rounded. A quantity keeps the unit it was read in; nothing is rounded before it is shown.
 */

export { atmosphere, pascalAtElevation, pascalAtGeopotential } from './atmosphere.ts';
export type { Quantity } from './convert.ts';
export { add, compare, convert, quantity, subtract, valueIn } from './convert.ts';
export type { FormatOptions } from './format.ts';
export { convertLike, formatNumber, formatQuantity, preferredUnit, roundForDisplay, systemOf } from './format.ts';
export { dimensionText, nearUnits, parseQuantity, parseUnit, readQuantity } from './parse.ts';
export type { QuantityRange } from './range.ts';
export { inRange, PLAUSIBLE, plausibleRange, range, rangeProblem, rangeText } from './range.ts';
export { quantitySchema } from './schema.ts';
export type { Dimension, System, UnitId } from './units.ts';
export { dimensionOf, isUnitId, unitIds, unitSymbol, unitsOf } from './units.ts';
