/**
 * What lives here: brakes and the fasteners of wheels. The currents of electric brakes, when to adjust, what a stop comes to,
 * wheel-nut torque in stages with its follow-ups. Work on brakes is for hands that know it: the cautions stand with each answer.
 */

export type { BrakeAdjustment } from './adjustment.ts';
export { brakeAdjustment } from './adjustment.ts';
export type {
  BrakeCurrent,
  BrakeCurrentInput,
  BrakeReading,
  BrakeVerdict,
  DrumSize,
  JudgedReading,
} from './current.ts';
export { BRAKE_AMPERES, BRAKE_VERDICTS, BRAKE_VOLTS, BRAKES_MOST, brakeCurrent, DRUM_SIZES } from './current.ts';
export type { Stopping, StoppingClass } from './stopping.ts';
export { STOPPING_CLASSES, STOPPING_RULE, stopping } from './stopping.ts';
export type { WheelTorqueRow } from './tables/wheel-torque.ts';
export { wheelTorques } from './tables/wheel-torque.ts';
export type { TorqueSpan, WheelTorque } from './wheel-torque.ts';
export { wheelTorque } from './wheel-torque.ts';
