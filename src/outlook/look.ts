import { type Catalog, type Clock, type Severity, type Upkeep, upkeepsOfPart } from '../catalog/index.ts';
import { quantiles } from '../chance/index.ts';
import { dateOf } from '../dates/index.ts';
import { type OdometerTrack, type PartState, partsOf, type RigState, type VehicleRole } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { type ClockOf, type ClockRun, type Duty, lower, milesQuantity, type Passage } from './clock-run.ts';
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
import { type Moments, tell, tellOdometer } from './tell.ts';
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

/** How a duty stands, its odometer aside. */
export interface Standing {
  readonly duty: Duty;
  /** Of the vehicle it is on, as read when this was found. */
  readonly track: OdometerTrack;
  readonly runs: readonly ClockRun[];
  readonly runsOut: Moments;
  readonly runsOutAtHome: Moments | null;
  readonly item: Omit<OutlookItem, 'odometer'>;
}

/** A duty of a part and its look; no look where only other work gives birth to it. */
export interface DutyLook {
  readonly duty: Duty;
  readonly look: Look | null;
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
  looks.sort((a, b) => byText(a.item.dates.p50 ?? NEVER, b.item.dates.p50 ?? NEVER) || byText(a.item.id, b.item.id));
  const outlook: Outlook = {
    now: options.now,
    odometer: { trailer: odometerNow(scene, 'trailer'), tow: odometerNow(scene, 'tow') },
    trips: tripsTold(scene),
    items: looks.map((look) => look.item),
  };
  return { outlook, looks, scene: { ...scene, state }, alpha: scene.alpha };
}

/** Sorts after every date. */
const NEVER = '~';
const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

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
      const [p10, p50, p90] = quantiles(scene.draws.ratio[i]!, [0.1, 0.5, 0.9]).map((ratio) =>
        milesQuantity(scene, Math.round(ratio * trip.plannedMiles)),
      ) as [Quantity, Quantity, Quantity];
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

function looksAtPart(scene: Scene, state: RigState, part: PartState): Look[] {
  const duties = dutiesAt(scene, part);
  const looks = duties.flatMap(({ look }) => (look ? [look] : []));
  // Follow-ups are born of work on other parts too: they are looked for afresh.
  for (const { duty } of duties) {
    for (const clock of duty.upkeep.clocks)
      if (clock.kind === 'after') looks.push(...followUpsAt(scene, state, duty, clock));
  }
  return looks;
}

function dutiesAt(scene: Scene, part: PartState): readonly DutyLook[] {
  const known = scene.found.duties.get(part);
  if (known) return known;
  const stood = scene.kept.standings.get(part);
  const standings = new Map<string, Standing>();
  const duties = upkeepsOfPart(scene.catalog, part.kind, part.id).map((upkeep) => {
    const before = stood?.get(upkeep.id);
    const standing = before && stillStands(scene, before) ? before : standingAt(scene, part, upkeep);
    standings.set(upkeep.id, standing);
    return { duty: standing.duty, look: standing.runs.length ? lookOf(scene, standing) : null };
  });
  scene.found.duties.set(part, duties);
  scene.kept.standings.set(part, standings);
  return duties;
}

/** What was found on the same calendar stands until the odometer it counts by is read; what counts no miles, then too. */
function stillStands({ tracks }: Scene, { duty, track }: Standing): boolean {
  return track === tracks[duty.role] || duty.upkeep.clocks.every((clock) => clock.kind !== 'miles');
}

function standingAt(scene: Scene, part: PartState, upkeep: Upkeep): Standing {
  const role = part.vehicle ?? scene.catalog.partKinds.get(part.kind)?.vehicle ?? 'trailer';
  const last = lastDone(part, upkeep, scene.catalog, scene.tracks[role]);
  const duty: Duty = { id: `${upkeep.id}@${part.id}`, upkeep, part, role, last };
  return standingOf(
    scene,
    duty,
    upkeep.clocks.flatMap((clock) => setRunning(scene, duty, clock) ?? []),
    duty.id,
  );
}

