/** The calculations of the loads room: hitch and tow vehicle by statics. */

import * as z from 'zod/mini';
import {
  AXLE_WEIGHT,
  BALL_TO_AXLES,
  FENDER_HEIGHT,
  heightRestored,
  hitchStatics,
  ITEM_WEIGHT,
  MOMENT,
  OVERHANG,
  PLACE,
  RESTORE,
  RIG_WEIGHT,
  TONGUE_WEIGHT,
  towVehicle,
  WHEELBASE,
} from '../../loads/index.ts';
import { ok } from '../../problem/index.ts';
import { answer, type Calculation, define, out, q } from '../calculation.ts';
import { BAND_TEXT, band, limitList, originRating, RATINGS, RESTORED, SHARE, STATICS } from './loads.ts';

const geometry = {
  wheelbase: q('length', 'front to rear axle of the tow vehicle', WHEELBASE),
  overhang: q('length', 'rear axle to the middle of the ball', OVERHANG),
  ballToAxles: q('length', 'ball to the middle of the trailer’s axles', BALL_TO_AXLES),
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
      tongue: q('mass', 'tongue weight', TONGUE_WEIGHT),
      trailer: z.optional(q('mass', 'the whole trailer, to check the tongue against', RIG_WEIGHT)),
      restore: z.optional(q('ratio', 'share of the front axle’s loss to restore', RESTORE)),
      moment: z.optional(q('torque', 'or the moment at the ball', MOMENT)),
      band,
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
      SHARE,
      RESTORED,
      {
        text: 'owner-forum derivation: 2,000 lb at the ends of 30 in bars move 300 lb to axles 200 in behind the ball',
        kind: 'handbook',
      },
    ],
    formula:
      'front −T·H/B; rear +T·(B+H)/B; with M: axles +M/L, front +M·(L+H)/(L·B), rear −M·(L+H+B)/(L·B); full restoration M = T·H·L/(L+H)',
    range: 'level ground; trailer axles taken as one',
    envelope: {
      minimum: 'three lengths above zero and a tongue that presses on the ball',
      floor: 'none: changes of load have a sign',
      reserve: 'none: statics, to be confirmed on a scale',
      ceiling: `${BAND_TEXT}; restoration above 100 % and under half is said`,
      rounding: 'none: shown figures only',
      laws: [
        { input: 'tongue', worse: 'more', output: 'rear', severer: 'greater' },
        { input: 'tongue', worse: 'more', output: 'front', severer: 'lesser' },
        { input: 'overhang', worse: 'more', output: 'rear', severer: 'greater' },
        { input: 'wheelbase', worse: 'less', output: 'front', severer: 'lesser' },
      ],
    },
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
      solo: q('length', 'height alone', FENDER_HEIGHT),
      slack: q('length', 'height coupled, weight distribution slack', FENDER_HEIGHT),
      set: q('length', 'height coupled, weight distribution set', FENDER_HEIGHT),
    }),
    output: answer({ frontRestored: out('ratio', 'restored') }),
    cautions: ['The tow vehicle’s handbook says how far to restore: half-way in some years, all the way in others.'],
    sources: [{ text: 'truck makers’ handbooks of 2000, 2012 and 2014', kind: 'handbook' }, RESTORED],
    formula: '(slack − set)/(slack − solo)',
    range: 'level ground, same load',
    envelope: {
      minimum: 'a rise of a quarter inch from alone to slack: less is no test',
      floor: '0 %: set is not above slack',
      reserve: 'none: the handbook’s target brings its own',
      ceiling: 'above 100 % and under half is said',
      rounding: 'none: shown figures only',
      laws: [{ input: 'set', worse: 'more', output: 'frontRestored', severer: 'lesser' }],
    },
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
        .strictObject({ front: q('mass', 'front axle', AXLE_WEIGHT), rear: q('mass', 'rear axle', AXLE_WEIGHT) })
        .check(z.describe('weighed alone')),
      tongue: q('mass', 'tongue weight', TONGUE_WEIGHT),
      restore: q('ratio', 'share restored by weight distribution; 0 % without one', RESTORE),
      aboard: z.optional(
        z
          .array(
            z.strictObject({
              what: z.string().check(z.describe('name')),
              weight: q('mass', 'weight', ITEM_WEIGHT),
              ahead: q('length', 'ahead of the rear axle; negative behind it', PLACE),
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
      RATINGS,
      RESTORED,
      {
        text: 'rear axle within its rating before the bars are set: a truck maker’s manuals of 2015 to 2020',
        kind: 'handbook',
      },
    ],
    formula: 'as hitch-statics, added to the weights alone',
    range: 'level ground',
    envelope: {
      minimum: 'axle weights from a scale, three lengths above zero',
      floor: 'an axle that would leave the ground is refused',
      reserve: 'none: computed figures, to be confirmed on a scale',
      ceiling: 'each rating, slack and set alike; restoration above 100 % and under half is said',
      rounding: 'to the worse side: the heavier of slack and set is held against each rating',
      laws: [
        { input: 'tongue', worse: 'more', output: 'slack.rear', severer: 'greater' },
        { input: 'tongue', worse: 'more', output: 'slack.front', severer: 'lesser' },
        { input: 'solo.rear', worse: 'more', output: 'after.rear', severer: 'greater' },
        { input: 'restore', worse: 'less', output: 'after.front', severer: 'lesser' },
      ],
    },
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
];
