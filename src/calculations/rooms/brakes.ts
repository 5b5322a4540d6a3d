/** The calculations of the brakes room, wheel nuts among them. */

import * as z from 'zod/mini';
import {
  BRAKE_AMPERES,
  BRAKE_VERDICTS,
  BRAKE_VOLTS,
  BRAKES_MOST,
  brakeAdjustment,
  brakeCurrent,
  DRUM_SIZES,
  STOPPING_CLASSES,
  stopping,
  wheelTorque,
} from '../../brakes/index.ts';
import { range } from '../../quantity/index.ts';
import { answer, bounds, type Calculation, define, out, q } from '../calculation.ts';

const MILES = range(0, 2_000_000, 'mi');

export const brakeCalculations: readonly Calculation[] = [
  define({
    id: 'brake-current',
    title: 'What the brakes draw, and which of them a reading proves',
    room: 'brakes',
    summary: 'Expected current of electric brakes, and what readings at each wheel, each axle or all together prove.',
    input: z.strictObject({
      brakes: z.int().check(z.gte(1), z.lte(BRAKES_MOST), z.describe('electric brakes: 2, 4 or 6')),
      size: z.enum(DRUM_SIZES).check(z.describe('drum diameter')),
      readings: z.optional(
        z
          .array(
            z.strictObject({
              where: z.string().check(z.maxLength(100), z.describe('wheel or axle')),
              brakes: z.int().check(z.gte(1), z.lte(BRAKES_MOST), z.describe('1 for a wheel, 2 for an axle')),
              current: q('electric-current', 'at full application', BRAKE_AMPERES),
            }),
          )
          .check(z.maxLength(BRAKES_MOST), z.describe('each wheel or axle by itself: only this proves each brake')),
      ),
      current: z.optional(q('electric-current', 'all brakes together, where only that was measured', BRAKE_AMPERES)),
      voltage: z.optional(q('electric-potential', 'at the brakes meanwhile', BRAKE_VOLTS)),
    }),
    output: answer({
      expected: bounds('electric-current', 'in service, all brakes'),
      most: out('electric-current', 'all sound magnets at 20 °C'),
      spans: z
        .array(
          z.strictObject({
            magnets: z.number().check(z.describe('sound magnets')),
            low: out('electric-current', 'hot'),
            high: out('electric-current', 'cold'),
          }),
        )
        .check(z.describe('what so many sound magnets can draw')),
      readings: z
        .array(
          z.strictObject({
            where: z.string(),
            brakes: z.number(),
            current: out('electric-current', 'as measured'),
            verdict: z.enum(BRAKE_VERDICTS).check(z.describe('of this reading')),
            drawing: z
              .strictObject({ least: z.number(), most: z.number() })
              .check(z.describe('sound magnets that can be behind it')),
          }),
        )
        .check(z.describe('each reading judged')),
      verdict: z
        .nullable(z.enum(BRAKE_VERDICTS))
        .check(z.describe('the worst of them; null where nothing was measured')),
      unread: z.number().check(z.describe('brakes in no reading')),
    }),
    cautions: [],
    sources: [
      { text: '3.0 A a brake (2.5 A for 7 in): an axle maker’s service table', kind: 'handbook' },
      { text: 'two healthy brakes 5.5 to 6.0 A: a light-tower maker’s manual of 2016', kind: 'handbook' },
      {
        text: 'magnets of 3.2 to 3.5 Ω (3.8 to 4.0 Ω for 7 in) and their maxima: a trailer parts seller’s sheet',
        kind: 'handbook',
      },
      { text: 'copper: 0.393 % a °C from 20 °C, IEC 60028', kind: 'standard', tag: 'memory' },
      { text: '−20 to 120 °C and 10 to 14.5 V as what magnets see', kind: 'common practice' },
    ],
    formula:
      'in service n · 3.0 A (from 5.5/6 of it), more above 12 V; k sound magnets from k · V/(3.5 Ω hot) to k · V/(3.2 Ω cold)',
    range: '7, 10 and 12 in electric drum brakes at full application, 6 to 15 V',
    envelope: {
      minimum: 'a reading of each brake, alone or with its axle; brakes not read leave the answer open',
      floor: '5.5/6 of the published service current, and no less for a low voltage',
      reserve: 'what one sound magnet less can draw, at −20 °C: up to there a reading cannot tell',
      ceiling: 'Ohm’s law at the lowest sound resistance; above it a short',
      rounding: 'an unread voltage counts as whatever makes the reading prove less',
      laws: [
        { input: 'brakes', worse: [4, 5, 6, 8, 10, 12], output: 'verdict', severer: BRAKE_VERDICTS },
        { input: 'brakes', worse: [4, 5, 6, 8, 10, 12], output: 'unread', severer: 'greater' },
      ],
    },
    example: {
      input: {
        brakes: 4,
        size: '12 in',
        readings: [
          { where: 'axle 1', brakes: 2, current: '5.8 A' },
          { where: 'axle 2', brakes: 2, current: '3.1 A' },
        ],
        voltage: '12 V',
      },
      output: {
        expected: { low: { value: 11, unit: 'A' }, high: { value: 12, unit: 'A' } },
        most: { value: 15, unit: 'A' },
        verdict: 'low',
        unread: 0,
      },
    },
    run: brakeCurrent,
  }),
  define({
    id: 'brake-adjustment',
    title: 'When to adjust the brakes next',
    room: 'brakes',
    summary: 'Miles at which manual-adjusted drum brakes are due.',
    input: z.strictObject({
      adjustedAt: q('length', 'miles at the last adjustment, or when the shoes were new', MILES),
      now: q('length', 'miles now', MILES),
      first: z.boolean().check(z.describe('not adjusted since the shoes were new')),
    }),
    output: answer({ dueAt: out('length', 'miles'), left: out('length', 'miles left; zero or less: due') }),
    cautions: ['Forward self-adjusting brakes are exempt: see the axle’s manual.'],
    sources: [{ text: 'trailer makers’ manuals: 200 miles, then every 3,000', kind: 'handbook' }],
    formula: 'last + 200 mi, then + 3,000 mi',
    range: 'manual-adjusted electric drums',
    envelope: {
      minimum: 'a reading at the last adjustment, and one now that is not less',
      floor: 'none: past due is negative',
      reserve: 'none: the makers’ interval is the latest; a long wheel’s turn or a weak lever comes first',
      ceiling: '200 miles for new shoes, 3,000 after',
      rounding: 'none: to the mile read',
      laws: [
        {
          input: 'now',
          worse: ['18,204.6 mi', '19,000 mi', '20,000 mi', '21,204.6 mi', '22,000 mi', '90,000 mi'],
          output: 'left',
          severer: 'lesser',
        },
        {
          input: 'adjustedAt',
          worse: ['19,900 mi', '18,000 mi', '10,000 mi', '100 mi', '0 mi'],
          output: 'left',
          severer: 'lesser',
        },
        { input: 'first', worse: [false, true], output: 'left', severer: 'lesser' },
      ],
    },
    example: {
      input: { adjustedAt: '18,204.6 mi', now: '20,000 mi', first: false },
      output: { dueAt: { value: 21204.6, unit: 'mi' }, left: { value: 1204.6, unit: 'mi' } },
    },
    run: brakeAdjustment,
  }),
  define({
    id: 'stopping',
    title: 'What a stop comes to',
    room: 'brakes',
    summary: 'The rule’s distances from 20 mph, and the road a deceleration takes from any speed.',
    input: z.strictObject({
      kind: z.enum(STOPPING_CLASSES).check(z.describe('row of the rule')),
      speed: q('speed', 'from this speed', range(1, 90, 'mph')),
    }),
    output: answer({
      distanceRule: out('length', 'service brakes, from 20 mph'),
      emergencyRule: out('length', 'emergency, from 20 mph'),
      forceShare: out('ratio', 'braking force as a share of weight'),
      distance: out('length', 'from the speed asked for, at the rule’s deceleration, brakes full on'),
      distanceKept: out('length', 'the road to keep free: 2.5 s of reaction and a stop a driver makes'),
    }),
    cautions: [],
    sources: [
      { text: '49 CFR 393.52(d); the same figures in 67 Pa. Code 175 table I', kind: 'regulation' },
      { text: 'v²/(2a)', kind: 'physics' },
      { text: '2.5 s and 11.2 ft/s²: AASHTO Green Book, stopping sight distance', kind: 'standard', tag: 'memory' },
    ],
    formula: 'table; v²/(2a); 2.5 s · v + v²/(2 · 11.2 ft/s²)',
    range: 'dry level road, every brake at work',
    envelope: {
      minimum: 'a speed from 1 to 90 mph',
      floor: 'none',
      reserve: '2.5 s of reaction and no more than 11.2 ft/s² in the distance to keep',
      ceiling: 'the deceleration the rule asks for: no better brakes are counted on',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'speed', worse: 'more', output: 'distance', severer: 'greater' },
        { input: 'speed', worse: 'more', output: 'distanceKept', severer: 'greater' },
        { input: 'kind', worse: STOPPING_CLASSES, output: 'distance', severer: 'greater' },
        { input: 'kind', worse: STOPPING_CLASSES, output: 'distanceRule', severer: 'greater' },
      ],
    },
    example: {
      input: { kind: 'other-combination', speed: '20 mph' },
      output: {
        distanceRule: { value: 40, unit: 'ft' },
        emergencyRule: { value: 90, unit: 'ft' },
        distance: { value: 30.7, unit: 'ft' },
        distanceKept: { value: 111.7, unit: 'ft' },
      },
    },
    run: stopping,
  }),
  define({
    id: 'wheel-torque',
    title: 'Torque of wheel nuts',
    room: 'brakes',
    summary: 'Stages, final torque and the miles after which to torque again.',
    input: z.strictObject({
      stud: z.string().check(z.maxLength(20), z.describe('`1/2`, `9/16`, `5/8`, `M12`')),
      wheelDiameter: z.optional(q('length', 'rim diameter; needed for inch studs', range(8, 24, 'in'))),
      material: z.optional(z.enum(['steel', 'aluminium']).check(z.describe('of the wheel'))),
      nut: z.optional(z.enum(['cone', 'flange']).check(z.describe('seat of the nut; 5/8 studs need it'))),
    }),
    output: answer({
      stages: z.array(bounds('torque', 'a stage')).check(z.describe('first and second pass')),
      final: bounds('torque', 'final'),
      followUps: z.array(out('length', 'torque again after')).check(z.describe('torque again after so far')),
    }),
    cautions: ['On firm level ground, chocked, on a stand: never under a trailer that stands on a jack alone.'],
    sources: [
      { text: 'wheel torque charts of makers, row by row in src/brakes/tables/wheel-torque.ts', kind: 'handbook' },
      { text: 'again after 10, 25 and 50 miles: five makers agree', kind: 'handbook' },
    ],
    formula: 'what the charts that hold have in common; none where they contradict each other',
    range: '12 to 17.5 in wheels, 1/2 to 5/8 in studs; M12 where makers agree',
    envelope: {
      minimum: 'a stud and, for inch studs, the rim diameter of a chart',
      floor: 'the least that every chart that holds allows',
      reserve: 'torque again after 10, 25 and 50 miles',
      ceiling: 'the most that every chart that holds allows; charts that contradict each other give no answer',
      rounding: 'none: figures as published',
      laws: [],
    },
    example: {
      input: { stud: '1/2', wheelDiameter: '15 in', material: 'aluminium' },
      output: {
        final: { low: { value: 90, unit: 'lb-ft' }, high: { value: 120, unit: 'lb-ft' } },
        followUps: [
          { value: 10, unit: 'mi' },
          { value: 25, unit: 'mi' },
          { value: 50, unit: 'mi' },
        ],
      },
    },
    run: wheelTorque,
  }),
];
