import type { Severity } from '../catalog/index.ts';
import { quantiles } from '../chance/index.ts';
import { dateOf, dayNumber } from '../dates/index.ts';
import type { OdometerTrack, VehicleRole } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { milesQuantity } from './clock-run.ts';
import { amountOn, amountsAt, type Paths } from './paths.ts';
import type { Scene } from './scene.ts';
import { shownAt, totalOn } from './track.ts';
import type { OutlookItem, Spread } from './types.ts';

export type Told = Pick<OutlookItem, 'dates' | 'chanceByTrip' | 'slackTrips'>;
export type OdometerSpread = Spread<Quantity | null>;

const SPREAD = [0.1, 0.5, 0.9];
/** Dates further off than a hundred years are told as that. */
const FAR = dayNumber('2126-01-01');

/** When something runs out: one moment on every path, or one for each. */
export type Moments = number | Float64Array;

/** Dates, chances and slack. */
export function tell(scene: Scene, runsOut: Moments, severity: Severity): Told {
  if (typeof runsOut === 'number') return tellDay(scene, runsOut, severity);
  const [p10, p50, p90] = quantiles(runsOut, SPREAD) as [number, number, number];
  return {
    dates: { p10: dateAt(p10), p50: dateAt(p50), p90: dateAt(p90) },
    ...overTrips(scene, severity, (trip) => chanceOn(trip, runsOut)),
  };
}

/** Of what runs out on one day on every path: many duties share one. */
function tellDay(scene: Scene, day: number, severity: Severity): Told {
  const { told } = scene.kept;
  const known = told[severity].get(day);
  if (known) return known;
  const date = dateAt(day);
  const telling = {
    dates: { p10: date, p50: date, p90: date },
    ...overTrips(scene, severity, (trip) => (day < trip.until ? trip.surely : trip.surelyNot)),
  };
  told[severity].set(day, telling);
  return telling;
}

/** What the vehicle's odometer shows when something runs out. */
export function tellOdometer(scene: Scene, role: VehicleRole, runsOut: Moments): OdometerSpread {
  return typeof runsOut === 'number' ? odometerOn(scene, role, runsOut) : odometerAt(scene, role, runsOut);
}

const dateAt = (day: number): string | null => (Number.isFinite(day) ? dateOf(Math.floor(Math.min(day, FAR))) : null);

type Chance = OutlookItem['chanceByTrip'][number];

/** A trip that is not over, as the chances are told of it. */
export interface TripToOutlast {
  readonly id: string;
  readonly return: string;
  /** The moment after its last day. */
  readonly until: number;
  /** Whether it is made, by path; null where it surely is. */
  readonly made: Float64Array | null;
  readonly surely: Chance;
  readonly surelyNot: Chance;
}

export function tripsToOutlast({ trips, made }: Scene['draws'], nowDay: number): TripToOutlast[] {
  return trips.flatMap((trip, i) => {
    if (trip.back < nowDay) return [];
    const told = { trip: trip.id, return: dateOf(trip.back) };
    return [
      {
        id: trip.id,
        return: told.return,
        until: trip.back + 1,
        made: trip.chance < 1 ? made[i]! : null,
        surely: { ...told, chance: 1 },
        surelyNot: { ...told, chance: 0 },
      },
    ];
  });
}

/**
 * The chance by trip, and the trips it outlasts. A chance is that of running out before the return *if the trip is made*: the question
 * is asked by someone about to leave. That an earlier trip is only tentative counts in proportion.
 */
function overTrips(
  { toOutlast, alpha }: Scene,
  severity: Severity,
  chanceOf: (trip: TripToOutlast) => Chance,
): Pick<Told, 'chanceByTrip' | 'slackTrips'> {
  const chanceByTrip = toOutlast.map(chanceOf);
  const ends = chanceByTrip.findIndex((told) => told.chance > alpha[severity]);
  return { chanceByTrip, slackTrips: ends < 0 ? chanceByTrip.length : ends };
}

function chanceOn(trip: TripToOutlast, runsOut: Float64Array): Chance {
  const chance = chanceIfMade(runsOut, trip.until, trip.made);
  if (chance === 1) return trip.surely;
  if (chance === 0) return trip.surelyNot;
  return { trip: trip.id, return: trip.return, chance: rounded(chance) };
}

/** To a thousandth, but never a chance to none, nor a doubt to certainty. */
const rounded = (chance: number): number => Math.min(0.999, Math.max(0.001, Math.round(chance * 1000) / 1000));

/**
 * The chance that something comes due before a moment, given that a trip is made: counted on the paths on which it is. `made`: 1 or 0
 * by path, null for a trip that surely is. With no such path nothing can be counted: certain, as unknown is never fine.
 *
 * This is the only place that conditions on going. Whoever wants the chance on a trip reads `chanceOnTrip`, and divides by nothing.
 */
export function chanceIfMade(dueOn: Float64Array, moment: number, made: Float64Array | null): number {
  let due = 0;
  if (!made) {
    for (let p = 0; p < dueOn.length; p++) if (dueOn[p]! < moment) due++;
    return due / dueOn.length;
  }
  let going = 0;
  for (let p = 0; p < dueOn.length; p++) {
    going += made[p]!;
    if (dueOn[p]! < moment) due += made[p]!;
  }
  return going > 0 ? due / going : 1;
}

/** The chance that an item comes due before the return from a trip, given that the trip is made; 1 for a trip that the outlook does not know. */
export function chanceOnTrip(item: Pick<OutlookItem, 'chanceByTrip'>, trip: string): number {
  return item.chanceByTrip.find((told) => told.trip === trip)?.chance ?? 1;
}

/** What the odometer shows on a day: many duties share one. */
function odometerOn(scene: Scene, role: VehicleRole, day: number): OdometerSpread {
  const { on } = scene.shown[role];
  const known = on.get(day);
  if (known) return known;
  const paths = scene.odometers[role];
  const spread = paths && Number.isFinite(day) ? spreadOn(scene, role, paths, day) : UNKNOWN;
  on.set(day, spread);
  return spread;
}

const UNKNOWN: OdometerSpread = { p10: null, p50: null, p90: null };

function spreadOn(scene: Scene, role: VehicleRole, paths: Paths, day: number): OdometerSpread {
  const track = scene.tracks[role];
  if (day <= paths.knots[0]!) {
    const shown = shownQuantity(scene, track, totalOn(track, day)!);
    return { p10: shown, p50: shown, p90: shown };
  }
  return spreadOf(scene, track, amountOn(paths, day, scene.scratch));
}

/** What it shows at a moment of each path's own; a moment found on an earlier look still has what was found. */
function odometerAt(scene: Scene, role: VehicleRole, runsOut: Float64Array): OdometerSpread {
  const { at } = scene.shown[role];
  const known = at.get(runsOut);
  if (known) return known;
  const paths = scene.odometers[role];
  const spread = paths ? spreadOf(scene, scene.tracks[role], amountsAt(paths, runsOut, scene.scratch)) : UNKNOWN;
  at.set(runsOut, spread);
  return spread;
}

function spreadOf(scene: Scene, track: OdometerTrack, totals: Float64Array): OdometerSpread {
  const [p10, p50, p90] = quantiles(totals, SPREAD).map((total) => shownQuantity(scene, track, total));
  return { p10: p10!, p50: p50!, p90: p90! };
}

const shownQuantity = (scene: Scene, track: OdometerTrack, total: number): Quantity | null =>
  Number.isFinite(total) ? milesQuantity(scene, shownAt(track, total)) : null;
