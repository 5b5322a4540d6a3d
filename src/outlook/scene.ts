import type { Catalog, Severity } from '../catalog/index.ts';
import { dayNumber } from '../dates/index.ts';
import {
  type OdometerTrack,
  odometerTrack,
  type PartState,
  type RigState,
  settingOf,
  settingsOf,
  tripsOf,
  type VehicleRole,
  vehicleOf,
} from '../logbook/index.ts';
import type { Quantity, System } from '../quantity/index.ts';
import { type Draws, draw } from './draws.ts';
import type { DutyLook, Look } from './look.ts';
import { odometerPaths, type Paths, tripCounterPaths } from './paths.ts';
import { type OdometerSpread, type TripToOutlast, tripsToOutlast } from './tell.ts';
import type { TripAhead } from './types.ts';
import {
  type KnownTrip,
  knownTrips,
  type TripModel,
  tripRatio,
  type UsageModel,
  unfinishedTrips,
  usageModel,
} from './usage.ts';

/** Greatest accepted chance of running out before a return, by severity; the owner's `alpha/…` settings override it. */
export const ALPHA_DEFAULT: Readonly<Record<Severity, number>> = { safety: 0.05, damage: 0.2, comfort: 0.5 };
/** Sample paths: a power of two, so that a Sobol set spreads evenly. */
export const PATHS_DEFAULT = 1024;
const SEED_DEFAULT = 20260527;

export interface LookOptions {
  readonly now: string;
  readonly paths?: number;
  readonly seed?: number;
}

/** What every clock looks at besides its own part: one day, the owner's use, and one draw of the use to come. */
export interface Scene {
  readonly catalog: Catalog;
  readonly now: string;
  readonly nowDay: number;
  readonly seed: number;
  readonly system: System;
  readonly alpha: Readonly<Record<Severity, number>>;
  readonly draws: Draws;
  readonly known: readonly KnownTrip[];
  readonly usage: Readonly<Record<VehicleRole, UsageModel>>;
  readonly tracks: Readonly<Record<VehicleRole, OdometerTrack>>;
  readonly odometers: Readonly<Record<VehicleRole, Paths | null>>;
  /** Nights away and generator hours of trips not finished and of the habit after them. */
  readonly counters: { nights(): Paths; hours(): Paths };
  /** Trips not finished whose leaving is today or later, by day of leaving, and whether they are made, by path. */
  readonly departures: readonly { readonly trip: TripModel; readonly made: Float64Array }[];
  readonly firstFreeze: string | undefined;
  readonly homeElevation: Quantity | undefined;
  /** Coming trips, and the one under way. */
  readonly toOutlast: readonly TripToOutlast[];
  /** Room for one number a path, for whoever needs it between two calls. */
  readonly scratch: Float64Array;
  readonly kept: Kept;
}

/** What was found on a scene, for the next look at the same one. */
interface Kept {
  readonly duties: WeakMap<PartState, readonly DutyLook[]>;
  readonly missing: Map<string, Look>;
  readonly odometerOn: Map<string, OdometerSpread>;
  readonly sameDay: Map<number, Float64Array>;
  tripsTold?: readonly TripAhead[];
}

/** The last few scenes of each catalog, so that a logbook with one more entry pays for what the entry changes. */
const scenes = new WeakMap<Catalog, { readonly from: readonly unknown[]; readonly scene: Scene }[]>();
const SCENES_KEPT = 3;

/**
 * The scene of one day. A scene is a function of just the things listed in `from`; where none of them has changed since an earlier
 * look, it is that same scene, and what was found on it still holds.
 */
export function sceneOf(
  state: RigState,
  catalog: Catalog,
  { now, paths = PATHS_DEFAULT, seed = SEED_DEFAULT }: LookOptions,
): Scene {
  const trips = tripsOf(state);
  const tracks = { trailer: odometerTrack(state, 'trailer'), tow: odometerTrack(state, 'tow') };
  const alpha = { ...ALPHA_DEFAULT, ...Object.fromEntries(settingsOf(state, 'alpha')) };
  const system = settingOf(state, 'units') ?? 'us';
  const firstFreeze = settingOf(state, 'first-freeze');
  const homeElevation = vehicleOf(state, 'trailer')?.body.home?.elevation;
  const from = [
    ...[now, paths, seed, tracks.trailer, tracks.tow, alpha.safety, alpha.damage, alpha.comfort],
    ...[system, firstFreeze, homeElevation?.value, homeElevation?.unit, ...trips],
  ];
  const known = scenes.get(catalog) ?? [];
  const same = known.find((earlier) => sameItems(earlier.from, from));
  if (same) return same.scene;
  const nowDay = dayNumber(now);
  const finished = knownTrips(trips);
  const unfinished = unfinishedTrips(state);
  const usage = {
    trailer: usageModel(state, 'trailer', nowDay, finished, unfinished),
    tow: usageModel(state, 'tow', nowDay, finished, unfinished),
  };
  const draws = draw(paths, seed, unfinished, tripRatio(trips), usage);
  const { habit } = usage.trailer;
  const scene: Scene = {
    catalog,
    now,
    nowDay,
    seed,
    system,
    alpha,
    draws,
    known: finished,
    usage,
    tracks,
    odometers: { trailer: odometerPaths(draws, usage.trailer, nowDay), tow: odometerPaths(draws, usage.tow, nowDay) },
    counters: {
      nights: once(() => tripCounterPaths(draws, usage.trailer, nowDay, (trip) => trip.nights, habit.nightsPerMile)),
      hours: once(() =>
        tripCounterPaths(draws, usage.trailer, nowDay, (trip) => trip.generatorHours, habit.hoursPerMile),
      ),
    },
    departures: unfinished.flatMap((trip, i) => (trip.leave >= nowDay ? [{ trip, made: draws.made[i]! }] : [])),
    firstFreeze,
    homeElevation,
    toOutlast: tripsToOutlast(draws, nowDay),
    scratch: new Float64Array(paths),
    kept: { duties: new WeakMap(), missing: new Map(), odometerOn: new Map(), sameDay: new Map() },
  };
  scenes.set(catalog, [{ from, scene }, ...known].slice(0, SCENES_KEPT));
  return scene;
}

const sameItems = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((item, i) => item === b[i]);

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
}

/** A moment as an array over paths, one for all looks that share it. */
export function onPaths({ draws, kept }: Scene, runsOut: Float64Array | number): Float64Array {
  if (typeof runsOut !== 'number') return runsOut;
  const known = kept.sameDay.get(runsOut);
  if (known) return known;
  const days = new Float64Array(draws.count).fill(runsOut);
  kept.sameDay.set(runsOut, days);
  return days;
}
