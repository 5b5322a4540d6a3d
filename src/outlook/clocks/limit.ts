import type { Catalog } from '../../catalog/index.ts';
import { bayesLine, type LinePosterior, type LineReading, linesOfT } from '../../chance/index.ts';
import { DAYS_A_MONTH, dayNumber } from '../../dates/index.ts';
import { quantityFact, type ReadingFact } from '../../logbook/index.ts';
import { unwrap } from '../../problem/index.ts';
import {
  convert,
  dimensionOf,
  formatQuantity,
  isUnitId,
  type Quantity,
  type UnitId,
  valueIn,
} from '../../quantity/index.ts';
import { type ClockOf, type ClockRun, type Duty, dateText, daysQuantity, never, type Passage } from '../clock-run.ts';
import { comparable } from '../comparable.ts';
import { studentT } from '../draws.ts';
import { readingsOf, workFor } from '../evidence.ts';
import type { Scene } from '../scene.ts';

/** How many readings the catalog's reading error counts for against the owner's own scatter. Assumption. */
const ERROR_DEGREES = 8;
/** A spread of exactly none is taken as this share of the drift a month, so that it can be reckoned with. */
const SPREAD_LEAST = 1e-4;

/**
 * A measured quantity that drifts past a limit. A line is fitted to the readings since the last restoring work, with the catalog's
 * drift as prior and the gauge's error; each path draws one line and crosses the limit on its own day. Several readings on one day
 * are several readings.
 */
export function limitClock(scene: Scene, duty: Duty, clock: ClockOf<'limit'>): ClockRun {
  const { part, upkeep } = duty;
  const base = { kind: 'limit' as const, sources: [clock.source] };
  const none = (missing: string): ClockRun => ({
    outlook: {
      ...base,
      text: `${capital(clock.reading)}: not on record: ${missing}. ${upkeep.look}`,
      missing,
      evidence: [part.fit.id],
    },
    runsOutAfter: never,
    days: 365,
  });
  const limit = limitOf(scene.catalog, duty, clock);
  if (!limit) return none(`the ${words(clock.limitFact ?? clock.reading)} of this part`);
  const readings = readingsSinceRestored(scene, duty, clock, limit.unit as UnitId);
  const newest = readings.at(-1);
  if (!newest) return none(`a ${words(clock.reading)} reading since it was fitted or last set right`);
  const drift = driftOf(scene, clock, limit, readings);
  const middle = crossing(drift, drift.line.intercept, drift.line.slope);
  const left = Math.round(middle - scene.nowDay);
  const verdict = drift.past
    ? 'past it'
    : Number.isFinite(middle)
      ? `past it in about ${Math.max(0, left)} days`
      : 'not drifting towards it';
  const shown = formatQuantity(newest.value, { system: scene.system });
  const limitText = formatQuantity(limit, { system: scene.system });
  return {
    outlook: {
      ...base,
      text: `${capital(clock.reading)} ${shown} on ${dateText(newest.on)}, limit ${clock.side === 'below' ? 'at least' : 'at most'} ${limitText}: ${verdict}`,
      ...(Number.isFinite(middle) ? { left: daysQuantity(left) } : {}),
      evidence: readings.slice(-6).map((reading) => reading.entry.id),
    },
    runsOut: drift.past ? drift.newestDay : crossings(scene, duty, drift),
    runsOutAfter: (day) => crossingsAfter(scene, duty, clock, drift, day),
    days: 365,
  };
}

/** Readings of one part as a line through time; months from the first of them, values in the limit's unit. */
interface Drift {
  readonly line: LinePosterior;
  readonly points: readonly LineReading[];
  readonly start: number;
  readonly newestDay: number;
  readonly limit: number;
  /** 1 where it may not fall below the limit, −1 where it may not rise above. */
  readonly sign: 1 | -1;
  readonly past: boolean;
}

