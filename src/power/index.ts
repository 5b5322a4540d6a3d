/**
 * What lives here: electricity aboard. How full a battery is and how long it lasts, what a wire loses, whether the breakaway
 * battery holds, what an outlet runs and starts.
 */

export type { WireRun, WireRunInput } from './ampacity.ts';
export { ampacity, countedAmperes, fuseFor, fuseHolding, wireRun } from './ampacity.ts';
export type { Insulation, Laying } from './ampacity-table.ts';
export {
  AMBIENT_SHARE,
  AMPACITY,
  BUNDLE_SHARE,
  FUSES,
  INSULATIONS,
  LAYINGS,
  LOW_VOLTAGE_CEILING,
} from './ampacity-table.ts';
export type { BatteryDays } from './battery-days.ts';
export { batteryDays, solarDay } from './battery-days.ts';
export type { Breakaway } from './breakaway.ts';
export { BREAKAWAY_AMPERES, breakaway } from './breakaway.ts';
export type { MotorStart } from './motor.ts';
export { LOCKED_ROTOR_KVA, MOTOR_FULL_LOAD, motorStart } from './motor.ts';
export type { OutletBudget, OutletVoltage } from './outlet.ts';
export { OUTLET_VOLTAGES, outletBudget } from './outlet.ts';
export type { Peukert } from './peukert.ts';
export { peukert } from './peukert.ts';
export type { Chemistry, StateOfCharge } from './state-of-charge.ts';
export { FREEZING, GRAVITY, REST_VOLTS, socByGravity, socByVoltage } from './state-of-charge.ts';
export type { WireDrop, WireGauge, WireVerdict } from './wire.ts';
export { ohmsAt, WIRE_VERDICTS, wireDrop, wireGauge, wireOf } from './wire.ts';
export type { WireRow } from './wire-table.ts';
export { wires } from './wire-table.ts';
