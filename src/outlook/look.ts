import { type Catalog, type Clock, type Severity, type Upkeep, upkeepsOfPart } from '../catalog/index.ts';
import { quantilesInPlace } from '../chance/index.ts';
import { dateOf, dayNumber } from '../dates/index.ts';
import { type PartState, partsOf, type RigState, type VehicleRole } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { type ClockRun, type Duty, lower, milesQuantity, type Passage } from './clock-run.ts';
import { followUps } from './clocks/after.ts';
import { ageClock } from './clocks/age.ts';
import { departureClock, monthsClock } from './clocks/calendar.ts';
import { hoursClock, milesClock, nightsClock } from './clocks/counted.ts';
import { limitClock } from './clocks/limit.ts';
import { seasonClock } from './clocks/season.ts';
import { lastDone } from './evidence.ts';
import { whyText } from './explain.ts';
import { looksAtMissing } from './missing.ts';
import { type LookOptions, onPaths, type Scene, sceneOf } from './scene.ts';
import { tell } from './tell.ts';
import type { Outlook, OutlookItem, TripAhead, UpkeepState } from './types.ts';

/** One upkeep looked at: the item told to people, and what the plan computes with. */
export interface Look {
  readonly item: OutlookItem;
  readonly upkeep: Upkeep;
  readonly part: PartState | null;
  readonly role: VehicleRole;
  /** The moment it runs out, by path (day numbers). Shared between looks: read only. */
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
  readonly scene: Scene & { readonly state: RigState };
  readonly alpha: Readonly<Record<Severity, number>>;
}

/**
 * When each upkeep of the rig runs out, as far as can be told on the day `now`. Same inputs, same answer.
 *
 * What a look found is kept with the scene and the part that it rests on, so that the next look, with one more entry in the
 * logbook, does again only what that entry changes.
 */
export function lookAhead(state: RigState, catalog: Catalog, options: LookOptions): OutlookModel {
  const scene = sceneOf(state, catalog, options);
  const looks = [...partsOf(state).flatMap((part) => looksAtPart(scene, state, part)), ...looksAtMissing(scene, state)];
  looks.sort((a, b) => order(a.item.dates.p50) - order(b.item.dates.p50) || (a.item.id < b.item.id ? -1 : 1));
  const outlook: Outlook = {
    now: options.now,
    odometer: { trailer: odometerNow(scene, 'trailer'), tow: odometerNow(scene, 'tow') },
    trips: tripsTold(scene),
    items: looks.map((look) => look.item),
  };
  return { outlook, looks, scene: { ...scene, state }, alpha: scene.alpha };
}

const order = (date: string | null): number => (date === null ? Number.MAX_SAFE_INTEGER : dayNumber(date));

function odometerNow(scene: Scene, role: VehicleRole): Outlook['odometer']['trailer'] {
  const newest = scene.tracks[role].newest;
  return newest
    ? { shown: milesQuantity(scene, newest.shownMiles), on: newest.entry.on, entry: newest.entry.id }
    : null;
}

function tripsTold(scene: Scene): readonly TripAhead[] {
  scene.kept.tripsTold ??= scene.draws.trips
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
  return scene.kept.tripsTold;
}

function looksAtPart(scene: Scene, state: RigState, part: PartState): readonly Look[] {
  const known = scene.kept.looks.get(part);
  if (known) return known;
  const duties = upkeepsOfPart(scene.catalog, part.kind, part.id);
  const looks = duties.flatMap((upkeep) => lookAt(scene, state, part, upkeep));
  // Follow-ups are born of work on other parts too: they are looked at afresh.
  const alone = duties.every((upkeep) => upkeep.clocks.every((clock) => clock.kind !== 'after'));
  if (alone) scene.kept.looks.set(part, looks);
  return looks;
}

