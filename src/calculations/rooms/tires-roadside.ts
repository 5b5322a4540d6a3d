/** The calculations of the tires room that are asked at the roadside: leaks, inflating, a wheel lost. */

import * as z from 'zod/mini';
import { limitWords } from '../../catalog/index.ts';
import { ok } from '../../problem/index.ts';
import {
  AIR_DELIVERY,
  AXLE_LOAD,
  COLD_PRESSURE,
  COMPRESSOR_POWER,
  DUTY_CYCLE,
  ELEVATION,
  freeAirDelivery,
  inflate,
  loadOfIndex,
  oneWheelLost,
  PUMPING_TIME,
  RECEIVER_PRESSURE,
  RECEIVER_VOLUME,
  SIDE_SHARE,
  symbolSpeed,
  TANDEM_LOAD,
  TIRE_TEMPERATURE,
  TIRE_VOLUME,
  tireLeak,
  WHEEL_LOAD,
} from '../../tires/index.ts';
import { answer, bounds, type Calculation, define, out, q } from '../calculation.ts';
import { dateField } from './codes.ts';

const RUN_LOW = limitWords('tire-run-low');
const GAUGE_ERROR = limitWords('tire-gauge-error');

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
            gauge: q('pressure', 'cold gauge pressure', COLD_PRESSURE),
            temperature: q('temperature', 'temperature of the tire', TIRE_TEMPERATURE),
            elevation: q('length', 'height above sea level', ELEVATION),
          }),
        )
        .check(z.describe('two or more')),
      floor: z.optional(
        q('pressure', 'must not fall below this, at the conditions of the last reading', COLD_PRESSURE),
      ),
    }),
    output: answer({
      rate: out('pressure-rate', 'loss a week; negative: it rises'),
      rateRange: bounds('pressure-rate', 'with the gauge’s error'),
      holdsUntil: z
        .nullable(z.string())
        .check(
          z.describe(
            'last day above the floor at the fastest loss; the last reading’s day where it is under it already; null where that is years away or no floor was given',
          ),
        ),
    }),
    cautions: [`A tire run ${RUN_LOW} or more below its pressure is inspected off the rim before it carries again.`],
    sources: [
      { text: 'gas law at constant volume; U.S. Standard Atmosphere 1976', kind: 'physics' },
      { text: 'median of pairwise slopes (Theil 1950, Sen 1968)', kind: 'standard' },
      {
        text: `gauge error of ${GAUGE_ERROR}; 2 to 3 psi a month as the loss of a sound tire`,
        kind: 'common practice',
      },
    ],
    formula: 'every reading brought to the last one’s temperature and height; median of the slopes between all pairs',
    range: 'readings of at least two days',
    envelope: {
      minimum: 'readings of two days, each with its temperature and height',
      floor: 'the pressure given as floor; under it already is said first',
      reserve: 'the gauge’s error, twice: the day is that of the fastest loss it leaves open',
      ceiling: 'days more than ten years off are not named',
      rounding: 'down: to the day before the floor is passed',
      laws: [{ input: 'floor', worse: 'more', output: 'holdsUntil', severer: 'lesser', none: 'mildest' }],
    },
    example: {
      input: {
        readings: [
          { on: '2026-06-01', gauge: '65 psi', temperature: '70 °F', elevation: '0 ft' },
          { on: '2026-06-15', gauge: '61 psi', temperature: '70 °F', elevation: '0 ft' },
        ],
        floor: '55 psi',
      },
      output: { rate: { value: 2, unit: 'psi/wk' }, holdsUntil: '2026-06-29' },
    },
    run: tireLeak,
  }),
  define({
    id: 'inflate',
    title: 'Time and power to inflate',
    room: 'tires',
    summary: 'How long a compressor needs, and whether the outlet runs and starts it.',
    input: z.strictObject({
      volume: q('volume', 'inside volume of one tire; about 2.3 ft³ for 225/75R15, an assumption', TIRE_VOLUME),
      from: q('pressure', 'gauge pressure now', COLD_PRESSURE),
      to: q('pressure', 'gauge pressure wanted', COLD_PRESSURE),
      pressureMax: z.optional(q('pressure', 'lowest of the sidewall’s, wheel’s and valve’s maximum', COLD_PRESSURE)),
      delivery: q('flow', 'free-air delivery of the compressor at the pressure wanted', AIR_DELIVERY),
      tires: z.optional(z.int().check(z.positive(), z.lte(12), z.describe('how many such tires; 1 where not given'))),
      elevation: z.optional(q('length', 'height above sea level; sea level where not given', ELEVATION)),
      dutyCycle: z.optional(q('ratio', 'share of the time it may run, from its label', DUTY_CYCLE)),
      runMax: z.optional(q('time', 'longest run without a rest, from its label', PUMPING_TIME)),
      powerRunning: z.optional(q('power', 'what the compressor draws running', COMPRESSOR_POWER)),
      powerStarting: z.optional(q('power', 'what it draws for an instant at the start', COMPRESSOR_POWER)),
      outletContinuous: z.optional(q('power', 'what the outlet gives without end', COMPRESSOR_POWER)),
      outletStarting: z.optional(q('power', 'what the outlet gives for an instant', COMPRESSOR_POWER)),
    }),
    output: answer({
      freeAir: out('volume', 'free air for all of them'),
      time: out('time', 'running time'),
      timeWithRests: z
        .nullable(out('time', 'running and resting'))
        .check(z.describe('with the rests of the duty cycle; null where that is not known')),
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
      'free air = V · (p₂ − p₁)/air; time = free air / delivery, and rests of (1 − d)/d of each full run; work = 3.5 · air · (r^(2/7) − 1) a unit of free air',
    range: 'small compressors, constant delivery',
    envelope: {
      minimum: 'an end pressure above the start; a running power of at least the ideal work of compression',
      floor: 'the ideal work: no real compressor needs less',
      reserve: 'none: two to three times the ideal power is usual, and said',
      ceiling:
        'sidewall, wheel and valve: an end pressure above them is refused; the outlet’s two limits each on their own',
      rounding: 'none; rests are counted whole, and the time is said to be short where delivery falls with pressure',
      laws: [
        { input: 'delivery', worse: 'less', output: 'time', severer: 'greater' },
        { input: 'volume', worse: 'more', output: 'time', severer: 'greater' },
        { input: 'dutyCycle', worse: 'less', output: 'timeWithRests', severer: 'greater' },
        { input: 'outletContinuous', worse: 'less', output: 'outletHolds', severer: [true, null, false] },
      ],
    },
    example: {
      input: {
        volume: '2.3 ft³',
        from: '50 psi',
        to: '65 psi',
        pressureMax: '110 psi',
        delivery: '1.5 cfm',
        dutyCycle: '50 %',
        powerRunning: '1,400 W',
        powerStarting: '4 kW',
        outletContinuous: '1,800 W',
        outletStarting: '5 kW',
      },
      output: {
        freeAir: { value: 2.3476, unit: 'ft3' },
        time: { value: 1.565, unit: 'min' },
        timeWithRests: { value: 3.13, unit: 'min' },
        outletHolds: true,
      },
    },
    run: inflate,
  }),
  define({
    id: 'free-air-delivery',
    title: 'What a compressor really delivers',
    room: 'tires',
    summary: 'Free-air delivery from the time to pump up a receiver of known size.',
    input: z.strictObject({
      receiver: q('volume', 'volume of the receiver', RECEIVER_VOLUME),
      from: q('pressure', 'gauge pressure at the start', RECEIVER_PRESSURE),
      to: q('pressure', 'gauge pressure at the end', RECEIVER_PRESSURE),
      time: q('time', 'time it took', PUMPING_TIME),
    }),
    output: answer({ delivery: out('flow', 'free air delivered') }),
    cautions: ['Drain and vent the receiver first; stay within its rated pressure.'],
    sources: [{ text: 'pump-up method, two shop references', kind: 'handbook' }],
    formula: 'V · (p₂ − p₁)/(101.325 kPa · t)',
    range: 'air at the same temperature before and after',
    envelope: {
      minimum: 'a rise of 20 psi over 10 s: less is no test',
      floor: 'none: what was measured',
      reserve: 'none: what was measured',
      ceiling: 'receivers to 250 psi, within their own rating',
      rounding:
        'down: divided by the air of sea level, which is the densest, so that a height shows less than it delivers',
      laws: [
        { input: 'time', worse: 'more', output: 'delivery', severer: 'lesser' },
        { input: 'to', worse: 'less', output: 'delivery', severer: 'lesser' },
      ],
    },
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
      axleLoad: q('mass', 'load on both axles together, from a scale', TANDEM_LOAD),
      tireRating: q('mass', 'what the remaining tire may carry at its actual pressure', WHEEL_LOAD),
      axleRating: q('mass', 'rating of one axle (GAWR)', AXLE_LOAD),
      wheelRating: z.optional(q('mass', 'rating of the wheel', WHEEL_LOAD)),
      sideShare: z.optional(q('ratio', 'share of the load on that side; half where not given', SIDE_SHARE)),
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
            margin: out('mass', 'rating less the most that any wheel left can carry'),
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
      'one wheel may carry up to the whole of its side: W · share, and W · (1 − share) across; the greater against tire, wheel and half the axle rating',
    range: 'tandem axles, one wheel gone',
    envelope: {
      minimum: 'a load above zero from a scale, and the tire’s load at its actual pressure',
      floor: 'none: never a permission',
      reserve: 'none: bounds; the worst share of load between wheels is taken',
      ceiling: 'the weakest of tire, wheel and half the axle’s rating',
      rounding: 'to the worse side: a wheel is taken to carry all of its side',
      laws: [
        { input: 'axleLoad', worse: 'more', output: 'over', severer: [false, true] },
        { input: 'axleLoad', worse: 'more', output: 'limits.*.margin', severer: 'lesser' },
        { input: 'tireRating', worse: 'less', output: 'unloadTo', severer: 'lesser' },
        { input: 'axleRating', worse: 'less', output: 'unloadTo', severer: 'lesser' },
      ],
    },
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
      index: z.int().check(z.gte(60), z.lte(132), z.describe('the number, single first: 117')),
      symbol: z.optional(z.string().check(z.describe('the letter'))),
    }),
    output: answer({ load: out('mass', 'load of the index'), speed: z.nullable(out('speed', 'speed of the symbol')) }),
    cautions: ['The pounds on the sidewall outrank the index: some tires are rated below it.'],
    sources: [
      { text: 'ISO 4000-1 and ETRTO tables; indices 124 to 132 and symbols A8 to K from memory', kind: 'standard' },
    ],
    formula: 'table',
    range: 'indices 60 to 132',
    envelope: {
      minimum: 'a whole number of the table',
      floor: 'index 60',
      reserve: 'none: a table; the sidewall may say less, and wins',
      ceiling: 'index 132; no index above it is named',
      rounding: 'none: the table’s kilograms',
      laws: [],
    },
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
