import { agesOf } from '../../catalog/index.ts';
import { seedFrom, stratified } from '../../chance/index.ts';
import { addMonthsToDay, DAYS_A_MONTH, dateOf, dayNumber, formatLabelDate } from '../../dates/index.ts';
import type { WorkFact } from '../../logbook/index.ts';
import {
  type ClockOf,
  type ClockRun,
  type Duty,
  dateText,
  daysLeftText,
  daysQuantity,
  dayText,
  never,
  type Passage,
} from '../clock-run.ts';
import { goodThrough, labelRange, workFor } from '../evidence.ts';
import { madeRange, stampedThrough } from '../made.ts';
import type { Scene } from '../scene.ts';
import { ofMonths } from './calendar.ts';

/**
 * Age. A date until which it is good, read off a label, a stamp, a paper or the work itself, governs; else the months `from` …
 * `by` count from when it was made (or fitted new), and the chance rises evenly between the two.
 */
export function ageClock(scene: Scene, duty: Duty, clock: ClockOf<'age'>): ClockRun {
  const { part, upkeep } = duty;
  const ages = agesOf(clock, part.facts.size);
  const by = ages.by ?? ages.from;
  const from = Math.min(ages.from ?? Infinity, by ?? Infinity);
  const base = { kind: 'age' as const, sources: [ages.source] };
  const rest = {
    runsOutAfter:
      by === undefined
        ? never
        : (day: number): Passage => between(addMonthsToDay(day, from), addMonthsToDay(day, by), scene, duty),
    days: (by === undefined ? 120 : (from + by) / 2) * DAYS_A_MONTH,
  };
  const unproven = (missing: string, evidence: readonly string[]): ClockRun => ({
    ...rest,
    outlook: { ...base, text: `Not on record: ${missing}. ${upkeep.look}`, missing, evidence },
  });
  const renewed = renewal(scene, duty);
  const label = labelOf(scene, duty);
  if (label && !(renewed && renewed.on > label.on)) {
    const end = labelRange(label.through).to + 1;
    const left = end - scene.nowDay;
    return {
      ...rest,
      outlook: {
        ...base,
        text: `Good through ${formatLabelDate(label.through)}: ${daysLeftText(left)}`,
        left: daysQuantity(left),
        dueOn: dateOf(end),
        ages: { advisedOn: dateOf(end), endsOn: dateOf(end) },
        evidence: [label.entry],
      },
      runsOut: end,
    };
  }
  if (clock.label === 'required' || by === undefined)
    return unproven('the date until which it is good', renewed ? [renewed.entry.id] : []);
  if (renewed && clock.countedFrom === 'made')
    return unproven(`when the new one was made (renewed ${dateText(renewed.on)})`, [renewed.entry.id]);
  const since = clock.countedFrom === 'made' ? madeRange(part, scene.catalog, scene.now) : fittedRange(duty, renewed);
  if (!since) return unproven(clock.countedFrom === 'made' ? 'when it was made' : 'when it was fitted new', []);
  const first = addMonthsToDay(since.from, from);
  const end = addMonthsToDay(since.from, by);
  const last = addMonthsToDay(since.to, by);
  return {
    ...rest,
    outlook: {
      ...base,
      text: `${clock.countedFrom === 'made' ? 'Made' : 'Fitted new'} ${spanText(since)}; renew at ${agesText(from, by)}: ${first === last ? '' : `from ${dayText(first)}, `}by ${dayText(last)}`,
      left: daysQuantity(last - scene.nowDay),
      dueOn: dateOf(last),
      ages: { advisedOn: dateOf(first), endsOn: dateOf(end) },
      evidence: [renewed?.entry.id ?? part.fit.id],
    },
    runsOut: between(first, last, scene, duty),
  };
}

/** The newest work that renewed the part, as long as it is the same one in the logbook. */
function renewal({ catalog }: Scene, { part, upkeep }: Duty): WorkFact | undefined {
  return upkeep.restores ? workFor(part, upkeep, catalog).findLast((work) => work.outcome === 'good') : undefined;
}

function labelOf(
  { catalog, now }: Scene,
  { part, upkeep }: Duty,
): { readonly through: string; readonly on: string; readonly entry: string } | undefined {
  const label = goodThrough(part, upkeep, catalog);
  if (label) return { through: label.label, on: label.entry.on, entry: label.entry.id };
  const through = stampedThrough(part, catalog, now);
  return through === undefined ? undefined : { through, on: part.fit.on, entry: part.fit.id };
}

function fittedRange({ part }: Duty, renewed: WorkFact | undefined): { from: number; to: number } | undefined {
  if (!renewed && !part.fit.body.isNew) return undefined;
  const day = dayNumber(renewed?.on ?? part.fit.on);
  return { from: day, to: day };
}

const spanText = ({ from, to }: { from: number; to: number }): string =>
  from === to ? dayText(from) : `${dayText(from)} to ${dayText(to)}`;

const agesText = (from: number, by: number): string =>
  from === by ? ofMonths(by) : from % 12 || by % 12 ? `${from} to ${by} months` : `${from / 12} to ${by / 12} years`;

/** Evenly between two days, one stratified draw a path, the same for the same duty each time. */
function between(first: number, last: number, scene: Scene, duty: Duty): Passage {
  if (last <= first) return last;
  return (out) => {
    const u = stratified(out.length, seedFrom(`${scene.seed} age ${duty.id}`));
    for (let p = 0; p < out.length; p++) {
      const day = first + u[p]! * (last - first);
      if (day < out[p]!) out[p] = day;
    }
  };
}
