/** Codes against the regulations' own examples, handbooks and published samples. */

import { describe, expect, it } from 'vitest';
import { decodeCylinder, decodeLabel, decodeTireCode, decodeVin, yearsWithWeek53 } from '../../src/codes/index.ts';
import { table } from '../support/table.ts';

const TODAY = '2026-11-25';

describe('tire date codes', () => {
  it('49 CFR 574.5, the rule’s own example: 0109 is 4 to 10 January 2009', () => {
    expect(decodeTireCode('0109', TODAY)).toMatchObject({
      valid: true,
      week: 1,
      year: 2009,
      from: '2009-01-04',
      to: '2009-01-10',
    });
  });

  it('owner handbooks and owner-club posts: week and year', () => {
    // A van maker's manual of 2006 (0301), a car maker's owner page (2501), an owner-club post (3500).
    expect(decodeTireCode('0301', TODAY)).toMatchObject({ week: 3, year: 2001 });
    expect(decodeTireCode('2501', TODAY)).toMatchObject({ week: 25, year: 2001 });
    expect(decodeTireCode('3500', TODAY)).toMatchObject({ week: 35, year: 2000 });
  });

  it('three digits: 317 as 1997 (a car maker’s page), 439 as 1999 (owner club), 031 as 1981 or 1991 (a van maker’s manual)', () => {
    const years = (code: string) => decodeTireCode(code, TODAY).candidates.map((made) => made.year);
    expect(years('317')).toContain(1997);
    expect(years('439')).toContain(1999);
    expect(years('031')).toEqual([1991, 1981]);
    for (const code of ['317', '439', '031'])
      expect(decodeTireCode(code, TODAY)).toMatchObject({ ambiguous: true, year: null });
  });

  it('3197 as week 31 of 1997 (an RV maker’s page): possible, flagged', () => {
    expect(decodeTireCode('3197', TODAY)).toMatchObject({ valid: true, week: 31, year: 1997 });
    expect(decodeTireCode('3197', TODAY).reason).not.toBeNull();
  });

  it('436 was never 2006: three digits ended in 2000', () => {
    expect(decodeTireCode('436', TODAY).candidates.map((made) => made.year)).toEqual([1996, 1986, 1976]);
  });
});

describe('vehicle identification numbers', () => {
  const published = table('vin-check').filter((row) => row.source?.includes('excerpt'));
  it.each(published.map((row) => [row.vin!, row] as const))(
    '%s (49 CFR 565 sample, NHTSA example, textbook)',
    (vin, row) => {
      expect(decodeVin(vin, TODAY)).toMatchObject({
        valid: true,
        expected: row.expected_check_char,
        sum: Number(row.weighted_sum),
      });
    },
  );

  it('eleven ones and six, a well-known test number (from memory)', () => {
    expect(decodeVin('11111111111111111', TODAY)).toMatchObject({ valid: true, expected: '1', sum: 89 });
  });
});

describe('our own arithmetic, not an outside check: codes', () => {
  it.each(table('tin-date-cases').map((row) => [row.code!, row] as const))('week of %s', (code, row) => {
    expect(decodeTireCode(code, TODAY)).toMatchObject({
      valid: true,
      week: Number(row.week),
      year: Number(row.year),
      from: row.week_start_sunday,
      to: row.week_end_saturday,
    });
  });

  it('years with 53 weeks, invalid weeks', () => {
    expect(yearsWithWeek53(1972, 2040)).toEqual([
      1972, 1978, 1984, 1989, 1995, 2000, 2006, 2012, 2017, 2023, 2028, 2034, 2040,
    ]);
    for (const code of ['5300', '5306', '5312', '5317', '5323']) expect(decodeTireCode(code, TODAY).valid).toBe(true);
    expect(decodeTireCode('5328', '2029-06-01').valid).toBe(true);
    for (const code of ['0012', '5412']) expect(decodeTireCode(code, TODAY).valid).toBe(false);
  });

  it.each(
    table('vin-check')
      .filter((row) => row.source?.includes('computed'))
      .map((row) => [row.vin!, row] as const),
  )('altered VIN %s', (vin, row) => {
    const read = decodeVin(vin, TODAY);
    expect(read.valid).toBe(false);
    expect(read.expected).toBe(row.expected_check_char === '' ? null : row.expected_check_char);
  });

  it.each([
    ['mfg 06-14', '2026-06', true, 0],
    ['mfg 03-15', '2027-03', false, 4],
    ['mfg 05-08, 04-21S', '2031-04', false, 53],
    ['mfg 05-08, 04-21', '2033-04', false, 77],
    ['mfg 09-12, 08-19 S', '2029-08', false, 33],
  ])('cylinder %s is due %s', (text, due, overdue, monthsLeft) => {
    expect(decodeCylinder(text, TODAY)).toMatchObject({ valid: true, due, overdue, monthsLeft });
  });

  it.each([
    ['made 2016-11, life 10 years', '2026-11'],
    ['made 2020-02, 7 y', '2027-02'],
    ['made 2021-12, 5 y', '2026-12'],
    ['made 2014, life 12 years', '2026'],
    ['made 2019, life 6 years', '2025'],
    ['made 2019, life 12 years', '2031'],
  ])('label %s is out %s', (text, due) => expect(decodeLabel(text, TODAY)).toMatchObject({ valid: true, due }));
});
