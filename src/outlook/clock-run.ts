import type { Catalog, Clock, ClockKind, Upkeep } from '../catalog/index.ts';
import { addDays, dateOf, dayNumber, formatDate } from '../dates/index.ts';
import type { OdometerTrack, PartState, RigState, VehicleRole } from '../logbook/index.ts';
import { formatQuantity, preferredUnit, type Quantity, type System } from '../quantity/index.ts';
import type { LastDone } from './evidence.ts';
import type { Draws, Paths } from './paths.ts';
import type { ClockOutlook } from './types.ts';
import type { TripModel, UsageModel } from './usage.ts';

/** What every clock looks at: one rig, one moment, one draw of the coming use. */
export interface Scene {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly now: string;
  readonly nowDay: number;
  readonly seed: number;
  readonly system: System;
  readonly draws: Draws;
  readonly usage: Readonly<Record<VehicleRole, UsageModel>>;
  readonly tracks: Readonly<Record<VehicleRole, OdometerTrack>>;
  readonly odometers: Readonly<Record<VehicleRole, Paths | null>>;
  /** Trips not finished whose leaving is today or later, by day of leaving. */
  readonly departures: readonly TripModel[];
  readonly firstFreeze: string | undefined;
}

/** One upkeep of one part, seen by its clocks. */
export interface Duty {
  readonly id: string;
  readonly upkeep: Upkeep;
  readonly part: PartState;
  readonly role: VehicleRole;
  readonly last: LastDone | undefined;
}

/** A clock set running: how it stands, and when it runs out on each path. */
export interface ClockRun {
  readonly outlook: ClockOutlook;
  /** The moment it runs out on every path, into `out` where that is sooner than what stands there. Absent: no evidence. */
  readonly lower?: (out: Float64Array) => void;
  /** The same, had the upkeep been done on `day`. */
  readonly lowerAfter: (day: number, out: Float64Array) => void;
  /** Length of the clock in its own counter, for the plan: how far past the end use has run, as a share of it. */
  readonly days: number;
}

export type ClockOf<K extends ClockKind> = Extract<Clock, { kind: K }>;

/** Lower every path to one day. */
export function lowerTo(day: number): (out: Float64Array) => void {
  return (out) => {
    for (let p = 0; p < out.length; p++) if (day < out[p]!) out[p] = day;
  };
}

export const never = (): void => {};

/** Texts in the owner's units. */
export function miles(scene: Scene, value: number): string {
  return formatQuantity({ value, unit: 'mi' }, { digits: 1, system: scene.system });
}

/** Miles as a quantity in the owner's units, to a tenth. */
export function milesQuantity(scene: Scene, value: number): Quantity {
  const unit = preferredUnit('length', scene.system, 'mi');
  const inUnit = unit === 'mi' ? value : value * 1.609344;
  return { value: Math.round(inUnit * 10) / 10, unit };
}

export const dayText = (day: number): string => formatDate(dateOf(day), 'day');
export const dateText = (date: string): string => formatDate(date, 'day');

/** The first day of freezing weather to be expected on or after `day`, from the owner's `first-freeze`. */
export function freezeAfter(monthDay: string, day: number): number {
  const year = Number(dateOf(day).slice(0, 4));
  const clamp = (y: number): number => dayNumber(monthDay === '02-29' ? addDays(`${y}-02-28`, 0) : `${y}-${monthDay}`);
  return clamp(year) >= day ? clamp(year) : clamp(year + 1);
}
