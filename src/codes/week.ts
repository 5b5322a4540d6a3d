/**
 * The week of a tire's date code.
 *
 * Source: 49 CFR 574.5, date code: week 01 is the first full calendar week of the year, weeks run from Sunday to Saturday,
 * and the last week of a year may reach up to six days into the next. The rule's own example: 0109 is 4 to 10 January 2009.
 * This is not the ISO 8601 week.
 */

import { dateOf, dayOfCivil, type PlainDate, weekdayOf } from '../dates/index.ts';

/** Sunday to Saturday, both included. */
export interface CodeWeek {
  readonly week: number;
  readonly year: number;
  readonly from: PlainDate;
  readonly to: PlainDate;
}

/** Day number of the first Sunday of a year: where its week 01 starts. */
function firstSunday(year: number): number {
  const january1 = dayOfCivil(year, 1, 1);
  return january1 + ((7 - weekdayOf(january1)) % 7);
}

/** 52, or 53 in a year with 53 Sundays. */
export function weeksInCodeYear(year: number): number {
  return (firstSunday(year + 1) - firstSunday(year)) / 7;
}

/** The days of a week of a year, or null where the year has no such week. */
export function codeWeek(year: number, week: number): CodeWeek | null {
  if (!Number.isInteger(week) || week < 1 || week > weeksInCodeYear(year)) return null;
  const start = firstSunday(year) + (week - 1) * 7;
  return { week, year, from: dateOf(start), to: dateOf(start + 6) };
}
