import type { Quantity } from '../quantity/index.ts';

/** One job on a yard day, in working order. */
export interface PlannedJob {
  /** Outlook item ids done by it. */
  readonly item: string;
  readonly upkeep: string;
  readonly part: string | null;
  readonly title: string;
  readonly place: string;
  readonly setups: readonly string[];
  readonly minutes: number;
  /** Minutes since the start of the day at which it ends, set-ups included. */
  readonly endsAtMinute: number;
  readonly pinned: boolean;
  /** One sentence with its numbers: why on this day. */
  readonly why: string;
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
}

export interface YardDay {
  readonly date: string;
  readonly minutes: number;
  readonly minutesFree: number;
  readonly setups: readonly { readonly id: string; readonly title: string; readonly minutes: number }[];
  readonly jobs: readonly PlannedJob[];
  readonly tools: readonly string[];
  readonly parts: readonly {
    readonly what: string;
    readonly quantity: string;
    readonly cost: number;
    readonly orderBy?: string;
  }[];
  readonly cost: number;
}

/** Something to be done on a trip: at a mile, at a stop, or on the morning of leaving. */
export interface OnTheWay {
  readonly item: string;
  readonly upkeep: string;
  readonly part: string | null;
  readonly title: string;
  readonly trip: string;
  readonly tripName: string;
  /** `leaving`, or miles into the trip. */
  readonly at: 'leaving' | Quantity;
  readonly why: string;
}

export interface Plan {
  readonly now: string;
  readonly through: string;
  /** Cost of the plan in the owner's money, and a proven lower bound of the cost of any plan. */
  readonly cost: number;
  readonly bound: number;
  /** Minutes of all yard days, set-ups included. */
  readonly minutes: number;
  /** Chance that at least one safety upkeep runs out while on a trip, this plan kept. */
  readonly chanceOnRoad: number;
  /** The upkeeps that this chance comes from, likeliest first; those below one in a thousand left out. */
  readonly onRoad: readonly {
    readonly item: string;
    readonly title: string;
    readonly place: string;
    readonly chance: number;
  }[];
  readonly days: readonly YardDay[];
  readonly onTheWay: readonly OnTheWay[];
  /** What comes round more often than yard days do, with the day it is next due. */
  readonly routine: readonly {
    readonly item: string;
    readonly title: string;
    readonly place: string;
    readonly next: string | null;
  }[];
  /** Not before the horizon, or not this year: when each runs out. */
  readonly later: readonly {
    readonly item: string;
    readonly title: string;
    readonly place: string;
    readonly runsOut: string | null;
  }[];
  /** What the plan could not keep to: a safety job with no free day before a trip, and what it would take. */
  readonly warnings: readonly string[];
}
