import type { Catalog, Clock, Severity, Upkeep } from '../catalog/index.ts';
import { quantilesInPlace } from '../chance/index.ts';
import { dateOf, dayNumber } from '../dates/index.ts';
import {
  odometerTrack,
  type PartState,
  partsOf,
  type RigState,
  settingOf,
  settingsOf,
  shownFromTotal,
  type VehicleRole,
} from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { type ClockRun, type Duty, milesQuantity, type Scene } from './clock-run.ts';
import { followUps } from './clocks/after.ts';
import { ageClock, departureClock, monthsClock, seasonClock } from './clocks/calendar.ts';
import { hoursClock, milesClock, nightsClock } from './clocks/counted.ts';
import { limitClock } from './clocks/limit.ts';
import { lastDone } from './evidence.ts';
import { whyText } from './explain.ts';
import { missingParts } from './missing.ts';
import { amountAt, draw, odometerPaths } from './paths.ts';
import type { ClockOutlook, Outlook, OutlookItem, Spread, TripAhead, UpkeepState } from './types.ts';
import { tripRatio, tripsAhead, usageModel } from './usage.ts';

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

/** One upkeep looked at: the item told to people, and what the plan computes with. */
export interface Look {
  readonly item: OutlookItem;
  readonly upkeep: Upkeep;
  readonly part: PartState | null;
  readonly role: VehicleRole;
  /** The moment it runs out, by path (day numbers). */
  readonly runsOut: Float64Array;
  /** The same without clocks that ask for it at each leaving: what work at home can do something about. Null: only those. */
  readonly runsOutAtHome: Float64Array | null;
  /** The same again, had it been done on `day`; into `out`. */
  readonly runsOutAfter: (day: number, out: Float64Array) => void;
  /** Its shortest clock in days of usual use. */
  readonly intervalDays: number;
}

/** The outlook with what stands behind it. */
export interface OutlookModel {
  readonly outlook: Outlook;
  readonly looks: readonly Look[];
  readonly scene: Scene;
  readonly alpha: Readonly<Record<Severity, number>>;
}

/** When each upkeep of the rig runs out, as far as can be told on the day `now`. Same inputs, same answer. */
export function lookAhead(state: RigState, catalog: Catalog, options: LookOptions): OutlookModel {
  const scene = sceneOf(state, catalog, options);
  const alpha = { ...ALPHA_DEFAULT, ...Object.fromEntries(settingsOf(state, 'alpha')) };
  const looks: Look[] = [];
  for (const part of partsOf(state)) {
    for (const upkeep of catalog.partUpkeeps?.get(part.id)?.values() ?? [])
      looks.push(...lookAt(scene, part, upkeep, alpha));
    for (const upkeep of catalog.upkeepsOf.get(part.kind) ?? []) {
      if (catalog.partUpkeeps?.get(part.id)?.has(upkeep.id)) continue;
      looks.push(...lookAt(scene, part, upkeep, alpha));
    }
  }
  for (const { kind, upkeep } of missingParts(state, catalog)) looks.push(lookAtMissing(scene, kind, upkeep, alpha));
  looks.sort((a, b) => order(a.item.dates.p50) - order(b.item.dates.p50) || (a.item.id < b.item.id ? -1 : 1));
  const trailer = odometerNow(scene, 'trailer');
  const tow = odometerNow(scene, 'tow');
  const outlook: Outlook = {
    now: options.now,
    odometer: { trailer, tow },
    trips: tripsTold(scene),
    items: looks.map((look) => look.item),
  };
  return { outlook, looks, scene, alpha };
}

const order = (date: string | null): number => (date === null ? Number.MAX_SAFE_INTEGER : dayNumber(date));

function sceneOf(
  state: RigState,
  catalog: Catalog,
  { now, paths = PATHS_DEFAULT, seed = SEED_DEFAULT }: LookOptions,
): Scene {
  const nowDay = dayNumber(now);
  const tracks = { trailer: odometerTrack(state, 'trailer'), tow: odometerTrack(state, 'tow') };
  const usage = { trailer: usageModel(state, 'trailer', nowDay), tow: usageModel(state, 'tow', nowDay) };
  // Trips since the odometers were last read still have to be run by the paths, even where they are over and not written down.
  const oldest = Math.min(nowDay, usage.trailer.anchor?.day ?? nowDay, usage.tow.anchor?.day ?? nowDay);
  const trips = tripsAhead(state, oldest + 1);
  const draws = draw(paths, seed, trips, tripRatio(state), usage);
  return {
    state,
    catalog,
    now,
    nowDay,
    seed,
    system: settingOf(state, 'units') ?? 'us',
    draws,
    usage,
    tracks,
    odometers: { trailer: odometerPaths(draws, usage.trailer, nowDay), tow: odometerPaths(draws, usage.tow, nowDay) },
    departures: trips.filter((trip) => trip.leave >= nowDay),
    firstFreeze: settingOf(state, 'first-freeze'),
  };
}

