/**
 * `hitch-statics`: what a tongue weight does to the axles of the tow vehicle, and the moment that undoes it.
 *
 * Statics, moments about the rear axle (wheelbase B, overhang from rear axle to ball H, ball to the centre of the trailer's
 * axles L, tongue T, moment M of weight distribution at the ball):
 * without: front −T·H/B, rear +T·(B+H)/B. With: trailer +M/L, front +M·(L+H)/(L·B), rear −M·(L+H+B)/(L·B).
 * Full restoration of the front axle: M = T·H·L/(L+H). Checked against an owner-forum derivation of 2,000 lb at the ends of
 * 30 in bars, which moves 300 lb to axles 200 in behind the ball.
 */

import type { Problem } from '../problem/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { convert, type Quantity, quantity, rangeProblem, systemOf, valueIn } from '../quantity/index.ts';
import { lb } from './limits.ts';
import {
  BALL_TO_AXLES,
  FENDER_HEIGHT,
  MOMENT,
  OVERHANG,
  RESTORE,
  RIG_WEIGHT,
  TONGUE_WEIGHT,
  WHEELBASE,
} from './ranges.ts';
import { bandProblem, restoredCautions, type TongueBand, tongueCautions } from './tongue-band.ts';

export interface AxleShift {
  readonly front: Quantity;
  readonly rear: Quantity;
  readonly axles: Quantity;
}

export interface HitchStatics {
  /** Change of the front axle's load without weight distribution (negative: lighter). */
  readonly front: Quantity;
  /** Change of the rear axle's load without weight distribution. */
  readonly rear: Quantity;
  readonly momentForFullRestore: Quantity;
  /** Changes with the moment asked for; null where none was. */
  readonly withMoment: (AxleShift & { readonly moment: Quantity; readonly frontRestored: Quantity }) | null;
  readonly tongueShare: Quantity | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

export interface HitchGeometry {
  readonly wheelbase: Quantity;
  readonly overhang: Quantity;
  readonly ballToAxles: Quantity;
}

/** Metres; throws nothing, returns null where a length is not above zero. */
function metres(geometry: HitchGeometry): { B: number; H: number; L: number } | null {
  const [B, H, L] = [geometry.wheelbase, geometry.overhang, geometry.ballToAxles].map((length) =>
    valueIn(length, 'm'),
  ) as [number, number, number];
  return B > 0 && H > 0 && L > 0 ? { B, H, L } : null;
}

/** The changes of axle loads in pounds for a tongue in pounds and a moment in pound-metres. */
export function axleShift(
  geometry: HitchGeometry,
  tongueLb: number,
  momentLbMetres: number,
): { front: number; rear: number; axles: number } {
  const lengths = metres(geometry);
  if (lengths === null) throw new Error('invariant: hitch lengths are above zero');
  const { B, H, L } = lengths;
  return {
    front: (-tongueLb * H) / B + (momentLbMetres * (L + H)) / (L * B),
    rear: (tongueLb * (B + H)) / B - (momentLbMetres * (L + H + B)) / (L * B),
    axles: momentLbMetres / L,
  };
}

/** The moment that brings the front axle back in full, pound-metres. */
export function momentFullLbMetres(geometry: HitchGeometry, tongueLb: number): number {
  const { H, L } = metres(geometry)!;
  return (tongueLb * H * L) / (L + H);
}

/** The problem with a geometry, or null. */
export function geometryProblem(geometry: HitchGeometry): Problem | null {
  if (metres(geometry) === null) {
    return {
      code: 'loads.geometry',
      what: 'Wheelbase, overhang and the distance from ball to axles are lengths above zero.',
      where: 'wheelbase',
      expected: 'lengths measured on the level, ball to the middle of the trailer’s axles',
    };
  }
  return rangeProblem([
    ['wheelbase', geometry.wheelbase, WHEELBASE],
    ['overhang', geometry.overhang, OVERHANG],
    ['ballToAxles', geometry.ballToAxles, BALL_TO_AXLES],
  ]);
}

/** Less is no tongue weight, lb. */
const TONGUE_LEAST_LB = 1;

const LBF_M_TO_NM = 0.45359237 * 9.80665;

/**
 * @param input.restore share of the front axle's loss to restore (handbooks ask for 50 or 100 %), or
 * @param input.moment the moment at the ball itself; not both
 * @param input.trailer the trailer's whole weight, to check the tongue against
 * @example wheelbase 145 in, overhang 65 in, ball to axles 210 in, tongue 800 lb → front −358.6 lb, rear +1,158.6 lb, 3,309 lb-ft
 */
export function hitchStatics(
  input: HitchGeometry & {
    readonly tongue: Quantity;
    readonly trailer?: Quantity | undefined;
    readonly restore?: Quantity | undefined;
    readonly moment?: Quantity | undefined;
    readonly band?: TongueBand | undefined;
  },
): Result<HitchStatics> {
  const wrong =
    geometryProblem(input) ??
    rangeProblem([
      ['tongue', input.tongue, TONGUE_WEIGHT],
      ['trailer', input.trailer, RIG_WEIGHT],
      ['moment', input.moment, MOMENT],
    ]) ??
    bandProblem(input.band);
  if (wrong !== null) return fail(wrong);
  const tongue = lb(input.tongue);
  const trailer = input.trailer === undefined ? null : lb(input.trailer);
  if (tongue < TONGUE_LEAST_LB || (trailer !== null && tongue >= trailer)) {
    return fail({
      code: 'loads.tongue-impossible',
      what:
        tongue < TONGUE_LEAST_LB
          ? 'A tongue that presses on no ball cannot be towed.'
          : 'The tongue cannot carry more than the whole trailer weighs: that is over 100 %.',
      where: 'tongue',
      expected: 'a tongue weight above zero and below the trailer’s weight',
    });
  }
  const restore = input.restore === undefined ? null : valueIn(input.restore, 'ratio');
  const restorable = rangeProblem([['restore', input.restore, RESTORE]]) === null;
  if (restore !== null && (!restorable || input.moment !== undefined)) {
    return fail({
      code: 'loads.restore',
      what: 'Restoration is a share of what the tongue took off the front axle, or a moment is given, not both.',
      where: 'restore',
      expected: 'a share from 0 to 150 %',
    });
  }
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), input.tongue.unit);
  const torque = (lbMetres: number) => {
    const newtonMetres = quantity(lbMetres * LBF_M_TO_NM, 'N-m');
    return systemOf(input.tongue.unit) === 'metric' ? newtonMetres : convert(newtonMetres, 'lb-ft');
  };
  const full = momentFullLbMetres(input, tongue);
  const moment =
    input.moment === undefined
      ? restore === null
        ? null
        : restore * full
      : valueIn(input.moment, 'N-m') / LBF_M_TO_NM;
  const without = axleShift(input, tongue, 0);
  const shifted = moment === null ? null : axleShift(input, tongue, moment);
  const cautions = [
    ...(trailer === null ? [] : tongueCautions((100 * tongue) / trailer, input.band)),
    ...(moment === null ? [] : restoredCautions((100 * moment) / full)),
    'The target for restoring the front axle is in the tow vehicle’s handbook and changed with the year: 50 % in some, 100 % in others.',
  ];
  return ok({
    front: mass(without.front),
    rear: mass(without.rear),
    momentForFullRestore: torque(full),
    withMoment:
      shifted === null || moment === null
        ? null
        : {
            front: mass(shifted.front),
            rear: mass(shifted.rear),
            axles: mass(shifted.axles),
            moment: torque(moment),
            frontRestored: quantity((100 * moment) / full, '%'),
          },
    tongueShare: trailer === null ? null : quantity((100 * tongue) / trailer, '%'),
    limitedBy: 'the lengths as measured',
    cautions,
  });
}

