/** The calculations of the loads room: hitch, tow vehicle, what changes. */

import * as z from 'zod/mini';
import {
  ballCapacityTypical,
  gradeForce,
  heightRestored,
  hitchChain,
  hitchStatics,
  loadChange,
  towVehicle,
} from '../../loads/index.ts';
import { fail, ok } from '../../problem/index.ts';
import { range } from '../../quantity/index.ts';
import { answer, type Calculation, define, out, q } from '../calculation.ts';
import { limitList, originRating, SHARE, STATICS } from './loads.ts';

const geometry = {
  wheelbase: q('length', 'front to rear axle of the tow vehicle'),
  overhang: q('length', 'rear axle to the middle of the ball'),
  ballToAxles: q('length', 'ball to the middle of the trailer’s axles'),
};
const axleLoads = (text: string) =>
  z
    .strictObject({ front: out('mass', 'front axle'), rear: out('mass', 'rear axle'), total: out('mass', 'both') })
    .check(z.describe(text));

export const hitchCalculations: readonly Calculation[] = [
  define({
    id: 'hitch-statics',
    title: 'What a tongue does to the tow vehicle',
    room: 'loads',
    summary: 'Changes of its axle loads, and the moment of weight distribution that undoes them.',
    input: z.strictObject({
      ...geometry,
      tongue: q('mass', 'tongue weight'),
      trailer: z.optional(q('mass', 'the whole trailer, to check the tongue against')),
      restore: z.optional(q('ratio', 'share of the front axle’s loss to restore')),
      moment: z.optional(q('torque', 'or the moment at the ball')),
    }),
    output: answer({
      front: out('mass', 'change of the front axle without weight distribution'),
      rear: out('mass', 'change of the rear axle'),
      momentForFullRestore: out('torque', 'moment at the ball that brings the front axle back in full'),
      withMoment: z
        .nullable(
          z.strictObject({
            front: out('mass', 'front'),
            rear: out('mass', 'rear'),
            axles: out('mass', 'trailer axles'),
            moment: out('torque', 'moment'),
            frontRestored: out('ratio', 'restored'),
          }),
        )
        .check(z.describe('changes with the moment asked for')),
      tongueShare: z.nullable(out('ratio', 'tongue as a share of the trailer')),
    }),
    cautions: [],
    sources: [
      STATICS,
      {
        text: 'owner-forum derivation: 2,000 lb at the ends of 30 in bars move 300 lb to axles 200 in behind the ball',
        kind: 'handbook',
      },
    ],
    formula:
      'front −T·H/B; rear +T·(B+H)/B; with M: axles +M/L, front +M·(L+H)/(L·B), rear −M·(L+H+B)/(L·B); full restoration M = T·H·L/(L+H)',
    range: 'level ground; trailer axles taken as one',
    example: {
      input: { wheelbase: '145 in', overhang: '65 in', ballToAxles: '210 in', tongue: '800 lb' },
      output: {
        front: { value: -358.6, unit: 'lb' },
        rear: { value: 1158.6, unit: 'lb' },
        momentForFullRestore: { value: 3309, unit: 'lb-ft' },
      },
    },
    run: hitchStatics,
  }),
  define({
    id: 'height-restored',
    title: 'Restoration by fender height',
    room: 'loads',
    summary: 'How much of the front axle’s loss is back, from three heights of the front wheel opening.',
    input: z.strictObject({
      solo: q('length', 'height alone'),
      slack: q('length', 'height coupled, weight distribution slack'),
      set: q('length', 'height coupled, weight distribution set'),
    }),
    output: answer({ frontRestored: out('ratio', 'restored') }),
    cautions: ['The tow vehicle’s handbook says how far to restore: half-way in some years, all the way in others.'],
    sources: [{ text: 'truck makers’ handbooks of 2000, 2012 and 2014', kind: 'handbook' }],
    formula: '(slack − set)/(slack − solo)',
    range: 'level ground, same load',
    example: {
      input: { solo: '38 in', slack: '39 in', set: '38.25 in' },
      output: { frontRestored: { value: 75, unit: '%' } },
    },
    run: (input) => {
      const found = heightRestored(input);
      return found.ok ? ok({ ...found.value, limitedBy: 'the tape measure' }) : found;
    },
  }),
  define({
    id: 'tow-vehicle',
    title: 'Tow vehicle before and after',
    room: 'loads',
    summary: 'Its axles and payload alone, coupled slack, and coupled set, against its ratings.',
    input: z.strictObject({
      ...geometry,
      solo: z
        .strictObject({ front: q('mass', 'front axle'), rear: q('mass', 'rear axle') })
        .check(z.describe('weighed alone')),
      tongue: q('mass', 'tongue weight'),
      restore: q('ratio', 'share restored by weight distribution; 0 % without one'),
      aboard: z.optional(
        z
          .array(
            z.strictObject({
              what: z.string().check(z.describe('name')),
              weight: q('mass', 'weight'),
              ahead: q('length', 'ahead of the rear axle; negative behind it'),
            }),
          )
          .check(z.describe('put aboard after the weighing')),
      ),
      ratings: z.optional(
        z
          .strictObject({
            frontAxle: z.optional(originRating),
            rearAxle: z.optional(originRating),
            vehicle: z.optional(originRating),
            tongue: z.optional(originRating),
          })
          .check(z.describe('ratings with their origin')),
      ),
    }),
    output: answer({
      before: axleLoads('alone'),
      slack: axleLoads('coupled, weight distribution slack'),
      after: axleLoads('coupled and set'),
      toAxles: out('mass', 'handed to the trailer’s axles'),
      limits: limitList,
    }),
    cautions: [],
    sources: [
      STATICS,
      {
        text: 'rear axle within its rating before the bars are set: a truck maker’s manuals of 2015 to 2020',
        kind: 'handbook',
      },
    ],
    formula: 'as hitch-statics, added to the weights alone',
    range: 'level ground',
    example: {
      input: {
        wheelbase: '145 in',
        overhang: '65 in',
        ballToAxles: '210 in',
        solo: { front: '3,200 lb', rear: '2,800 lb' },
        tongue: '800 lb',
        restore: '50 %',
      },
      output: {
        after: { front: { value: 3020.7, unit: 'lb' }, rear: { value: 3684.8, unit: 'lb' } },
        toAxles: { value: 94.5, unit: 'lb' },
      },
    },
    run: towVehicle,
  }),
  define({
    id: 'load-change',
    title: 'What if we move, add or remove things',
    room: 'loads',
    summary: 'Tongue, share and axles after moving water or adding a rack.',
    input: z.strictObject({
      tongue: q('mass', 'tongue weight now'),
      axles: q('mass', 'load on the trailer’s axles now'),
      ballToAxles: q('length', 'ball to the middle of the axles'),
      moves: z
        .array(
          z.strictObject({
            what: z.string().check(z.describe('name')),
            weight: q('mass', 'weight'),
            from: z.optional(q('length', 'where it was: ahead of the axles, negative behind')),
            to: z.optional(q('length', 'where it goes')),
          }),
        )
        .check(z.describe('`to` alone adds, `from` alone removes')),
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
    sources: [STATICS, SHARE],
    formula: 'a weight w at x ahead of the axles puts w·x/L on the ball',
    range: 'trailer axles taken as one',
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
      trailer: q('mass', 'the whole trailer as towed'),
      tongue: q('mass', 'tongue weight'),
      parts: z
        .array(
          z.strictObject({
            what: z.string().check(z.describe('`ball`, `coupler`, `receiver`, `ball mount`, `bars`')),
            gross: z.optional(q('mass', 'gross trailer weight it is rated for')),
            tongue: z.optional(q('mass', 'tongue weight it is rated for')),
            origin: z.string().check(z.describe('where the rating was read')),
          }),
        )
        .check(z.describe('every part between tow vehicle and trailer')),
      chain: z.optional(
        z
          .strictObject({
            breaking: z.optional(q('mass', 'breaking strength')),
            workingLoad: z.optional(q('mass', 'working load limit')),
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
        text: '49 CFR 393.70 and New Hampshire RSA 266:63: breaking strength of each chain not below the gross weight',
        kind: 'regulation',
      },
      { text: 'grade 30 chain breaks at four times its working load limit', kind: 'common practice', tag: 'memory' },
    ],
    formula: 'margin = rating − load, for each part; the least is the weakest link',
    range: 'ball hitches to 10,000 lb',
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
      weight: q('mass', 'the whole rig', range(0, 100_000, 'lb')),
      grade: q('ratio', 'the grade on the sign', range(-40, 40, '%')),
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