function lookAt(scene: Scene, state: RigState, part: PartState, upkeep: Upkeep): Look[] {
  const role = part.vehicle ?? scene.catalog.partKinds.get(part.kind)?.vehicle ?? 'trailer';
  const id = `${upkeep.id}@${part.id}`;
  const duty: Duty = { id, upkeep, part, role, last: lastDone(part, upkeep, scene.catalog, scene.tracks[role]) };
  const runs = upkeep.clocks.flatMap((clock) => {
    const run = setRunning(scene, duty, clock);
    return run ? [run] : [];
  });
  const looks: Look[] = runs.length ? [assemble(scene, duty, runs, id)] : [];
  for (const clock of upkeep.clocks) {
    if (clock.kind !== 'after') continue;
    for (const followUp of followUps(scene, state, duty, clock)) {
      const look = assemble(scene, duty, [followUp.run], `${id}+${followUp.at}${followUp.unit}`);
      const odometer = followUp.run.outlook.dueAtOdometer;
      const follows =
        followUp.unit === 'mi' && odometer ? { entry: followUp.born.id, atMiles: followUp.at, odometer } : undefined;
      looks.push(follows ? { ...look, item: { ...look.item, follows } } : look);
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
function assemble(scene: Scene, duty: Duty, runs: readonly ClockRun[], id: string): Look {
  const { upkeep, part, role, last } = duty;
  const failed = last?.outcome === 'failed';
  const unproven = runs.some((run) => run.runsOut === undefined);
  const atHome = runs.filter((run) => run.outlook.kind !== 'departure');
  const { governing, earliest } = governingOf(scene, runs, unproven);
  const atMost = failed || unproven ? scene.nowDay : Infinity;
  const runsOut = firstOf(scene, runs, atMost);
  const runsOutAtHome = atHome.length === runs.length ? runsOut : atHome.length ? firstOf(scene, atHome, atMost) : null;
  const told = tell(scene, role, runsOut, upkeep.severity);
  const state: UpkeepState = failed ? 'failed' : earliest <= scene.nowDay ? 'due' : unproven ? 'unproven' : 'runs';
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
    clock: governing.kind,
    clocks,
    left: governing.left ?? null,
    ...told,
    why: whyText(scene, { upkeep, state, governing, told, last }),
    evidence: [...new Set([...(failed ? [last.entry.id] : []), ...clocks.flatMap((clock) => clock.evidence)])],
    sources: [...new Set(clocks.flatMap((clock) => clock.sources))],
  };
  return {
    item,
    upkeep,
    part,
    role,
    runsOut: onPaths(scene, runsOut),
    runsOutAtHome: runsOutAtHome === null ? null : onPaths(scene, runsOutAtHome),
    runsOutAfter: (day, out) => {
      out.fill(Infinity);
      for (const run of atHome) lower(out, run.runsOutAfter(day));
    },
    intervalDays: Math.max(1, Math.min(...(atHome.length ? atHome : runs).map((run) => run.days))),
  };
}

/** The clock that runs out first by its median; one without evidence where none of the others has run out yet. */
function governingOf(scene: Scene, runs: readonly ClockRun[], unproven: boolean) {
  let governing = runs[0]!;
  let earliest = Infinity;
  for (const run of runs) {
    if (run.runsOut === undefined) continue;
    const median = medianOf(scene, run.runsOut);
    if (median >= earliest) continue;
    earliest = median;
    governing = run;
  }
  if (unproven && earliest > scene.nowDay) governing = runs.find((run) => run.runsOut === undefined)!;
  return { governing: governing.outlook, earliest };
}

function medianOf({ draws }: Scene, passage: Passage): number {
  if (typeof passage === 'number') return passage;
  const days = new Float64Array(draws.count).fill(Infinity);
  passage(days);
  return quantilesInPlace(days, [0.5])[0]!;
}

/** The earliest of several clocks, path by path, and no later than `atMost`: one number where it is the same on all paths. */
function firstOf({ draws }: Scene, runs: readonly ClockRun[], atMost: number): Float64Array | number {
  let earliest = atMost;
  for (const { runsOut } of runs) if (typeof runsOut === 'number' && runsOut < earliest) earliest = runsOut;
  const scattered = runs.filter((run) => typeof run.runsOut === 'function');
  if (scattered.length === 0) return earliest;
  const days = new Float64Array(draws.count).fill(earliest);
  for (const run of scattered) lower(days, run.runsOut!);
  return days.every((day) => day === days[0]) ? days[0]! : days;
}
