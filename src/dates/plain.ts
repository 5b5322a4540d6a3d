/** Plain dates as ISO text (`2026-06-12`), as they stand in entries, JSON and on paper. */

import { fail, ok, type Result } from '../problem/index.ts';
import {
  addMonthsToDay,
  civilOf,
  dayOfCivil,
  dayOfYearOf,
  daysInMonth,
  monthsBetweenDays,
  weekdayOf,
} from './civil.ts';

/** `YYYY-MM-DD`, years 1900 to 2199. Plain text in JSON; compares in order as text. */
export type PlainDate = string;

/** First and last day, both included. */
export interface DateRange {
  readonly from: PlainDate;
  readonly to: PlainDate;
}

const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})$/;
const ISO_MONTH = /^(\d{4})-(\d{2})$/;
const YEAR_FIRST = 1900;
const YEAR_LAST = 2199;

/** Reads a date, or says why it is none: `date.format`, `date.impossible`, `date.out-of-range`. */
export function parseDate(text: string): Result<PlainDate> {
  const trimmed = text.trim();
  const match = ISO_DATE.exec(trimmed);
  if (match === null) {
    return fail({
      code: 'date.format',
      what: `\`${trimmed}\` is not a date as we read them.`,
      expected: 'year-month-day, such as 2026-06-12',
    });
  }
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < YEAR_FIRST || year > YEAR_LAST) {
    return fail({
      code: 'date.out-of-range',
      what: `The year ${year} is outside ${YEAR_FIRST} to ${YEAR_LAST}.`,
      expected: 'a year in which a rig can have been on the road',
    });
  }
  if (month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) {
    const why =
      month < 1 || month > 12
        ? `there is no month ${match[2]}`
        : `${MONTHS[month - 1]} ${year} has ${daysInMonth(year, month)} days`;
    return fail({
      code: 'date.impossible',
      what: `There is no ${trimmed}: ${why}.`,
      expected: 'a day of the calendar',
    });
  }
  return ok(trimmed);
}

/** True for a text that parseDate takes as it stands. */
export function isPlainDate(text: string): boolean {
  const read = parseDate(text);
  return read.ok && read.value === text;
}

/** The first and last day of `YYYY-MM`. */
export function monthRange(text: string): Result<DateRange> {
  const trimmed = text.trim();
  const match = ISO_MONTH.exec(trimmed);
  if (match === null) {
    return fail({
      code: 'date.format',
      what: `\`${trimmed}\` is not a month.`,
      expected: 'year-month, such as 2026-06',
    });
  }
  const first = parseDate(`${trimmed}-01`);
  if (!first.ok) return first;
  const last = daysInMonth(Number(match[1]), Number(match[2]));
  return ok({ from: first.value, to: `${trimmed}-${last}` });
}

/** Days since 1970-01-01. Throws on anything but a plain date: parse first. */
export function dayNumber(date: PlainDate): number {
  const year = Number(date.slice(0, 4));
  const month = Number(date.slice(5, 7));
  const day = Number(date.slice(8, 10));
  if (date.length !== 10 || !(month >= 1 && month <= 12) || !(day >= 1 && day <= 31) || !(year >= 0)) {
    throw new Error(`invariant: not a plain date: ${date}`);
  }
  return dayOfCivil(year, month, day);
}

/** The plain date of a day number. */
export function dateOf(dayNumber: number): PlainDate {
  const { year, month, day } = civilOf(dayNumber);
  return `${String(year).padStart(4, '0')}-${month < 10 ? '0' : ''}${month}-${day < 10 ? '0' : ''}${day}`;
}

/**
 * The same day so many months later (or earlier), the last day where the month is shorter.
 *
 * @example addMonths('2026-01-31', 1) // '2026-02-28'
 */
export function addMonths(date: PlainDate, months: number): PlainDate {
  return dateOf(addMonthsToDay(dayNumber(date), months));
}

export function addDays(date: PlainDate, days: number): PlainDate {
  return dateOf(dayNumber(date) + days);
}

/** Whole months from one date to another, as a person counts them. */
export function monthsBetween(from: PlainDate, to: PlainDate): number {
  return monthsBetweenDays(dayNumber(from), dayNumber(to));
}

/** Days from one date to another; 1 from a day to the next. */
export function daysBetween(from: PlainDate, to: PlainDate): number {
  return dayNumber(to) - dayNumber(from);
}

export function yearOf(date: PlainDate): number {
  return Number(date.slice(0, 4));
}

/** 1 to 12. */
export function monthOf(date: PlainDate): number {
  return Number(date.slice(5, 7));
}

/** 1 for 1 January. */
export function dayOfYear(date: PlainDate): number {
  return dayOfYearOf(dayNumber(date));
}

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'] as const;
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/**
 * `short` Fri 12 Jun 2026 · `long` Friday 12 June 2026 · `day` 12 Jun 2026 · `month` Jun 2026 · `no-year` Fri 12 Jun ·
 * `iso` 2026-06-12.
 */
export type DateStyle = 'short' | 'long' | 'day' | 'month' | 'no-year' | 'iso';

/** A date off a label, which may be only a year or a month: 2018, Oct 2020, 18 Oct 2020. */
export function formatLabelDate(date: string): string {
  if (date.length === 4) return date;
  return date.length === 7 ? formatDate(`${date}-01`, 'month') : formatDate(date, 'day');
}

/** A date as a person reads it; `short` by default. */
export function formatDate(date: PlainDate, style: DateStyle = 'short'): string {
  const number = dayNumber(date);
  const { year, month, day } = civilOf(number);
  const weekday = WEEKDAYS[weekdayOf(number)]!;
  const name = MONTHS[month - 1]!;
  const brief = name.slice(0, 3);
  switch (style) {
    case 'iso':
      return date;
    case 'long':
      return `${weekday} ${day} ${name} ${year}`;
    case 'day':
      return `${day} ${brief} ${year}`;
    case 'month':
      return `${brief} ${year}`;
    case 'no-year':
      return `${weekday.slice(0, 3)} ${day} ${brief}`;
    case 'short':
      return `${weekday.slice(0, 3)} ${day} ${brief} ${year}`;
  }
}
