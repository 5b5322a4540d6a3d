import type { Clock } from '../../catalog/index.ts';
import { dayNumber } from '../../dates/index.ts';
import { type Entry, shownFromTotal, tripsOf } from '../../logbook/index.ts';
import { formatQuantity, valueIn } from '../../quantity/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  miles,
  milesQuantity,
  never,
  type Scene,
} from '../clock-run.ts';
import { amountAt, type Paths, reaches, tripCounterPaths } from '../paths.ts';

/** Clocks that count: miles of an odometer, nights away, hours of an engine. */

function lowerToTarget(paths: Paths, target: (p: number) => number): (out: Float64Array) => void {
  return (out) => {
    for (let p = 0; p < out.length; p++) {
      const day = reaches(paths, p, target(p));
      if (day < out[p]!) out[p] = day;
    }
  };
}

/** A usual length in days, for the plan's share of overrun: by the mean pace of the paths over their first year. */
function daysFor(paths: Paths, amount: number): number {
  const start = paths.knots[0]!;
  let yearly = 0;
  const sample = Math.min(paths.count, 64);
  for (let p = 0; p < sample; p++) yearly += amountAt(paths, p, start + 365) - amountAt(paths, p, start);
  yearly /= sample;
  return yearly > 0 ? (amount / yearly) * 365 : 3650;
}

export function milesClock(scene: Scene, duty: Duty, clock: ClockOf<'miles'>): ClockRun {
  const { role, last, upkeep } = duty;
  const paths = scene.odometers[role];
  const interval = valueIn(clock.every, 'mi');
  const every = formatQuantity(clock.every, { system: scene.system });
  const base = { kind: 'miles' as const, sources: [clock.source] };
  if (!paths || !last?.miles) {
    const missing = paths ? `when and at how many miles this was last done` : `an odometer reading`;
    return {
      outlook: { ...base, text: `Every ${every}; not on record: ${missing}`, missing, evidence: [] },
      lowerAfter: paths ? (day, out) => lowerToTarget(paths, (p) => amountAt(paths, p, day) + interval)(out) : never,
      days: paths ? daysFor(paths, interval) : 3650,
    };
  }
  const track = scene.tracks[role];
  const target = last.miles.total + interval;
  const left = target - (track.newest?.totalMiles ?? last.miles.total);
  const shown = (total: number): string => miles(scene, shownFromTotal(track, total));
  const about = last.miles.exact ? '' : ' (read off between two odometer readings)';
  const tail = left >= 0 ? `${miles(scene, left)} left` : `${miles(scene, -left)} past`;
  const evidence = [...new Set([last.entry.id, last.miles.entry.id, ...(track.newest ? [track.newest.entry.id] : [])])];
  return {
    outlook: {
      ...base,
      text: `${every} since ${dateText(last.on)} at ${shown(last.miles.total)}${about}: due at ${shown(target)}, ${tail}`,
      left: milesQuantity(scene, left),
      dueAtOdometer: milesQuantity(scene, shownFromTotal(track, target)),
      evidence,
    },
    lower: lowerToTarget(paths, () => target),
    lowerAfter: (day, out) =>
      upkeep.clocks.length > 0 ? lowerToTarget(paths, (p) => amountAt(paths, p, day) + interval)(out) : undefined,
    days: daysFor(paths, interval),
  };
}

/** What finished trips since `day` used of a counter, with the entries that say so. */
function usedSince(
  scene: Scene,
  day: number,
  amount: (trip: { nights: number; hours: number }) => number,
): { used: number; entries: Entry[] } {
  let used = 0;
  const entries: Entry[] = [];
  for (const { plan, done } of tripsOf(scene.state)) {
    if (!done || dayNumber(done.body.back) <= day) continue;
    const nights = done.body.nights ?? dayNumber(done.body.back) - dayNumber(done.body.left);
    const hours = done.body.generatorHours ?? plan.body.generatorHours ?? 0;
    const share = amount({ nights, hours });
    if (share <= 0) continue;
    used += share;
    entries.push(done);
  }
  return { used, entries };
}

export function nightsClock(scene: Scene, duty: Duty, clock: ClockOf<'nights'>): ClockRun {
  const since = duty.last ? usedSince(scene, duty.last.day, (trip) => trip.nights) : undefined;
  return counterClock(scene, duty, clock, clock.every, 'nights', since, (trip) => trip.nights);
}

/** Engine hours: an hour meter's readings (reading `hours` of the part) where there are any, else the hours that trips report. */
export function hoursClock(scene: Scene, duty: Duty, clock: ClockOf<'hours'>): ClockRun {
  const { last, part } = duty;
  let since = last ? usedSince(scene, last.day, (trip) => trip.hours) : undefined;
  const meter = part.readings.get('hours') ?? [];
  const newest = meter.at(-1);
  const then = last ? meter.findLast((reading) => reading.on <= last.on) : undefined;
  if (newest && then) {
    const after = usedSince(scene, dayNumber(newest.on), (trip) => trip.hours);
    since = {
      used: valueIn(newest.value, 'h') - valueIn(then.value, 'h') + after.used,
      entries: [then.entry, newest.entry, ...after.entries],
    };
  }
  return counterClock(scene, duty, clock, clock.every, 'hours', since, (trip) => trip.generatorHours);
}

function counterClock(
  scene: Scene,
  duty: Duty,
  clock: Clock & { kind: 'nights' | 'hours' },
  every: number,
  name: 'nights' | 'hours',
  since: { used: number; entries: Entry[] } | undefined,
  amountOf: Parameters<typeof tripCounterPaths>[5],
): ClockRun {
  const { last } = duty;
  const paths = tripCounterPaths(
    scene.draws,
    scene.usage.trailer,
    scene.nowDay,
    scene.nowDay,
    since?.used ?? 0,
    amountOf,
  );
  const base = { kind: clock.kind, sources: [clock.source] };
  const lowerAfter = (day: number, out: Float64Array): void =>
    lowerToTarget(paths, (p) => amountAt(paths, p, day) + every)(out);
  const days = daysFor(paths, every);
  if (!last || !since) {
    const missing = 'when this was last done';
    return {
      outlook: { ...base, text: `Every ${every} ${name}; not on record: ${missing}`, missing, evidence: [] },
      lowerAfter,
      days,
    };
  }
  const left = Math.round((every - since.used) * 10) / 10;
  return {
    outlook: {
      ...base,
      text: `${every} ${name} since ${dateText(last.on)}: ${Math.round(since.used * 10) / 10} used, ${left >= 0 ? `${left} left` : `${-left} past`}`,
      left: name === 'hours' ? { value: left, unit: 'h' } : { value: left, unit: 'each' },
      evidence: [last.entry.id, ...since.entries.map((entry) => entry.id)],
    },
    lower: lowerToTarget(paths, () => every),
    lowerAfter,
    days,
  };
}