function driftOf(scene: Scene, clock: ClockOf<'limit'>, limit: Quantity, readings: readonly ReadingFact[]): Drift {
  const start = dayNumber(readings[0]!.on);
  const points: LineReading[] = readings.map((reading) => ({
    at: (dayNumber(reading.on) - start) / DAYS_A_MONTH,
    value: valueIn(comparable(clock.reading, reading, scene.homeElevation), limit.unit as UnitId),
  }));
  const sign = clock.side === 'below' ? 1 : -1;
  const least = SPREAD_LEAST * Math.max(Math.abs(clock.driftPerMonth), Math.abs(limit.value) / 100, Number.MIN_VALUE);
  const error = Math.max(clock.readingError, least);
  const spread = Math.max(...points.map((point) => Math.abs(point.value - points[0]!.value)), error * 3);
  const line = unwrap(
    bayesLine(
      {
        intercept: { mean: points[0]!.value, spread: 10 * spread },
        slope: { mean: clock.driftPerMonth, spread: Math.max(clock.driftSpread, least) },
        noise: { spread: error, degrees: ERROR_DEGREES },
      },
      points,
    ),
  );
  return {
    line,
    points,
    start,
    newestDay: dayNumber(readings.at(-1)!.on),
    limit: limit.value,
    sign,
    past: sign * (points.at(-1)!.value - limit.value) < 0,
  };
}

/** The day on which a line crosses; the day of the newest reading where it already has. */
function crossing({ start, newestDay, limit, sign }: Drift, intercept: number, slope: number): number {
  const margin = sign * (intercept + (slope * (newestDay - start)) / DAYS_A_MONTH - limit);
  if (margin <= 0) return newestDay;
  const fall = -sign * slope;
  return fall <= 0 ? Infinity : newestDay + (margin / fall) * DAYS_A_MONTH;
}

function linesOf(
  { seed }: Scene,
  duty: Duty,
  { line }: Drift,
  count: number,
): Record<'intercept' | 'slope', Float64Array> {
  const level = studentT(count, seed, line.degrees, `level ${duty.id}`);
  const drift = studentT(count, seed, line.degrees + 1, `drift ${duty.id}`);
  return linesOfT(line, level, drift);
}

function crossings(scene: Scene, duty: Duty, drift: Drift): Passage {
  return (out) => {
    const { intercept, slope } = linesOf(scene, duty, drift, out.length);
    for (let p = 0; p < out.length; p++) {
      const day = crossing(drift, intercept[p]!, slope[p]!);
      if (day < out[p]!) out[p] = day;
    }
  };
}

/** Set right on `day`, it starts again from as far on the good side as it has ever been read, and drifts as before. */
function crossingsAfter(scene: Scene, duty: Duty, clock: ClockOf<'limit'>, drift: Drift, day: number): Passage {
  const { points, sign, limit } = drift;
  const margin = Math.max(3 * clock.readingError, ...points.map((point) => sign * (point.value - limit)));
  return (out) => {
    const { slope } = linesOf(scene, duty, drift, out.length);
    for (let p = 0; p < out.length; p++) {
      const fall = -sign * slope[p]!;
      const crossed = fall <= 0 ? Infinity : day + (margin / fall) * DAYS_A_MONTH;
      if (crossed < out[p]!) out[p] = crossed;
    }
  };
}

/**
 * Readings since the newest restoring work (those taken with it too), oldest first; all since fitting where none restored it. One in
 * a unit of something else says nothing.
 */
function readingsSinceRestored(
  { catalog }: Scene,
  { part, upkeep }: Duty,
  clock: ClockOf<'limit'>,
  unit: UnitId,
): readonly ReadingFact[] {
  const all = readingsOf(part, clock.reading).filter(({ value }) => dimensionOf(value.unit) === dimensionOf(unit));
  if (!upkeep.restores) return all;
  const restored = workFor(part, upkeep, catalog).findLast((work) => work.outcome === 'good');
  if (!restored) return all;
  return all.filter(
    (reading) => reading.on > restored.on || (reading.on === restored.on && reading.entry.id >= restored.entry.id),
  );
}

/** The limit in the unit that the catalog gives drift and error in: its own figure's, or that of the fact. */
function limitOf(catalog: Catalog, { part, upkeep }: Duty, clock: ClockOf<'limit'>): Quantity | undefined {
  const fact = clock.limitFact === undefined ? undefined : quantityFact(part, clock.limitFact);
  const limit = fact ?? clock.limit;
  const unit =
    clock.limit?.unit ??
    catalog.partKinds.get(part.kind)?.factUnits?.[clock.limitFact ?? ''] ??
    upkeep.readings.find((reading) => reading.what === clock.reading)?.unit;
  if (!limit || unit === undefined || !isUnitId(unit)) return limit;
  return dimensionOf(limit.unit) === dimensionOf(unit) ? convert(limit, unit) : undefined;
}

const words = (name: string): string =>
  name
    .replace(/([A-Z])/g, ' $1')
    .replaceAll('-', ' ')
    .toLowerCase();
const capital = (name: string): string => {
  const text = words(name);
  return text.charAt(0).toUpperCase() + text.slice(1);
};
