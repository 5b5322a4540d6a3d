/**
 * What lives here: what tires carry, hold and allow. Load against pressure from published rows, pressure across temperature
 * and height, leaks, speed, inflating, and the bounds after a wheel is lost. Margins never rise above a table.
 */

export type { TireFamily } from './families.ts';
export { LAW_EXPONENT, LOAD_RANGE_PSI, LOAD_RANGES, P_TIRE_DIVISOR, PLY_RATING, TIRE_FAMILIES } from './families.ts';
export type { Inflate, InflateInput } from './inflate.ts';
export { compressionWork, freeAirDelivery, inflate } from './inflate.ts';
export type { LoadBasis } from './law.ts';
export { loadAt, loadByLaw, pressureByLaw, pressureFor } from './law.ts';
export type { TireLeak, TireReading } from './leak.ts';
export { tireLeak } from './leak.ts';
export { GAUGE_ERROR_PSI, RESERVE_LEAST, RUN_LOW_SHARE } from './limits.ts';
export { loadOfIndex } from './load-index.ts';
export type { AxleTires, FittedTire, Margin, TireMargins } from './margins.ts';
export { tireMargins } from './margins.ts';
export type { AirState, TirePressureAt } from './pressure.ts';
export { gaugeAt, tirePressureAt, tireSetNow } from './pressure.ts';
export * from './ranges.ts';
export type { RatedPoint, Rating, TireSpec, WheelSpec } from './rating.ts';
export { tireRating } from './rating.ts';
export type { TireSpeed } from './speed.ts';
export { symbolSpeed, tireSpeed } from './speed.ts';
export { speedSymbolKmh } from './tables/index-and-symbol.ts';
export type { TireRow, TireTable } from './tables/load-inflation.ts';
export { tireTables } from './tables/load-inflation.ts';
export type { PressureBasis, TireLoad, TirePressureFor } from './tire-load.ts';
export { tireLoad, tirePressureFor } from './tire-load.ts';
export type { OneWheelLost, WheelLimit } from './wheel-lost.ts';
export { oneWheelLost } from './wheel-lost.ts';