function followUpsAt(scene: Scene, state: RigState, duty: Duty, clock: ClockOf<'after'>): Look[] {
  return followUps(scene, state, duty, clock).map(({ born, at, unit, run }) => {
    const standing = standingOf(scene, duty, [run], `${duty.id}+${at}${unit}`);
    const odometer = run.outlook.dueAtOdometer;
    const follows = unit === 'mi' && odometer ? { follows: { entry: born.id, atMiles: at, odometer } } : {};
    return lookOf(scene, { ...standing, item: { ...standing.item, ...follows } });
  });
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
function standingOf(scene: Scene, duty: Duty, runs: readonly ClockRun[], id: string): Standing {
  const { upkeep, part, last } = duty;
  const failed = last?.outcome === 'failed';
  const unproven = runs.some((run) => run.runsOut === undefined);
  const moments = runs.map(({ runsOut }) => (runsOut === undefined ? Infinity : momentsOf(scene, runsOut)));
  const atMost = failed || unproven ? scene.nowDay : Infinity;
  const runsOut = firstOf(scene, moments, atMost);
  const isAtHome = (_: unknown, i: number): boolean => runs[i]!.outlook.kind !== 'departure';
  const atHome = moments.filter(isAtHome);
  const { governing, earliest } = governingOf(scene, runs, moments, unproven);
  const told = tell(scene, runsOut, upkeep.severity);
  const state: UpkeepState = failed ? 'failed' : earliest <= scene.nowDay ? 'due' : unproven ? 'unproven' : 'runs';
  const clocks = runs.map((run) => run.outlook);
  return {
    duty,
    track: scene.tracks[duty.role],
    runs,
    runsOut,
    runsOutAtHome: atHome.length === runs.length ? runsOut : atHome.length ? firstOf(scene, atHome, atMost) : null,
    item: {
      id,
      upkeep: upkeep.id,
      part: part.id,
      kind: part.kind,
      title: upkeep.title,
      place: part.place,
      severity: upkeep.severity,
      state,
      clock: governing?.kind ?? null,
      clocks,
      left: governing?.left ?? null,
      ...told,
      why: governing ? whyText(scene, { upkeep, state, governing, told, last }) : '',
      evidence: [...new Set([...(failed ? [last.entry.id] : []), ...clocks.flatMap((clock) => clock.evidence)])],
      sources: [...new Set(clocks.flatMap((clock) => clock.sources))],
    },
  };
}

function lookOf(scene: Scene, { duty, item, runs, runsOut, runsOutAtHome }: Standing): Look {
  const atHome = runs.filter((run) => run.outlook.kind !== 'departure');
  return {
    item: { ...item, odometer: tellOdometer(scene, duty.role, runsOut) },
    upkeep: duty.upkeep,
    part: duty.part,
    role: duty.role,
    // Only the plan asks for these: most moments are one day, told without writing it down for every path.
    get runsOut() {
      return onPaths(scene, runsOut);
    },
    get runsOutAtHome() {
      return runsOutAtHome === null ? null : onPaths(scene, runsOutAtHome);
    },
    runsOutAfter: (day, out) => {
      out.fill(Infinity);
      for (const run of atHome) lower(out, run.runsOutAfter(day));
    },
    intervalDays: Math.max(1, Math.min(...(atHome.length ? atHome : runs).map((run) => run.days))),
  };
}

/** The clock that runs out first by its median; one without evidence where none of the others has run out yet. */
function governingOf(scene: Scene, runs: readonly ClockRun[], moments: readonly Moments[], unproven: boolean) {
  let governing = runs[0];
  let earliest = Infinity;
  moments.forEach((moment, i) => {
    const median = typeof moment === 'number' ? moment : quantiles(moment, [0.5])[0]!;
    if (median >= earliest) return;
    earliest = median;
    governing = runs[i]!;
  });
  if (unproven && earliest > scene.nowDay) governing = runs.find((run) => run.runsOut === undefined)!;
  return { governing: governing?.outlook, earliest };
}

function momentsOf({ draws }: Scene, passage: Passage): Moments {
  if (typeof passage === 'number') return passage;
  const days = new Float64Array(draws.count).fill(Infinity);
  passage(days);
  return allSame(days) ? days[0]! : days;
}

function allSame(days: Float64Array): boolean {
  const first = days[0]!;
  for (let p = 1; p < days.length; p++) if (days[p] !== first) return false;
  return true;
}

/** The earliest of several, path by path, and no later than `atMost`. */
function firstOf({ draws }: Scene, moments: readonly Moments[], atMost: number): Moments {
  let earliest = atMost;
  for (const moment of moments) if (typeof moment === 'number' && moment < earliest) earliest = moment;
  const scattered = moments.filter((moment) => typeof moment !== 'number');
  if (scattered.length === 0) return earliest;
  if (scattered.length === 1 && earliest === Infinity) return scattered[0]!;
  const days = new Float64Array(draws.count).fill(earliest);
  for (const moment of scattered) for (let p = 0; p < days.length; p++) if (moment[p]! < days[p]!) days[p] = moment[p]!;
  return allSame(days) ? earliest : days;
}
