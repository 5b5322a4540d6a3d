import type { Severity } from '../catalog/index.ts';
import { quantilesInPlace } from '../chance/index.ts';
import { dateOf, dayNumber } from '../dates/index.ts';
import type { OdometerTrack, VehicleRole } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { milesQuantity } from './clock-run.ts';
import { amountOn, amountsAt, type Paths } from './paths.ts';
import type { Scene } from './scene.ts';
import { shownAt, totalOn } from './track.ts';
import type { OutlookItem, Spread } from './types.ts';

export type Told = Pick<OutlookItem, 'dates' | 'odometer' | 'chanceByTrip' | 'slackTrips'>;
export type OdometerSpread = Spread<Quantity | null>;

const SPREAD = [0.1, 0.5, 0.9];
/** Dates further off than a hundred years are told as that. */
const FAR = dayNumber('2126-01-01');

/** Dates, odometer, chances and slack of one set of moments, or of one moment that holds on every path. */
export function tell(scene: Scene, role: VehicleRole, runsOut: Float64Array | number, severity: Severity): Told {
  return typeof runsOut === 'number'
    ? tellOne(scene, role, runsOut, severity)
    : tellAll(scene, role, runsOut, severity);
}

function tellOne(scene: Scene, role: VehicleRole, day: number, severity: Severity): Told {
  const date = dateAt(day);
  return {
    dates: { p10: date, p50: date, p90: date },
    odometer: odometerOn(scene, role, day),
    ...overTrips(scene, severity, (trip) => (day < trip.back + 1 ? 1 : 0)),
  };
}

function tellAll(scene: Scene, role: VehicleRole, runsOut: Float64Array, severity: Severity): Told {
  const [p10, p50, p90] = quantilesInPlace(Float64Array.from(runsOut), SPREAD) as [number, number, number];
  return {
    dates: { p10: dateAt(p10), p50: dateAt(p50), p90: dateAt(p90) },
    odometer: odometerAt(scene, role, runsOut),
    ...overTrips(scene, severity, (trip, made) => chanceBefore(runsOut, trip.back + 1, trip.chance < 1 ? made : null)),
  };
}

const dateAt = (day: number): string | null => (Number.isFinite(day) ? dateOf(Math.floor(Math.min(day, FAR))) : null);

/**
 * The chance by trip, and the trips it outlasts. A chance is that of running out before the return *if the trip is made*: the question
 * is asked by someone about to leave. That an earlier trip is only tentative counts in proportion.
 */
function overTrips(
  { draws, nowDay, alpha }: Scene,
  severity: Severity,
  chanceOf: (trip: Scene['draws']['trips'][number], made: Float64Array) => number,
): Pick<Told, 'chanceByTrip' | 'slackTrips'> {
  const chanceByTrip: OutlookItem['chanceByTrip'][number][] = [];
  let slackTrips = 0;
  let lasting = true;
  draws.trips.forEach((trip, i) => {
    if (trip.back < nowDay) return;
    const chance = chanceOf(trip, draws.made[i]!);
    chanceByTrip.push({ trip: trip.id, return: dateOf(trip.back), chance: rounded(chance) });
    if (chance > alpha[severity]) lasting = false;
    if (lasting) slackTrips++;
  });
  return { chanceByTrip, slackTrips };
}

/** To a thousandth, but never a chance to none, nor a doubt to certainty. */
const rounded = (chance: number): number =>
  chance === 0 || chance === 1 ? chance : Math.min(0.999, Math.max(0.001, Math.round(chance * 1000) / 1000));

function chanceBefore(runsOut: Float64Array, moment: number, made: Float64Array | null): number {
  let out = 0;
  if (!made) {
    for (let p = 0; p < runsOut.length; p++) if (runsOut[p]! < moment) out++;
    return out / runsOut.length;
  }
  let of = 0;
  for (let p = 0; p < runsOut.length; p++) {
    of += made[p]!;
    if (runsOut[p]! < moment) out += made[p]!;
  }
  return of > 0 ? out / of : 0;
}

/** What the odometer shows on a day: many duties share one. */
function odometerOn(scene: Scene, role: VehicleRole, day: number): OdometerSpread {
  const key = `${role} ${day}`;
  const known = scene.kept.odometerOn.get(key);
  if (known) return known;
  const paths = scene.odometers[role];
  const spread =
    paths && Number.isFinite(day) ? spreadOn(scene, role, paths, day) : { p10: null, p50: null, p90: null };
  scene.kept.odometerOn.set(key, spread);
  return spread;
}

function spreadOn(scene: Scene, role: VehicleRole, paths: Paths, day: number): OdometerSpread {
  const track = scene.tracks[role];
  if (day <= paths.knots[0]!) {
    const shown = shownQuantity(scene, track, totalOn(track, day)!);
    return { p10: shown, p50: shown, p90: shown };
  }
  return spreadOf(scene, track, amountOn(paths, day, new Float64Array(paths.count)));
}

function odometerAt(scene: Scene, role: VehicleRole, runsOut: Float64Array): OdometerSpread {
  const paths = scene.odometers[role];
  if (!paths) return { p10: null, p50: null, p90: null };
  return spreadOf(scene, scene.tracks[role], amountsAt(paths, runsOut, new Float64Array(runsOut.length)));
}

function spreadOf(scene: Scene, track: OdometerTrack, totals: Float64Array): OdometerSpread {
  const [p10, p50, p90] = quantilesInPlace(totals, SPREAD).map((total) => shownQuantity(scene, track, total));
  return { p10: p10!, p50: p50!, p90: p90! };
}

const shownQuantity = (scene: Scene, track: OdometerTrack, total: number): Quantity | null =>
  Number.isFinite(total) ? milesQuantity(scene, shownAt(track, total)) : null;
