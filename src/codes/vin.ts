/**
 * A vehicle identification number: check digit and model year.
 *
 * Source: 49 CFR 565.15: 17 characters without I, O, Q; letter values, position weights and the remainder by 11 at
 * position 9 (10 is X); model year at position 10, which repeats every 30 years. Position 7 tells the 30 years apart only on
 * passenger cars and light trucks, never on a trailer (from memory), so both years are given.
 */

import { type PlainDate, yearOf } from '../dates/index.ts';

export interface VinCode {
  readonly valid: boolean;
  /** The check digit that belongs at position 9; null where the number is malformed. */
  readonly expected: string | null;
  /** The model years position 10 can mean, the latest first. */
  readonly years: readonly number[];
  readonly reason: string | null;
  /** Weighted sum of all positions; null where the number is malformed. */
  readonly sum: number | null;
}

const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2] as const;
const LETTER_VALUES: Readonly<Record<string, number>> = {
  A: 1,
  B: 2,
  C: 3,
  D: 4,
  E: 5,
  F: 6,
  G: 7,
  H: 8,
  J: 1,
  K: 2,
  L: 3,
  M: 4,
  N: 5,
  P: 7,
  R: 9,
  S: 2,
  T: 3,
  U: 4,
  V: 5,
  W: 6,
  X: 7,
  Y: 8,
  Z: 9,
};
/** In the order of the model years from 1980 on; I, O, Q, U, Z and 0 are not used. */
const YEAR_CODES = 'ABCDEFGHJKLMNPRSTVWXY123456789';

function malformed(reason: string): VinCode {
  return { valid: false, expected: null, years: [], reason, sum: null };
}

/** The model years a code at position 10 can stand for, not later than the year after this one; the latest first. */
export function modelYears(code: string, today: PlainDate): readonly number[] {
  const index = YEAR_CODES.indexOf(code);
  if (index < 0) return [];
  return [2040 + index, 2010 + index, 1980 + index].filter((year) => year <= yearOf(today) + 1);
}

/**
 * Checks a VIN and reads its model year.
 *
 * @example decodeVin('1J9RP1A36A1644345', '2026-11-25') // valid, years [2010, 1980]
 */
export function decodeVin(text: string, today: PlainDate): VinCode {
  const vin = text.toUpperCase().replace(/[\s-]/g, '');
  const strange = /[IOQ]/.exec(vin);
  if (strange !== null)
    return malformed(
      `The letter ${strange[0]} is never used in a VIN: it is a ${strange[0] === 'I' ? '1' : '0'}, or misread.`,
    );
  if (/[^A-Z0-9]/.test(vin)) return malformed('A VIN holds letters and digits only.');
  if (vin.length !== 17)
    return malformed(`${vin.length} characters: a VIN has 17 (before 1981 it may be shorter and has no check digit).`);
  const sum = [...vin].reduce((total, sign, i) => total + (LETTER_VALUES[sign] ?? Number(sign)) * WEIGHTS[i]!, 0);
  const expected = sum % 11 === 10 ? 'X' : String(sum % 11);
  const years = modelYears(vin[9]!, today);
  const actual = vin[8]!;
  if (actual !== expected) {
    return {
      valid: false,
      expected,
      years,
      reason: `Position 9 is ${actual}; the other characters ask for ${expected}: at least one is misread.`,
      sum,
    };
  }
  if (years.length === 0)
    return { valid: false, expected, years, reason: `Position 10 is ${vin[9]}, which no model year uses.`, sum };
  const open = years.length > 1 ? `The year code repeats every 30 years: ${years.join(' or ')}.` : null;
  return { valid: true, expected, years, reason: open, sum };
}
