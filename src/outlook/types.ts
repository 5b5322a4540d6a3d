import type { ClockKind, Severity } from '../catalog/index.ts';
import type { Quantity } from '../quantity/index.ts';

/**
 * How an upkeep stands.
 * - `runs`: there is evidence, and some is left.
 * - `due`: it has run out.
 * - `failed`: the last test or work was written down as failed.
 * - `unproven`: no evidence on record for at least one of its clocks. Not the same as due, and never the same as fine.
 */
export type UpkeepState = 'runs' | 'due' | 'failed' | 'unproven';

/** One clock of one upkeep, as it stands. */
export interface ClockOutlook {
  readonly kind: ClockKind;
  /** `12,000 mi since 18 Apr 2025 at 54,310.0 mi: due at 66,310.0 mi`. */
  readonly text: string;
  /** What is left on it today: miles, days, nights or hours; negative when past. Absent where nothing can be said. Miles of an odometer
   *  that was not read lately are the low end of what is likely. */
  readonly left?: Quantity;
  /** Exact due point where there is one. */
  readonly dueOn?: string;
  readonly dueAtOdometer?: Quantity;
  /** Of an age: the day from which renewing is advised, and the one on which it must be done, taken as old as it can be. */
  readonly ages?: { readonly advisedOn: string; readonly endsOn: string };
  /** The evidence that is missing, when the clock is unproven. */
  readonly missing?: string;
  /** Set where reading the vehicle's odometer would give that evidence. */
  readonly needs?: 'odometer';
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
}

export interface Spread<T> {
  readonly p10: T;
  readonly p50: T;
  readonly p90: T;
}

/** The outlook of one upkeep of one part. */
export interface OutlookItem {
  /** `repack-bearings@bearings-axle-2-left`, and `+25mi` for a follow-up: what a waiver or a pin names. */
  readonly id: string;
  readonly upkeep: string;
  /** Id of the part, or null where no part of that kind is on record at all. */
  readonly part: string | null;
  /** Kind of part. */
  readonly kind: string;
  readonly title: string;
  /** `axle 2, left`. */
  readonly place: string;
  readonly severity: Severity;
  readonly state: UpkeepState;
  /** The clock that runs out first (by its median), and all of them. */
  readonly clock: ClockKind | null;
  readonly clocks: readonly ClockOutlook[];
  /** What is left on the governing clock. */
  readonly left: Quantity | null;
  /** Day on which it runs out. `null`: never, as far as the trips on record go (a departure with no trip planned). */
  readonly dates: Spread<string | null>;
  /** What the vehicle's odometer will show then. `null` where no odometer is on record, or with a date of null. */
  readonly odometer: Spread<Quantity | null>;
  /** Chance that it runs out before the return from each coming trip, given that the trip is made. */
  readonly chanceByTrip: readonly { readonly trip: string; readonly return: string; readonly chance: number }[];
  /** Coming trips it outlasts with chance 1 − α, counted from the next one until the first it does not. */
  readonly slackTrips: number;
  /** For a follow-up: the work it was born of, and the miles after it. */
  readonly follows?: { readonly entry: string; readonly atMiles: number; readonly odometer: Quantity };
  /** One sentence with its numbers. */
  readonly why: string;
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
}

/** The whole outlook at one moment. */
export interface Outlook {
  readonly now: string;
  /** What the odometers show, as last read, and when. `null` where none was ever read. */
  readonly odometer: { readonly trailer: OdometerNow | null; readonly tow: OdometerNow | null };
  readonly trips: readonly TripAhead[];
  readonly items: readonly OutlookItem[];
}

export interface OdometerNow {
  readonly shown: Quantity;
  readonly on: string;
  readonly entry: string;
}

/** A trip not yet finished, as the usage model sees it. */
export interface TripAhead {
  readonly trip: string;
  readonly name: string;
  readonly leave: string;
  readonly return: string;
  readonly chance: number;
  readonly planned: Quantity;
  /** Miles to be expected, by the owner's own habit of planning. */
  readonly miles: Spread<Quantity>;
}
