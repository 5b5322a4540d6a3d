import { addMonthsToDay, DAYS_A_MONTH, dateOf } from '../../dates/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  daysLeftText,
  daysQuantity,
  dayText,
  type Passage,
} from '../clock-run.ts';
import type { Scene } from '../scene.ts';

/** Clocks of the calendar that look at no part: months since it was done, and each leaving. */

export const ofMonths = (months: number): string =>
  months % 12 === 0 && months >= 24 ? `${months / 12} years` : months === 1 ? 'month' : `${months} months`;

/** Calendar months, or for part months (a week is 0.25) that share of a mean month. */
export function monthsAfter(day: number, months: number): number {
  return Number.isInteger(months) ? addMonthsToDay(day, months) : day + Math.round(months * DAYS_A_MONTH);
}

export function monthsClock(scene: Scene, duty: Duty, clock: ClockOf<'months'>): ClockRun {
  const { last } = duty;
  const base = { kind: 'months' as const, sources: [clock.source] };
  const run = {
    runsOutAfter: (day: number): Passage => monthsAfter(day, clock.every),
    days: clock.every * DAYS_A_MONTH,
  };
  const every = clock.every < 1 ? `${Math.round(clock.every * DAYS_A_MONTH)} days` : ofMonths(clock.every);
  if (!last) {
    const missing = 'when this was last done';
    return { ...run, outlook: { ...base, text: `Every ${every}; not on record: ${missing}`, missing, evidence: [] } };
  }
  const due = monthsAfter(last.day, clock.every);
  const left = due - scene.nowDay;
  return {
    ...run,
    outlook: {
      ...base,
      text: `Every ${every}, last ${dateText(last.on)}: due ${dayText(due)}, ${daysLeftText(left)}`,
      left: daysQuantity(left),
      dueOn: dateOf(due),
      evidence: [last.entry.id],
    },
    runsOut: due,
  };
}

/** A leaving, and the paths on which the trip is made; absent: on all of them. */
export interface Leaving {
  readonly day: number;
  readonly made?: Float64Array;
}

/** Coming departures on or after a day; a tentative one only on the paths on which it is made. */
export function leavingsFrom(scene: Scene, day: number): Leaving[] {
  return scene.departures
    .filter(({ trip }) => trip.leave >= day)
    .map(({ trip, made }) => ({ day: trip.leave, ...(trip.chance < 1 ? { made } : {}) }));
}

/** The first of some leavings, in order of days, that is made. */
export function firstLeaving(leavings: readonly Leaving[]): Passage {
  const certain = leavings.findIndex((leaving) => !leaving.made);
  const open = certain < 0 ? leavings : leavings.slice(0, certain);
  const end = leavings[certain]?.day ?? Infinity;
  if (open.length === 0) return end;
  return (out) => {
    for (let p = 0; p < out.length; p++) {
      const day = open.find(({ made }) => made![p] === 1)?.day ?? end;
      if (day < out[p]!) out[p] = day;
    }
  };
}

/** Where there is a day to tell: the day and what is left until then. */
export function dueOf(scene: Scene, day: number | undefined) {
  return day === undefined ? {} : { dueOn: dateOf(day), left: daysQuantity(day - scene.nowDay) };
}

/** Before every leaving; a proof holds for a few days. */
export function departureClock(scene: Scene, duty: Duty, clock: ClockOf<'departure'>): ClockRun {
  const worked = duty.last?.how === 'work' ? duty.last : undefined;
  const after = (day: number): Leaving[] => leavingsFrom(scene, day + clock.withinDays + 1);
  const leavings = worked?.outcome === 'good' ? after(worked.day) : leavingsFrom(scene, scene.nowDay);
  const due = leavings[0]?.day;
  const trip = scene.departures.find((ahead) => ahead.trip.leave === due)?.trip;
  const lastText = worked ? `last ${dateText(worked.on)}` : 'never on record';
  return {
    outlook: {
      kind: 'departure',
      text: trip
        ? `Before each leaving; ${lastText}, to be done for ${trip.name} on ${dayText(trip.leave)}`
        : `Before each leaving; ${lastText}, no trip planned that needs it`,
      ...dueOf(scene, due),
      evidence: worked ? [worked.entry.id] : [],
      sources: [clock.source],
    },
    runsOut: firstLeaving(leavings),
    runsOutAfter: (day) => firstLeaving(after(day)),
    days: 30,
  };
}
