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

/** No digit or separator before, none after: a part of a longer date is no date. */
const numeric = (form: string): RegExp => new RegExp(`(?<![-./\\d])(?:${form})(?![-./]?\\d)`, 'g');
const worded = (form: string): RegExp => new RegExp(`\\b(?:${form})\\b`, 'g');
const YEAR = '((?:19|20)\\d{2})';
const NUMBER = '(\\d{1,2})';
const MONTH = '([A-Z]{3})[A-Z]*';
const monthOf = (name: string | undefined): number => MONTHS.indexOf(name ?? '') + 1;

/** Forms of a date on a label, the most telling first. */
const FORMS: readonly [RegExp, (m: readonly string[]) => Span | null][] = [
  [numeric(`${YEAR}[-./ ]${NUMBER}[-./ ]${NUMBER}`), (m) => daySpan(Number(m[1]), Number(m[2]), Number(m[3]))],
  [numeric(`${NUMBER}[-./]${NUMBER}[-./]${YEAR}`), (m) => eitherOrder(Number(m[1]), Number(m[2]), Number(m[3]))],
  [
    numeric(`${NUMBER}[-./]${NUMBER}[-./](\\d{2})`),
    (m) => eitherOrder(Number(m[1]), Number(m[2]), 2000 + Number(m[3])),
  ],
  [worded(`${NUMBER} ?${MONTH}\\.? ?,? ?${YEAR}`), (m) => daySpan(Number(m[3]), monthOf(m[2]), Number(m[1]))],
  [worded(`${MONTH}\\.? ?${NUMBER},? ${YEAR}`), (m) => daySpan(Number(m[3]), monthOf(m[1]), Number(m[2]))],
  [worded(`${YEAR}[-./ ]?${MONTH}\\.? ${NUMBER}`), (m) => daySpan(Number(m[1]), monthOf(m[2]), Number(m[3]))],
  [numeric(`${YEAR}[-./ ]${NUMBER}`), (m) => monthSpan(Number(m[1]), Number(m[2]))],
  [numeric(`${NUMBER}[-./ ]${YEAR}`), (m) => monthSpan(Number(m[2]), Number(m[1]))],
  [worded(`${MONTH}\\.?[-./ ]?${YEAR}`), (m) => monthSpan(Number(m[2]), monthOf(m[1]))],
  [worded(`${YEAR}[-./ ]${MONTH}`), (m) => monthSpan(Number(m[1]), monthOf(m[2]))],
  [numeric(`${NUMBER}[-./](\\d{2})`), (m) => monthSpan(2000 + Number(m[2]), Number(m[1]))],
  [numeric(YEAR), (m) => ({ from: `${m[1]}-01-01`, to: `${m[1]}-12-31`, precision: 'year', ambiguous: false })],
];

/** Every date of a text, each once, the most telling forms first; none where there is none. */
function readSpans(text: string): readonly Span[] {
  const spans: Span[] = [];
  let rest = text;
  for (const [form, make] of FORMS) {
    rest = rest.replace(form, (...match: readonly unknown[]) => {
      const span = make(match as readonly string[]);
      if (span === null) return String(match[0]);
      if (!spans.some((one) => one.from === span.from && one.to === span.to)) spans.push(span);
      return ';';
    });
  }
  return spans;
}

const LIFE = /\b(\d{1,2}) ?-?(YEARS?|YRS?|Y|MONTHS?|MOS?|M)\b/;
const BY = /\b(REPLACE|EXPIRES?|EXP|USE BY|DISCARD|DO NOT USE AFTER|GOOD UNTIL|UNTIL|OUT BY|BEST BEFORE)\b/;
const ANY_WORD = /\b(?:REPLACE|EXP|USE|DISCARD|DO NOT|GOOD|UNTIL|OUT|BEST|MADE|MFG|MFD|MANUFACTURE|BUILT|INSTALL|LIFE)/;
const MADE = /\b(MADE|MFG|MFD|MANUFACTURED?|DATE OF MANUFACTURE|BUILT)\b/;

/** The dates of a label; where it has several, those between the word that counts and the next word. */
function countingDates(text: string, word: RegExpExecArray | null): readonly Span[] {
  const all = readSpans(text);
  if (all.length < 2 || word === null) return all;
  const [own = ''] = text.slice(word.index + word[0].length).split(ANY_WORD);
  const after = readSpans(own);
  return after.length > 0 ? after : all;
}

/** The end of a life that began in a span: counted from its first day, the earliest it can be. */
function dueOf(span: Span, months: number): { readonly text: string; readonly last: PlainDate } {
  const day = addMonths(span.from, months);
  // Made in a year, month unknown: it may have been in January.
  if (span.precision === 'year' && months > 0) return { text: day.slice(0, 4), last: day };
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
  const plain = lifeMatch === null ? upper : upper.replace(lifeMatch[0], ' ').trim();
  const by = BY.exec(plain);
  const made = MADE.exec(plain);
  // `Replace 10 years after the date of manufacture`: a life, not a day to replace it by.
  const isBy = by !== null && !(lifeMatch !== null && made !== null);
  const [span, ...more] = countingDates(plain, isBy ? by : made);
  if (span === undefined)
    return bad(`No date can be read in \`${text.trim()}\`: month and year, such as 2026-11 or NOV 2026.`);
  if (more.length > 0) return bad('Several dates: give the one that counts alone, with its word: made, or replace by.');
  const printed = lifeMatch === null ? null : Number(lifeMatch[1]) * (lifeMatch[2]!.startsWith('Y') ? 12 : 1);
  const months = printed ?? life ?? null;
  const base = { valid: true, from: span.from, to: span.to, ambiguous: span.ambiguous };
  const open = span.ambiguous ? 'Day and month can be read either way.' : null;
  if (isBy) {
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
