import type { Catalog } from '../../catalog/index.ts';
import { dateOf, dayNumber } from '../../dates/index.ts';
import { type EntryOf, shownFromTotal, totalMilesAt, workOf } from '../../logbook/index.ts';
import { formatQuantity, valueIn } from '../../quantity/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  dayText,
  lowerTo,
  miles,
  milesQuantity,
  never,
  type Scene,
} from '../clock-run.ts';
import { workFor } from '../evidence.ts';
import { reaches } from '../paths.ts';

/**
 * A check counts for a follow-up when it is made at no less than this share of its miles: stopping at 9 for the one due at 10.
 * Common practice, no source.
 */
const EARLY_SHARE = 0.8;

/** One follow-up still to be made. */
export interface FollowUp {
  readonly born: EntryOf<'work'>;
  readonly at: number;
  readonly unit: 'mi' | 'd';
  readonly run: ClockRun;
}

/** Set-ups that a work entry used: as written down, else as the catalog says for its upkeeps. */
export function setupsUsed(entry: EntryOf<'work'>, catalog: Catalog): ReadonlySet<string> {
  if (entry.body.setups) return new Set(entry.body.setups);
  return new Set(entry.body.done.flatMap((done) => catalog.upkeeps.get(done.upkeep)?.setups ?? []));
}

/**
 * Follow-ups born of the newest work that calls for them, and not made since. Newer work of the kind starts them afresh; a check
 * made later counts for every earlier one.
 */
export function followUps(scene: Scene, duty: Duty, clock: ClockOf<'after'>): FollowUp[] {
  const born = workOf(scene.state).findLast((entry) => givesBirth(entry, duty, clock, scene.catalog));
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
    if (!made) found.push({ born, at: days, unit: 'd', run: daysAfter(scene, duty, clock, born, due, days) });
  }
  return found;
}

function givesBirth(
  entry: EntryOf<'work'>,
  { part, upkeep }: Duty,
  clock: ClockOf<'after'>,
  catalog: Catalog,
): boolean {
  const here = entry.body.done.filter((done) => done.upkeep !== upkeep.id && done.outcome === 'good');
  if (here.length === 0) return false;
  if (here.some((done) => clock.upkeeps.includes(done.upkeep))) return samePlace(entry, part.place);
  const used = setupsUsed(entry, catalog);
  return clock.setups.some((setup) => used.has(setup)) && samePlace(entry, part.place);
}

/** Parts that stand for the whole rig (no place, or one not named after an axle) follow work anywhere on it. */
function samePlace(entry: EntryOf<'work'>, place: string): boolean {
  const match = /axle (\d)(?:, (left|right))?/.exec(place);
  if (!match) return true;
  return entry.body.done.some((done) => {
    const other = /axle-(\d)(?:-(left|right))?/.exec(done.part);
    return !other || (other[1] === match[1] && (!other[2] || !match[2] || other[2] === match[2]));
  });
}

function milesAfter(
  scene: Scene,
  duty: Duty,
  clock: ClockOf<'after'>,
  born: EntryOf<'work'>,
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
        text: `${what} after the work of ${dateText(born.on)}; not on record: ${missing}`,
        missing,
        evidence: [born.id],
      },
      lowerAfter: never,
      days: 30,
    };
  }
  const target = start + after;
  const left = target - (track.newest?.totalMiles ?? start);
  return {
    outlook: {
      ...base,
      text: `${what} after the work of ${dateText(born.on)} at ${miles(scene, shownFromTotal(track, start))}: due at ${miles(scene, shownFromTotal(track, target))}, ${left >= 0 ? `${miles(scene, left)} left` : `${miles(scene, -left)} past`}`,
      left: milesQuantity(scene, left),
      dueAtOdometer: milesQuantity(scene, shownFromTotal(track, target)),
      evidence: [born.id],
    },
    lower: (out) => {
      for (let p = 0; p < out.length; p++) {
        const day = reaches(paths, p, target);
        if (day < out[p]!) out[p] = day;
      }
    },
    lowerAfter: never,
    days: 30,
  };
}

function daysAfter(
  scene: Scene,
  _duty: Duty,
  clock: ClockOf<'after'>,
  born: EntryOf<'work'>,
  due: number,
  days: number,
): ClockRun {
  const left = due - scene.nowDay;
  return {
    outlook: {
      kind: 'after',
      text: `${days} days after the work of ${dateText(born.on)}: due ${dayText(due)}, ${left >= 0 ? `${left} days left` : `${-left} days past`}`,
      left: { value: left, unit: 'd' },
      dueOn: dateOf(due),
      evidence: [born.id],
      sources: [clock.source],
    },
    lower: lowerTo(due),
    lowerAfter: never,
    days: 30,
  };
}
