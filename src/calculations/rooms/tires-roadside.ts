/** The calculations of the tires room that are asked at the roadside: leaks, inflating, a wheel lost. */

import * as z from 'zod/mini';
import { ok } from '../../problem/index.ts';
import { freeAirDelivery, inflate, loadOfIndex, oneWheelLost, symbolSpeed, tireLeak } from '../../tires/index.ts';
import { answer, bounds, type Calculation, define, out, q } from '../calculation.ts';
import { dateField } from './codes.ts';

export const roadsideTireCalculations: readonly Calculation[] = [
  define({
    id: 'tire-leak',
    title: 'How fast a tire loses air',
    room: 'tires',
    summary: 'The loss a week with temperature and height taken out, and the day it falls too low.',
    input: z.strictObject({
      readings: z
        .array(
          z.strictObject({
            on: dateField('day of the reading'),
            gauge: q('pressure', 'cold gauge pressure'),
            temperature: q('temperature', 'temperature of the tire'),
            elevation: q('length', 'height above sea level'),
          }),
        )
        .check(z.describe('two or more')),
      floor: z.optional(q('pressure', 'must not fall below this, at the conditions of the last reading')),
    }),
    output: answer({
      rate: out('pressure-rate', 'loss a week; negative: it rises'),
      rateRange: bounds('pressure-rate', 'with the gauge’s error'),
      holdsUntil: z
        .nullable(z.string())
        .check(z.describe('last day above the floor; null where it does not leak or no floor was given')),
    }),
    cautions: ['A tire run 20 % or more below its pressure is inspected off the rim before it carries again.'],
    sources: [
      { text: 'gas law at constant volume; U.S. Standard Atmosphere 1976', kind: 'physics' },
      { text: 'median of pairwise slopes (Theil 1950, Sen 1968)', kind: 'standard' },
      { text: 'gauge error of 1 psi; 2 to 3 psi a month as the loss of a sound tire', kind: 'common practice' },
    ],
    formula: 'every reading brought to the last one’s temperature and height; median of the slopes between all pairs',
    range: 'readings of at least two days',
    example: {
      input: {
        readings: [
          { on: '2026-06-01', gauge: '65 psi', temperature: '70 °F', elevation: '0 ft' },
          { on: '2026-06-15', gauge: '61 psi', temperature: '70 °F', elevation: '0 ft' },
        ],
        floor: '55 psi',
      },
      output: { rate: { value: 2, unit: 'psi/wk' }, holdsUntil: '2026-07-06' },
    },
    run: tireLeak,
  }),
  define({
    id: 'inflate',
    title: 'Time and power to inflate',
    room: 'tires',
    summary: 'How long a compressor needs, and whether the outlet runs and starts it.',
    input: z.strictObject({
      volume: q('volume', 'inside volume of one tire; about 2.3 ft³ for 225/75R15, an assumption'),
      from: q('pressure', 'gauge pressure now'),
      to: q('pressure', 'gauge pressure wanted'),
      delivery: q('flow', 'free-air delivery of the compressor'),
      tires: z.optional(z.int().check(z.positive(), z.lte(12), z.describe('how many such tires; 1 where not given'))),
      elevation: z.optional(q('length', 'height above sea level; sea level where not given')),
      powerRunning: z.optional(q('power', 'what the compressor draws running')),
      powerStarting: z.optional(q('power', 'what it draws for an instant at the start')),
      outletContinuous: z.optional(q('power', 'what the outlet gives without end')),
      outletStarting: z.optional(q('power', 'what the outlet gives for an instant')),
    }),
    output: answer({
      freeAir: out('volume', 'free air for all of them'),
      time: out('time', 'running time'),
      work: out('energy', 'ideal adiabatic work at the end pressure'),
      powerIdeal: out('power', 'ideal mean shaft power; a real compressor needs two to three times it'),
      outletHolds: z.nullable(z.boolean()).check(z.describe('null where not all four powers were given')),
    }),
    cautions: [],
    sources: [
      { text: 'gas law; adiabatic work of compression of a diatomic gas', kind: 'physics' },
      { text: 'free-air delivery by receiver pump-up, two shop references', kind: 'handbook' },
    ],
    formula:
      'free air = V · (p₂ − p₁)/air; time = free air / delivery; work = 3.5 · air · (r^(2/7) − 1) a unit of free air',
    range: 'small compressors, constant delivery',
    example: {
      input: { volume: '2.3 ft³', from: '50 psi', to: '65 psi', delivery: '1.5 cfm' },
      output: { freeAir: { value: 2.3476, unit: 'ft3' }, time: { value: 1.565, unit: 'min' } },
    },
    run: inflate,
  }),
  define({
    id: 'free-air-delivery',
    title: 'What a compressor really delivers',
    room: 'tires',
    summary: 'Free-air delivery from the time to pump up a receiver of known size.',
    input: z.strictObject({
      receiver: q('volume', 'volume of the receiver'),
      from: q('pressure', 'gauge pressure at the start'),
      to: q('pressure', 'gauge pressure at the end'),
      time: q('time', 'time it took'),
    }),
    output: answer({ delivery: out('flow', 'free air delivered') }),
    cautions: ['Drain and vent the receiver first; stay within its rated pressure.'],
    sources: [{ text: 'pump-up method, two shop references', kind: 'handbook' }],
    formula: 'V · (p₂ − p₁)/(101.325 kPa · t)',
    range: 'air at the same temperature before and after',
    example: {
      input: { receiver: '6 gal', from: '0 psi', to: '100 psi', time: '3 min' },
      output: { delivery: { value: 1.8193, unit: 'ft3/min' } },
    },
    run: (input) => {
      const found = freeAirDelivery(input);
      return found.ok ? ok({ delivery: found.value, limitedBy: 'the receiver and the watch' }) : found;
    },
  }),
  define({
    id: 'one-wheel-lost',
    title: 'One wheel lost on a tandem',
    room: 'tires',
    summary: 'Bounds on what the remaining wheels carry. Never a permission to move.',
    input: z.strictObject({
      axleLoad: q('mass', 'load on both axles together, from a scale'),
      tireRating: q('mass', 'what the remaining tire may carry at its actual pressure'),
      axleRating: q('mass', 'rating of one axle (GAWR)'),
      wheelRating: z.optional(q('mass', 'rating of the wheel')),
      sideShare: z.optional(q('ratio', 'share of the load on that side; half where not given')),
      suspension: z.enum(['torsion', 'leaf']).check(z.describe('rubber torsion axles, or equalised leaf springs')),
    }),
    output: answer({
      sameSide: bounds('mass', 'the other wheel on the same side'),
      otherSide: bounds('mass', 'each wheel of the other side'),
      limits: z
        .array(
          z.strictObject({
            what: z.string(),
            rating: out('mass', 'rating'),
            margin: out('mass', 'rating less the most it can carry'),
          }),
        )
        .check(z.describe('what the remaining wheel is held against')),
      over: z.boolean().check(z.describe('a limit may be exceeded')),
      unloadTo: out('mass', 'load on the axles at which no limit would be exceeded'),
      permitted: z.literal(false).check(z.describe('always false: only the trailer’s maker can permit it')),
    }),
    cautions: [],
    sources: [
      { text: 'statics: the load of a side stays on that side', kind: 'physics' },
      {
        text: 'one trailer maker’s manual of 1975 and its current article: three wheels in an emergency, torsion tandems only; no distance or speed published',
        kind: 'handbook',
      },
    ],
    formula:
      'the remaining wheel carries up to the whole side: W · share; compare with tire, wheel and half the axle rating',
    range: 'tandem axles, one wheel gone',
    example: {
      input: { axleLoad: '4,400 lb', tireRating: '2,540 lb', axleRating: '3,500 lb', suspension: 'torsion' },
      output: {
        sameSide: { low: { value: 1100, unit: 'lb' }, high: { value: 2200, unit: 'lb' } },
        over: true,
        unloadTo: { value: 3500, unit: 'lb' },
        permitted: false,
      },
    },
    run: oneWheelLost,
  }),
  define({
    id: 'tire-load-index',
    title: 'Load index and speed symbol',
    room: 'tires',
    summary: 'What the number and letter after the size mean.',
    input: z.strictObject({
      index: z.number().check(z.describe('the number, single first: 117')),
      symbol: z.optional(z.string().check(z.describe('the letter'))),
    }),
    output: answer({ load: out('mass', 'load of the index'), speed: z.nullable(out('speed', 'speed of the symbol')) }),
    cautions: ['The pounds on the sidewall outrank the index: some tires are rated below it.'],
    sources: [
      { text: 'ISO 4000-1 and ETRTO tables; indices 124 to 130 and symbols A8 to K from memory', kind: 'standard' },
    ],
    formula: 'table',
    range: 'indices 60 to 130',
    example: {
      input: { index: 117, symbol: 'N' },
      output: { load: { value: 1285, unit: 'kg' }, speed: { value: 140, unit: 'km/h' } },
    },
    run: ({ index, symbol }) => {
      const load = loadOfIndex(index);
      if (!load.ok) return load;
      const speed = symbol === undefined ? null : symbolSpeed(symbol);
      if (speed !== null && !speed.ok) return speed;
      return ok({ load: load.value, speed: speed?.value ?? null });
    },
  }),
];
