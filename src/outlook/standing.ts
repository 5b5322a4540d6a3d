import type { Clock, Upkeep } from '../catalog/index.ts';
import { quantiles } from '../chance/index.ts';
import type { OdometerTrack, PartState } from '../logbook/index.ts';
import type { ClockRun, Duty, Passage } from './clock-run.ts';
import { ageClock } from './clocks/age.ts';
import { departureClock, monthsClock } from './clocks/calendar.ts';
import { hoursClock, milesClock, nightsClock } from './clocks/counted.ts';
import { limitClock } from './clocks/limit.ts';
import { seasonClock } from './clocks/season.ts';
import { lastDone } from './evidence.ts';
import { whyText } from './explain.ts';
import { pastLimit, pastRun } from './past-limit.ts';
import type { Scene } from './scene.ts';
import { type Moments, tell } from './tell.ts';
import type { OutlookItem, UpkeepState } from './types.ts';

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

/** What was found on the same calendar stands until the odometer it counts by is read; what counts no miles, then too. */
export function stillStands({ tracks }: Scene, { duty, track }: Standing): boolean {
  return track === tracks[duty.role] || duty.upkeep.clocks.every((clock) => clock.kind !== 'miles');
}

export function standingAt(scene: Scene, part: PartState, upkeep: Upkeep): Standing {
  const role = part.vehicle ?? scene.catalog.partKinds.get(part.kind)?.vehicle ?? 'trailer';
  const last = lastDone(part, upkeep, scene.catalog, scene.tracks[role]);
  const duty: Duty = { id: `${upkeep.id}@${part.id}`, upkeep, part, role, last };
  const runs: ClockRun[] = [];
  for (const clock of upkeep.clocks) {
    const run = setRunning(scene, duty, clock);
    if (run) runs.push(run);
  }
  const past = runs.length === 0 ? pastLimit(duty, scene.system) : undefined;
  if (past) runs.push(pastRun(scene, past));
  return standingOf(scene, duty, runs, duty.id);
}

/** Whether work at home can do something about a clock. */
export const isAtHome = (run: ClockRun): boolean => run.outlook.kind !== 'departure';

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
export function standingOf(scene: Scene, duty: Duty, runs: readonly ClockRun[], id: string): Standing {
  const { upkeep, part, last } = duty;
  const past = pastLimit(duty, scene.system);
  const failed = last?.outcome === 'failed' || past !== undefined;
  const unproven = runs.some((run) => run.runsOut === undefined);
  const moments = runs.map(({ runsOut }) => (runsOut === undefined ? Infinity : momentsOf(scene, runsOut)));
  const atMost = failed || unproven ? scene.nowDay : Infinity;
  const runsOut = firstOf(scene, moments, atMost);
  const atHome = moments.filter((_, i) => isAtHome(runs[i]!));
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
      why: governing ? whyText(scene, { upkeep, state, governing, told, last, past }) : '',
      evidence: [
        ...new Set([
          ...(past ? [past.entry.id] : failed ? [last!.entry.id] : []),
          ...clocks.flatMap((clock) => clock.evidence),
        ]),
      ],
      sources: [...new Set(clocks.flatMap((clock) => clock.sources))],
    },
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
