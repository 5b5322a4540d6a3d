import { formatDate } from '../dates/index.ts';
import type { Entry, ReadingFact } from '../logbook/index.ts';
import { dimensionOf, formatQuantity, type Quantity, type System, valueIn } from '../quantity/index.ts';
import { type ClockRun, type Duty, never } from './clock-run.ts';
import type { Scene } from './scene.ts';

/** A reading that the upkeep does not allow: as bad as work that failed, whatever was ticked beside it. */
export interface PastLimit {
  readonly entry: Entry;
  /** `hub temperature 260 °F on 26 May 2026, at most 150 °F`. */
  readonly text: string;
}

/**
 * The first of an upkeep's readings that is past its limit, where nothing was done about it since. A reading counts from the work it was
 * taken with, or after it; what was read before the newest work was put right by it.
 */
export function pastLimit({ upkeep, part, last }: Duty, system: System): PastLimit | undefined {
  const show = (q: Quantity): string => formatQuantity(q, { system });
  for (const { what, least, most, notUnder } of upkeep.readings) {
    if (least === undefined && most === undefined && notUnder === undefined) continue;
    const fact = part.readings.get(what)?.at(-1);
    if (fact === undefined || isBefore(fact, last)) continue;
    const start = notUnder === undefined ? undefined : startOf(part.readings.get(notUnder), fact);
    const wrong = tooLow(fact.value, least, show) ?? tooHigh(fact.value, most, show) ?? fell(fact.value, start, show);
    if (wrong === undefined) continue;
    const text = `${what.replaceAll('-', ' ')} ${show(fact.value)} on ${formatDate(fact.on, 'day')}, ${wrong}`;
    return { entry: fact.entry, text };
  }
  return undefined;
}

const isBefore = (fact: ReadingFact, last: Duty['last']): boolean =>
  last !== undefined && (fact.on < last.on || (fact.on === last.on && fact.entry.id < last.entry.id));

/** The other reading of the same entry. */
const startOf = (facts: readonly ReadingFact[] | undefined, end: ReadingFact): Quantity | undefined =>
  facts?.findLast((fact) => fact.entry.id === end.entry.id)?.value;

const within = (value: Quantity, limit: Quantity | undefined): limit is Quantity =>
  limit !== undefined && dimensionOf(value.unit) === dimensionOf(limit.unit);

type Show = (q: Quantity) => string;

const tooLow = (value: Quantity, least: Quantity | undefined, show: Show): string | undefined =>
  within(value, least) && valueIn(value, least.unit) < least.value ? `at least ${show(least)}` : undefined;

const tooHigh = (value: Quantity, most: Quantity | undefined, show: Show): string | undefined =>
  within(value, most) && valueIn(value, most.unit) > most.value ? `at most ${show(most)}` : undefined;

const fell = (value: Quantity, start: Quantity | undefined, show: Show): string | undefined =>
  within(value, start) && valueIn(value, start.unit) < start.value ? `down from ${show(start)}` : undefined;

/** A duty whose clocks wait for other work still stands where a reading is past its limit: it is due now. */
export function pastRun(scene: Scene, { entry, text }: PastLimit): ClockRun {
  return {
    outlook: { kind: 'limit', text: text.charAt(0).toUpperCase() + text.slice(1), evidence: [entry.id], sources: [] },
    runsOut: scene.nowDay,
    runsOutAfter: never,
    days: 365,
  };
}
