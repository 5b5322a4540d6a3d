/** The calculations of the loads room: scale tickets. */

import * as z from 'zod/mini';
import { limitWords } from '../../catalog/index.ts';
import {
  AXLE_WEIGHT,
  AXLES_WEIGHT,
  BAND_SHARE,
  LEVER_ARM,
  RATING,
  RIG_WEIGHT,
  SCALE_STEPS,
  weighSingleAxle,
  weighThreePass,
  weighTongueScale,
} from '../../loads/index.ts';
import { answer, bounds, type Calculation, type CalculationSource, define, out, q } from '../calculation.ts';

/** A rating and where it was read. */
export const originRating = z
  .strictObject({
    rating: q('mass', 'the rating', RATING),
    origin: z.string().check(z.describe('where it was read: `door-jamb label`')),
  })
  .check(z.describe('a rating and where it was read'));

export const limitList = z
  .array(
    z.strictObject({
      what: z.string(),
      load: out('mass', 'load'),
      rating: out('mass', 'rating'),
      origin: z.string(),
      margin: out('mass', 'rating less load'),
      used: out('ratio', 'load as a share of the rating'),
    }),
  )
  .check(z.describe('loads against ratings, the tightest first'));

const vehiclePass = {
  front: q('mass', 'front axle', AXLE_WEIGHT),
  rear: q('mass', 'rear axle', AXLE_WEIGHT),
  total: z.optional(q('mass', 'total printed on the ticket', RIG_WEIGHT)),
};
const coupledPass = { ...vehiclePass, axles: q('mass', 'trailer axles', AXLES_WEIGHT) };
const step = z.optional(q('mass', 'smallest change the scale shows; 20 lb where not given', SCALE_STEPS));

const LEAST = limitWords('tongue-share-least');
const MOST = limitWords('tongue-share-most');

/** What the owner's handbook asks of the tongue; it outranks the usual band. */
export const band = z.optional(
  z
    .strictObject({
      least: q('ratio', 'least share', BAND_SHARE),
      most: q('ratio', 'most', BAND_SHARE),
    })
    .check(z.describe(`your handbook’s band of the tongue’s share; ${LEAST} to ${MOST} where not given`)),
);

/** In envelopes: the band and where it comes from. */
export const BAND_TEXT = `the tongue’s band, ${LEAST} to ${MOST} of the trailer or the handbook’s own: outside it, or perhaps outside, is said`;

export const STATICS: CalculationSource = { text: 'statics: forces and moments of a standing rig', kind: 'physics' };
export const SHARE: CalculationSource = {
  text: `${LEAST} to ${MOST} on the tongue: five vehicle and trailer handbooks; others ask for 8 to 11 %. Your handbook holds`,
  kind: 'handbook',
};
/** What a rating on a certification label is. */
export const RATINGS: CalculationSource = {
  text: '49 CFR 567.4 and 571.3: GVWR and GAWR are the maker’s figures, on the certification label',
  kind: 'regulation',
};
/** How far the front axle is to be brought back. */
export const RESTORED: CalculationSource = {
  text: 'restoration of the front axle: half in some truck makers’ handbooks and hitch makers’ sheets, all in others, never more',
  kind: 'handbook',
};
const STEP: CalculationSource = {
  text: 'scale step of 20 lb: NIST Handbook 44, class III L',
  kind: 'standard',
  tag: 'memory',
};
const SAME =
  'Same people, fuel and cargo in every pass; nobody steps off; weight distribution hardware aboard from the first.';

