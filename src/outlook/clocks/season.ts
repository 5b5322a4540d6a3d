import { dateOf, dayNumber, yearOf } from '../../dates/index.ts';
import { type ClockOf, type ClockRun, type Duty, dateText, dayText, never, type Passage } from '../clock-run.ts';
import type { Scene } from '../scene.ts';
import { type Frost, winterAt } from '../winter.ts';
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

/** Days before the first freeze from which a lay-up counts for that winter. Common practice, no source. */
const LAY_UP_DAYS_BEFORE = 60;

function firstFreezeClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  const base = { kind: 'season' as const, sources: [clock.source] };
  const { frost } = scene;
  // A part fitted new is not laid up by that.
  const last = duty.last?.how === 'work' ? duty.last : undefined;
  const evidence = last ? [last.entry.id] : [];
  const unproven = (missing: string, runsOutAfter: ClockRun['runsOutAfter']): ClockRun => ({
    outlook: { ...base, text: `Before the first freeze; not on record: ${missing}`, missing, evidence },
    runsOutAfter,
    days: 365,
  });
  if (!frost) return unproven('when the first freeze comes at home', never);
  const runsOutAfter = (day: number): Passage => firstLeaving(frostsAfter(scene, frost, day));
  const winter = winterAt(frost, scene.nowDay);
  if (winter.from <= scene.nowDay && !last) return unproven('the lay-up for this winter', runsOutAfter);
  // One missed in an earlier winter cannot be done any more: this winter's, or the one to come, is what counts.
  const frosts = (last?.outcome === 'good' ? frostsAfter(scene, frost, last.day) : [{ day: winter.from }]).map(
    (ahead) => ({ ...ahead, day: Math.max(ahead.day, winter.from) }),
  );
  const sure = frosts.find((ahead) => !ahead.made)!;
  const undone = sure.left === undefined ? '' : `, undone by leaving on ${dayText(sure.left)}`;
  return {
    outlook: {
      ...base,
      text: `Before the first freeze, about ${dayText(sure.day)}; ${last ? `last ${dateText(last.on)}${undone}` : 'never on record'}`,
      ...dueOf(scene, sure.day),
      evidence,
    },
    runsOut: firstLeaving(frosts),
    runsOutAfter,
    days: 365,
  };
}

/** A day of frost that finds the rig not laid up, and the leaving that undid the lay-up. */
interface BareFrost extends Leaving {
  readonly left?: number;
}

/**
 * The days of frost that a lay-up on `day` does not answer for, in order of what undid it. A trip undoes it (water is drawn, wheels
 * roll): the next frost after the return finds the rig bare. One made long before the winter does not count for it, whatever is
 * written down of its use.
 */
function frostsAfter({ known, draws }: Scene, frost: Frost, day: number): BareFrost[] {
  const winter = winterAt(frost, day);
  if (winter.from - day > LAY_UP_DAYS_BEFORE) return [{ day: winter.from }];
  const undoing = [
    ...known.map((trip) => ({ left: trip.left, back: trip.back })),
    ...draws.trips.map((trip, i) => ({
      left: trip.leave,
      back: trip.back,
      ...(trip.chance < 1 ? { made: draws.made[i]! } : {}),
    })),
  ]
    .filter(({ left }) => left > day && left < winter.until)
    .sort((a, b) => a.left - b.left)
    .map(({ back, ...trip }) => ({ ...trip, day: Math.max(back, winterAt(frost, back).from) }));
  return [...undoing, { day: winterAt(frost, winter.until).from }];
}
