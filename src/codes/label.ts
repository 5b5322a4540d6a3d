/**
 * The labels of detectors, extinguishers, regulators and hoses: `replace by 2026-11`, `made 2016-11, life 10 years`,
 * `MFG MAR 2019`, `11/2016`.
 *
 * There is no standard for their wording; the label's own limit governs. Sources for the usual lives, where a label shows
 * only when it was made, stand with the upkeep in the catalog, not here.
 */

import { addMonths, dayNumber, monthRange, type PlainDate, parseDate } from '../dates/index.ts';

export interface LabelCode {
  readonly valid: boolean;
  readonly kind: 'replace-by' | 'made' | null;
  /** The first day the label can mean. */
  readonly from: PlainDate | null;
  /** The last day the label can mean. */
  readonly to: PlainDate | null;
  /** `YYYY-MM` or `YYYY`: when the thing must be out. Null where the label shows only when it was made. */
  readonly due: string | null;
  readonly ambiguous: boolean;
  readonly reason: string | null;
  readonly overdue: boolean;
}

const MONTHS = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'];

interface Span {
  readonly from: PlainDate;
  readonly to: PlainDate;
  readonly precision: 'day' | 'month' | 'year';
  readonly ambiguous: boolean;
}

function bad(reason: string): LabelCode {
  return { valid: false, kind: null, from: null, to: null, due: null, ambiguous: false, reason, overdue: false };
}

function monthSpan(year: number, month: number): Span | null {
  const range = monthRange(`${year}-${String(month).padStart(2, '0')}`);
  return range.ok ? { ...range.value, precision: 'month', ambiguous: false } : null;
}

function daySpan(year: number, month: number, day: number): Span | null {
  const date = parseDate(`${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`);
  return date.ok ? { from: date.value, to: date.value, precision: 'day', ambiguous: false } : null;
}

/** A day and a month in either order: both, where both can be. */
function eitherOrder(a: number, b: number, year: number): Span | null {
  const spans = [daySpan(year, a, b), daySpan(year, b, a)].filter((span): span is Span => span !== null);
  const [first, second] = [...spans].sort((x, y) => dayNumber(x.from) - dayNumber(y.from));
  if (first === undefined) return null;
  return second === undefined || second.from === first.from
    ? first
    : { from: first.from, to: second.to, precision: 'day', ambiguous: true };
}

/** Forms of a date on a label, the most telling first. */
const FORMS: readonly [RegExp, (m: readonly string[]) => Span | null][] = [
  [/\b((?:19|20)\d{2})[-./ ](\d{1,2})[-./ ](\d{1,2})\b/, (m) => daySpan(Number(m[1]), Number(m[2]), Number(m[3]))],
  [/\b(\d{1,2})[-./](\d{1,2})[-./]((?:19|20)\d{2})\b/, (m) => eitherOrder(Number(m[1]), Number(m[2]), Number(m[3]))],
  [
    /\b(\d{1,2}) ?([A-Z]{3})[A-Z]*\.? ?,? ?((?:19|20)\d{2})\b/,
    (m) => daySpan(Number(m[3]), MONTHS.indexOf(m[2]!) + 1, Number(m[1])),
  ],
  [
    /\b([A-Z]{3})[A-Z]*\.? ?(\d{1,2}),? ((?:19|20)\d{2})\b/,
    (m) => daySpan(Number(m[3]), MONTHS.indexOf(m[1]!) + 1, Number(m[2])),
  ],
  [
    /\b((?:19|20)\d{2})[-./ ]?([A-Z]{3})[A-Z]*\.? (\d{1,2})\b/,
    (m) => daySpan(Number(m[1]), MONTHS.indexOf(m[2]!) + 1, Number(m[3])),
  ],
  [/\b((?:19|20)\d{2})[-./ ](\d{1,2})\b/, (m) => monthSpan(Number(m[1]), Number(m[2]))],
  [/\b(\d{1,2})[-./ ]((?:19|20)\d{2})\b/, (m) => monthSpan(Number(m[2]), Number(m[1]))],
  [/\b([A-Z]{3})[A-Z]*\.?[-./ ]?((?:19|20)\d{2})\b/, (m) => monthSpan(Number(m[2]), MONTHS.indexOf(m[1]!) + 1)],
  [/\b((?:19|20)\d{2})[-./ ]([A-Z]{3})[A-Z]*\b/, (m) => monthSpan(Number(m[1]), MONTHS.indexOf(m[2]!) + 1)],
  [/\b(\d{1,2})[-./](\d{2})\b/, (m) => monthSpan(2000 + Number(m[2]), Number(m[1]))],
  [
    /\b((?:19|20)\d{2})\b/,
    (m) => ({ from: `${m[1]}-01-01`, to: `${m[1]}-12-31`, precision: 'year', ambiguous: false }),
  ],
];

function readSpan(text: string): Span | null {
  for (const [form, make] of FORMS) {
    const match = form.exec(text);
    const span = match === null ? null : make(match);
    if (span !== null) return span;
  }
  return null;
}

const LIFE = /\b(\d{1,2}) ?-?(YEARS?|YRS?|Y|MONTHS?|MOS?|M)\b/;
const BY = /\b(REPLACE|EXPIRES?|EXP|USE BY|DISCARD|DO NOT USE AFTER|GOOD UNTIL|UNTIL|OUT BY|BEST BEFORE)\b/;

/** The end of a life that began in a span: counted from its first day, the earliest it can be. */
function dueOf(span: Span, months: number): { readonly text: string; readonly last: PlainDate } {
  const day = addMonths(span.from, months);
  if (span.precision === 'year') return { text: day.slice(0, 4), last: `${day.slice(0, 4)}-12-31` };
  const month = monthRange(day.slice(0, 7));
  return { text: day.slice(0, 7), last: month.ok ? month.value.to : day };
}

/**
 * Reads a label.
 *
 * @param life months of life, where it is known from elsewhere and the label shows only when the thing was made
 * @example decodeLabel('made 2016-11, life 10 years', '2026-11-25') // due 2026-11
 */
export function decodeLabel(text: string, today: PlainDate, life?: number): LabelCode {
  const upper = text.toUpperCase().replace(/[–—]/g, '-').replace(/\s+/g, ' ').trim();
  const lifeMatch = LIFE.exec(upper);
  const span = readSpan(lifeMatch === null ? upper : upper.replace(lifeMatch[0], ' ').trim());
  if (span === null)
    return bad(`No date can be read in \`${text.trim()}\`: month and year, such as 2026-11 or NOV 2026.`);
  const printed = lifeMatch === null ? null : Number(lifeMatch[1]) * (lifeMatch[2]!.startsWith('Y') ? 12 : 1);
  const months = printed ?? life ?? null;
  const base = { valid: true, from: span.from, to: span.to, ambiguous: span.ambiguous };
  const open = span.ambiguous ? 'Day and month can be read either way.' : null;
  if (BY.test(upper)) {
    const due = dueOf(span, 0);
    return { ...base, kind: 'replace-by', due: due.text, reason: open, overdue: today > due.last };
  }
  if (span.from > today)
    return bad(`It says made ${span.from}, which has not come: misread, or a replace-by date without its words.`);
  if (months === null) {
    const reason = 'The label shows when it was made, not how long it lasts: the handbook of the thing says.';
    return { ...base, kind: 'made', due: null, reason: open ?? reason, overdue: false };
  }
  const due = dueOf(span, months);
  return { ...base, kind: 'made', due: due.text, reason: open, overdue: today > due.last };
}
