import { quantiles } from '../../chance/index.ts';
import { dayNumber } from '../../dates/index.ts';
import type { Entry, ReadingFact } from '../../logbook/index.ts';
import { dimensionOf, formatQuantity, quantity, valueIn } from '../../quantity/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  miles,
  milesQuantity,
  never,
  type Passage,
} from '../clock-run.ts';
import { readingsOf } from '../evidence.ts';
import { amountOn, type Paths, reach } from '../paths.ts';
import type { Scene } from '../scene.ts';
import { dayPassed, shownAt } from '../track.ts';
import { ODOMETER_PROVES_DAYS } from '../unwritten.ts';
import type { KnownTrip } from '../usage.ts';

/** Clocks that count: miles of an odometer, nights away, hours of an engine. */

/** When a counter has grown by `amount` from where it stands on `day`. */
function grownBy(paths: Paths, day: number, amount: number): Passage {
  return (out) => {
    const targets = amountOn(paths, day, new Float64Array(paths.count));
    for (let p = 0; p < targets.length; p++) targets[p]! += amount;
    reach(paths, targets, out);
  };
}

/** A usual length in days: by the mean pace of the paths over their first year. */
const daysFor = (paths: Paths, amount: number): number => (paths.pace > 0 ? amount / paths.pace : 3650);

/** When an odometer comes to a figure: passed between two readings, or still to come. */
export function comesTo(scene: Scene, role: Duty['role'], paths: Paths, target: number): Passage {
  const passed = dayPassed(scene.tracks[role], target);
  return passed === undefined ? (out) => reach(paths, target, out) : Math.min(passed, scene.nowDay);
}

export function milesClock(scene: Scene, duty: Duty, clock: ClockOf<'miles'>): ClockRun {
  const { role, last } = duty;
  const paths = scene.odometers[role];
  const interval = valueIn(clock.every, 'mi');
  const every = formatQuantity(clock.every, { system: scene.system });
  const base = { kind: 'miles' as const, sources: [clock.source] };
  const rest = {
    runsOutAfter: paths ? (day: number): Passage => grownBy(paths, day, interval) : never,
    days: paths ? daysFor(paths, interval) : 3650,
  };
  if (!paths || !last?.miles) {
    const missing = paths ? 'when and at how many miles this was last done' : 'an odometer reading';
    const needs = paths ? {} : { needs: 'odometer' as const };
    const text = `Every ${every}; not on record: ${missing}`;
    return { ...rest, outlook: { ...base, text, missing, ...needs, evidence: [] } };
  }
  const track = scene.tracks[role];
  const newest = track.newest!;
  const target = last.miles.total + interval;
  const read = target - newest.totalMiles;
  if (read > 0 && duty.upkeep.severity === 'safety' && silentDays(scene, role) > ODOMETER_PROVES_DAYS) {
    const missing = `an odometer reading of the last 12 months (the newest is of ${dateText(newest.entry.on)})`;
    const evidence = [last.entry.id, newest.entry.id];
    return {
      ...rest,
      outlook: { ...base, text: `Every ${every}; not on record: ${missing}`, missing, needs: 'odometer', evidence },
    };
  }
  const shown = (total: number): string => miles(scene, shownAt(track, total));
  const about = last.miles.exact ? '' : ' (read off between two odometer readings)';
  const left = leftToday(scene, role, paths, target, read);
  // To the tenth first, so that what rounding left of nothing is not called past.
  const tenths = Math.round(left * 10) / 10;
  const tail = tenths >= 0 ? `${miles(scene, tenths)} left` : `${miles(scene, -tenths)} past`;
  const said = left === read ? tail : `about ${tail} by now, the odometer last read on ${dateText(newest.entry.on)}`;
  return {
    ...rest,
    outlook: {
      ...base,
      text: `${every} since ${dateText(last.on)} at ${shown(last.miles.total)}${about}: due at ${shown(target)}, ${said}`,
      left: milesQuantity(scene, left),
      dueAtOdometer: milesQuantity(scene, shownAt(track, target)),
      evidence: [...new Set([last.entry.id, last.miles.entry.id, newest.entry.id])],
    },
    runsOut: comesTo(scene, role, paths, target),
  };
}

/** Days since the miles of an odometer were last known, by a reading or by a trip that is written down. */
const silentDays = ({ usage, nowDay }: Scene, role: Duty['role']): number =>
  nowDay - (usage[role].unwritten?.from ?? nowDay);

/** For so many days an odometer stands as it was read. Our own choice. */
const READ_LATELY_DAYS = 30;

