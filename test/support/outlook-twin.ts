import { expect } from 'vitest';
import type { Clock } from '../../src/catalog/index.ts';
import { addMonths, dateOf, dayNumber } from '../../src/dates/index.ts';
import { odometerTrack, type RigState, tripsOf } from '../../src/logbook/index.ts';
import { hopNoise, hopRates, hopStretch, monthTrips } from '../../src/outlook/draws.ts';
import type { OutlookModel } from '../../src/outlook/index.ts';

/**
 * The outlook's slow, obvious twin: use is walked day by day on one path, and each clock is asked on each day whether it has run out.
 * It shares the room's draws and its learned figures, and none of its knots, sweeps, shortcuts or caches.
 */

const DAYS_A_MONTH = 365.25 / 12;
/** All walks end on one day, more than five years ahead: where one comes to nothing by then, what runs out before is still the soonest. */
const DAYS_AHEAD = 1_900;

interface Way {
  readonly first: number;
  readonly last: number;
  readonly perDay: number;
  readonly made: boolean;
}

/** A trip's days that come after `anchor` (all of them where it leaves on that day), and what each of them adds on path `p`. */
function waysOf(
  model: OutlookModel,
  anchor: number,
  p: number,
  amountOf: (trip: TwinTrip, ratio: number) => number,
): Way[] {
  const { state, draws } = model.scene;
  return tripsOf(state).flatMap(({ id, plan, done }) => {
    const first = dayNumber(done ? done.body.left : plan.body.leave);
    const last = dayNumber(done ? done.body.back : plan.body.return);
    // Back by the day of the reading, a finished trip is in it.
    if (done && last <= anchor) return [];
    const i = draws.trips.findIndex((trip) => trip.id === id);
    const made = done ? true : draws.made[i]![p] === 1;
    const ratio = done ? 1 : draws.ratio[i]![p]!;
    const trip: TwinTrip = {
      miles: done ? done.body.miles.value : plan.body.miles.value,
      nights: done ? (done.body.nights ?? last - first) : (plan.body.nights ?? last - first),
      done: done !== undefined,
    };
    if (done) {
      const from = anchor > first ? Math.max(first, anchor + 1) : first;
      return [{ first: from, last, perDay: amountOf(trip, ratio) / (last - first + 1), made }];
    }
    const legs = draws.legs.filter((leg) => leg.trip.id === id);
    expect(legs.reduce((sum, leg) => sum + leg.miles[p]!, 0)).toBeCloseTo(made ? amountOf(trip, ratio) : 0, 6);
    return legs.map((leg) => ({
      first: anchor > leg.first ? Math.max(leg.first, anchor + 1) : leg.first,
      last: leg.last,
      perDay: leg.miles[p]! / (leg.last - leg.first + 1),
      made,
    }));
  });
}

interface TwinTrip {
  readonly miles: number;
  readonly nights: number;
  readonly done: boolean;
}

/** The share of trips not yet written down so many days before leaving; three trips of a mean of 45 days are taken as known. */
const unplanned = (leads: readonly number[], days: number): number =>
  (leads.filter((lead) => lead <= days).length + 3 * (1 - Math.exp(-Math.max(0, days) / 45))) / (leads.length + 3);

/** How hops scatter: the cube of Wilson and Hilferty, made to average 1 over the paths. One stretch at a time is remembered. */
function hopScatter(model: OutlookModel, role: 'trailer' | 'tow', readDay: number, p: number) {
  const { hopMiles, milesPerDay } = model.scene.usage[role].hops;
  let known = '';
  let factor = 1;
  return (day: number): number => {
    const { name, days } = hopStretch(day, readDay, role);
    if (name === known) return factor;
    known = name;
    const lumps = Math.max(0.3, (milesPerDay * days) / hopMiles);
    const cubes = [...hopNoise(model.scene.draws, role, name)].map(
      (z) => Math.max(0, 1 - 1 / (9 * lumps) + z / (3 * Math.sqrt(lumps))) ** 3,
    );
    factor = cubes[p]! / (cubes.reduce((sum, x) => sum + x, 0) / cubes.length);
    return factor;
  };
}

/** Trips besides the plan in the month of `day`, as a factor on their mean. */
function tripScatter(model: OutlookModel, day: number, mean: number, p: number): number {
  const [year, month] = dateOf(day).split('-').map(Number) as [number, number];
  return mean === 0 ? 0 : monthTrips(model.scene.draws, year * 12 + month, mean)[p]!;
}

