/** Days as people and programs write them into cells, and in which order day, month and year stand. */
import { dateOf, isPlainDate } from '../../dates/index.ts';

/** Which of three orders day, month and year stand in, where they are numbers. */
export type DateOrder = 'ymd' | 'dmy' | 'mdy';
export const DATE_ORDERS = ['ymd', 'mdy', 'dmy'] as const satisfies readonly DateOrder[];

/** `2026-05-16`, `5/16/26`, `16.05.2026`. */
const NUMBERS = /^(\d{1,4})\s?[./\-\s]\s?(\d{1,2})\s?[./\-\s]\s?(\d{1,4})\.?$/;
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const MONTH =
  '(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)';
const WEEKDAY = /^(mon|tues?|wed(nes)?|thu(rs)?|fri|sat(ur)?|sun)(day)?[.,]?\s+/i;
const BREAK = '[\\s.,/-]+';
const ORDINAL = '(?:st|nd|rd|th)?';
const DAY_FIRST = new RegExp(`^(\\d{1,2})${ORDINAL}${BREAK}${MONTH}${BREAK}(\\d{4}|\\d{2})$`, 'i');
const MONTH_FIRST = new RegExp(`^${MONTH}${BREAK}(\\d{1,2})${ORDINAL}${BREAK}(\\d{4}|\\d{2})$`, 'i');
const YEAR_FIRST = new RegExp(`^(\\d{4})${BREAK}${MONTH}${BREAK}(\\d{1,2})$`, 'i');
/** A time of day behind the day. */
const TIME = /(?:T|,?\s+)\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]\.?m\.?)?\s*(?:Z|[+-]\d{2}:?\d{2})?$/i;

/**
 * Days from the day that spreadsheets call 0 (1899-12-30, so that serial numbers from 61, 1 March 1900, on are right: the serial
 * date system “1900” of ECMA-376 part 1, 18.17.4.1) to 1970-01-01.
 */
const SERIAL_OF_1970 = 25_569;
/** 1982 to 2064: what else is a bare whole number of five digits is no day of this trade. */
const SERIALS = { from: 30_000, to: 60_000 } as const;

/**
 * A date cell as `YYYY-MM-DD`, or null: numbers in the given order, months as English words in any order, serial day numbers of
 * spreadsheets; a time of day behind it is passed over. Two-digit years are of this century.
 */
export function dateIn(cell: string, order: DateOrder): string | null {
  const text = cell.trim().replace(TIME, '').replace(WEEKDAY, '');
  const serial = /^(\d{5})(?:[.,]\d+)?$/.exec(text)?.[1];
  if (serial !== undefined) {
    const days = Number(serial);
    return days >= SERIALS.from && days <= SERIALS.to ? dateOf(days - SERIAL_OF_1970) : null;
  }
  const worded = wordedDate(text);
  if (worded !== undefined) return worded;
  const numbers = NUMBERS.exec(text);
  if (!numbers) return null;
  const [, a, b, c] = numbers as unknown as [string, string, string, string];
  const [year, month, day] = order === 'ymd' ? [a, b, c] : order === 'dmy' ? [c, b, a] : [c, a, b];
  return month.length > 2 || day.length > 2 ? null : civil(year, Number(month), day);
}

function wordedDate(text: string): string | null | undefined {
  const [, day, month, year] = DAY_FIRST.exec(text) ?? [];
  if (day) return civil(year!, monthOf(month!), day);
  const [, month2, day2, year2] = MONTH_FIRST.exec(text) ?? [];
  if (month2) return civil(year2!, monthOf(month2), day2!);
  const [, year3, month3, day3] = YEAR_FIRST.exec(text) ?? [];
  if (year3) return civil(year3, monthOf(month3!), day3!);
  return undefined;
}

const monthOf = (word: string): number => MONTHS.indexOf(word.slice(0, 3).toLowerCase()) + 1;

function civil(year: string, month: number, day: string): string | null {
  if (year.length !== 4 && year.length !== 2) return null;
  const date = `${year.length === 2 ? `20${year}` : year}-${String(month).padStart(2, '0')}-${day.padStart(2, '0')}`;
  return isPlainDate(date) ? date : null;
}

/** A cell with the line it stands on. */
export interface CellAt {
  readonly line: number;
  readonly cell: string;
}

/** In which order the days stand: the only one that fits; or what is to be asked, and between which. */
export type Order =
  | { readonly order: DateOrder }
  | { readonly order: null; readonly text: string; readonly between: readonly DateOrder[] };

const NAMES = { ymd: 'year/month/day', dmy: 'day/month/year', mdy: 'month/day/year' } as const;
export const DATE_ORDER_NAMES = { ymd: 'year, month, day', dmy: 'day, month, year', mdy: 'month, day, year' } as const;

/** Cells that are a day in no order say nothing of the order; they are refused with their own line. */
export function dateOrderOf(cells: readonly CellAt[]): Order {
  const days = cells
    .map((at) => ({ ...at, read: DATE_ORDERS.map((order) => dateIn(at.cell, order)) }))
    .filter(({ read }) => read.some((day) => day !== null));
  const against = DATE_ORDERS.map((_, index) => days.find(({ read }) => read[index] === null));
  const fitting = DATE_ORDERS.filter((_, index) => against[index] === undefined);
  const same = days.every(({ read }) => {
    const fit = read.filter((_, index) => against[index] === undefined);
    return fit.every((day) => day === fit[0]);
  });
  if (fitting.length === 1 || (fitting.length > 1 && same)) return { order: fitting[0]! };
  const quoted = ({ cell, line }: CellAt): string => `“${cell}” (line ${line})`;
  if (fitting.length > 1) {
    const example = days.find(({ read }) => new Set(read.filter((_, i) => against[i] === undefined)).size > 1)!;
    const names = fitting.map((order) => NAMES[order]);
    return {
      order: null,
      text: `Is ${quoted(example)} ${names.slice(0, -1).join(', ')} or ${names.at(-1)}? ${fitting.length === 2 ? 'Both fit' : 'All fit'} every line.`,
      between: fitting,
    };
  }
  const used = DATE_ORDERS.filter((_, index) => days.some(({ read }) => read[index] !== null));
  const reasons = used.map(
    (order) => `${NAMES[order]} is contradicted by ${quoted(against[DATE_ORDERS.indexOf(order)]!)}`,
  );
  return {
    order: null,
    text: `No one order of day, month and year fits every line: ${reasons.join('; ')}.`,
    between: used,
  };
}
