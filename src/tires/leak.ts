/** `tire-leak`: how fast a tire loses air, with every reading brought to one temperature and height, and when it falls too low. */

import { dateOf, dayNumber, type PlainDate } from '../dates/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { convertLike, type Quantity, quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { GAUGE_ERROR_PSI } from './limits.ts';
import { type AirState, gaugeAt } from './pressure.ts';
import { COLD_PRESSURE } from './ranges.ts';

export interface TireReading extends AirState {
  readonly on: PlainDate;
  readonly gauge: Quantity;
}

export interface TireLeak {
  /** Loss a week, positive where it leaks, at the conditions of the last reading. */
  readonly rate: Quantity;
  /** The slowest and the fastest loss that any pair of readings shows, given the gauge's error. */
  readonly rateRange: { readonly low: Quantity; readonly high: Quantity };
  /**
   * The last day on which it still holds the floor at the fastest loss that the gauge's error allows; the day of the last reading where
   * it is under it already. Null where that is years away, or no floor was given.
   */
  readonly holdsUntil: PlainDate | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** Trade figure for a sound tire in storage, psi a month: 2 to 3 (trailer and tire press). */
const USUAL_LOSS_PSI_A_WEEK = (3 * 7) / 30.4;
const FOREVER_DAYS = 3650;

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function correctedPsi(
  readings: readonly TireReading[],
): Result<readonly { readonly day: number; readonly psi: number }[]> {
  const last = readings.at(-1)!;
  const corrected: { day: number; psi: number }[] = [];
  for (const [i, reading] of readings.entries()) {
    const there = gaugeAt(reading.gauge, reading, last);
    if (!there.ok) return fail({ ...there.problems[0]!, where: `readings.${i}.${there.problems[0]!.where ?? ''}` });
    corrected.push({ day: dayNumber(reading.on), psi: valueIn(there.value, 'psi') });
  }
  return ok(corrected);
}

/**
 * The median of the slopes between all pairs of readings (Theil and Sen), so that one misreading does not set the rate.
 *
 * @param input.readings at least two, on different days; any order
 * @param input.floor the pressure it must not fall below, as it would show at the conditions of the last reading
 * @returns `tire.readings` where there are too few
 */
export function tireLeak(input: {
  readonly readings: readonly TireReading[];
  readonly floor?: Quantity | undefined;
}): Result<TireLeak> {
  const wrong = rangeProblem([['floor', input.floor, COLD_PRESSURE]]);
  if (wrong !== null) return fail(wrong);
  const readings = [...input.readings].sort((a, b) => dayNumber(a.on) - dayNumber(b.on));
  if (readings.length < 2 || readings[0]!.on === readings.at(-1)!.on) {
    return fail({
      code: 'tire.readings',
      what: 'A rate needs readings of two days.',
      where: 'readings',
      expected: 'two or more readings on different days, with temperature and elevation',
    });
  }
  const corrected = correctedPsi(readings);
  if (!corrected.ok) return corrected;
  const points = corrected.value;
  const slopes: number[] = [];
  const spans: number[] = [];
  for (let i = 0; i < points.length; i++) {
    for (let j = i + 1; j < points.length; j++) {
      const days = points[j]!.day - points[i]!.day;
      if (days === 0) continue;
      slopes.push((points[i]!.psi - points[j]!.psi) / days);
      spans.push(days);
    }
  }
  const perDay = median(slopes);
  const error = (2 * GAUGE_ERROR_PSI) / Math.max(...spans);
  const last = points.at(-1)!;
  const floorPsi = input.floor === undefined ? null : valueIn(input.floor, 'psi');
  const fastest = perDay + error;
  const days = floorPsi === null || fastest <= 0 ? null : Math.floor((last.psi - floorPsi) / fastest + 1e-9);
  const under = floorPsi !== null && last.psi < floorPsi - 1e-9;
  const asked = readings.at(-1)!.gauge;
  const rate = (psiADay: number) => convertLike(quantity(psiADay * 7, 'psi/wk'), asked);
  const cautions: string[] = [];
  if (perDay * 7 > USUAL_LOSS_PSI_A_WEEK + error * 7)
    cautions.push('Faster than a sound tire loses air (2 to 3 psi a month): look for a nail, the valve, the rim.');
  if (under) cautions.unshift('It is under its floor already: inflate, and find out why, before it carries anything.');
  if (error >= Math.abs(perDay))
    cautions.push('The loss is no larger than the gauge can be wrong: read again in a week.');
  return ok({
    rate: rate(perDay),
    rateRange: { low: rate(perDay - error), high: rate(perDay + error) },
    holdsUntil: under ? dateOf(last.day) : days === null || days > FOREVER_DAYS ? null : dateOf(last.day + days),
    limitedBy: error >= Math.abs(perDay) ? 'the gauge' : 'the readings',
    cautions,
  });
}