/** Total at the beginning of each day from `anchor` on, path `p`. */
export function walkOdometer(
  model: OutlookModel,
  role: 'trailer' | 'tow',
  p: number,
): { from: number; totals: number[] } {
  const { scene } = model;
  const { draws } = scene;
  const newest = odometerTrack(scene.state, role).newest!;
  const { habit, unwritten } = scene.usage[role];
  const ways = waysOf(model, newest.day, p, (trip, ratio) => trip.miles * ratio);
  const planEnd = Math.max(scene.nowDay, newest.day, ...ways.map((way) => way.last + 1));
  const end = Math.max(scene.nowDay + 550, planEnd + 1);
  const meanHabit = habit.milesPerDay.reduce((sum, x) => sum + x, 0) / 12;
  const totals = [newest.totalMiles];
  const hopsPerDay = hopRates(draws, scene.usage[role])[p]!;
  const hopsScatter = hopScatter(model, role, newest.day, p);
  for (let day = newest.day; day < scene.nowDay + DAYS_AHEAD; day++) {
    const on = ways.filter((way) => day >= way.first && day <= way.last);
    let miles = on.reduce((sum, way) => sum + way.perDay, 0);
    const away = role === 'trailer' && on.some((way) => way.made);
    const month = Number(dateOf(day).slice(5, 7));
    const lead = dayNumber(`${dateOf(day).slice(0, 7)}-15`) - scene.nowDay;
    const ahead = day < planEnd ? habit.insertedShare : unplanned(habit.leads, lead);
    const share = day >= scene.nowDay ? ahead : day >= unwritten!.from ? unwritten!.share : 0;
    const perDay = habit.milesPerDay[month - 1]! * share;
    if (day >= end) miles = meanHabit * draws.yearFactor[p]! + hopsPerDay;
    else {
      if (!away) miles += hopsPerDay * hopsScatter(day);
      if (!on.some((way) => way.made))
        miles += perDay * tripScatter(model, day, (perDay * DAYS_A_MONTH) / habit.tripMiles, p);
    }
    totals.push(totals.at(-1)! + miles);
  }
  return { from: newest.day, totals };
}

/** Nights since the evening of `since`: those of finished trips that came back later count whole, the others day by day. */
export function walkNights(model: OutlookModel, since: number, p: number): { from: number; totals: number[] } {
  const { scene } = model;
  const { draws } = scene;
  const { habit } = scene.usage.trailer;
  let known = 0;
  for (const { done } of tripsOf(scene.state)) {
    if (done && dayNumber(done.body.back) > since)
      known += done.body.nights ?? dayNumber(done.body.back) - dayNumber(done.body.left);
  }
  const from = Math.min(scene.nowDay, since, ...draws.trips.map((trip) => trip.leave));
  const planEnd = Math.max(scene.nowDay, ...draws.trips.map((trip) => Math.max(trip.leave + 1, trip.back)));
  const end = Math.max(scene.nowDay + 550, planEnd + 1);
  const yearly = (habit.milesPerDay.reduce((sum, x) => sum + x, 0) / 12) * habit.nightsPerMile;
  const totals: number[] = [0];
  for (let day = from; day < scene.nowDay + DAYS_AHEAD; day++) {
    let nights = 0;
    let away = false;
    draws.trips.forEach((trip, i) => {
      const nightsAway = Math.max(1, trip.back - trip.leave);
      if (day >= trip.leave && day < trip.leave + nightsAway) {
        nights += (draws.made[i]![p]! * trip.nights) / nightsAway;
        away ||= draws.made[i]![p] === 1;
      }
    });
    const lead = dayNumber(`${dateOf(day).slice(0, 7)}-15`) - scene.nowDay;
    const perDay =
      habit.milesPerDay[Number(dateOf(day).slice(5, 7)) - 1]! *
      habit.nightsPerMile *
      (day < planEnd ? habit.insertedShare : unplanned(habit.leads, lead));
    const lumps = (perDay * DAYS_A_MONTH) / (habit.tripMiles * habit.nightsPerMile);
    if (day >= end) nights = yearly * draws.yearFactor[p]!;
    else if (day >= scene.nowDay && !away) nights += perDay * tripScatter(model, day, lumps, p);
    totals.push(totals.at(-1)! + nights);
  }
  const before = totals[Math.max(0, since - from)]!;
  return { from, totals: totals.map((total) => total - before + known) };
}

