import { seedFrom, stratified } from '../../chance/index.ts';
import { addMonthsToDay, dateOf, dayNumber, yearOf } from '../../dates/index.ts';
import { tripsOf } from '../../logbook/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  dayText,
  freezeAfter,
  lowerTo,
  never,
  type Scene,
} from '../clock-run.ts';
import { goodThrough, labelRange } from '../evidence.ts';
import { madeRange } from '../made.ts';

/** Clocks of the calendar: months since, age, season, departure. */

const days = (value: number) => ({ value, unit: 'd' as const });
const ofMonths = (months: number): string =>
  months % 12 === 0 && months >= 24 ? `${months / 12} years` : months === 1 ? 'month' : `${months} months`;

/** Calendar months, or for part months (a week is 0.25) that share of a mean month. */
export function monthsAfter(day: number, months: number): number {
  return Number.isInteger(months) ? addMonthsToDay(day, months) : day + Math.round((months * 365.25) / 12);
}

export function monthsClock(scene: Scene, duty: Duty, clock: ClockOf<'months'>): ClockRun {
  const { last } = duty;
  const base = { kind: 'months' as const, sources: [clock.source] };
  const run = {
    lowerAfter: (day: number, out: Float64Array): void => lowerTo(monthsAfter(day, clock.every))(out),
    days: (clock.every * 365.25) / 12,
  };
  const every = clock.every < 1 ? `${Math.round((clock.every * 365.25) / 12)} days` : ofMonths(clock.every);
  if (!last) {
    const missing = 'when this was last done';
    return { ...run, outlook: { ...base, text: `Every ${every}; not on record: ${missing}`, missing, evidence: [] } };
  }
  const due = monthsAfter(last.day, clock.every);
  const left = due - scene.nowDay;
  const tail = left >= 0 ? `${left} days left` : `${-left} days past`;
  return {
    ...run,
    outlook: {
      ...base,
      text: `Every ${every}, last ${dateText(last.on)}: due ${dayText(due)}, ${tail}`,
      left: days(left),
      dueOn: dateOf(due),
      evidence: [last.entry.id],
    },
    lower: lowerTo(due),
  };
}

/**
 * Age. A date until which it is good, read off a label, a stamp, a paper or the work itself, governs; else the months `from` …
 * `by` count from when it was made (or fitted new), and the chance rises evenly between the two.
 */
export function ageClock(scene: Scene, duty: Duty, clock: ClockOf<'age'>): ClockRun {
  const { part, upkeep } = duty;
  const base = { kind: 'age' as const, sources: [clock.source] };
  const by = clock.by ?? clock.from;
  const from = clock.from ?? clock.by;
  const lowerAfter =
    by === undefined ? never : (day: number, out: Float64Array): void => lowerTo(addMonthsToDay(day, from ?? by))(out);
  const span = ((by ?? 120) * 365.25) / 12;
  const label = goodThrough(part, upkeep, scene.catalog);
  if (label) {
    const end = labelRange(label.label).to + 1;
    const left = end - scene.nowDay;
    return {
      outlook: {
        ...base,
        text: `Good through ${label.label.length === 10 ? dateText(label.label) : label.label}: ${left >= 0 ? `${left} days left` : `${-left} days past`}`,
        left: days(left),
        dueOn: dateOf(end),
        evidence: [label.entry.id],
      },
      lower: lowerTo(end),
      lowerAfter,
      days: span,
    };
  }
  const made = clock.countedFrom === 'made' ? madeRange(part, scene.now) : fittedRange(duty);
  if (clock.label === 'required' || by === undefined || from === undefined || !made) {
    const missing =
      clock.label === 'required'
        ? 'the date until which it is good'
        : clock.countedFrom === 'made'
          ? 'when it was made'
          : 'when it was fitted new';
    return {
      outlook: { ...base, text: `Not on record: ${missing}. ${upkeep.look}`, missing, evidence: [] },
      lowerAfter,
      days: span,
    };
  }
  const first = addMonthsToDay(made.from, from);
  const last = addMonthsToDay(made.to, by);
  const left = last - scene.nowDay;
  const ages =
    from === by
      ? ofMonths(by)
      : `${from % 12 || by % 12 ? `${from} to ${by} months` : `${from / 12} to ${by / 12} years`}`;
  const madeText = made.from === made.to ? dayText(made.from) : `${dayText(made.from)} to ${dayText(made.to)}`;
  return {
    outlook: {
      ...base,
      text: `${clock.countedFrom === 'made' ? 'Made' : 'Fitted new'} ${madeText}; renew at ${ages}: ${from === by && made.from === made.to ? '' : `from ${dayText(first)}, `}by ${dayText(last)}`,
      left: days(left),
      dueOn: dateOf(last),
      evidence: [part.fit.id],
    },
    lower: spreadBetween(first, last, scene, duty),
    lowerAfter,
    days: span,
  };
}

function fittedRange({ part }: Duty): { from: number; to: number } | undefined {
  if (!part.fit.body.isNew) return undefined;
  const day = dayNumber(part.fit.on);
  return { from: day, to: day };
}

/** Evenly between two days, one stratified draw a path, the same for the same duty each time. */
function spreadBetween(first: number, last: number, scene: Scene, duty: Duty): (out: Float64Array) => void {
  if (last <= first) return lowerTo(last);
  return (out) => {
    const u = stratified(out.length, seedFrom(`${scene.seed} age ${duty.id}`));
    for (let p = 0; p < out.length; p++) {
      const day = first + u[p]! * (last - first);
      if (day < out[p]!) out[p] = day;
    }
  };
}

