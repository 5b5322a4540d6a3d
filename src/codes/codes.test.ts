import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  codeWeek,
  decodeCylinder,
  decodeLabel,
  decodeTireCode,
  decodeVin,
  TIRE_USES,
  type TireUse,
  tireAge,
  tireAgeLimits,
  tireAgeSources,
  yearsWithWeek53,
} from './index.ts';

const TODAY = '2026-11-25';

describe('tire codes', () => {
  it('reads whole, partial and old numbers', () => {
    expect(decodeTireCode('DOT 4B9 XYZ123 2318', TODAY)).toMatchObject({
      valid: true,
      kind: 'full',
      week: 23,
      year: 2018,
    });
    expect(decodeTireCode('dot u2ll-lmlr-5107', TODAY)).toMatchObject({
      valid: true,
      kind: 'partial',
      week: 51,
      year: 2007,
    });
    expect(decodeTireCode('B1C3520', TODAY)).toMatchObject({ valid: true, kind: 'retread', week: 35, year: 2020 });
    expect(decodeTireCode('EJ8J DFM 408', TODAY)).toMatchObject({
      valid: true,
      kind: 'partial',
      week: 40,
      year: null,
      ambiguous: true,
    });
  });

  it('refuses what cannot be, and says why', () => {
    for (const code of ['0012', '5412', '3127', '5324', 'ABCD', '', '12', '00', '#318', '4B9XYZ1232318X']) {
      const read = decodeTireCode(code, TODAY);
      expect(read.valid).toBe(false);
      expect(read.reason).toBeTruthy();
    }
    expect(decodeTireCode('4926', TODAY).reason).toContain('not come');
    expect(decodeTireCode('5324', TODAY).reason).toContain('no week 53');
    expect(decodeTireCode('U2LLLMLR', TODAY).reason).toContain('other sidewall');
  });

  it('never takes a maker’s digit before three of its own for a young week', () => {
    // Week 31 of a year that ends in 8, not week 23 of 2018.
    expect(decodeTireCode('DOT XX YY ABC2 318', TODAY)).toMatchObject({ week: 31, year: null, ambiguous: true });
    expect(decodeTireCode('DOT XX YY ABC2318', TODAY)).toMatchObject({ week: 23, year: 2018 });
    expect(decodeTireCode('4B9 XYZ123 2318', TODAY)).toMatchObject({ week: 23, year: 2018 });
  });

  it('keeps a three-digit code open by decade', () => {
    expect(decodeTireCode('317', TODAY)).toMatchObject({ valid: true, week: 31, year: null, ambiguous: true });
    expect(decodeTireCode('317', TODAY).candidates.map((made) => made.year)).toEqual([1997, 1987, 1977]);
    expect(decodeTireCode('100', TODAY).candidates.map((made) => made.year)).toEqual([2000, 1990, 1980]);
    expect(decodeTireCode('350', TODAY).candidates.map((made) => made.year)).toEqual([1990, 1980]);
  });

  it('flags four digits from before they were required', () => {
    expect(decodeTireCode('3197', TODAY)).toMatchObject({ valid: true, week: 31, year: 1997 });
    expect(decodeTireCode('3197', TODAY).reason).toContain('1997');
  });

  it('always gives a Sunday to a Saturday inside reach of the year', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1971, max: 2099 }), fc.integer({ min: 1, max: 53 }), (year, week) => {
        const made = codeWeek(year, week);
        expect(made === null ? week : 53).toBe(53);
        expect(made?.from.slice(0, 4) ?? String(year)).toBe(String(year));
      }),
    );
    expect(yearsWithWeek53(1972, 2040)).toEqual([
      1972, 1978, 1984, 1989, 1995, 2000, 2006, 2012, 2017, 2023, 2028, 2034, 2040,
    ]);
  });

  it('judges age by the oldest a tire can be', () => {
    const age = (code: string, use: TireUse) => tireAge(decodeTireCode(code, TODAY), TODAY, tireAgeLimits(use));
    // Honda owner's manual: a yearly look from five years, out at ten.
    expect(age('4621', 'tow vehicle')).toMatchObject({ verdict: 'inspect', stopOn: '2031-11-14' });
    expect(age('317', 'tow vehicle')?.verdict).toBe('stop');
    expect(age('0125', 'tow vehicle')?.verdict).toBe('young');
    // Jaguar owner information: renewed at six.
    expect(age('0120', 'tow vehicle')?.verdict).toBe('replace-soon');
    expect(age('9999', 'tow vehicle')).toBeNull();
    // Common practice, no source: ST tires off at five to six years.
    expect(age('4621', 'trailer, ST')).toMatchObject({ verdict: 'replace-soon', stopOn: '2027-11-14' });
    expect(age('0120', 'trailer, ST')?.verdict).toBe('stop');
    expect(age('0120', 'trailer, LT')?.verdict).toBe('replace-soon');
  });

  it('has no use of a tire that lasts longer than the ten years at which makers end them, and names every source', () => {
    for (const use of TIRE_USES) {
      const { advise, strong, stop } = tireAgeLimits(use);
      expect(advise <= strong && strong < stop && stop <= 10).toBe(true);
      expect(stop).toBeGreaterThanOrEqual(tireAgeLimits('trailer, ST').stop);
    }
    for (const { source } of tireAgeSources()) expect(source.title).not.toBe('');
  });
});

