import { dateOf, dayNumber, isPlainDate, yearOf } from '../dates/index.ts';
import { type RigState, settingOf } from '../logbook/index.ts';

/** When it freezes at home, as months and days. */
export interface Frost {
  readonly first: string;
  /** Absent: so many days after the first as is usual. */
  readonly last: string | undefined;
}

/** From the first day on which frost is to be expected to the first after the last such day (day numbers). */
export interface Winter {
  readonly from: number;
  readonly until: number;
}

/** Length of a winter where the owner said only when it begins. Common practice, no source. */
const WINTER_DAYS = 150;

/** The owner's `first-freeze` and `last-freeze`; undefined where the first is not on record, or no day of any year. */
export function frostOf(state: RigState): Frost | undefined {
  const real = (monthDay: string | undefined): string | undefined =>
    monthDay !== undefined && isPlainDate(`2000-${monthDay}`) ? monthDay : undefined;
  const first = real(settingOf(state, 'first-freeze'));
  return first === undefined ? undefined : { first, last: real(settingOf(state, 'last-freeze')) };
}

/** The winter under way on `day`, or else the one to come. */
export function winterAt(frost: Frost, day: number): Winter {
  const year = yearOf(dateOf(day));
  const winters = [year - 1, year, year + 1].map((begun) => winterOf(frost, begun));
  return winters.find((winter) => day < winter.until)!;
}

function winterOf({ first, last }: Frost, year: number): Winter {
  const from = dayIn(first, year);
  if (last === undefined) return { from, until: from + WINTER_DAYS };
  const sameYear = dayIn(last, year);
  return { from, until: (sameYear >= from ? sameYear : dayIn(last, year + 1)) + 1 };
}

const dayIn = (monthDay: string, year: number): number =>
  dayNumber(`${year}-${monthDay === '02-29' ? '02-28' : monthDay}`);