/**
 * Restoration by fender height: (H2 − H3)/(H2 − H1), heights of the front wheel opening alone, coupled and slack, coupled and set.
 *
 * Source: truck makers' handbooks that set weight distribution by height (2000, 2012, 2014).
 */
export function heightRestored(input: {
  readonly solo: Quantity;
  readonly slack: Quantity;
  readonly set: Quantity;
}): Result<{ frontRestored: Quantity; cautions: readonly string[] }> {
  const wrong = rangeProblem([
    ['solo', input.solo, FENDER_HEIGHT],
    ['slack', input.slack, FENDER_HEIGHT],
    ['set', input.set, FENDER_HEIGHT],
  ]);
  if (wrong !== null) return fail(wrong);
  const [h1, h2, h3] = [input.solo, input.slack, input.set].map((height) => valueIn(height, 'in')) as [
    number,
    number,
    number,
  ];
  if (h2 - h1 < RISE_LEAST_IN) {
    return fail({
      code: 'loads.heights',
      what: 'A tongue raises the front of its tow vehicle, by enough to be measured: these two heights are as good as alike, or the wrong way round.',
      where: 'slack',
      expected: `three heights of the front wheel opening, ground to edge, the slack one at least ${RISE_LEAST_IN} in above the one alone`,
      next: 'Weigh it on a scale where the tape cannot tell.',
    });
  }
  const share = (100 * (h2 - h3)) / (h2 - h1);
  if (share < 0) {
    return fail({
      code: 'loads.heights',
      what: 'Weight distribution never raises the front: set stands higher than slack.',
      where: 'set',
      expected: 'the three heights of one wheel opening, each with the same load aboard',
      next: 'Read the heights again.',
    });
  }
  return ok({ frontRestored: quantity(share, '%'), cautions: restoredCautions(share) });
}

/** A tape is read to an eighth of an inch at best: on less of a rise, half restored and all restored look alike (our own choice). */
const RISE_LEAST_IN = 0.25;
