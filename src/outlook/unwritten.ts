import type { OdometerTrack } from '../logbook/index.ts';

/** Trips that may have been made and never written down: from the newest day on which the use is known until today. */
export interface Unwritten {
  /** Day number of the newest odometer reading, or of the newest return on record. */
  readonly from: number;
  /** Share of the usual trip miles that is taken as driven since, 0 to 1. */
  readonly share: number;
}

/**
 * A logbook may be silent about an odometer for so many days without a doubt; the doubt then grows, and after twice as many days the
 * usual miles are taken as driven since the last reading. Shorter where no finished trip is on record: nobody writes trips down.
 * Our own choice.
 */
const QUIET_DAYS = 90;
const QUIET_WITHOUT_TRIPS_DAYS = 14;

/** An odometer of which nothing was known for longer than this proves no miles. Common practice, no source. */
export const ODOMETER_PROVES_DAYS = 365;

/**
 * What may have been driven without a word of it, by the habit of whoever keeps the logbook. Null where the odometer was never read.
 *
 * @param lastBack day of the newest return on record, whose miles are known, read or not; null where no trip is finished
 */
export function unwrittenOf({ newest }: OdometerTrack, lastBack: number | null, nowDay: number): Unwritten | null {
  if (!newest) return null;
  const from = lastBack === null || lastBack > nowDay ? newest.day : Math.max(newest.day, lastBack);
  const quiet = lastBack === null ? QUIET_WITHOUT_TRIPS_DAYS : QUIET_DAYS;
  return { from, share: Math.min(1, Math.max(0, (nowDay - from - quiet) / quiet)) };
}

/**
 * The day through which a record of trips counts as kept: today, or as much earlier as its silence is doubted. Days of which nobody
 * wrote a word are no evidence of days at home.
 */
export const keptThrough = (unwritten: Unwritten | null, nowDay: number): number =>
  unwritten === null ? nowDay : Math.round(nowDay - unwritten.share * (nowDay - unwritten.from));
