import type { Catalog, Severity } from '../catalog/index.ts';
import { dayNumber } from '../dates/index.ts';
import {
  type OdometerTrack,
  odometerTrack,
  type PartState,
  type RigState,
  settingOf,
  settingsOf,
  type TripState,
  tripsOf,
  type VehicleRole,
  vehicleOf,
} from '../logbook/index.ts';
import type { Quantity, System } from '../quantity/index.ts';
import { type Draws, draw } from './draws.ts';
import { odometerPaths, tripCounterPaths } from './growth.ts';
import type { DutyFound, Look } from './look.ts';
import type { Paths } from './paths.ts';
import { type OdometerSpread, type Told, type TripToOutlast, tripsToOutlast } from './tell.ts';
import type { TripAhead } from './types.ts';
import { keptThrough, unwrittenOf } from './unwritten.ts';
import {
  type Habit,
  habitOf,
  type KnownTrip,
  knownTrips,
  type TripModel,
  tripRatio,
  type UsageModel,
  unfinishedTrips,
  usageModel,
} from './usage.ts';
import { type Frost, frostOf } from './winter.ts';

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

/** One odometer to come, with what it was found to show on a day, or at a moment of each path's own. */
interface OdometerAhead {
  readonly track: OdometerTrack;
  readonly usage: UsageModel;
  readonly paths: Paths | null;
  readonly on: Map<number, OdometerSpread>;
  readonly at: WeakMap<Float64Array, OdometerSpread>;
}

/** What a look rests on besides its part and the odometers: one day, the trips, and one draw of the use to come. */
interface Calendar {
  readonly catalog: Catalog;
  readonly now: string;
  readonly nowDay: number;
  readonly seed: number;
  readonly system: System;
  readonly alpha: Readonly<Record<Severity, number>>;
  readonly draws: Draws;
  /** Finished trips. */
  readonly known: readonly KnownTrip[];
  /** The habit of those; null where there are none. */
  readonly travels: Habit | null;
  /** Nights away and generator hours of trips not finished and of the habit after them. */
  readonly counters: { nights(): Paths; hours(): Paths };
  /** Trips not finished whose leaving is today or later, by day of leaving, and whether they are made, by path. */
  readonly departures: readonly { readonly trip: TripModel; readonly made: Float64Array }[];
  readonly frost: Frost | undefined;
  readonly homeElevation: Quantity | undefined;
  /** Coming trips, and the one under way. */
  readonly toOutlast: readonly TripToOutlast[];
  /** Room for one number a path, for whoever needs it between two calls. */
  readonly scratch: Float64Array;
  /** What was found on it, for the next look at the same one. */
  readonly kept: {
    readonly duties: WeakMap<PartState, ReadonlyMap<string, DutyFound>>;
    readonly sameDay: Map<number, Float64Array>;
    readonly odometers: Map<VehicleRole, OdometerAhead>;
    readonly told: Readonly<Record<Severity, Map<number, Told>>>;
    tripsTold?: readonly TripAhead[];
  };
}

/** What every clock looks at besides its own part. */
export interface Scene extends Calendar {
  readonly usage: Readonly<Record<VehicleRole, UsageModel>>;
  readonly tracks: Readonly<Record<VehicleRole, OdometerTrack>>;
  readonly odometers: Readonly<Record<VehicleRole, Paths | null>>;
  readonly shown: Readonly<Record<VehicleRole, Pick<OdometerAhead, 'on' | 'at'>>>;
  readonly found: {
    readonly duties: WeakMap<PartState, ReadonlyMap<string, DutyFound>>;
    readonly missing: Map<string, Look>;
  };
}

/**
 * The last few scenes and calendars of each catalog. Each is a function of just the things it is remembered by: where none of them
 * has changed since an earlier look, it is that same one, and what was found on it still holds. So a logbook with one more entry
 * pays for what the entry changes.
 */
class Remembered<T> {
  readonly #byCatalog = new WeakMap<Catalog, { readonly from: readonly unknown[]; readonly made: T }[]>();

  get(catalog: Catalog, from: readonly unknown[], make: () => T): T {
    const known = this.#byCatalog.get(catalog) ?? [];
    const same = known.find((earlier) => sameItems(earlier.from, from));
    if (same) return same.made;
    const made = make();
    this.#byCatalog.set(catalog, [{ from, made }, ...known].slice(0, REMEMBERED_MOST));
    return made;
  }
}

const REMEMBERED_MOST = 3;
const calendars = new Remembered<Calendar>();
const scenes = new Remembered<Scene>();

