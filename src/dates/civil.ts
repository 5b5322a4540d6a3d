/**
 * Dates of the proleptic Gregorian calendar as whole numbers of days since 1970-01-01, for hot loops: no allocation, no
 * text. The arithmetic counts in 400-year eras of 146,097 days that begin on 1 March, so that the leap day is the last
 * day of its year.
 */

/** A date taken apart. */
export interface Civil {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  /** 1 to 31. */
  readonly day: number;
}

/** Mean length of a year, days, as intervals in months or years are counted where no date is at hand. */
export const DAYS_A_YEAR = 365.25;
/** Mean length of a month, days. */
export const DAYS_A_MONTH = DAYS_A_YEAR / 12;

const ERA_DAYS = 146_097;
/** Days from 0000-03-01 to 1970-01-01. */
const EPOCH_SHIFT = 719_468;

/** The day number of a year, month (1–12) and day of month. */
export function dayOfCivil(year: number, month: number, day: number): number {
  const y = month > 2 ? year : year - 1;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const monthFromMarch = month > 2 ? month - 3 : month + 9;
  const dayOfMarchYear = Math.floor((153 * monthFromMarch + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfMarchYear;
  return era * ERA_DAYS + dayOfEra - EPOCH_SHIFT;
}

/** The year, month and day of a day number. */
export function civilOf(dayNumber: number): Civil {
  const z = dayNumber + EPOCH_SHIFT;
  const era = Math.floor(z / ERA_DAYS);
  const dayOfEra = z - era * ERA_DAYS;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  );
  const dayOfMarchYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const monthFromMarch = Math.floor((5 * dayOfMarchYear + 2) / 153);
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9;
  const day = dayOfMarchYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1;
  return { year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0), month, day };
}

/** Whether a year has a 29 February. */
export function isLeap(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/** How many days a month (1–12) has. */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeap(year) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** The same day of the month `months` later, or the last day of that month where it is shorter (31 January + 1 → 28 February). */
export function addMonthsToDay(dayNumber: number, months: number): number {
  const { year, month, day } = civilOf(dayNumber);
  const count = year * 12 + (month - 1) + months;
  const newYear = Math.floor(count / 12);
  const newMonth = count - newYear * 12 + 1;
  return dayOfCivil(newYear, newMonth, Math.min(day, daysInMonth(newYear, newMonth)));
}

/** 0 Sunday to 6 Saturday. 1970-01-01 was a Thursday. */
export function weekdayOf(dayNumber: number): number {
  return (((dayNumber + 4) % 7) + 7) % 7;
}

/**
 * Whole months from one day to a later one: the largest n with addMonthsToDay(from, n) ≤ to; negative where `to` is the
 * earlier one, and then counted from `to`.
 */
export function monthsBetweenDays(from: number, to: number): number {
  if (to < from) return -monthsBetweenDays(to, from);
  const a = civilOf(from);
  const b = civilOf(to);
  const months = (b.year - a.year) * 12 + (b.month - a.month);
  return addMonthsToDay(from, months) <= to ? months : months - 1;
}

/** 1 for 1 January. */
export function dayOfYearOf(dayNumber: number): number {
  return dayNumber - dayOfCivil(civilOf(dayNumber).year, 1, 1) + 1;
}