function odometerNow(scene: Scene, role: VehicleRole): Outlook['odometer']['trailer'] {
  const newest = scene.tracks[role].newest;
  return newest
    ? { shown: milesQuantity(scene, newest.shownMiles), on: newest.entry.on, entry: newest.entry.id }
    : null;
}

function tripsTold(scene: Scene): TripAhead[] {
  return scene.draws.trips
    .flatMap((trip, i) => (trip.back >= scene.nowDay ? [{ trip, i }] : []))
    .map(({ trip, i }) => {
      const [p10, p50, p90] = quantilesInPlace(
        scene.draws.ratio[i]!.map((ratio) => ratio * trip.plannedMiles),
        [0.1, 0.5, 0.9],
      ).map((value) => milesQuantity(scene, Math.round(value))) as [Quantity, Quantity, Quantity];
      return {
        trip: trip.id,
        name: trip.name,
        leave: dateOf(trip.leave),
        return: dateOf(trip.back),
        chance: trip.chance,
        planned: milesQuantity(scene, trip.plannedMiles),
        miles: { p10, p50, p90 },
      };
    });
}

function lookAt(scene: Scene, part: PartState, upkeep: Upkeep, alpha: OutlookModel['alpha']): Look[] {
  const role = part.vehicle ?? scene.catalog.partKinds.get(part.kind)?.vehicle ?? 'trailer';
  const id = `${upkeep.id}@${part.id}`;
  const duty: Duty = { id, upkeep, part, role, last: lastDone(part, upkeep, scene.catalog, scene.tracks[role]) };
  const runs = upkeep.clocks.flatMap((clock) => {
    const run = setRunning(scene, duty, clock);
    return run ? [run] : [];
  });
  const looks: Look[] = runs.length ? [assemble(scene, duty, runs, id, alpha)] : [];
  for (const clock of upkeep.clocks) {
    if (clock.kind !== 'after') continue;
    for (const followUp of followUps(scene, duty, clock)) {
      const look = assemble(scene, duty, [followUp.run], `${id}+${followUp.at}${followUp.unit}`, alpha);
      const odometer = followUp.run.outlook.dueAtOdometer;
      if (followUp.unit === 'mi' && odometer) {
        looks.push({
          ...look,
          item: { ...look.item, follows: { entry: followUp.born.id, atMiles: followUp.at, odometer } },
        });
      } else looks.push(look);
    }
  }
  return looks;
}

function setRunning(scene: Scene, duty: Duty, clock: Clock): ClockRun | undefined {
  switch (clock.kind) {
    case 'miles':
      return milesClock(scene, duty, clock);
    case 'months':
      return monthsClock(scene, duty, clock);
    case 'nights':
      return nightsClock(scene, duty, clock);
    case 'hours':
      return hoursClock(scene, duty, clock);
    case 'age':
      return ageClock(scene, duty, clock);
    case 'season':
      return seasonClock(scene, duty, clock);
    case 'departure':
      return departureClock(scene, duty, clock);
    case 'limit':
      return limitClock(scene, duty, clock);
    case 'after':
      return undefined;
  }
}

/** Whichever runs out first, path by path; a clock without evidence, or work that failed, has run out now. */
function assemble(scene: Scene, duty: Duty, runs: readonly ClockRun[], id: string, alpha: OutlookModel['alpha']): Look {
  const { upkeep, part, role, last } = duty;
  const failed = last?.outcome === 'failed';
  const unproven = runs.some((run) => run.lower === undefined);
  const count = scene.draws.count;
  const runsOut = new Float64Array(count).fill(Infinity);
  const atHome = runs.filter((run) => run.outlook.kind !== 'departure');
  const runsOutAtHome = atHome.length ? new Float64Array(count).fill(Infinity) : null;
  const scratch = new Float64Array(count);
  let governing = runs[0]!;
  let earliest = Infinity;
  for (const run of runs) {
    if (!run.lower) continue;
    scratch.fill(Infinity);
    run.lower(scratch);
    takeEarlier(runsOut, scratch);
    if (runsOutAtHome && run.outlook.kind !== 'departure') takeEarlier(runsOutAtHome, scratch);
    const [median] = quantilesInPlace(scratch, [0.5]);
    if (median! < earliest) {
      earliest = median!;
      governing = run;
    }
  }
  if (failed || unproven) {
    scratch.fill(scene.nowDay);
    takeEarlier(runsOut, scratch);
    if (runsOutAtHome) takeEarlier(runsOutAtHome, scratch);
  }
  if (unproven && earliest > scene.nowDay) governing = runs.find((run) => run.lower === undefined)!;
  const told = tell(scene, role, runsOut, upkeep, alpha);
  const state: UpkeepState = failed
    ? 'failed'
    : isDue(told.dates.p50, scene) && earliest <= scene.nowDay
      ? 'due'
      : unproven
        ? 'unproven'
        : 'runs';
  const clocks = runs.map((run) => run.outlook);
  const item: OutlookItem = {
    id,
    upkeep: upkeep.id,
    part: part.id,
    kind: part.kind,
    title: upkeep.title,
    place: part.place,
    severity: upkeep.severity,
    state,
    clock: governing.outlook.kind,
    clocks,
    left: governing.outlook.left ?? null,
    ...told,
    why: whyText(scene, { upkeep, state, governing: governing.outlook, told, last }),
    evidence: [...new Set([...(failed ? [last.entry.id] : []), ...clocks.flatMap((clock) => clock.evidence)])],
    sources: [...new Set(clocks.flatMap((clock) => clock.sources))],
  };
  return {
    item,
    upkeep,
    part,
    role,
    runsOut,
    runsOutAtHome,
    runsOutAfter: (day, out) => {
      out.fill(Infinity);
      for (const run of atHome) run.lowerAfter(day, out);
    },
    intervalDays: Math.max(1, Math.min(...(atHome.length ? atHome : runs).map((run) => run.days))),
  };
}

