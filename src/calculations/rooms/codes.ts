/** The decoders as calculations. A code that cannot be is an answer (`valid: false` with its reason), not a failure. */

import * as z from 'zod/mini';
import {
  decodeCylinder,
  decodeLabel,
  decodeTireCode,
  decodeVin,
  TIRE_USES,
  tireAge,
  tireAgeLimits,
  tireAgeSources,
} from '../../codes/index.ts';
import { parseDate } from '../../dates/index.ts';
import { fail, ok } from '../../problem/index.ts';
import { answer, type Calculation, define } from '../calculation.ts';

/** A plain date; its Problem goes with the issue. */
export const dateField = (text: string) =>
  z.string().check(
    z.superRefine((value, context) => {
      const read = parseDate(value);
      if (!read.ok)
        context.addIssue({ code: 'custom', message: read.problems[0]!.what, params: { problem: read.problems[0]! } });
    }),
    z.describe(text),
  );

const today = dateField('the day on which it is read; a code after it is a misreading');
const reason = z
  .nullable(z.string())
  .check(z.describe('what is wrong or left open; null where there is nothing to say'));
const years = z.number().check(z.positive(), z.lte(30));
const date = z.nullable(z.string());
const week = z.strictObject({ week: z.number(), year: z.number(), from: z.string(), to: z.string() });

/** Longer than any code, label or collar. */
const CODE_MOST = 200;

/** Days of reading, later and later. */
const LATER = ['2026-11-25', '2026-12-01', '2027-11-14', '2028-06-01', '2031-05-01', '2032-01-01', '2045-01-01'];

const READ_AGAIN = 'Clean it, light it from the side, read it twice; a wrong digit is a wrong year.';

