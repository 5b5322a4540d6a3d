/** The calculations of the tires room: what a tire carries and at which pressure. */

import * as z from 'zod/mini';
import {
  LOAD_RANGES,
  TIRE_FAMILIES,
  tireLoad,
  tireMargins,
  tirePressureAt,
  tirePressureFor,
  tireSetNow,
  tireSpeed,
} from '../../tires/index.ts';
import { answer, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';

const rated = z.strictObject({
  load: q('mass', 'maximum load, single'),
  pressure: q('pressure', 'at this cold pressure'),
});

/** A tire as its sidewall names it. */
export const tireFields = {
  size: z.string().check(z.describe('size as moulded: `ST225/75R15`')),
  family: z.enum(TIRE_FAMILIES).check(z.describe('letters before the size; LT-bias for older bias truck tires')),
  loadRange: z.string().check(z.describe(`letter after LOAD RANGE: ${LOAD_RANGES.join(' ')}`)),
  fitment: z.optional(z.enum(['single', 'dual']).check(z.describe('single where not given'))),
  sidewall: z.optional(rated.check(z.describe('maximum load and pressure of the sidewall; outranks every table'))),
  rows: z.optional(z.array(rated).check(z.describe('rows of the tire maker’s own table; outrank ours'))),
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
];
const PLACARD = 'The trailer’s placard, the sidewall and the tire maker’s table outrank this.';
const COLD = 'Cold means not driven for three hours or under a mile; never bleed a hot tire.';
const limitedAnd = { basis: z.string().check(z.describe('table, between-rows, below-table or lowest-row')) };

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
    input: z.strictObject({ ...tireFields, pressure: q('pressure', 'cold gauge pressure') }),
    output: answer({ load: out('mass', 'what one tire may carry'), ...limitedAnd }),
    cautions: [PLACARD, COLD],
    sources: TABLE_SOURCES,
    formula:
      'published row; between rows load · (p/p_row)^n from both sides, the smaller, less 1 %; never above the last row; below the first a straight line to zero',
    range: 'sizes in the table, or any with its sidewall or its maker’s rows',
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
    input: z.strictObject({ ...tireFields, load: q('mass', 'load on this wheel') }),
    output: answer({
      pressure: out('pressure', 'cold pressure to set'),
      ...limitedAnd,
      loadAtPressure: out('mass', 'what the tire may carry there'),
      margin: out('mass', 'that less the load'),
      pressureMax: out('pressure', 'the highest cold pressure of this tire'),
    }),
    cautions: [PLACARD, COLD],
    sources: TABLE_SOURCES,
    formula: 'the first published row that carries the load; between rows far apart the law, rounded up to 5 psi',
    range: 'loads up to the last row; no pressure below the first row is named',
    example: {
      input: { size: 'ST225/75R15', family: 'ST', loadRange: 'D', load: '2,000 lb' },
      output: {
        pressure: { value: 45, unit: 'psi' },
        basis: 'table',
        loadAtPressure: { value: 2020, unit: 'lb' },
        margin: { value: 20, unit: 'lb' },
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
            load: q('mass', 'load of the axle from a scale'),
            rating: z.optional(q('mass', 'GAWR')),
            tires: z
              .array(
                z.strictObject({
                  ...tireFields,
                  place: z.string().check(z.describe('`axle 1, left`')),
                  side: z.enum(['left', 'right']).check(z.describe('which side')),
                  pressure: q('pressure', 'cold gauge pressure'),
                  load: z.optional(q('mass', 'load of this wheel, where it was weighed alone')),
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
      tightest: margin.check(z.describe('the tire with the least share left')),
    }),
    cautions: [PLACARD, 'Sides are rarely equal: weigh each wheel once.'],
    sources: [
      ...TABLE_SOURCES,
      {
        text: '49 CFR 571.110, 571.120 S5.1.2: the tires of an axle are rated together for at least its GAWR',
        kind: 'regulation',
      },
    ],
    formula: 'margin = rating at pressure − load',
    range: 'one size, family and load range across an axle',
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
  define({
    id: 'tire-pressure-at',
    title: 'One pressure, another place',
    room: 'tires',
    summary: 'What a tire set here will show there, with the change of temperature and height.',
    input: z.strictObject({
      gauge: q('pressure', 'gauge pressure now'),
      temperature: q('temperature', 'temperature of the tire now'),
      elevation: z.optional(q('length', 'height above sea level now; sea level where not given')),
      toTemperature: z.optional(q('temperature', 'temperature there; the same where not given')),
      toElevation: z.optional(q('length', 'height there; the same where not given')),
    }),
    output: answer({ gauge: out('pressure', 'gauge pressure there') }),
    cautions: [COLD, 'A real tire gives a little: the true change is slightly smaller.'],
    sources: [
      { text: 'gas law at constant volume', kind: 'physics' },
      { text: 'U.S. Standard Atmosphere 1976', kind: 'standard' },
    ],
    formula: 'p₂ = (p₁ + air₁) · T₂/T₁ − air₂, absolute temperatures',
    range: '−60 to 85 °C; −600 to 9,000 m',
    example: {
      input: {
        gauge: '65 psi',
        temperature: '70 °F',
        elevation: '0 ft',
        toTemperature: '70 °F',
        toElevation: '5,000 ft',
      },
      output: { gauge: { value: 67.47, unit: 'psi' } },
    },
    run: tirePressureAt,
  }),
  define({
    id: 'tire-set-now',
    title: 'What to set now for a target there',
    room: 'tires',
    summary: 'What the gauge must show here, so that the tire has its target pressure where it will run.',
    input: z.strictObject({
      target: q('pressure', 'pressure wanted there'),
      targetTemperature: q('temperature', 'temperature of the tire there, cold'),
      targetElevation: q('length', 'height above sea level there'),
      temperature: q('temperature', 'temperature of the tire now'),
      elevation: q('length', 'height above sea level now'),
    }),
    output: answer({ gauge: out('pressure', 'what to set now') }),
    cautions: [COLD, 'Never above the sidewall’s, wheel’s or valve’s maximum, here or there.'],
    sources: [
      { text: 'gas law at constant volume', kind: 'physics' },
      { text: 'U.S. Standard Atmosphere 1976', kind: 'standard' },
    ],
    formula: 'p = (target + air_there) · T/T_there − air_here',
    range: '−60 to 85 °C; −600 to 9,000 m',
    example: {
      input: {
        target: '70.26 psi',
        targetTemperature: '90 °F',
        targetElevation: '0 ft',
        temperature: '40 °F',
        elevation: '5,000 ft',
      },
      output: { gauge: { value: 65, unit: 'psi' } },
    },
    run: tireSetNow,
  }),
  define({
    id: 'tire-speed',
    title: 'Speed, pressure and load',
    room: 'tires',
    summary: 'Whether a speed is allowed, and what it asks of pressure and load.',
    input: z.strictObject({
      family: z.enum(TIRE_FAMILIES).check(z.describe('letters before the size')),
      speed: q('speed', 'highest speed of the trip'),
      speedSymbol: z.optional(z.string().check(z.describe('letter after the load index, where there is one'))),
      pressure: q('pressure', 'cold pressure the load needs'),
      pressureMax: q('pressure', 'lowest of the sidewall’s, wheel’s and valve’s maximum'),
    }),
    output: answer({
      allowed: z.boolean().check(z.describe('whether that speed is allowed')),
      limit: out('speed', 'highest speed'),
      pressure: out('pressure', 'cold pressure for that speed'),
      loadShare: z.number().check(z.describe('share of the table’s load that counts')),
    }),
    cautions: ['The tow vehicle’s and the trailer’s handbooks may ask for less; so may the law.'],
    sources: [
      {
        text: 'ST tires at 65 mph unless marked; 66 to 75 mph with 10 psi more: Tire and Rim Association ST-M1 and a tire maker’s bulletin of 2011',
        kind: 'standard',
      },
      {
        text: '76 to 85 mph with 10 psi more and 10 % less load, where the symbol allows: the association, as posted by a tire engineer',
        kind: 'handbook',
      },
      { text: 'speed symbols of ISO 4000-1 and ETRTO (A8 to K from memory)', kind: 'standard' },
    ],
    formula: 'table rule; the speed symbol caps everything',
    range: 'ST tires with or without a symbol; others only with theirs',
    example: {
      input: { family: 'ST', speed: '70 mph', pressure: '65 psi', pressureMax: '80 psi' },
      output: { allowed: true, limit: { value: 75, unit: 'mph' }, pressure: { value: 75, unit: 'psi' }, loadShare: 1 },
    },
    run: tireSpeed,
  }),
];
