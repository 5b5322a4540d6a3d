/**
 * What lives here: water. The dose that sanitizes a system and what a dose comes to, glycol against frost, the time a heater
 * takes.
 */

export type { BleachConcentration, BleachDose, BleachVerdict } from './bleach.ts';
export { BLEACH_VERDICTS, bleachConcentration, bleachDose, contact } from './bleach.ts';
export type { Glycol } from './glycol.ts';
export { GLYCOL, glycol } from './glycol.ts';
export type { HeaterTime } from './heater.ts';
export { heaterTime } from './heater.ts';
