/**
 * A tire identification number, or the part of it that can be read, to the week in which the tire was made.
 *
 * Sources: 49 CFR 574.5 (13 symbols since 2015: 3 plant, 6 maker's, 4 date; retreads 7: 3 plant, 4 date); 80 FR 19553
 * (before it the length varied, at most 12: two-symbol plant codes stayed until 13 April 2025); 64 FR 36807 (from three
 * date digits to four: optional from 8 July 1999, mandatory from July 2000). The tire identification rule itself dates
 * from 1971 (from memory).
 */

import type { PlainDate } from '../dates/index.ts';
import { type CodeWeek, codeWeek, weeksInCodeYear } from './week.ts';

export interface TireCode {
  /** False where no date can be read from it or the date cannot be. */
  readonly valid: boolean;
  readonly kind: 'full' | 'partial' | 'retread' | 'date-only' | 'unreadable';
  readonly week: number | null;
  /** Null where the decade is open: see candidates. */
  readonly year: number | null;
  /** The first day on which it can have been made. */
  readonly from: PlainDate | null;
  /** The last day on which it can have been made. */
  readonly to: PlainDate | null;
  readonly ambiguous: boolean;
  /** What is wrong, or what is open; null where there is nothing to say. */
  readonly reason: string | null;
  /** Every week the code can stand for, the latest first. */
  readonly candidates: readonly CodeWeek[];
}

/** The day the rule came into force (from memory): no code is older. */
const FIRST_DAY = '1971-05-22';
/** Three digits ended with June 2000: four were mandatory from July. */
const THREE_DIGITS_LAST_WEEK_2000 = 26;
/** Four digits for these years are seen, though nobody had to mark them so. */
const FOUR_DIGITS_EARLIEST_YEAR = 1990;

function bad(kind: TireCode['kind'], reason: string, week: number | null = null, year: number | null = null): TireCode {
  return { valid: false, kind, week, year, from: null, to: null, ambiguous: false, reason, candidates: [] };
}

function fourDigits(digits: string, kind: TireCode['kind'], today: PlainDate): TireCode {
  const week = Number(digits.slice(0, 2));
  const yearDigits = Number(digits.slice(2));
  if (week < 1 || week > 53) {
    return bad(kind, `There is no week ${digits.slice(0, 2)}: weeks run from 01 to 53.`, week);
  }
  const thisCentury = codeWeek(2000 + yearDigits, week);
  const future = thisCentury === null || thisCentury.from > today;
  const lastCentury = 1900 + yearDigits >= FOUR_DIGITS_EARLIEST_YEAR ? codeWeek(1900 + yearDigits, week) : null;
  const made = future ? lastCentury : thisCentury;
  if (made === null) {
    const year = 2000 + yearDigits;
    const why =
      thisCentury === null && `${year}-01-01` <= today
        ? `${year} has no week 53 by this count (Sunday to Saturday, the first full week is 01).`
        : `Week ${week} of ${year} has not come yet: misread, or not a date.`;
    return bad(kind, why, week, year);
  }
  const early = made.year < 2000;
  const reason = early
    ? `Four digits were not yet required in ${made.year}; possible, but read it again. Made in ${made.year} it is long past any age limit.`
    : null;
  return { valid: true, kind, ...made, ambiguous: false, reason, candidates: [made] };
}

function threeDigits(digits: string, kind: TireCode['kind'], today: PlainDate): TireCode {
  const week = Number(digits.slice(0, 2));
  const yearDigit = Number(digits.slice(2));
  if (week < 1 || week > 53) {
    return bad(kind, `There is no week ${digits.slice(0, 2)}: weeks run from 01 to 53.`, week);
  }
  const years = [2000, 1990, 1980, 1970].map((decade) => decade + yearDigit);
  const candidates = years
    .filter((year) => year <= 2000 && (year < 2000 || week <= THREE_DIGITS_LAST_WEEK_2000))
    .map((year) => codeWeek(year, week))
    .filter((made): made is CodeWeek => made !== null && made.from >= FIRST_DAY && made.from <= today);
  if (candidates.length === 0)
    return bad(kind, `No year of a three-digit code that ends in ${yearDigit} has a week ${week}.`, week);
  const named = candidates.map((made) => made.year).join(', ');
  return {
    valid: true,
    kind,
    week,
    year: candidates.length === 1 ? candidates[0]!.year : null,
    from: candidates.at(-1)!.from,
    to: candidates[0]!.to,
    ambiguous: candidates.length > 1,
    reason: `Three digits were used until mid 2000 and do not tell the decade: ${named}. Any of them is past use.`,
    candidates,
  };
}

/** Which kind of number a text of so many symbols is. */
function kindOf(symbols: string, dateDigits: number): TireCode['kind'] {
  if (symbols.length === 13) return 'full';
  if (symbols.length === dateDigits) return 'date-only';
  return symbols.length === 7 && dateDigits === 4 ? 'retread' : 'partial';
}

/** The last group is three digits and stands apart from a digit of the maker's code: `ABC2 318` is not week 23 of 2018. */
function threeStandAlone(text: string, symbols: string): boolean {
  return symbols.length < 13 && /[A-Z0-9][\s.·•_–—-]+\d{3}\s*$/i.test(text);
}

/**
 * Decodes what is molded into a sidewall: a whole number (`DOT 4B9 XYZ123 2318`), a part of one, or the date alone.
 * Never guesses: a three-digit date stays open by decade, an impossible one is not valid and says why.
 *
 * @param text what can be read; spaces, hyphens and the letters DOT do not matter
 * @param today a date code after this day is a misreading
 * @example decodeTireCode('0109', '2026-11-25') // week 1 of 2009, 2009-01-04 to 2009-01-10
 */
export function decodeTireCode(text: string, today: PlainDate): TireCode {
  const symbols = text
    .toUpperCase()
    .replace(/^\s*DOT/, '')
    .replace(/[\s.·•_–—-]/g, '');
  if (symbols === '') return bad('unreadable', 'Nothing is written here.');
  if (/[^A-Z0-9]/.test(symbols))
    return bad('unreadable', `\`${text.trim()}\` holds signs that no tire carries: letters and digits only.`);
  if (symbols.length > 13)
    return bad('unreadable', `${symbols.length} symbols: a tire identification number has at most 13.`);
  const digits = /\d+$/.exec(symbols)?.[0] ?? '';
  if (digits.length < 3) {
    return bad(
      'unreadable',
      'It does not end in a date (three or four digits). This side may carry no date: read the other sidewall.',
    );
  }
  if (symbols.length === 13 && digits.length < 4) {
    return bad('full', 'A number of 13 symbols ends in a four-digit date; this one does not. Read it again.');
  }
  if (digits.length === 3 || threeStandAlone(text, symbols)) {
    return threeDigits(digits.slice(-3), kindOf(symbols, 3), today);
  }
  const last4 = digits.slice(-4);
  const four = fourDigits(last4, kindOf(symbols, 4), today);
  // A digit of the maker's code may stand right before a three-digit date: `…9 317`.
  const maybeThree = !four.valid && symbols.length > 4 && symbols.length < 12;
  const three = maybeThree ? threeDigits(digits.slice(-3), kindOf(symbols, 3), today) : null;
  return three?.valid === true ? three : four;
}

/** The years of a century span in which a week 53 exists, for tests and help texts. */
export function yearsWithWeek53(first: number, last: number): readonly number[] {
  return Array.from({ length: last - first + 1 }, (_, i) => first + i).filter((year) => weeksInCodeYear(year) === 53);
}
