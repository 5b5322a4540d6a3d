import { bayesLine, drawLines, type LineReading, seedFrom, stratified } from '../../chance/index.ts';
import { dayNumber } from '../../dates/index.ts';
import { type ReadingFact, vehicleOf } from '../../logbook/index.ts';
import { unwrap } from '../../problem/index.ts';
import { convert, formatQuantity, type Quantity, valueIn } from '../../quantity/index.ts';
import { type ClockOf, type ClockRun, type Duty, dateText, never, type Scene } from '../clock-run.ts';
import { comparable } from '../comparable.ts';
import { workFor } from '../evidence.ts';

const DAYS_A_MONTH = 365.25 / 12;
/** How many readings the catalog's reading error counts for against the owner's own scatter. Assumption. */
const ERROR_DEGREES = 8;

/**
 * A measured quantity that drifts past a limit. A line is fitted to the readings since the last restoring work, with the catalog's
 * drift as prior and the gauge's error; each path draws one line and crosses the limit on its own day. Several readings on one day
 * are several readings.
 */
export function limitClock(scene: Scene, duty: Duty, clock: ClockOf<'limit'>): ClockRun {
  const { part, upkeep } = duty;
  const base = { kind: 'limit' as const, sources: [clock.source] };
  const readings = readingsSinceRestored(scene, duty, clock);
  const limit = limitOf(duty, clock);
  const none = (missing: string): ClockRun => ({
    outlook: {
      ...base,
      text: `${capital(clock.reading)}: not on record: ${missing}. ${upkeep.look}`,
      missing,
      evidence: [part.fit.id],
    },
    lowerAfter: never,
    days: 365,
  });
  if (!limit) return none(`the ${words(clock.limitFact ?? clock.reading)} of this part`);
  const newest = readings.at(-1);
  if (!newest) return none(`a ${words(clock.reading)} reading since it was fitted or last set right`);

  const { unit } = limit;
  const home = vehicleOf(scene.state, 'trailer')?.body.home?.elevation;
  const first = readings[0]!;
  const start = dayNumber(first.on);
  const points: LineReading[] = readings.map((reading) => ({
    at: (dayNumber(reading.on) - start) / DAYS_A_MONTH,
    value: valueIn(comparable(clock.reading, reading, home), unit),
  }));
  const spread = Math.max(...points.map((point) => Math.abs(point.value - points[0]!.value)), clock.readingError * 3);
  const line = unwrap(
    bayesLine(
      {
        intercept: { mean: points[0]!.value, spread: 10 * spread },
        slope: { mean: clock.driftPerMonth, spread: clock.driftSpread },
        noise: { spread: clock.readingError, degrees: ERROR_DEGREES },
      },
      points,
    ),
  );
  const limitValue = limit.value;
  const sign = clock.side === 'below' ? 1 : -1;
  const past = sign * (points.at(-1)!.value - limitValue) < 0;
  /** The day on which a line crosses; the day of the newest reading where it is already past. */
  const crossing = (intercept: number, slope: number, from: number): number => {
    const margin = sign * (intercept + (slope * (from - start)) / DAYS_A_MONTH - limitValue);
    if (margin <= 0) return from;
    const fall = -sign * slope;
    return fall <= 0 ? Infinity : from + (margin / fall) * DAYS_A_MONTH;
  };
  const newestDay = dayNumber(newest.on);
  const lines = (count: number) =>
    drawLines(
      line,
      stratified(count, seedFrom(`${scene.seed} level ${duty.id}`)),
      stratified(count, seedFrom(`${scene.seed} drift ${duty.id}`)),
    );
  const shown = formatQuantity(newest.value, { system: scene.system });
  const limitText = formatQuantity(limit, { system: scene.system });
  const middle = crossing(line.intercept, line.slope, newestDay);
  const left = Math.round(middle - scene.nowDay);
  const verdict = past
    ? 'past it'
    : Number.isFinite(middle)
      ? `past it in about ${Math.max(0, left)} days`
      : 'not drifting towards it';
  return {
    outlook: {
      ...base,
      text: `${capital(clock.reading)} ${shown} on ${dateText(newest.on)}, limit ${clock.side === 'below' ? 'at least' : 'at most'} ${limitText}: ${verdict}`,
      ...(Number.isFinite(middle) ? { left: { value: left, unit: 'd' } } : {}),
      evidence: readings.slice(-6).map((reading) => reading.entry.id),
    },
    lower: past
      ? (out) => {
          for (let p = 0; p < out.length; p++) if (newestDay < out[p]!) out[p] = newestDay;
        }
      : (out) => {
          const { intercept, slope } = lines(out.length);
          for (let p = 0; p < out.length; p++) {
            const day = crossing(intercept[p]!, slope[p]!, newestDay);
            if (day < out[p]!) out[p] = day;
          }
        },
    lowerAfter: (day, out) => {
      // Set right on `day`, it starts again from as far on the good side as it has ever been read, and drifts as before.
      const best = Math.max(0, ...points.map((point) => sign * (point.value - limitValue)));
      const margin = Math.max(best, 3 * clock.readingError);
      const { slope } = lines(out.length);
      for (let p = 0; p < out.length; p++) {
        const fall = -sign * slope[p]!;
        const crossed = fall <= 0 ? Infinity : day + (margin / fall) * DAYS_A_MONTH;
        if (crossed < out[p]!) out[p] = crossed;
      }
    },
    days: 365,
  };
}

/** Readings since the newest restoring work (those taken with it too), oldest first; all since fitting where none restored it. */
function readingsSinceRestored(
  { catalog }: Scene,
  { part, upkeep }: Duty,
  clock: ClockOf<'limit'>,
): readonly ReadingFact[] {
  const all = part.readings.get(clock.reading) ?? [];
  if (!upkeep.restores) return all;
  const restored = workFor(part, upkeep, catalog).findLast((work) => work.outcome === 'good');
  if (!restored) return all;
  return all.filter(
    (reading) => reading.on > restored.on || (reading.on === restored.on && reading.entry.id >= restored.entry.id),
  );
}

function limitOf({ part }: Duty, clock: ClockOf<'limit'>): Quantity | undefined {
  const fact = clock.limitFact === undefined ? undefined : part.facts[clock.limitFact];
  const own = typeof fact === 'object' ? fact : undefined;
  const limit = own ?? clock.limit;
  return limit && clock.limit ? convert(limit, clock.limit.unit as never) : limit;
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
