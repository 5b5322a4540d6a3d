/**
 * What lives here: the codes moulded, stamped and printed on the things of a rig, turned into dates. Every decoder says when
 * a code is ambiguous and refuses one that cannot be; `today` is always an argument.
 */

export type { TireAge, TireAgeLimits, TireUse } from './age.ts';
export { TIRE_USES, tireAge, tireAgeLimits, tireAgeSources } from './age.ts';
export type { CylinderCode } from './cylinder.ts';
export { decodeCylinder } from './cylinder.ts';
export type { LabelCode } from './label.ts';
export { decodeLabel } from './label.ts';
export type { TireCode } from './tire.ts';
export { decodeTireCode, yearsWithWeek53 } from './tire.ts';
export type { VinCode } from './vin.ts';
export { decodeVin, modelYears } from './vin.ts';
export type { CodeWeek } from './week.ts';
export { codeWeek, weeksInCodeYear } from './week.ts';