/** Before the first trip of a calendar year, or before the first freeze of an autumn. Work of that season counts for it. */
export function seasonClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  return clock.before === 'first trip' ? firstTripClock(scene, duty, clock) : firstFreezeClock(scene, duty, clock);
}

function firstTripClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  const { last } = duty;
  const base = { kind: 'season' as const, sources: [clock.source] };
  const evidence = last ? [last.entry.id] : [];
  const doneIn = last?.outcome === 'good' ? yearOf(last.on) : undefined;
  const deadline = (doneOn: number): number => firstLeavingAfter(scene, yearOf(dateOf(doneOn)) + 1);
  const lowerAfter = (day: number, out: Float64Array): void => lowerTo(deadline(day))(out);
  const year = yearOf(scene.now);
  if (doneIn === year) {
    const due = firstLeavingAfter(scene, year + 1);
    return {
      outlook: {
        ...base,
        text: `Before the first trip of each year; done for ${year} on ${dateText(last!.on)}`,
        ...dueOf(due, scene),
        evidence,
      },
      lower: lowerTo(due),
      lowerAfter,
      days: 365,
    };
  }
  // Not done this year: it must be done before the next leaving, whether or not a trip was already made without it.
  const due = firstLeavingAfter(scene, year);
  const lastText = last ? `last ${dateText(last.on)}` : 'never on record';
  return {
    outlook: {
      ...base,
      text: `Before the first trip of each year; ${lastText}, not yet for ${year}`,
      ...dueOf(due, scene),
      evidence,
    },
    lower: lowerTo(due),
    lowerAfter,
    days: 365,
  };
}

function dueOf(day: number, scene: Scene): { dueOn?: string; left?: ReturnType<typeof days> } {
  return Number.isFinite(day) ? { dueOn: dateOf(day), left: days(day - scene.nowDay) } : {};
}

/** The first leaving in or after a year: planned, else the day on which the owner's seasons have begun at the earliest. */
function firstLeavingAfter(scene: Scene, year: number): number {
  const from = Math.max(dayNumber(`${year}-01-01`), scene.nowDay);
  const planned = scene.departures.find((trip) => trip.leave >= from);
  if (planned) return planned.leave;
  if (year <= yearOf(scene.now)) return Infinity;
  const starts = tripsOf(scene.state).flatMap(({ done }) => (done ? [done.body.left.slice(5)] : []));
  return starts.length ? dayNumber(`${year}-${starts.sort()[0] === '02-29' ? '02-28' : starts.sort()[0]}`) : Infinity;
}

/** Days before the first freeze from which a lay-up counts for that winter. Common practice, no source. */
const LAY_UP_DAYS_BEFORE = 120;

function firstFreezeClock(scene: Scene, duty: Duty, clock: ClockOf<'season'>): ClockRun {
  const { last } = duty;
  const base = { kind: 'season' as const, sources: [clock.source] };
  const freeze = scene.firstFreeze;
  if (!freeze) {
    const missing = 'when the first freeze comes at home';
    return {
      outlook: { ...base, text: `Before the first freeze; not on record: ${missing}`, missing, evidence: [] },
      lowerAfter: never,
      days: 365,
    };
  }
  const deadline = (doneOn: number): number => {
    const next = freezeAfter(freeze, doneOn);
    return next - doneOn <= LAY_UP_DAYS_BEFORE ? freezeAfter(freeze, next + 1) : next;
  };
  // Without a record, the winter that is ahead counts; a lay-up missed last winter cannot be done any more.
  const done = last?.outcome === 'good' ? deadline(last.day) : -Infinity;
  const due = Math.max(done, freezeAfter(freeze, scene.nowDay));
  const lastText = last ? `last ${dateText(last.on)}` : 'never on record';
  return {
    outlook: {
      ...base,
      text: `Before the first freeze, about ${dayText(due)}; ${lastText}`,
      ...dueOf(due, scene),
      evidence: last ? [last.entry.id] : [],
    },
    lower: lowerTo(due),
    lowerAfter: (day, out) => lowerTo(deadline(day))(out),
    days: 365,
  };
}

/** Before every leaving; a proof holds for a few days. */
export function departureClock(scene: Scene, duty: Duty, clock: ClockOf<'departure'>): ClockRun {
  const { last } = duty;
  const provenUntil = last?.outcome === 'good' && last.how === 'work' ? last.day + clock.withinDays : -Infinity;
  const next = (from: number): number => scene.departures.find((trip) => trip.leave > from)?.leave ?? Infinity;
  const due = next(provenUntil);
  const trip = scene.departures.find((ahead) => ahead.leave === due);
  const lastText = last?.how === 'work' ? `last ${dateText(last.on)}` : 'never on record';
  return {
    outlook: {
      kind: 'departure',
      text: trip
        ? `Before each leaving; ${lastText}, to be done for ${trip.name} on ${dayText(due)}`
        : `Before each leaving; ${lastText}, no trip planned that needs it`,
      ...dueOf(due, scene),
      evidence: last?.how === 'work' ? [last.entry.id] : [],
      sources: [clock.source],
    },
    lower: lowerTo(due),
    lowerAfter: (day, out) => lowerTo(next(day + clock.withinDays))(out),
    days: 30,
  };
}