/** The moment at which a walked counter comes to `target`, evenly within its day; Infinity where the walk ends first. */
export function comesTo({ from, totals }: { from: number; totals: number[] }, target: number): number {
  if (totals[0]! >= target) return from;
  for (let i = 1; i < totals.length; i++) {
    const [a, b] = [totals[i - 1]!, totals[i]!];
    if (b >= target) return from + i - 1 + (target - a) / (b - a);
  }
  return Infinity;
}

/** The moment between two readings at which the odometer passed `target`; undefined where it has not. */
function passed(state: RigState, role: 'trailer' | 'tow', target: number): number | undefined {
  const { points } = odometerTrack(state, role);
  if (points.length === 0 || points.at(-1)!.totalMiles < target) return undefined;
  for (let i = 0; i < points.length; i++) {
    const b = points[i]!;
    if (b.totalMiles < target) continue;
    const a = points[i - 1];
    if (!a) return b.day;
    return a.day + ((target - a.totalMiles) / (b.totalMiles - a.totalMiles)) * (b.day - a.day);
  }
  return undefined;
}

/** The newest day on which the trailer's miles are known: read, or of a trip that is over. */
const lastKnown = (state: RigState): number =>
  Math.max(
    odometerTrack(state, 'trailer').newest!.day,
    ...tripsOf(state).flatMap(({ done }) => (done ? [dayNumber(done.body.back)] : [])),
  );

/** What a clock's twin is told of the newest good work: its day, and the total miles then. */
export interface TwinWork {
  readonly on: string;
  readonly miles?: number;
}

/** When one clock runs out on path `p` after `work`; only for clocks that look at no reading and no label. */
export function clockTwin(model: OutlookModel, clock: Clock, work: TwinWork, p: number): number {
  const { scene } = model;
  const day = dayNumber(work.on);
  switch (clock.kind) {
    case 'miles': {
      const target = work.miles! + clock.every.value;
      const before = passed(scene.state, 'trailer', target);
      if (before !== undefined) return Math.min(before, scene.nowDay);
      // Evidence of miles that is over a year old proves nothing to a safety job: it is taken as due today.
      if (scene.nowDay - lastKnown(scene.state) > 365) return scene.nowDay;
      return comesTo(walkOdometer(model, 'trailer', p), target);
    }
    case 'months':
      return dayNumber(addMonths(work.on, clock.every));
    case 'nights': {
      const walk = walkNights(model, day, p);
      const known = walk.totals[Math.max(0, day - walk.from)]!;
      return known >= clock.every ? scene.nowDay : comesTo(walk, clock.every);
    }
    case 'departure':
      return firstMade(model, p, (leave) => leave > day + clock.withinDays);
    case 'season': {
      const year = Math.max(Number(work.on.slice(0, 4)) + 1, Number(scene.now.slice(0, 4)));
      return firstMade(model, p, (leave) => Number(dateOf(leave).slice(0, 4)) >= year, year);
    }
    default:
      throw new Error(`no twin of a ${clock.kind} clock`);
  }
}

/** The first leaving from today on that is made on path `p` and `counts`; with a year, usual leavings of years without a plan too. */
function firstMade(model: OutlookModel, p: number, counts: (leave: number) => boolean, year?: number): number {
  const { scene } = model;
  const days = scene.draws.trips.flatMap((trip, i) =>
    trip.leave >= scene.nowDay && scene.draws.made[i]![p] === 1 && counts(trip.leave) ? [trip.leave] : [],
  );
  const starts = tripsOf(scene.state)
    .flatMap(({ done }) => (done ? [done.body.left.slice(5)] : []))
    .sort();
  if (year !== undefined && starts[0]) {
    for (const y of [year, year + 1, year + 2]) {
      if (scene.draws.trips.some((trip) => dateOf(trip.leave).startsWith(`${y}-`))) continue;
      const usual = dayNumber(`${y}-${starts[0] === '02-29' ? '02-28' : starts[0]}`);
      if (usual >= scene.nowDay) days.push(usual);
    }
  }
  return Math.min(Infinity, ...days);
}