/** The scene of one day. */
export function sceneOf(
  state: RigState,
  catalog: Catalog,
  { now, paths = PATHS_DEFAULT, seed = SEED_DEFAULT }: LookOptions,
): Scene {
  const trips = tripsOf(state);
  const tracks = { trailer: odometerTrack(state, 'trailer'), tow: odometerTrack(state, 'tow') };
  const alpha = { ...ALPHA_DEFAULT, ...Object.fromEntries(settingsOf(state, 'alpha')) };
  const system = settingOf(state, 'units') ?? 'us';
  const frost = frostOf(state);
  const homeElevation = vehicleOf(state, 'trailer')?.body.home?.elevation;
  // Without a finished trip the habit is read off the odometer; with one, the calendar does not rest on it but for its silence.
  const travelled = trips.some((trip) => trip.done);
  const through = travelled
    ? keptThrough(unwrittenOf(tracks.trailer, lastBackOf(trips), dayNumber(now)), dayNumber(now))
    : null;
  const from = [
    ...[now, paths, seed, through, alpha.safety, alpha.damage, alpha.comfort],
    ...[system, frost?.first, frost?.last, homeElevation?.value, homeElevation?.unit, ...trips],
  ];
  return scenes.get(catalog, [tracks.trailer, tracks.tow, ...from], () => {
    const calendar = calendars.get(catalog, travelled ? from : [tracks.trailer, ...from], (): Calendar => {
      const nowDay = dayNumber(now);
      const known = knownTrips(state);
      const unfinished = unfinishedTrips(state);
      const travels = habitOf(known, through ?? nowDay);
      const habit = travels ?? usageModel(tracks.trailer, 'trailer', known, unfinished, null, nowDay).habit;
      const draws = draw(paths, seed, nowDay, unfinished, tripRatio(trips), habit);
      const counter = (amountOf: (trip: TripModel) => number, perMile: number, overnight: boolean): (() => Paths) =>
        once(() => tripCounterPaths(draws, habit, nowDay, amountOf, perMile, overnight));
      return {
        ...{ catalog, now, nowDay, seed, system, alpha, draws, known, travels, frost, homeElevation },
        counters: {
          nights: counter((trip) => trip.nights, habit.nightsPerMile, true),
          hours: counter((trip) => trip.generatorHours, habit.hoursPerMile, false),
        },
        departures: unfinished.flatMap((trip, i) => (trip.leave >= nowDay ? [{ trip, made: draws.made[i]! }] : [])),
        toOutlast: tripsToOutlast(draws, nowDay),
        scratch: new Float64Array(paths),
        kept: {
          duties: new WeakMap(),
          sameDay: new Map(),
          odometers: new Map(),
          told: { safety: new Map(), damage: new Map(), comfort: new Map() },
        },
      };
    });
    const trailer = odometerOf(calendar, 'trailer', tracks.trailer);
    const tow = odometerOf(calendar, 'tow', tracks.tow);
    return {
      ...calendar,
      tracks,
      usage: { trailer: trailer.usage, tow: tow.usage },
      odometers: { trailer: trailer.paths, tow: tow.paths },
      shown: { trailer, tow },
      found: { duties: new WeakMap(), missing: new Map() },
    };
  });
}

/** One odometer to come; that of the other vehicle stays when one is read. */
function odometerOf(calendar: Calendar, role: VehicleRole, track: OdometerTrack): OdometerAhead {
  const { draws, nowDay, known, travels, kept } = calendar;
  const before = kept.odometers.get(role);
  if (before?.track === track) return before;
  const usage = usageModel(track, role, known, draws.trips, travels, nowDay);
  const made = { track, usage, paths: odometerPaths(draws, usage, nowDay), on: new Map(), at: new WeakMap() };
  kept.odometers.set(role, made);
  return made;
}

/** Day of the newest return on record; null where no trip is finished. */
function lastBackOf(trips: readonly TripState[]): number | null {
  const backs = trips.flatMap(({ done }) => (done ? [done.body.back] : []));
  return backs.length ? Math.max(...backs.map(dayNumber)) : null;
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
export function onPaths({ draws, kept }: Pick<Scene, 'draws' | 'kept'>, runsOut: Float64Array | number): Float64Array {
  if (typeof runsOut !== 'number') return runsOut;
  const known = kept.sameDay.get(runsOut);
  if (known) return known;
  const days = new Float64Array(draws.count).fill(runsOut);
  kept.sameDay.set(runsOut, days);
  return days;
}