function takeEarlier(days: Float64Array, others: Float64Array): void {
  for (let p = 0; p < days.length; p++) if (others[p]! < days[p]!) days[p] = others[p]!;
}

const isDue = (date: string | null, scene: Scene): boolean => date !== null && dayNumber(date) <= scene.nowDay;

export type Told = Pick<OutlookItem, 'dates' | 'odometer' | 'chanceByTrip' | 'slackTrips'>;

/** Dates, odometer, chances and slack of one set of first passages. */
function tell(
  scene: Scene,
  role: VehicleRole,
  runsOut: Float64Array,
  upkeep: Upkeep,
  alpha: OutlookModel['alpha'],
): Told {
  const [p10, p50, p90] = quantilesInPlace(Float64Array.from(runsOut), [0.1, 0.5, 0.9]) as [number, number, number];
  const date = (day: number): string | null => (Number.isFinite(day) ? dateOf(Math.floor(Math.min(day, FAR))) : null);
  const chances: OutlookItem['chanceByTrip'][number][] = [];
  let slackTrips = 0;
  let lasting = true;
  for (const trip of scene.draws.trips) {
    if (trip.back < scene.nowDay) continue;
    let out = 0;
    for (let p = 0; p < runsOut.length; p++) if (runsOut[p]! < trip.back + 1) out++;
    const chance = out / runsOut.length;
    chances.push({ trip: trip.id, return: dateOf(trip.back), chance: Math.round(chance * 1000) / 1000 });
    if (chance > alpha[upkeep.severity]) lasting = false;
    if (lasting) slackTrips++;
  }
  return {
    dates: { p10: date(p10), p50: date(p50), p90: date(p90) },
    odometer: odometerSpread(scene, role, runsOut),
    chanceByTrip: chances,
    slackTrips,
  };
}

/** Dates further off than a hundred years are told as that. */
const FAR = dayNumber('2126-01-01');

function odometerSpread(scene: Scene, role: VehicleRole, runsOut: Float64Array): Spread<Quantity | null> {
  const paths = scene.odometers[role];
  if (!paths) return { p10: null, p50: null, p90: null };
  const totals = new Float64Array(runsOut.length);
  for (let p = 0; p < totals.length; p++) {
    totals[p] = Number.isFinite(runsOut[p]!) ? amountAt(paths, p, runsOut[p]!) : Infinity;
  }
  const [p10, p50, p90] = quantilesInPlace(totals, [0.1, 0.5, 0.9]).map((total) =>
    Number.isFinite(total) ? milesQuantity(scene, shownFromTotal(scene.tracks[role], total)) : null,
  ) as [Quantity | null, Quantity | null, Quantity | null];
  return { p10, p50, p90 };
}

/** An upkeep of a kind of part of which none is on record, though a rig has one. */
function lookAtMissing(scene: Scene, kind: string, upkeep: Upkeep, alpha: OutlookModel['alpha']): Look {
  const partKind = scene.catalog.partKinds.get(kind)!;
  const runsOut = new Float64Array(scene.draws.count).fill(scene.nowDay);
  const told = tell(scene, partKind.vehicle, runsOut, upkeep, alpha);
  const missing = `no ${partKind.name} on record`;
  const sources = [...new Set(upkeep.clocks.map((clock) => clock.source))];
  const first = upkeep.clocks[0]!;
  const clock: ClockOutlook = {
    kind: first.kind,
    text: `Not on record: ${missing}. ${upkeep.look}`,
    missing,
    evidence: [],
    sources,
  };
  return {
    item: {
      id: `${upkeep.id}@?${kind}`,
      upkeep: upkeep.id,
      part: null,
      kind,
      title: upkeep.title,
      place: '',
      severity: upkeep.severity,
      state: 'unproven',
      clock: first.kind,
      clocks: [clock],
      left: null,
      ...told,
      why: `Unproven: ${missing}. ${upkeep.look}`,
      evidence: [],
      sources,
    },
    upkeep,
    part: null,
    role: partKind.vehicle,
    runsOut,
    runsOutAtHome: runsOut,
    runsOutAfter: (_day, out) => void out.fill(Infinity),
    intervalDays: 365,
  };
}
