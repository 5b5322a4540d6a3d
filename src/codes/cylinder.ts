/**
 * The stamps on an LP-gas cylinder's collar to the month in which it must be requalified before it is filled again.
 *
 * Sources: 49 CFR 180.205(d), 180.209: the first requalification 12 years after manufacture; after an external visual
 * inspection (mark E) 5 years; after a proof-pressure test (mark S) 10 years, 7 before 23 January 2017; after a
 * volumetric-expansion test (no letter) 12 years: 10 from 23 January 2017, 12 again from 30 November 2020 (85 FR 68790).
 * The last day of the stamped month counts. Only for DOT 4B, 4BA, 4BW and 4E cylinders in LP-gas service: tanks built to
 * the ASME code and bolted to a vehicle have no date to requalify by.
 */

import { addMonths, monthRange, monthsBetween, type PlainDate } from '../dates/index.ts';
import { unwrap } from '../problem/index.ts';

export interface CylinderCode {
  readonly valid: boolean;
  /** `YYYY-MM`; filled until the last day of that month. */
  readonly due: string | null;
  /** Which rule gave it, in words. */
  readonly rule: string | null;
  readonly reason: string | null;
  /** Month of manufacture, `YYYY-MM`. */
  readonly made: string | null;
  /** The latest requalification, `YYYY-MM`. */
  readonly requalified: string | null;
  /** May not be filled on this day; may still be used up. */
  readonly overdue: boolean;
  /** Whole months left, 0 where overdue. */
  readonly monthsLeft: number;
}

interface Stamp {
  readonly month: string;
  readonly letter: '' | 'E' | 'S';
}

/** The proof-pressure interval went from 7 to 10 years on 23 January 2017; a stamp of that month is taken as the earlier rule. */
const TEN_YEARS_AFTER = '2017-01';

const STAMP =
  /(?<!\d)(\d{1,2})\s*[-/. ]?\s*(?:([A-Z][A-Z0-9]{3})\s*[-/. ]?\s*)?((?:19|20)\d{2}|\d{2})\s*([A-Z]?)(?![A-Z0-9])/g;

const VISUAL_YEARS = 5;

/** What else is stamped on a collar beside dates: weights, the specification, pressures. */
const WEIGHT = /\b(?:T\.? ?W\.?|W\.? ?C\.?|TARE)[:=\s]*\d+(?:[.,]\d+)?\s*(?:LBS?|KG)?\b/g;
const SPECIFICATION = /\b(?:DOT|ICC|CTC|TC)?[-\s]?4(?:BA|BW|B|E)[-\s]?\d{3}\b/g;
const WORDS = /\b(MFG|MFD|MADE|REQUALIFIED|REQUAL|RETEST|REQ|DATE|DOT|AND|THEN)\b\.?:?/g;

function bad(reason: string): CylinderCode {
  return { valid: false, due: null, rule: null, reason, made: null, requalified: null, overdue: false, monthsLeft: 0 };
}

function readStamps(text: string, today: PlainDate): readonly Stamp[] | string {
  const stamps: Stamp[] = [];
  const rest = text
    .replace(STAMP, ' ')
    .replace(/[\s,;:()/-]+/g, ' ')
    .trim();
  if (/[A-Z0-9]/.test(rest))
    return `\`${rest}\` is no date stamp: give only the dates, month and year, each with its letter.`;
  for (const [whole, monthText = '', , yearText = '', letter = ''] of text.matchAll(STAMP)) {
    const month = Number(monthText);
    if (month < 1 || month > 12)
      return `There is no month ${monthText} (in \`${whole.trim()}\`): stamps read month, then year.`;
    if (letter !== '' && letter !== 'E' && letter !== 'S') {
      return `The letter ${letter} after \`${whole.trim()}\` is no mark we know for an LP-gas cylinder: E (visual), S (proof pressure) or none.`;
    }
    const short = Number(yearText);
    const year =
      yearText.length === 4 ? short : 2000 + short <= Number(today.slice(0, 4)) ? 2000 + short : 1900 + short;
    stamps.push({ month: `${year}-${String(month).padStart(2, '0')}`, letter: letter as Stamp['letter'] });
  }
  return stamps;
}

/** The years a stamp is good for, and the rule in words. */
function interval(stamp: Stamp, first: boolean): { readonly years: number; readonly rule: string } {
  if (first) return { years: 12, rule: 'first requalification 12 years after manufacture (49 CFR 180.205, 180.209)' };
  if (stamp.letter === 'E')
    return { years: VISUAL_YEARS, rule: '5 years after a visual inspection, mark E (49 CFR 180.209(g))' };
  if (stamp.letter === '') {
    return {
      years: 12,
      rule: '12 years after a volumetric-expansion test, no letter (49 CFR 180.209, since 30 November 2020)',
    };
  }
  return stamp.month > TEN_YEARS_AFTER
    ? { years: 10, rule: '10 years after a proof-pressure test, mark S (49 CFR 180.209(e), since 23 January 2017)' }
    : {
        years: 7,
        rule: '7 years after a proof-pressure test before 23 January 2017, mark S (49 CFR 180.209(e) as it stood)',
      };
}

/**
 * Reads the date stamps of a collar: the date of manufacture first, then every requalification.
 *
 * @param text `05-08, 04-21S`, `10 89`, `05 08 04 A123 21 S`
 * @param today stamps after this day are misread
 * @example decodeCylinder('05-08, 04-21S', '2026-11-25') // due 2031-04
 */
export function decodeCylinder(text: string, today: PlainDate): CylinderCode {
  const upper = text.toUpperCase();
  if (/\bASME\b/.test(upper)) {
    return bad(
      'A tank built to the ASME code has a name plate and no requalification date; have it and its relief valve looked at by a gas fitter.',
    );
  }
  const stamps = readStamps(upper.replace(WEIGHT, ' ').replace(SPECIFICATION, ' ').replace(WORDS, ' '), today);
  if (typeof stamps === 'string') return bad(stamps);
  const [made, ...later] = stamps;
  if (made === undefined) return bad('No date stamp found: month and two-digit year, such as 05-08, on the collar.');
  const latest = later.reduce((best, stamp) => (stamp.month > best.month ? stamp : best), made);
  if (latest.month > today.slice(0, 7)) return bad(`The stamp ${latest.month} lies in the future: misread.`);
  if (made.letter !== '') return bad('The first stamp must be the date of manufacture, which carries no letter.');
  if (later.some((stamp) => stamp.month < made.month))
    return bad('A requalification before the date of manufacture: misread, or in the wrong order.');
  const { years, rule } = interval(latest, later.length === 0);
  const visual = addMonths(`${latest.month}-01`, VISUAL_YEARS * 12).slice(0, 7);
  const due = addMonths(`${latest.month}-01`, years * 12).slice(0, 7);
  const lastDay = unwrap(monthRange(due)).to;
  const overdue = today > lastDay;
  return {
    valid: true,
    due,
    rule,
    reason: overdue
      ? 'Past due: it may be used up, it may not be filled.'
      : later.length > 0 && latest.letter === ''
        ? `No letter means a volumetric test. Most cylinders get a visual inspection: if an E may be worn away, it is due ${visual}.`
        : null,
    made: made.month,
    requalified: later.length === 0 ? null : latest.month,
    overdue,
    monthsLeft: overdue ? 0 : monthsBetween(today, lastDay),
  };
}