/**
 * Miles left today. By the reading alone where it is recent and no trip was written down since; else what is left in nine of ten cases,
 * and never more than by the reading.
 */
function leftToday(scene: Scene, role: Duty['role'], paths: Paths, target: number, read: number): number {
  const { unread, anchor } = scene.usage[role];
  if (unread.length === 0 && scene.nowDay - anchor!.day <= READ_LATELY_DAYS) return read;
  const today = amountOn(paths, scene.nowDay, scene.scratch);
  return Math.min(read, target - quantiles(today, [0.9])[0]!);
}

/** What is known to have been used of a counter since some work, and from which day on it still has to be guessed. */
interface Used {
  readonly amount: number;
  readonly entries: readonly Entry[];
  readonly guessedFrom: number;
}

/** What finished trips used after `day`. A trip under way on that day counts whole, since nobody wrote down its parts. */
function usedOnTrips(scene: Scene, day: number, amountOf: (trip: KnownTrip) => number): Used {
  const trips = scene.known.filter((trip) => trip.back > day && amountOf(trip) > 0);
  return {
    amount: trips.reduce((sum, trip) => sum + amountOf(trip), 0),
    entries: trips.map((trip) => trip.entry),
    guessedFrom: day,
  };
}

/** Hours between two readings of a meter: what it went up by; one that shows less than before was replaced and began at none. */
function metered(readings: readonly ReadingFact[]): number {
  let hours = 0;
  for (let i = 1; i < readings.length; i++) {
    const [before, after] = [valueIn(readings[i - 1]!.value, 'h'), valueIn(readings[i]!.value, 'h')];
    hours += after >= before ? after - before : after;
  }
  return hours;
}

export function nightsClock(scene: Scene, duty: Duty, clock: ClockOf<'nights'>): ClockRun {
  const used = duty.last ? usedOnTrips(scene, duty.last.day, (trip) => trip.nights) : undefined;
  return counterClock(scene, duty, clock, scene.counters.nights(), used);
}

/** Engine hours: by the readings of the part's hour meter where there are any, else by the hours that trips report. */
export function hoursClock(scene: Scene, duty: Duty, clock: ClockOf<'hours'>): ClockRun {
  const { last, part } = duty;
  const paths = scene.counters.hours();
  if (!last) return counterClock(scene, duty, clock, paths, undefined);
  const meter = readingsOf(part, clock.counter).filter((reading) => dimensionOf(reading.value.unit) === 'time');
  const start = meter.findLastIndex((reading) => reading.on <= last.on);
  const newest = meter.at(-1);
  if (start < 0 || !newest)
    return counterClock(
      scene,
      duty,
      clock,
      paths,
      usedOnTrips(scene, last.day, (trip) => trip.generatorHours),
    );
  const since = meter.slice(start);
  const after = usedOnTrips(scene, dayNumber(newest.on), (trip) => trip.generatorHours);
  return counterClock(scene, duty, clock, paths, {
    amount: metered(since) + after.amount,
    entries: [since[0]!.entry, newest.entry, ...after.entries],
    guessedFrom: after.guessedFrom,
  });
}

function counterClock(
  scene: Scene,
  { last }: Duty,
  clock: ClockOf<'nights'> | ClockOf<'hours'>,
  paths: Paths,
  used: Used | undefined,
): ClockRun {
  const { every, kind } = clock;
  const base = { kind, sources: [clock.source] };
  const rest = {
    runsOutAfter: (day: number): Passage => grownBy(paths, day, every),
    days: daysFor(paths, every),
  };
  if (!last || !used) {
    const missing = 'when this was last done';
    return {
      ...rest,
      outlook: { ...base, text: `Every ${every} ${kind}; not on record: ${missing}`, missing, evidence: [] },
    };
  }
  const left = Math.round((every - used.amount) * 10) / 10;
  return {
    ...rest,
    outlook: {
      ...base,
      text: `${every} ${kind} since ${dateText(last.on)}: ${Math.round(used.amount * 10) / 10} used, ${left >= 0 ? `${left} left` : `${-left} past`}`,
      left: quantity(left, kind === 'hours' ? 'h' : 'each'),
      evidence: [...new Set([last.entry.id, ...used.entries.map((entry) => entry.id)])],
    },
    // Trips over but not written down since then count with their chance, as those to come do.
    runsOut: left <= 0 ? scene.nowDay : grownBy(paths, used.guessedFrom, every - used.amount),
  };
}