export const scaleCalculations: readonly Calculation[] = [
  define({
    id: 'weigh-three-pass',
    title: 'Three passes over a scale',
    room: 'loads',
    summary: 'Tongue weight, shares, restoration and margins from three tickets.',
    input: z.strictObject({
      solo: z.strictObject(vehiclePass).check(z.describe('tow vehicle alone')),
      hitchedSlack: z.strictObject(coupledPass).check(z.describe('coupled, weight distribution slack')),
      hitchedSet: z.strictObject(coupledPass).check(z.describe('coupled, weight distribution set')),
      step,
      band,
      ratings: z.optional(
        z
          .strictObject({
            frontAxle: z.optional(originRating),
            rearAxle: z.optional(originRating),
            vehicle: z.optional(originRating),
            trailerAxles: z.optional(originRating),
            trailer: z.optional(originRating),
            combined: z.optional(originRating),
            tongue: z.optional(originRating),
          })
          .check(z.describe('ratings with their origin')),
      ),
    }),
    output: answer({
      tongue: out('mass', 'tongue weight'),
      tongueShare: out('ratio', 'tongue weight as a share of the trailer’s weight'),
      trailer: out('mass', 'the whole trailer'),
      combined: out('mass', 'the whole rig'),
      frontRestored: z.nullable(out('ratio', 'how much of the front axle’s loss is back on it')),
      toAxles: out('mass', 'moved to the trailer’s axles by weight distribution'),
      uncertainty: z
        .strictObject({
          tongue: bounds('mass', 'tongue weight'),
          tongueShare: bounds('ratio', 'its share'),
          toAxles: bounds('mass', 'moved to the axles'),
          frontRestored: z.nullable(bounds('ratio', 'restored')),
        })
        .check(z.describe('what the scale’s step leaves open')),
      limits: limitList,
    }),
    cautions: [SAME],
    sources: [
      STATICS,
      STEP,
      SHARE,
      RESTORED,
      RATINGS,
      {
        text: 'rear axle within its rating before the bars are set: a truck maker’s manuals of 2015 to 2020',
        kind: 'handbook',
      },
    ],
    formula: 'tongue = (F₂+R₂) − (F₁+R₁); share = tongue/(tongue+A₂); restored = (F₃−F₂)/(F₁−F₂); to axles = A₃−A₂',
    range: 'a scale with a pad under each axle, level',
    envelope: {
      minimum: 'three passes whose sums agree within the scale’s step; readings of at least ten steps',
      floor: 'none: a tongue of nothing or less is said to lift the ball',
      reserve: 'the scale’s step: a rating kept by less than the readings’ doubt is said to be perhaps over',
      ceiling: `${BAND_TEXT}; restoration above 100 % and under half; 20,000 lb an axle`,
      rounding: 'none in the figures; the worse of slack and set is held against each rating',
      laws: [
        { input: 'ratings.rearAxle.rating', worse: 'less', output: 'limits.*.margin', severer: 'lesser' },
        { input: 'step', worse: 'more', output: 'uncertainty.tongue.low', severer: 'lesser' },
      ],
    },
    example: {
      input: {
        solo: { front: '3,200 lb', rear: '2,800 lb' },
        hitchedSlack: { front: '2,840 lb', rear: '3,960 lb', axles: '5,600 lb' },
        hitchedSet: { front: '3,020 lb', rear: '3,680 lb', axles: '5,700 lb' },
        step: '20 lb',
        ratings: { rearAxle: { rating: '4,100 lb', origin: 'door-jamb label' } },
      },
      output: {
        tongue: { value: 800, unit: 'lb' },
        tongueShare: { value: 12.5, unit: '%' },
        trailer: { value: 6400, unit: 'lb' },
        combined: { value: 12400, unit: 'lb' },
        frontRestored: { value: 50, unit: '%' },
        toAxles: { value: 100, unit: 'lb' },
      },
    },
    run: weighThreePass,
  }),
  define({
    id: 'weigh-single-axle',
    title: 'A platform for one axle',
    room: 'loads',
    summary: 'Tongue weight and shares from a platform that holds one axle, or all of a vehicle.',
    input: z.strictObject({
      solo: z
        .strictObject({
          front: z.optional(q('mass', 'front axle', AXLE_WEIGHT)),
          rear: z.optional(q('mass', 'rear axle', AXLE_WEIGHT)),
          total: z.optional(q('mass', 'whole vehicle', RIG_WEIGHT)),
        })
        .check(z.describe('tow vehicle alone; any two of the three')),
      hitched: z
        .strictObject({
          front: z.optional(q('mass', 'front axle', AXLE_WEIGHT)),
          rear: z.optional(q('mass', 'rear axle', AXLE_WEIGHT)),
          total: z.optional(q('mass', 'tow vehicle only, coupled', RIG_WEIGHT)),
          axles: z.array(q('mass', 'a trailer axle', AXLE_WEIGHT)).check(z.describe('every trailer axle')),
        })
        .check(z.describe('coupled, weight distribution slack')),
      step,
      band,
    }),
    output: answer({
      tongue: out('mass', 'tongue weight'),
      tongueShare: out('ratio', 'its share of the trailer'),
      trailer: out('mass', 'the whole trailer'),
      combined: out('mass', 'the whole rig'),
      front: out('mass', 'front axle, coupled'),
      rear: out('mass', 'rear axle, coupled'),
      axles: out('mass', 'trailer axles'),
      uncertainty: z
        .strictObject({ tongue: bounds('mass', 'tongue weight'), tongueShare: bounds('ratio', 'its share') })
        .check(z.describe('what the scale’s step leaves open')),
    }),
    cautions: [SAME],
    sources: [
      STATICS,
      STEP,
      SHARE,
      { text: 'front as total less rear: a caravan maker’s worksheet', kind: 'handbook' },
    ],
    formula: 'front = total − rear; the rest as for three passes',
    range: 'platform and approach level',
    envelope: {
      minimum: 'any two of front, rear and total, both alone and coupled, of at least ten steps of the scale',
      floor: 'none: a tongue of nothing or less is said to lift the ball',
      reserve: 'the scale’s step: a share that may lie outside the band is said to',
      ceiling: `${BAND_TEXT}; 20,000 lb an axle`,
      rounding: 'none in the figures; the doubt is that of all readings wrong the same way',
      laws: [
        { input: 'step', worse: 'more', output: 'uncertainty.tongueShare.low', severer: 'lesser' },
        { input: 'step', worse: 'more', output: 'uncertainty.tongueShare.high', severer: 'greater' },
      ],
    },
    example: {
      input: {
        solo: { total: '6,000 lb', rear: '2,800 lb' },
        hitched: { total: '6,800 lb', rear: '3,960 lb', axles: ['2,780 lb', '2,820 lb'] },
        step: '20 lb',
      },
      output: {
        tongue: { value: 800, unit: 'lb' },
        front: { value: 2840, unit: 'lb' },
        trailer: { value: 6400, unit: 'lb' },
      },
    },
    run: weighSingleAxle,
  }),
  define({
    id: 'weigh-tongue-scale',
    title: 'A tongue scale, or a lever on a small one',
    room: 'loads',
    summary: 'Tongue weight and its share from a scale under the coupler.',
    input: z.strictObject({
      reading: q('mass', 'what the scale shows', AXLES_WEIGHT),
      axles: q('mass', 'trailer axles, uncoupled, from any scale', AXLES_WEIGHT),
      band,
      lever: z.optional(
        z
          .strictObject({
            toTongue: q('length', 'fixed end to the tongue', LEVER_ARM),
            toScale: q('length', 'fixed end to the scale', LEVER_ARM),
          })
          .check(z.describe('where a beam carries the tongue')),
      ),
    }),
    output: answer({
      tongue: out('mass', 'tongue weight'),
      tongueShare: out('ratio', 'its share'),
      trailer: out('mass', 'the whole trailer'),
    }),
    cautions: [],
    sources: [STATICS, SHARE],
    formula: 'tongue = reading · toScale/toTongue',
    range: 'trailer level at towing height',
    envelope: {
      minimum: 'a reading above zero; with a lever the scale further out than the tongue',
      floor: 'none: a share of the trailer',
      reserve: 'none: the scale’s own error is not known here',
      ceiling: `${BAND_TEXT}; a tongue heavier than the axles is refused`,
      rounding: 'none: shown figures only',
      laws: [
        { input: 'reading', worse: 'more', output: 'tongue', severer: 'greater' },
        { input: 'reading', worse: 'less', output: 'tongueShare', severer: 'lesser' },
        { input: 'axles', worse: 'more', output: 'tongueShare', severer: 'lesser' },
      ],
    },
    example: {
      input: { reading: '260 lb', axles: '5,600 lb', lever: { toTongue: '12 in', toScale: '36 in' } },
      output: {
        tongue: { value: 780, unit: 'lb' },
        trailer: { value: 6380, unit: 'lb' },
        tongueShare: { value: 12.2, unit: '%' },
      },
    },
    run: weighTongueScale,
  }),
];
