import type { Catalog } from '../../catalog/index.ts';
import { dateOf, dayNumber } from '../../dates/index.ts';
import { type EntryOf, partOf, type RigState, totalMilesAt, workOf } from '../../logbook/index.ts';
import { formatQuantity, valueIn } from '../../quantity/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  daysLeftText,
  daysQuantity,
  dayText,
  miles,
  milesQuantity,
  never,
} from '../clock-run.ts';
import { workFor } from '../evidence.ts';
import type { Scene } from '../scene.ts';
import { shownAt } from '../track.ts';
import { comesTo } from './counted.ts';

/**
 * A check counts for a follow-up when it is made at no less than this share of its miles: stopping at 9 for the one due at 10.
 * Common practice, no source.
 */
const EARLY_SHARE = 0.8;

/** What calls for follow-ups: work, or the fitting of a new part. */
type Birth = EntryOf<'work'> | EntryOf<'fit'>;

const bornText = (born: Birth): string =>
  born.kind === 'work' ? `the work of ${dateText(born.on)}` : `it was fitted on ${dateText(born.on)}`;

/** One follow-up still to be made. */
export interface FollowUp {
  readonly born: Birth;
  readonly at: number;
  readonly unit: 'mi' | 'd';
  readonly run: ClockRun;
}

/**
 * Follow-ups born of the newest work that calls for them, and not made since. Newer work of the kind starts them afresh; a check
 * made later counts for every earlier one.
 */
export function followUps(scene: Scene, state: RigState, duty: Duty, clock: ClockOf<'after'>): FollowUp[] {
  const worked = workOf(state).findLast((entry) => givesBirth(state, entry, duty, clock, scene.catalog));
  const fitted = clock.fitted === true && duty.part.fit.body.isNew ? duty.part.fit : undefined;
  const born: Birth | undefined = fitted && (!worked || worked.on < fitted.on) ? fitted : worked;
  if (!born) return [];
  const checks = workFor(duty.part, duty.upkeep, scene.catalog).filter(
    (work) => work.outcome === 'good' && (work.on > born.on || (work.on === born.on && work.entry.id > born.id)),
  );
  const track = scene.tracks[duty.role];
  const start = totalMilesAt(track, dayNumber(born.on), born);
  const found: FollowUp[] = [];
  for (const at of clock.atMiles) {
    const after = valueIn(at, 'mi');
    const made = checks.some((check) => {
      const then = totalMilesAt(track, dayNumber(check.on), check.entry);
      return start && then && then.miles >= start.miles + EARLY_SHARE * after;
    });
    if (!made)
      found.push({ born, at: after, unit: 'mi', run: milesAfter(scene, duty, clock, born, start?.miles, after) });
  }
  for (const days of clock.atDays) {
    const due = dayNumber(born.on) + days;
    const made = checks.some((check) => dayNumber(check.on) >= dayNumber(born.on) + EARLY_SHARE * days);
    if (!made) found.push({ born, at: days, unit: 'd', run: daysAfter(scene, clock, born, due, days) });
  }
  return found;
}

/**
 * Whether work calls for follow-ups on a part: it did one of the upkeeps, or used one of the set-ups, at the part's place. That the
 * work failed does not matter: the wheel was off all the same.
 */
function givesBirth(
  state: RigState,
  entry: EntryOf<'work'>,
  { part, upkeep }: Duty,
  clock: ClockOf<'after'>,
  catalog: Catalog,
): boolean {
  const said = entry.body.setups;
  return entry.body.done.some((done) => {
    if (done.upkeep === upkeep.id) return false;
    const setups = said ?? catalog.upkeeps.get(done.upkeep)?.setups ?? [];
    const calls = clock.upkeeps.includes(done.upkeep) || clock.setups.some((setup) => setups.includes(setup));
    return calls && samePlace(placeOf(state, done.part), part.place);
  });
}

/** Where a part is; one that has left the rig is known by its id only. */
const placeOf = (state: RigState, part: string): string => partOf(state, part)?.place || part.replaceAll('-', ' ');

/** Places named after different axles or sides are apart; a place that names none is the whole rig's. */
function samePlace(one: string, other: string): boolean {
  const [a, b] = [one, other].map((place) => /axle (\d)(?:,? (left|right))?/.exec(place));
  if (!a || !b) return true;
  return a[1] === b[1] && (!a[2] || !b[2] || a[2] === b[2]);
}

function milesAfter(
  scene: Scene,
  duty: Duty,
  clock: ClockOf<'after'>,
  born: Birth,
  start: number | undefined,
  after: number,
): ClockRun {
  const paths = scene.odometers[duty.role];
  const track = scene.tracks[duty.role];
  const base = { kind: 'after' as const, sources: [clock.source] };
  const what = formatQuantity({ value: after, unit: 'mi' }, { system: scene.system });
  if (!paths || start === undefined) {
    const missing = 'the odometer at that work';
    return {
      outlook: {
        ...base,
        text: `${what} after ${bornText(born)}; not on record: ${missing}`,
        missing,
        evidence: [born.id],
      },
      runsOutAfter: never,
      days: 30,
    };
  }
  const target = start + after;
  const left = target - (track.newest?.totalMiles ?? start);
  return {
    outlook: {
      ...base,
      text: `${what} after ${bornText(born)} at ${miles(scene, shownAt(track, start))}: due at ${miles(scene, shownAt(track, target))}, ${left >= 0 ? `${miles(scene, left)} left` : `${miles(scene, -left)} past`}`,
      left: milesQuantity(scene, left),
      dueAtOdometer: milesQuantity(scene, shownAt(track, target)),
      evidence: [born.id],
    },
    runsOut: comesTo(scene, duty.role, paths, target),
    runsOutAfter: never,
    days: 30,
  };
}

function daysAfter(scene: Scene, clock: ClockOf<'after'>, born: Birth, due: number, days: number): ClockRun {
  const left = due - scene.nowDay;
  return {
    outlook: {
      kind: 'after',
      text: `${days} days after ${bornText(born)}: due ${dayText(due)}, ${daysLeftText(left)}`,
      left: daysQuantity(left),
      dueOn: dateOf(due),
      evidence: [born.id],
      sources: [clock.source],
    },
    runsOut: due,
    runsOutAfter: never,
    days: 30,
  };
}
