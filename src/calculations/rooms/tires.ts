/** The calculations of the tires room: what a tire carries and at which pressure. */

import * as z from 'zod/mini';
import { limitSource, limitWords } from '../../catalog/index.ts';
import {
  AXLE_LOAD,
  COLD_PRESSURE,
  LOAD_RANGES,
  TIRE_FAMILIES,
  tireLoad,
  tireMargins,
  tirePressureFor,
  WHEEL_LOAD,
} from '../../tires/index.ts';
import { answer, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';
import { RATINGS } from './loads.ts';

const rated = z.strictObject({
  load: q('mass', 'maximum load of one tire', WHEEL_LOAD),
  pressure: q('pressure', 'at this cold pressure', COLD_PRESSURE),
});

/** A tire as its sidewall names it. */
export const tireFields = {
  size: z.string().check(z.describe('size as moulded: `ST225/75R15`')),
  family: z.enum(TIRE_FAMILIES).check(z.describe('letters before the size; LT-bias for older bias truck tires')),
  loadRange: z
    .string()
    .check(
      z.describe(`letter after LOAD RANGE: ${LOAD_RANGES.join(' ')}; others only with their sidewall, so SL and XL`),
    ),
  fitment: z.optional(z.enum(['single', 'dual']).check(z.describe('single where not given'))),
  sidewall: z.optional(rated.check(z.describe('maximum load and pressure of the sidewall; outranks every table'))),
  rows: z.optional(z.array(rated).check(z.describe('rows of the tire maker’s own table; outrank ours'))),
  ratedFor: z.optional(
    z
      .enum(['single', 'dual'])
      .check(z.describe('what the loads of `sidewall` and `rows` are for; one tire alone where not given')),
  ),
  wheel: z.optional(
    z
      .strictObject({
        load: z.optional(q('mass', 'the most the wheel carries', WHEEL_LOAD)),
        pressure: z.optional(q('pressure', 'highest cold pressure of wheel and valve', COLD_PRESSURE)),
      })
      .check(z.describe('as stamped on the wheel; the answer is held under it')),
  ),
  vehicle: z.optional(
    z
      .enum(['trailer', 'truck', 'car'])
      .check(z.describe('a P tire counts for less on anything but a car; trailer where not given')),
  ),
};

const TABLE_SOURCES: readonly CalculationSource[] = [
  {
    text: 'tire makers’ load and inflation charts, row by row in src/tires/tables/load-inflation.ts',
    kind: 'handbook',
  },
  {
    text: 'Tire and Rim Association load formula: exponents 0.585 (ST, bias) and 0.70 (LT), confirmed by fits to published rows',
    kind: 'standard',
    tag: 'memory',
  },
  {
    text: '49 CFR 571.120 S5.1.2: a passenger tire on a trailer counts for its rating divided by 1.10',
    kind: 'regulation',
  },
  {
    text: 'one tire of a pair: the least share of its single load that any published row of a pair shows (LT 0.903, bias 0.876)',
    kind: 'handbook',
  },
  {
    text: 'no rating above the load index table (ISO 4000-1, ETRTO) for its kind, nor a fifth above the Tire and Rim Association load formula for its size; which index each kind reaches is',
    kind: 'standard',
    tag: 'memory',
  },
];
const RESERVE: CalculationSource = {
  text: `a reserve of ${limitWords('tire-reserve-least')} of the rating: ${limitSource('tire-reserve-least').title.toLowerCase()}`,
  kind: 'common practice',
};
const LABEL: CalculationSource = {
  text: 'the cold pressure of the vehicle’s label (49 CFR 571.110 S4.3)',
  kind: 'regulation',
  tag: 'memory',
};
const PLACARD = 'The trailer’s placard, the sidewall and the tire maker’s table outrank this.';
/** Said wherever a cold pressure is. */
export const COLD = 'Cold means not driven for three hours or under a mile; never bleed a hot tire.';
const basis = (text: string) => ({ basis: z.string().check(z.describe(text)) });

const margin = z.strictObject({
  place: z.string(),
  load: out('mass', 'load'),
  rated: out('mass', 'rating at its pressure'),
  margin: out('mass', 'rating less load'),
  share: out('ratio', 'margin as a share of the rating'),
});

export const tireCalculations: readonly Calculation[] = [
  define({
    id: 'tire-load',
    title: 'What a tire carries at a pressure',
    room: 'tires',
    summary: 'The load one tire may carry at its cold gauge pressure.',
    input: z.strictObject({ ...tireFields, pressure: q('pressure', 'cold gauge pressure', COLD_PRESSURE) }),
    output: answer({
      load: out('mass', 'what one tire may carry'),
      ...basis('table, between-rows, or below-table'),
    }),
    cautions: [PLACARD, COLD],
    sources: TABLE_SOURCES,
    formula:
      'published row; between rows load · (p/p_row)^n from both sides, the smaller, less 1 %; never above the last row; below the first a straight line to zero',
    range: 'sizes in the table, or any with its sidewall or its maker’s rows',
    envelope: {
      minimum:
        'a pressure from half of the lowest row upward; less is a flat tire and carries nothing that can be named',
      floor: 'below the lowest row a straight line to zero, under every published table, and said to be no rating',
      reserve: 'none: a rating, not a load to aim at',
      ceiling:
        'the last row of the load range, the sidewall and the wheel; what is entered, the load index table of its kind and a tenth above the published rows',
      rounding: 'down: between rows the smaller of two laws, less 1 %; a pair by the least published share',
      laws: [
        { input: 'pressure', worse: 'less', output: 'load', severer: 'lesser' },
        { input: 'fitment', worse: ['single', 'dual'], output: 'load', severer: 'lesser' },
        { input: 'loadRange', worse: ['E', 'D', 'C', 'B'], output: 'load', severer: 'lesser' },
      ],
    },
    example: {
      input: { size: 'ST225/75R15', family: 'ST', loadRange: 'D', pressure: '65 psi' },
      output: { load: { value: 2540, unit: 'lb' }, basis: 'table' },
    },
    run: tireLoad,
  }),
  define({
    id: 'tire-pressure-for',
    title: 'The pressure a load needs',
    room: 'tires',
    summary: 'The cold pressure to set for the load on the heaviest wheel of an axle.',
    input: z.strictObject({
      ...tireFields,
      load: q('mass', 'load on this wheel', WHEEL_LOAD),
      labelPressure: z.optional(
        q(
          'pressure',
          'cold pressure of the vehicle’s label, for this size; the answer never goes under it',
          COLD_PRESSURE,
        ),
      ),
    }),
    output: answer({
      pressure: out('pressure', 'cold pressure to set'),
      ...basis('table, between-rows, lowest-row, or label'),
      pressureLeast: out('pressure', 'the least that carries the load at all; under it the tire is not to be used'),
      loadAtPressure: out('mass', 'what the tire may carry there'),
      margin: out('mass', 'that less the load'),
      reserve: out('ratio', 'the margin as a share of what it may carry'),
      reserveKept: z.boolean().check(z.describe('no: less is left than the usual reserve; a limit')),
      floor: z.enum(['label', 'table']).check(z.describe('what the pressure is not allowed to fall under')),
      pressureMax: out('pressure', 'the highest cold pressure of this tire'),
    }),
    cautions: [PLACARD, COLD],
    sources: [...TABLE_SOURCES, LABEL, RESERVE],
    formula:
      'the first published row that carries load/(1 − reserve); between rows far apart the law, rounded up to 5 psi; never under the label or the first row, never over sidewall, wheel or load range',
    range: 'loads up to the last row; no pressure below the first row is named',
    envelope: {
      minimum: 'a load above zero, from the heaviest wheel of the axle',
      floor: 'the label’s cold pressure; where it is not given the first row of the table, and the answer says so',
      reserve: 'a tenth of the rating; given up before a maximum is passed, and then said to be a limit',
      ceiling: 'sidewall, wheel and load range; a load above the last row is refused, a label above them too',
      rounding: 'up: to the next row, or to 5 psi between rows far apart',
      laws: [
        { input: 'load', worse: 'more', output: 'pressure', severer: 'greater' },
        { input: 'load', worse: 'more', output: 'pressureLeast', severer: 'greater' },
        { input: 'labelPressure', worse: 'more', output: 'pressure', severer: 'greater' },
        { input: 'wheel.pressure', worse: 'less', output: 'reserve', severer: 'lesser' },
        { input: 'fitment', worse: ['single', 'dual'], output: 'pressure', severer: 'greater' },
      ],
    },
    example: {
      input: {
        size: 'ST225/75R15',
        family: 'ST',
        loadRange: 'D',
        load: '2,020 lb',
        labelPressure: '50 psi',
        wheel: { pressure: '65 psi', load: '2,540 lb' },
      },
      output: {
        pressure: { value: 55, unit: 'psi' },
        basis: 'table',
        pressureLeast: { value: 50, unit: 'psi' },
        loadAtPressure: { value: 2270, unit: 'lb' },
        margin: { value: 250, unit: 'lb' },
        reserveKept: true,
        floor: 'label',
      },
    },
    run: tirePressureFor,
  }),
  define({
    id: 'tire-margins',
    title: 'Margins of every tire, axle and side',
    room: 'tires',
    summary: 'What is left between load and rating, everywhere at once, the tightest named.',
    input: z.strictObject({
      axles: z
        .array(
          z.strictObject({
            name: z.string().check(z.describe('`axle 1`')),
            load: q('mass', 'load of the axle from a scale', AXLE_LOAD),
            rating: z.optional(q('mass', 'GAWR', AXLE_LOAD)),
            tires: z
              .array(
                z.strictObject({
                  ...tireFields,
                  place: z.string().check(z.describe('`axle 1, left`')),
                  side: z.enum(['left', 'right']).check(z.describe('which side')),
                  pressure: q('pressure', 'cold gauge pressure', COLD_PRESSURE),
                  load: z.optional(q('mass', 'load of this wheel, where it was weighed alone', WHEEL_LOAD)),
                }),
              )
              .check(z.describe('its tires, left and right')),
          }),
        )
        .check(z.describe('every axle with its tires')),
    }),
    output: answer({
      tires: z.array(margin).check(z.describe('every tire')),
      axles: z.array(margin).check(z.describe('every axle')),
      sides: z.array(margin).check(z.describe('left and right')),
      underRated: z.array(z.string()).check(z.describe('axles whose tires are rated for less than the axle')),
      thin: z.array(z.string()).check(z.describe('tires with less than the usual reserve left, or over')),
      tightest: margin.check(z.describe('the tire with the least share left')),
    }),
    cautions: [PLACARD, 'Sides are rarely equal: weigh each wheel once.'],
    sources: [
      ...TABLE_SOURCES,
      {
        text: '49 CFR 571.110, 571.120 S5.1.2: the tires of an axle are rated together for at least its GAWR',
        kind: 'regulation',
      },
      RATINGS,
      RESERVE,
    ],
    formula: 'margin = rating at pressure − load',
    range: 'one size, family and load range across an axle',
    envelope: {
      minimum: 'a load from a scale, and a cold pressure from half of the lowest row upward',
      floor: 'none: a margin below zero is said to be over',
      reserve: 'a tenth of the rating; a tire with less is named as a limit',
      ceiling: 'the ratings of tire-load; axles to 20,000 lb',
      rounding: 'as tire-load: down',
      laws: [
        { input: 'axles.*.load', worse: 'more', output: 'tires.*.margin', severer: 'lesser' },
        { input: 'axles.*.load', worse: 'more', output: 'tightest.share', severer: 'lesser' },
        { input: 'axles.*.tires.*.pressure', worse: 'less', output: 'tires.*.margin', severer: 'lesser' },
      ],
    },
    example: {
      input: {
        axles: [
          {
            name: 'axle 1',
            load: '2,800 lb',
            rating: '3,500 lb',
            tires: [
              {
                size: 'ST225/75R15',
                family: 'ST',
                loadRange: 'D',
                place: 'axle 1, left',
                side: 'left',
                pressure: '65 psi',
                load: '1,500 lb',
              },
              {
                size: 'ST225/75R15',
                family: 'ST',
                loadRange: 'D',
                place: 'axle 1, right',
                side: 'right',
                pressure: '50 psi',
              },
            ],
          },
        ],
      },
      output: { tightest: { place: 'axle 1, right', margin: { value: 850, unit: 'lb' } }, underRated: [] },
    },
    run: tireMargins,
  }),
];
