/**
 * What lives here: plain dates. ISO text (`2026-06-12`) at the doors, whole day numbers (days since 1970-01-01) in hot
 * loops. No instant, no time zone, no clock: today is always an argument.
 */

export type { Civil } from './civil.ts';
export {
  addMonthsToDay,
  civilOf,
  DAYS_A_MONTH,
  DAYS_A_YEAR,
  dayOfCivil,
  dayOfYearOf,
  daysInMonth,
  isLeap,
  monthsBetweenDays,
  weekdayOf,
} from './civil.ts';
export type { DateRange, DateStyle, PlainDate } from './plain.ts';
export {
  addDays,
  addMonths,
  dateOf,
  dayNumber,
  dayOfYear,
  daysBetween,
  formatDate,
  formatLabelDate,
  isPlainDate,
  monthOf,
  monthRange,
  monthsBetween,
  parseDate,
  yearOf,
} from './plain.ts';