export const codeCalculations: readonly Calculation[] = [
  define({
    id: 'tire-code',
    title: 'Tire date code',
    room: 'codes',
    summary: 'In which week a tire was made, from what is moulded into its sidewall.',
    input: z.strictObject({
      text: z
        .string()
        .check(
          z.maxLength(CODE_MOST),
          z.describe('the identification number, or what can be read of it: `DOT 4B9 XYZ123 2318`, `2318`'),
        ),
      today,
    }),
    output: answer({
      valid: z.boolean().check(z.describe('false where the code cannot be')),
      kind: z
        .enum(['full', 'partial', 'retread', 'date-only', 'unreadable'])
        .check(z.describe('how much of the number was read')),
      week: z.nullable(z.number()).check(z.describe('week of the year')),
      year: z.nullable(z.number()).check(z.describe('null where the decade is open')),
      from: date.check(z.describe('first day on which it can have been made')),
      to: date.check(z.describe('last day')),
      ambiguous: z.boolean().check(z.describe('more than one year is possible')),
      reason,
      candidates: z.array(week).check(z.describe('every week it can stand for')),
    }),
    cautions: [
      READ_AGAIN,
      'No law of the United States limits a tire’s age; makers advise inspection from 5 years and an end at 6 to 10.',
    ],
    sources: [
      {
        text: '49 CFR 574.5: layout of the number; the rule’s own example 0109 is 4 to 10 January 2009',
        kind: 'regulation',
      },
      { text: '64 FR 36807: three date digits until July 2000, four since', kind: 'regulation' },
      {
        text: '80 FR 19553: 13 symbols since 13 April 2015; two-symbol plant codes until 13 April 2025',
        kind: 'regulation',
      },
    ],
    formula: 'week 01 is the first full Sunday-to-Saturday week of the year',
    range: 'made 1971 to today; three-digit codes stay open by decade',
    envelope: {
      minimum: 'three digits at least at the end of the number; less is unreadable',
      floor: 'the first day of the earliest week the code can stand for',
      reserve: 'a code open by decade stays open, and counts as the oldest',
      ceiling: 'the day of reading: a later week is a misreading',
      rounding: 'three digits that stand alone are never joined to a digit before them',
      laws: [{ input: 'today', worse: LATER, output: 'valid', severer: [false, true] }],
    },
    example: {
      input: { text: '0109', today: '2026-11-25' },
      output: { valid: true, week: 1, year: 2009, from: '2009-01-04', to: '2009-01-10', ambiguous: false },
    },
    run: ({ text, today: day }) => ok(decodeTireCode(text, day)),
  }),
  define({
    id: 'tire-age',
    title: 'How old a tire is',
    room: 'codes',
    summary: 'Age from the date code, judged by the oldest it can be, against the usual limits or your own.',
    input: z.strictObject({
      text: z
        .string()
        .check(z.maxLength(CODE_MOST), z.describe('the identification number, or what can be read of it')),
      today,
      use: z.optional(
        z
          .enum(TIRE_USES)
          .check(z.describe('what it is used as; as an ST tire of a trailer, the strictest, where not given')),
      ),
      advise: z.optional(
        years.check(
          z.describe('your handbook’s years after which a shop looks at it; the shared limit where not given'),
        ),
      ),
      strong: z.optional(years.check(z.describe('your handbook’s years after which renewal is advised; likewise'))),
      stop: z.optional(years.check(z.describe('your handbook’s years at which it is out of use; likewise'))),
    }),
    output: answer({
      yearsMost: z.number().check(z.describe('years since the first day on which it can have been made')),
      yearsLeast: z.number().check(z.describe('years since the last')),
      verdict: z.enum(['young', 'inspect', 'replace-soon', 'stop']).check(z.describe('by the oldest it can be')),
      stopOn: z.string().check(z.describe('day of the last limit')),
    }),
    cautions: [
      'Age is judged besides wear, never instead of it: cracks, bulges or 2/32 in of tread end a tire at any age. The spare ages too.',
    ],
    sources: tireAgeSources().map(({ of, years: age, source }) => ({
      text: `${of} at ${age} years: ${source.title}${source.seen === 'memory' ? ' (from memory)' : ''}`,
      kind: source.kind,
    })),
    formula: 'today − Sunday of the week of the code',
    range: 'codes that can be read; there is no federal limit in the United States',
    envelope: {
      minimum: 'a date code that can be; limits in rising order, 30 years at most',
      floor: 'the strictest use where none is given',
      reserve: 'the day the limit falls on counts as past it',
      ceiling: 'the age at which the tire is out of use',
      rounding: 'from the first day on which it can have been made',
      laws: [
        { input: 'today', worse: LATER, output: 'verdict', severer: ['young', 'inspect', 'replace-soon', 'stop'] },
        { input: 'today', worse: LATER, output: 'yearsMost', severer: 'greater' },
        {
          input: 'text',
          worse: ['4626', '0126', '5225', '0124', '4621', '4620', '0117', '4616', '0101', '317'],
          output: 'verdict',
          severer: ['young', 'inspect', 'replace-soon', 'stop'],
        },
      ],
    },
    example: {
      input: { text: '4621', today: '2026-11-25' },
      output: { yearsMost: 5.03, verdict: 'replace-soon', stopOn: '2027-11-14' },
    },
    run: ({ text, today: day, use, advise, strong, stop }) => {
      const shared = tireAgeLimits(use ?? 'trailer, ST');
      const last = stop ?? Math.max(shared.stop, strong ?? 0, advise ?? 0);
      const soon = strong ?? Math.min(Math.max(shared.strong, advise ?? 0), last);
      const limits = { advise: advise ?? Math.min(shared.advise, soon), strong: soon, stop: last };
      if (!(limits.advise <= limits.strong && limits.strong <= limits.stop)) {
        return fail({
          code: 'codes.age-limits',
          what: 'The limits do not rise.',
          where: 'advise',
          expected: 'advise, strong and stop in rising order',
        });
      }
      const code = decodeTireCode(text, day);
      const age = tireAge(code, day, limits);
      if (age === null)
        return fail({
          code: 'codes.tire-date',
          what: code.reason ?? 'This is no date code.',
          where: 'text',
          expected: 'a date code that can be',
          next: 'Read it again: three or four digits at the end of the number.',
        });
      return ok({
        ...age,
        limitedBy: code.ambiguous ? 'the decade left open by a three-digit code' : 'the week of the code',
      });
    },
  }),
  define({
    id: 'vin-code',
    title: 'Vehicle identification number',
    room: 'codes',
    summary: 'Whether a VIN was read right, and which model years it can mean.',
    input: z.strictObject({ text: z.string().check(z.maxLength(CODE_MOST), z.describe('the 17 characters')), today }),
    output: answer({
      valid: z.boolean().check(z.describe('check digit and characters are right')),
      expected: z.nullable(z.string()).check(z.describe('the check digit that belongs at position 9')),
      years: z.array(z.number()).check(z.describe('model years, the latest first')),
      reason,
      sum: z.nullable(z.number()).check(z.describe('weighted sum of all positions')),
    }),
    cautions: ['A right check digit proves that it was read right, not whose it is.'],
    sources: [
      {
        text: '49 CFR 565.15: values, weights, remainder by 11, position 9, model year at position 10',
        kind: 'regulation',
      },
      { text: 'the 30-year repeat and position 7', kind: 'regulation', tag: 'memory' },
    ],
    formula: 'remainder of Σ value · weight divided by 11; 10 is X',
    range: '17-character numbers, model years from 1980',
    envelope: {
      minimum: '17 characters without I, O and Q',
      floor: 'none',
      reserve: 'both years of a code that repeats after 30 are given',
      ceiling: 'the model year after the day of reading',
      rounding: 'none: one wrong character makes it not valid',
      laws: [],
    },
    example: {
      input: { text: '1J9RP1A36A1644345', today: '2026-11-25' },
      output: { valid: true, expected: '6', years: [2010, 1980], sum: 314 },
    },
    run: ({ text, today: day }) => ok({ ...decodeVin(text, day), cautions: [] }),
  }),
  define({
    id: 'cylinder-code',
    title: 'Gas cylinder requalification',
    room: 'codes',
    summary: 'Until which month a cylinder may be filled, from the stamps on its collar.',
    input: z.strictObject({
      text: z.string().check(z.maxLength(CODE_MOST), z.describe('the stamps, manufacture first: `05-08, 04-21S`')),
      today,
    }),
    output: answer({
      valid: z.boolean().check(z.describe('false where the stamps cannot be')),
      due: z.nullable(z.string()).check(z.describe('last month in which it may be filled, YYYY-MM')),
      rule: z.nullable(z.string()).check(z.describe('which rule gave it')),
      reason,
      made: z.nullable(z.string()).check(z.describe('month of manufacture')),
      requalified: z.nullable(z.string()).check(z.describe('latest requalification')),
      overdue: z.boolean().check(z.describe('may not be filled; may be used up')),
      monthsLeft: z.number().check(z.describe('whole months left')),
    }),
    cautions: [
      'Dents, bulges, fire damage, bad rust, a missing foot ring or collar: no fill, whatever the date (49 CFR 173.301).',
    ],
    sources: [
      { text: '49 CFR 180.205(d), 180.209: 12 years first, then 5 (E), 10 (S), 12 (none)', kind: 'regulation' },
      { text: '85 FR 68790: 12 years again from 30 November 2020', kind: 'regulation' },
      { text: 'letter S for the proof-pressure test', kind: 'regulation', tag: 'memory' },
    ],
    formula: 'latest stamp plus the interval of its kind; the last day of that month counts',
    range: 'DOT 4B, 4BA, 4BW and 4E cylinders in LP-gas service; not tanks built to the ASME code',
    envelope: {
      minimum: 'the date of manufacture; whatever else cannot be read refuses the whole',
      floor: 'past due: no filling',
      reserve: 'a mark without its letter also gives the day of the shortest interval',
      ceiling: '5 years after E, 7 or 10 after S, 12 after none or after manufacture',
      rounding: 'to the last day of the stamped month; whole months left, down',
      laws: [
        { input: 'today', worse: LATER, output: 'overdue', severer: [false, true] },
        { input: 'today', worse: LATER, output: 'monthsLeft', severer: 'lesser' },
        {
          input: 'text',
          worse: ['05-08, 04-21S', '05-08, 04-20S', '05-08, 01-17S', '05-08, 04-21E', '05-08, 04-16E', '05-08'],
          output: 'monthsLeft',
          severer: 'lesser',
        },
      ],
    },
    example: {
      input: { text: '05-08, 04-21S', today: '2026-11-25' },
      output: { valid: true, due: '2031-04', overdue: false },
    },
    run: ({ text, today: day }) => ok({ ...decodeCylinder(text, day), cautions: [] }),
  }),
  define({
    id: 'label-date',
    title: 'Replace-by and made-on labels',
    room: 'codes',
    summary: 'When a detector, extinguisher or regulator is out, from its label.',
    input: z.strictObject({
      text: z
        .string()
        .check(z.maxLength(CODE_MOST), z.describe('the label: `replace by 2026-11`, `made 2016-11, life 10 years`')),
      today,
      lifeMonths: z.optional(
        z
          .number()
          .check(
            z.gte(1),
            z.lte(480),
            z.describe('months of life from its handbook, where the label shows only when it was made'),
          ),
      ),
    }),
    output: answer({
      valid: z.boolean().check(z.describe('false where no date can be read')),
      kind: z.nullable(z.enum(['replace-by', 'made'])).check(z.describe('which date the label shows')),
      from: date.check(z.describe('first day the label can mean')),
      to: date.check(z.describe('last day')),
      due: z.nullable(z.string()).check(z.describe('when it must be out; null where the life is not known')),
      ambiguous: z.boolean().check(z.describe('day and month can be read either way')),
      reason,
      overdue: z.boolean().check(z.describe('past it')),
    }),
    cautions: ['The label’s own limit governs; a detector past it is no detector.'],
    sources: [
      {
        text: 'no standard for the wording of labels; dates counted from the earliest day a label can mean',
        kind: 'common practice',
      },
    ],
    formula: 'date made plus life, or the date printed',
    range: 'years 1900 to 2199',
    envelope: {
      minimum: 'one date, or the one after its word; a part of a longer date is no date',
      floor: 'none',
      reserve: 'a year without its month counts from January',
      ceiling: 'the life printed, or that of the handbook, 40 years at most',
      rounding: 'from the earliest day the label can mean, to the end of that month',
      laws: [
        { input: 'today', worse: LATER, output: 'overdue', severer: [false, true] },
        {
          input: 'text',
          worse: [
            'made 2026-10, life 10 years',
            'made 2016-12, life 10 years',
            'made 2016-11, life 10 years',
            'made 2016, life 10 years',
            'made 2016-11, life 7 years',
            'made 2010-01, life 10 years',
          ],
          output: 'overdue',
          severer: [false, true],
        },
      ],
    },
    example: {
      input: { text: 'made 2016-11, life 10 years', today: '2026-11-25' },
      output: { valid: true, kind: 'made', due: '2026-11', overdue: false },
    },
    run: ({ text, today: day, lifeMonths }) => ok({ ...decodeLabel(text, day, lifeMonths), cautions: [] }),
  }),
];
