/** The calculations of the loads room: moving load, the ratings of the hitch, grades. */

import * as z from 'zod/mini';
import {
  AXLES_WEIGHT,
  BALL_TO_AXLES,
  ballCapacityTypical,
  GRADE,
  gradeForce,
  hitchChain,
  ITEM_WEIGHT,
  loadChange,
  PLACE,
  RATING,
  RIG_WEIGHT,
  TONGUE_WEIGHT,
} from '../../loads/index.ts';
import { fail, ok } from '../../problem/index.ts';
import { answer, type Calculation, define, out, q } from '../calculation.ts';
import { BAND_TEXT, band, limitList, originRating, RATINGS, SHARE, STATICS } from './loads.ts';

export const hitchRatingCalculations: readonly Calculation[] = [
  define({
    id: 'load-change',
    title: 'What if we move, add or remove things',
    room: 'loads',
    summary: 'Tongue, share and axles after moving water or adding a rack.',
    input: z.strictObject({
      tongue: q('mass', 'tongue weight now', TONGUE_WEIGHT),
      axles: q('mass', 'load on the trailer’s axles now', AXLES_WEIGHT),
      ballToAxles: q('length', 'ball to the middle of the axles', BALL_TO_AXLES),
      moves: z
        .array(
          z.strictObject({
            what: z.string().check(z.describe('name')),
            weight: q('mass', 'weight', ITEM_WEIGHT),
            from: z.optional(q('length', 'where it was: ahead of the axles, negative behind', PLACE)),
            to: z.optional(q('length', 'where it goes', PLACE)),
          }),
        )
        .check(z.describe('`to` alone adds, `from` alone removes')),
      band,
      ratings: z.optional(
        z
          .strictObject({
            tongue: z.optional(originRating),
            trailerAxles: z.optional(originRating),
            trailer: z.optional(originRating),
          })
          .check(z.describe('ratings with their origin')),
      ),
    }),
    output: answer({
      tongue: out('mass', 'tongue weight'),
      tongueShare: out('ratio', 'its share'),
      axles: out('mass', 'load on the axles'),
      trailer: out('mass', 'the whole trailer'),
      changes: z
        .array(
          z.strictObject({
            what: z.string(),
            tongue: out('mass', 'change of the tongue'),
            axles: out('mass', 'change of the axles'),
          }),
        )
        .check(z.describe('what each move did')),
      limits: limitList,
    }),
    cautions: [],
    sources: [STATICS, SHARE, RATINGS],
    formula: 'a weight w at x ahead of the axles puts w·x/L on the ball',
    range: 'trailer axles taken as one',
    envelope: {
      minimum: 'a weighing, and for each thing a weight and a place it comes from or goes to',
      floor: 'none: a tongue of nothing or less is said to lift the ball',
      reserve: 'none: computed figures, to be confirmed on a scale',
      ceiling: `${BAND_TEXT}; a trailer that could not stand is refused`,
      rounding: 'none: shown figures only',
      laws: [
        { input: 'axles', worse: 'more', output: 'trailer', severer: 'greater' },
        { input: 'tongue', worse: 'less', output: 'tongueShare', severer: 'lesser' },
      ],
    },
    example: {
      input: {
        tongue: '800 lb',
        axles: '5,600 lb',
        ballToAxles: '210 in',
        moves: [{ what: 'water', weight: '60 lb', from: '100 in', to: '-80 in' }],
      },
      output: {
        tongue: { value: 748.6, unit: 'lb' },
        axles: { value: 5651.4, unit: 'lb' },
        trailer: { value: 6400, unit: 'lb' },
      },
    },
    run: loadChange,
  }),
  define({
    id: 'hitch-chain',
    title: 'The weakest link of the hitch',
    room: 'loads',
    summary: 'Class, every rated part against the trailer, and the safety chains.',
    input: z.strictObject({
      trailer: q('mass', 'the whole trailer as towed, or its GVWR where that is more', RIG_WEIGHT),
      tongue: q('mass', 'tongue weight', TONGUE_WEIGHT),
      parts: z
        .array(
          z.strictObject({
            what: z.string().check(z.describe('`ball`, `coupler`, `receiver`, `ball mount`, `bars`')),
            gross: z.optional(q('mass', 'gross trailer weight it is rated for', RATING)),
            tongue: z.optional(q('mass', 'tongue weight it is rated for', RATING)),
            origin: z.string().check(z.describe('where the rating was read')),
          }),
        )
        .check(z.describe('every part between tow vehicle and trailer')),
      band,
      chain: z.optional(
        z
          .strictObject({
            breaking: z.optional(q('mass', 'breaking strength', RATING)),
            workingLoad: z.optional(q('mass', 'working load limit', RATING)),
          })
          .check(z.describe('of each chain')),
      ),
    }),
    output: answer({
      class: z.nullable(z.number()).check(z.describe('SAE J684 class; null above 10,000 lb')),
      limits: limitList,
      chainEach: z
        .nullable(
          z.strictObject({
            needed: out('mass', 'needed'),
            breaking: out('mass', 'breaking strength'),
            holds: z.boolean(),
          }),
        )
        .check(z.describe('each chain')),
      holds: z.boolean().check(z.describe('every part and both chains are strong enough')),
    }),
    cautions: ['A seller’s “class III 8,000 lb” is a trade label, not the standard’s class.'],
    sources: [
      { text: 'SAE J684 classes, identical in Maryland COMAR 11.13.08.04', kind: 'standard' },
      {
        text: 'the strength of each chain is state law, as New Hampshire RSA 266:63: it breaks no lower than the trailer’s gross weight; SAE J684 as summarized asks the same of class 4',
        kind: 'regulation',
      },
      {
        text: '49 CFR 393.70(d), for commercial combinations: the chains together break no lower than what is towed weighs',
        kind: 'regulation',
        tag: 'memory',
      },
      RATINGS,
      SHARE,
      { text: 'grade 30 chain breaks at four times its working load limit', kind: 'common practice', tag: 'memory' },
    ],
    formula: 'margin = rating − load, for each part; the least is the weakest link',
    range: 'ball hitches to 10,000 lb',
    envelope: {
      minimum:
        'at least one part with a gross rating, one with a tongue rating, and the chains’ strength: else nothing holds',
      floor: 'none: a margin below zero is said to be over',
      reserve: 'none of its own: ratings bring theirs; the weaker of two figures of a chain counts',
      ceiling: `every rating; ${BAND_TEXT}; class 4 ends at 10,000 lb`,
      rounding: 'none: shown figures only',
      laws: [
        { input: 'trailer', worse: 'more', output: 'holds', severer: [true, false] },
        { input: 'tongue', worse: 'more', output: 'holds', severer: [true, false] },
        { input: 'chain.breaking', worse: 'less', output: 'holds', severer: [true, false] },
        { input: 'parts.*.gross', worse: 'less', output: 'holds', severer: [true, false] },
        { input: 'parts.*.tongue', worse: 'less', output: 'holds', severer: [true, false] },
      ],
    },
    example: {
      input: {
        trailer: '6,400 lb',
        tongue: '680 lb',
        parts: [
          { what: 'ball', gross: '8,000 lb', origin: 'stamped on the ball' },
          { what: 'receiver', gross: '7,000 lb', tongue: '700 lb', origin: 'receiver label' },
        ],
        chain: { breaking: '9,000 lb' },
      },
      output: { class: 4, holds: true, limitedBy: 'receiver, tongue' },
    },
    run: hitchChain,
  }),
  define({
    id: 'ball-capacity',
    title: 'Typical capacity of a hitch ball',
    room: 'loads',
    summary: 'What a ball of a size and shank is usually rated for; the stamp wins.',
    input: z.strictObject({
      ball: z.string().check(z.describe('diameter: `2-5/16 in`')),
      shank: z.string().check(z.describe('shank diameter: `1-1/4 in`')),
    }),
    output: answer({ gross: out('mass', 'typical capacity') }),
    cautions: [
      'The stamped value wins; a ball without one is unproven. No ball-nut torque is published by a maker we found: see its package.',
    ],
    sources: [{ text: 'a summary of SAE J684 (July 2005)', kind: 'handbook' }],
    formula: 'table',
    range: 'balls of 1-7/8, 2 and 2-5/16 in',
    envelope: {
      minimum: 'a size and a shank of the table; others are refused',
      floor: '2,000 lb: the least of the table',
      reserve: 'none: a typical rating, which the stamp outranks',
      ceiling: '10,000 lb: the most of the table, and of the standard',
      rounding: 'none: the table',
      laws: [
        { input: 'ball', worse: ['2-5/16 in', '2 in', '1-7/8 in'], output: 'gross', severer: 'lesser' },
        { input: 'shank', worse: ['1-1/4 in', '1 in', '3/4 in'], output: 'gross', severer: 'lesser' },
      ],
    },
    example: { input: { ball: '2-5/16 in', shank: '1-1/4 in' }, output: { gross: { value: 10000, unit: 'lb' } } },
    run: ({ ball, shank }) => {
      const gross = ballCapacityTypical(ball, shank);
      if (gross !== null) return ok({ gross, limitedBy: 'the shank' });
      return fail({
        code: 'loads.ball',
        what: `No typical capacity for a ${ball} ball on a ${shank} shank.`,
        where: 'ball',
        expected: '1-7/8, 2 or 2-5/16 in on a shank of 3/4 to 1-3/8 in',
        next: 'Read the stamp on the ball.',
      });
    },
  }),
  define({
    id: 'grade-force',
    title: 'What a grade pulls',
    room: 'loads',
    summary: 'The force of gravity along a slope.',
    input: z.strictObject({
      weight: q('mass', 'the whole rig', RIG_WEIGHT),
      grade: q('ratio', 'the grade on the sign', GRADE),
    }),
    output: answer({ force: out('force', 'along the road') }),
    cautions: [],
    sources: [{ text: 'gravity on a slope', kind: 'physics' }],
    formula: 'W · sin(atan(grade))',
    range: 'grades to 40 %',
    envelope: {
      minimum: 'a weight from a scale or a rating, and the grade of the sign',
      floor: 'none: level ground pulls nothing, and a descent is negative',
      reserve: 'none: a force, not a limit',
      ceiling: 'grades of 40 %: no public road is steeper',
      rounding: 'none: shown figures only',
      laws: [
        { input: 'weight', worse: 'more', output: 'force', severer: 'greater' },
        { input: 'grade', worse: 'more', output: 'force', severer: 'greater' },
      ],
    },
    example: { input: { weight: '12,400 lb', grade: '6 %' }, output: { force: { value: 742.7, unit: 'lbf' } } },
    run: gradeForce,
  }),
];
