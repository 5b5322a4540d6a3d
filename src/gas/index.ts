/**
 * What lives here: LP gas. What is in a cylinder and how long it lasts, its pressure, whether the cold lets it out fast enough,
 * and what a pressure drop says about a leak. Nothing here replaces a licensed gas fitter.
 */

export type { CoAction, CoAlarm, CoVerdict } from './carbon-monoxide.ts';
export { CO_ACTIONS, CO_VERDICTS, coAlarm } from './carbon-monoxide.ts';
export type { LeakDrop, LeakDropInput, LeakVerdict } from './leak.ts';
export { LEAK_VERDICTS, leakDrop } from './leak.ts';
export type { LeakMethod, LeakTest } from './leak-methods.ts';
export { LEAK_METHODS, LEAK_TESTS } from './leak-methods.ts';
export type { CylinderContent, CylinderFill, VaporPressure } from './propane.ts';
export {
  cylinderContent,
  cylinderFill,
  PROPANE_BTU_A_CUBIC_FOOT,
  PROPANE_BTU_A_GALLON,
  PROPANE_BTU_A_POUND,
  PROPANE_LB_A_GALLON,
  propaneVaporPascal,
  vaporPressure,
} from './propane.ts';
export type { Vaporization } from './vaporization.ts';
export { chart100lb, ruleAtZero, temperatureShare, vaporization } from './vaporization.ts';
