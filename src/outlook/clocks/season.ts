import { dateOf, dayNumber, isPlainDate, yearOf } from '../../dates/index.ts';
import { type ClockOf, type ClockRun, type Duty, dateText, dayText, never } from '../clock-run.ts';
import type { Scene } from '../scene.ts';
import { dueOf, firstLeaving, type Leaving, leavingsFrom } from './calendar.ts';

/** Before the first trip of a calendar year, or before the first freeze of an autumn. Work of that season counts for it. */
export function seasonClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  return clock.before === 'first trip' ? firstTripClock(scene, duty, clock) : firstFreezeClock(scene, duty, clock);
}

function firstTripClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  const { last } = duty;
  const year = yearOf(scene.now);
  const done = last?.outcome === 'good' && yearOf(last.on) >= year;
  // Not done this year: it must be done before the next leaving, whether or not a trip was already made without it.
  const leavings = done ? leavingsOfYears(scene, yearOf(last.on) + 1) : leavingsOfYears(scene, year);
  const lastText = last ? `last ${dateText(last.on)}` : 'never on record';
  return {
    outlook: {
      kind: 'season',
      text: done
        ? `Before the first trip of each year; done for ${yearOf(last.on)} on ${dateText(last.on)}`
        : `Before the first trip of each year; ${lastText}, not yet for ${year}`,
      ...dueOf(scene, leavings[0]?.day),
      evidence: last ? [last.entry.id] : [],
      sources: [clock.source],
    },
    runsOut: firstLeaving(leavings),
    runsOutAfter: (day) => firstLeaving(leavingsOfYears(scene, yearOf(dateOf(day)) + 1)),
    days: 365,
  };
}

/** Years ahead for which a season without a planned trip is foreseen. */
const YEARS_FORESEEN = 3;

/**
 * Leavings in a year and those after it: as planned, and in a year without any plan on the day on which the owner's seasons have
 * begun at the earliest.
 */
function leavingsOfYears(scene: Scene, year: number): Leaving[] {
  const from = Math.max(dayNumber(`${year}-01-01`), scene.nowDay);
  const planned = leavingsFrom(scene, from);
  const start = seasonStart(scene);
  if (start === undefined) return planned;
  const plannedYears = new Set(scene.draws.trips.map((trip) => yearOf(dateOf(trip.leave))));
  const usual: Leaving[] = [];
  for (let y = year; y < year + YEARS_FORESEEN; y++) {
    const day = dayNumber(`${y}-${start}`);
    if (day >= from && !plannedYears.has(y)) usual.push({ day });
  }
  return [...planned, ...usual].sort((a, b) => a.day - b.day);
}

/** Month and day of the earliest leaving of any finished trip, as the owner's seasons go. */
function seasonStart(scene: Scene): string | undefined {
  const starts = scene.known.map((trip) => dateOf(trip.left).slice(5)).sort();
  return starts[0] === '02-29' ? '02-28' : starts[0];
}

/** Days before the first freeze from which a lay-up counts for that winter, and days after it until spring. Common practice, no source. */
const LAY_UP_DAYS_BEFORE = 120;
const WINTER_DAYS = 150;

function firstFreezeClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  const base = { kind: 'season' as const, sources: [clock.source] };
  const given = scene.firstFreeze;
  const freeze = given !== undefined && isPlainDate(`2000-${given}`) ? given : undefined;
  // A part fitted new is not laid up by that.
  const last = duty.last?.how === 'work' ? duty.last : undefined;
  const evidence = last ? [last.entry.id] : [];
  const unproven = (missing: string): ClockRun => ({
    outlook: { ...base, text: `Before the first freeze; not on record: ${missing}`, missing, evidence },
    runsOutAfter: freeze ? (day) => freezeNotLaidUpFor(freeze, day) : never,
    days: 365,
  });
  if (!freeze) return unproven('when the first freeze comes at home');
  const coming = freezeFrom(freeze, scene.nowDay);
  const past = freezeUntil(freeze, scene.nowDay);
  const winter = scene.nowDay < past + WINTER_DAYS;
  const laidUpFor = last?.outcome === 'good' ? freezeNotLaidUpFor(freeze, last.day) : -Infinity;
  // In the middle of a winter the lay-up for it counts; one missed in an earlier winter cannot be done any more.
  const missed = winter && laidUpFor <= past;
  if (missed && !last) return unproven('the lay-up for this winter');
  const due = missed ? past : Math.max(laidUpFor, coming);
  return {
    outlook: {
      ...base,
      text: `Before the first freeze, about ${dayText(due)}; ${last ? `last ${dateText(last.on)}` : 'never on record'}`,
      ...dueOf(scene, due),
      evidence,
    },
    runsOut: due,
    runsOutAfter: (day) => freezeNotLaidUpFor(freeze, day),
    days: 365,
  };
}

/** The first freeze for which a lay-up on `day` does not count. */
function freezeNotLaidUpFor(monthDay: string, day: number): number {
  const next = freezeFrom(monthDay, day);
  return next - day <= LAY_UP_DAYS_BEFORE ? freezeFrom(monthDay, next + 1) : next;
}

/** The first day of freezing weather to be expected on or after `day`, from the owner's `first-freeze`; and the last one until then. */
export function freezeFrom(monthDay: string, day: number): number {
  const year = yearOf(dateOf(day));
  const inYear = freezeIn(monthDay, year);
  return inYear >= day ? inYear : freezeIn(monthDay, year + 1);
}

function freezeUntil(monthDay: string, day: number): number {
  const year = yearOf(dateOf(day));
  const inYear = freezeIn(monthDay, year);
  return inYear <= day ? inYear : freezeIn(monthDay, year - 1);
}

const freezeIn = (monthDay: string, year: number): number =>
  dayNumber(`${year}-${monthDay === '02-29' ? '02-28' : monthDay}`);
