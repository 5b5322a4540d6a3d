import type { Clock, Upkeep } from '../../catalog/index.ts';
import { addDays, addMonths, DAYS_A_MONTH, daysBetween, type PlainDate, yearOf } from '../../dates/index.ts';
import { partOf } from '../../logbook/index.ts';
import type { ClockOutlook, OutlookItem } from '../../outlook/index.ts';
import { valueIn } from '../../quantity/index.ts';
import type { Context } from '../context.ts';

/**
 * When a duty can be done so that it lasts the trip. A proof that holds one day cannot be had three weeks before leaving, and a
 * check that falls due every week cannot last a fortnight: such duties are told as things to do on leaving and on the way, never
 * as something that stops us today.
 */
export interface Window {
  /** First day on which doing it would last until the return, or, where nothing lasts that long, would be fresh on leaving. */
  readonly opens: PlainDate | null;
  /** True where its calendar interval is shorter than the trip itself. */
  readonly again: boolean;
}

/** Done within this many days before leaving, a duty that cannot last the trip is as fresh as can be. Our own choice. */
const FRESH_DAYS = 7;
/** Share of an interval in miles, nights or hours that a duty just done may have used up, and still be fresh. Our own choice. */
const FRESH_SHARE_USED = 0.05;

const ALWAYS: Window = { opens: null, again: false };

/** The window of a duty for this trip: the latest that any of its calendar clocks asks for. */
export function windowOf(context: Context, upkeep: Upkeep): Window {
  return upkeep.clocks.map((clock) => windowOfClock(context, clock)).reduce(later, ALWAYS);
}

function later(a: Window, b: Window): Window {
  const opens = a.opens === null ? b.opens : b.opens === null || a.opens >= b.opens ? a.opens : b.opens;
  return { opens, again: a.again || b.again };
}

function windowOfClock({ leave, return: back }: Context, clock: Clock): Window {
  switch (clock.kind) {
    case 'departure':
      return { opens: addDays(leave, -Math.floor(clock.withinDays)), again: false };
    case 'season':
      return clock.before === 'first trip' ? { opens: `${yearOf(leave)}-01-01`, again: false } : ALWAYS;
    case 'months': {
      const opens = firstLasting(clock.every, addDays(back, 1));
      if (opens <= leave) return { opens, again: false };
      const fresh = Math.min(FRESH_DAYS, Math.floor((clock.every * DAYS_A_MONTH) / 2));
      return { opens: addDays(leave, -fresh), again: true };
    }
    default:
      return ALWAYS;
  }
}

/** First day from which so many months reach `until`. Part months are that share of a mean month, as in the outlook. */
function firstLasting(months: number, until: PlainDate): PlainDate {
  if (!Number.isInteger(months)) return addDays(until, -Math.round(months * DAYS_A_MONTH));
  let day = addMonths(until, -months);
  // The last days of a long month share one due day with the end of a shorter one.
  while (addMonths(day, months) < until) day = addDays(day, 1);
  return day;
}

/**
 * Whether a duty was done so lately that doing it once more would not help: all its clocks that run out before the return have
 * just been wound up.
 */
export function isFresh(context: Context, upkeep: Upkeep, item: OutlookItem): boolean {
  return item.state === 'runs' && item.clocks.every((told) => clockFresh(context, upkeep, told));
}

function clockFresh(context: Context, upkeep: Upkeep, told: ClockOutlook): boolean {
  const clock = upkeep.clocks.find((one) => one.kind === told.kind);
  if (!clock) return true;
  switch (clock.kind) {
    case 'miles':
      return told.left !== undefined && valueIn(told.left, 'mi') >= valueIn(clock.every, 'mi') * (1 - FRESH_SHARE_USED);
    case 'nights':
    case 'hours':
      return told.left !== undefined && told.left.value >= clock.every * (1 - FRESH_SHARE_USED);
    case 'months': {
      if (lastsTrip(context, told)) return true;
      const window = windowOfClock(context, clock);
      const due = firstLasting(clock.every, told.dueOn ?? context.now);
      return window.again && window.opens !== null && due >= window.opens;
    }
    default:
      return lastsTrip(context, told);
  }
}

/** Whether the day on which a clock falls due lies beyond the return, or beyond every planned trip. */
function lastsTrip(context: Context, told: ClockOutlook): boolean {
  if (told.missing !== undefined) return false;
  if (told.dueOn !== undefined) return told.dueOn > context.return;
  return told.kind === 'departure' || told.kind === 'season';
}

/** The mile of this trip at which a duty runs out, where miles are what it runs out by; within the trip. */
export function atMile(context: Context, told: ClockOutlook | undefined): number | undefined {
  if (told?.kind !== 'miles' || told.left === undefined) return undefined;
  const mile = valueIn(told.left, 'mi') - context.milesBefore;
  return mile > 0 && mile <= context.milesMost ? Math.floor(mile) : undefined;
}

/** A reading that will prove nothing on the day of leaving. */
export interface Stale {
  /** Name of the reading: `tread-depth`. */
  readonly reading: string;
  readonly on: PlainDate;
  /** How old it will be, and how old it may be. */
  readonly days: number;
  readonly daysMost: number;
  /** First day on which a reading would count on leaving. */
  readonly from: PlainDate;
}

/** The newest reading behind a limit, where it is too old on leaving to prove anything. */
export function staleReading(context: Context, upkeep: Upkeep, item: OutlookItem): Stale | null {
  const part = item.part === null ? undefined : partOf(context.state, item.part);
  for (const clock of upkeep.clocks) {
    const newest = clock.kind === 'limit' ? part?.readings.get(clock.reading)?.at(-1) : undefined;
    if (clock.kind !== 'limit' || !newest) continue;
    const from = addDays(context.leave, -Math.floor(clock.staleDays));
    if (newest.on < from)
      return {
        on: newest.on,
        days: daysBetween(newest.on, context.leave),
        daysMost: clock.staleDays,
        reading: clock.reading,
        from,
      };
  }
  return null;
}