describe('VINs', () => {
  it('names the model years a code can mean', () => {
    expect(decodeVin('1J9RP1A36A1644345', TODAY)).toMatchObject({ valid: true, years: [2010, 1980] });
    expect(decodeVin('1m8gdm9axkp042788', TODAY)).toMatchObject({ valid: true, expected: 'X', years: [2019, 1989] });
    expect(decodeVin('11111111111111111', TODAY).years).toEqual([2001]);
  });

  it('finds any single wrong character but those of equal value', () => {
    const vin = '1G4AH59H45G118341';
    for (let i = 0; i < 17; i++) {
      for (const sign of '0123456789') {
        if (i === 8 || sign === vin[i] || /[A-Z]/.test(vin[i]!)) continue;
        expect(decodeVin(vin.slice(0, i) + sign + vin.slice(i + 1), TODAY).valid).toBe(false);
      }
    }
  });
});

describe('cylinders', () => {
  it('reads stamps in the forms they are found in', () => {
    expect(decodeCylinder('mfg 05-08, 04-21S', TODAY)).toMatchObject({
      valid: true,
      due: '2031-04',
      requalified: '2021-04',
    });
    expect(decodeCylinder('05 08 04 A123 21 S', TODAY)).toMatchObject({ due: '2031-04' });
    expect(decodeCylinder('05/2008 04/2021 E', TODAY)).toMatchObject({ due: '2026-04', overdue: true });
    expect(decodeCylinder('10 89', TODAY)).toMatchObject({ made: '1989-10', due: '2001-10', overdue: true });
    expect(decodeCylinder('09-06, 06-15S', TODAY)).toMatchObject({ due: '2022-06' });
  });

  it('reads past weights and the specification, and takes no weight for a date', () => {
    // `9 12` of the tare and the date used to read as September 2012.
    expect(decodeCylinder('TW 17.9 12-08', TODAY)).toMatchObject({ made: '2008-12', due: '2020-12', overdue: true });
    expect(decodeCylinder('DOT-4BA-240 TW 17.0 WC 47.6 05-08 04-23E', TODAY)).toMatchObject({
      made: '2008-05',
      requalified: '2023-04',
      due: '2028-04',
    });
    for (const text of ['05-08 serial 12345', '17.9 12-08', '05-08, 4'])
      expect(decodeCylinder(text, TODAY)).toMatchObject({ valid: false, due: null });
  });

  it('says by when a cylinder is due if an E is worn away', () => {
    expect(decodeCylinder('05-08, 04-21', TODAY)).toMatchObject({ due: '2033-04' });
    expect(decodeCylinder('05-08, 04-21', TODAY).reason).toContain('2026-04');
    expect(decodeCylinder('05-18', TODAY).reason).toBeNull();
  });

  it('refuses what cannot be', () => {
    for (const text of ['', '13-08', '05-08, 04-21X', '12-26', 'ASME tank', '05-08, 04-05S', '04-21S']) {
      expect(decodeCylinder(text, TODAY)).toMatchObject({ valid: false, due: null });
    }
  });
});

describe('labels', () => {
  it.each<[string, string | null, boolean]>([
    ['Replace by 2026-11', '2026-11', false],
    ['REPLACE BY OCT 2026', '2026-10', true],
    ['exp. 11/2027', '2027-11', false],
    ['made 2016-11, life 10 years', '2026-11', false],
    ['MFG MAR 2019 7 y', '2026-03', true],
    ['made 2020-02 life 84 months', '2027-02', false],
    // Made in 2014, month unknown: it may have been January.
    ['2014 life 12 years', '2026', true],
    ['2015 life 12 years', '2027', false],
    ['MADE 12 NOV 2020', null, false],
  ])('%s is due %s', (text, due, overdue) =>
    expect(decodeLabel(text, TODAY)).toMatchObject({ valid: true, due, overdue }),
  );

  it.each<[string, string, string | null, boolean]>([
    ['MADE 2016-03 REPLACE BY 2026-03', 'replace-by', '2026-03', true],
    ['REPLACE BY 2027-03 MADE 2016-03', 'replace-by', '2027-03', false],
    // The day of installation is no date of manufacture.
    ['INSTALLED 2020-05 MFG 2016-10 life 10 years', 'made', '2026-10', true],
    ['Replace 10 years after date of manufacture: Nov 2016', 'made', '2026-11', false],
    ['made 04/05/19, life 7 years', 'made', '2026-04', true],
    ['replace by 04/05/29', 'replace-by', '2029-04', false],
    ['made 2016/11/05 life 10 yr', 'made', '2026-11', false],
  ])('%s: %s, due %s', (text, kind, due, overdue) =>
    expect(decodeLabel(text, TODAY)).toMatchObject({ valid: true, kind, due, overdue }),
  );

  it.each([
    '2016-11 2018-12',
    'made 02/30/2019',
    'replace by 02/30/2029',
    'replace by 13/2027',
    'exp 2027-13',
    'life 10 years',
  ])('refuses %s rather than read a part of it', (text) =>
    expect(decodeLabel(text, TODAY)).toMatchObject({ valid: false, due: null, overdue: false }),
  );

  it('takes a life known from elsewhere, and says what is open', () => {
    expect(decodeLabel('02/2020', TODAY, 84)).toMatchObject({ due: '2027-02' });
    expect(decodeLabel('made 04/05/2019', TODAY)).toMatchObject({
      ambiguous: true,
      from: '2019-04-05',
      to: '2019-05-04',
    });
    expect(decodeLabel('2030-01', TODAY)).toMatchObject({ valid: false });
    expect(decodeLabel('no date', TODAY)).toMatchObject({ valid: false });
  });
});
