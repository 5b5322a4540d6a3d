import type { Clock, ClockKind, Upkeep } from '../catalog/index.ts';
import { dateOf, formatDate } from '../dates/index.ts';
import type { PartState, VehicleRole } from '../logbook/index.ts';
import { convert, formatQuantity, preferredUnit, type Quantity, quantity } from '../quantity/index.ts';
import type { LastDone } from './evidence.ts';
import type { Scene } from './scene.ts';
import type { ClockOutlook } from './types.ts';

/** One upkeep of one part, seen by its clocks. */
export interface Duty {
  readonly id: string;
  readonly upkeep: Upkeep;
  readonly part: PartState;
  readonly role: VehicleRole;
  readonly last: LastDone | undefined;
}

/**
 * When something runs out: one moment on every path (a day number, Infinity for never), or a moment of each path's own, put into
 * `out` where it is sooner than what stands there.
 */
export type Passage = number | ((out: Float64Array) => void);

/** A clock set running: how it stands, and when it runs out on each path. */
export interface ClockRun {
  readonly outlook: ClockOutlook;
  /** Absent: no evidence. */
  readonly runsOut?: Passage;
  /** The same, had the upkeep been done on `day`. */
  readonly runsOutAfter: (day: number) => Passage;
  /** Length of the clock in days of usual use, for the plan: how far past the end use has run, as a share of it. */
  readonly days: number;
}

export type ClockOf<K extends ClockKind> = Extract<Clock, { kind: K }>;

/** Lower every path to a passage. */
export function lower(out: Float64Array, passage: Passage): void {
  if (typeof passage !== 'number') passage(out);
  else if (passage < Infinity) for (let p = 0; p < out.length; p++) if (passage < out[p]!) out[p] = passage;
}

export const never = (): Passage => Infinity;

/** Texts in the owner's units. */
export function miles(scene: Scene, value: number): string {
  return formatQuantity({ value, unit: 'mi' }, { digits: 1, system: scene.system });
}

/** Miles as a quantity in the owner's units, to a tenth. */
export function milesQuantity(scene: Scene, value: number): Quantity {
  const unit = preferredUnit('length', scene.system, 'mi');
  const inUnit = unit === 'mi' ? value : convert({ value, unit: 'mi' }, unit).value;
  return quantity(Math.round(inUnit * 10) / 10, unit);
}

export const daysQuantity = (value: number): Quantity => quantity(value, 'd');
export const dayText = (day: number): string => formatDate(dateOf(day), 'day');
export const dateText = (date: string): string => formatDate(date, 'day');
export const daysLeftText = (left: number): string => (left >= 0 ? `${left} days left` : `${-left} days past`);
