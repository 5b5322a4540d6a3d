/**
 * `weigh-single-axle` and `weigh-tongue-scale`: the same figures where there is no scale with a pad for each axle.
 *
 * On a platform that holds one axle, or all of a vehicle, what was not weighed alone is what is left (a caravan maker's
 * worksheet warns of taking it for granted: platform and approach must be level). With a lever on a small scale, tongue weight
 * is the reading times the ratio of the arms.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, type Quantity, quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { lb } from './limits.ts';
import { AXLE_WEIGHT, AXLES_WEIGHT, LEVER_ARM } from './ranges.ts';
import {
  axlesOfVehicle,
  type Bounds,
  coarseProblem,
  corners,
  SCALE_STEP,
  stepProblem,
  weightProblem,
} from './ticket.ts';
import { bandProblem, type TongueBand, tongueCautions } from './tongue-band.ts';

interface AnyTwo {
  readonly front?: Quantity | undefined;
  readonly rear?: Quantity | undefined;
  readonly total?: Quantity | undefined;
}

export interface WeighSingleAxle {
  readonly tongue: Quantity;
  readonly tongueShare: Quantity;
  readonly trailer: Quantity;
  readonly combined: Quantity;
  readonly front: Quantity;
  readonly rear: Quantity;
  readonly axles: Quantity;
  readonly uncertainty: { readonly tongue: Bounds; readonly tongueShare: Bounds };
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * A platform that holds one axle at a time: tow vehicle alone and coupled (weight distribution slack), each trailer axle.
 *
 * @param input.solo any two of front, rear, total
 * @param input.hitched any two of front, rear, total of the tow vehicle, and every trailer axle
 */
export function weighSingleAxle(input: {
  readonly solo: AnyTwo;
  readonly hitched: AnyTwo & { readonly axles: readonly Quantity[] };
  readonly step?: Quantity | undefined;
  readonly band?: TongueBand | undefined;
}): Result<WeighSingleAxle> {
  const unread = stepProblem(input.step) ?? bandProblem(input.band);
  if (unread !== null) return fail(unread);
  const step = input.step ?? SCALE_STEP;
  const solo = axlesOfVehicle(input.solo, step, 'solo');
  if (!solo.ok) return solo;
  const hitched = axlesOfVehicle(input.hitched, step, 'hitched');
  if (!hitched.ok) return hitched;
  const wrong = weightProblem(
    Object.fromEntries(input.hitched.axles.map((axle, i) => [`axles.${i}`, axle])),
    'hitched',
    AXLE_WEIGHT,
  );
  const coarse =
    wrong ??
    coarseProblem([solo.value.front, solo.value.rear], step, 'solo') ??
    coarseProblem([hitched.value.front, hitched.value.rear, ...input.hitched.axles], step, 'hitched');
  if (coarse !== null) return fail(coarse);
  const sumOf = ({ front, rear, total }: { front: Quantity; rear: Quantity; total?: Quantity | undefined }) =>
    total === undefined ? lb(front) + lb(rear) : lb(total);
  const [alone, coupled] = [sumOf(solo.value), sumOf(hitched.value)];
  const axles = input.hitched.axles.reduce((sum, axle) => sum + lb(axle), 0);
  const tongue = coupled - alone;
  if (axles <= 0 || tongue > axles || tongue < -0.5 * axles) {
    return fail({
      code: 'loads.tongue-impossible',
      what: 'By these readings no trailer could stand: check which pass is which.',
      where: 'hitched',
      expected: 'a tongue that carries less than the axles do',
    });
  }
  // Each of the two sums holds up to two rounded readings; each axle one.
  const half = lb(step) / 2;
  const spread = corners([tongue], 4 * half, ([t]) => t!);
  const unit = (hitched.value.front ?? hitched.value.rear).unit;
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), unit);
  const share = (t: number, a: number) => quantity((100 * t) / (t + a), '%');
  const axleDoubt = half * input.hitched.axles.length;
  const low = share(spread.low, axles + axleDoubt);
  const high = share(spread.high, axles - axleDoubt);
  return ok({
    tongue: mass(tongue),
    tongueShare: share(tongue, axles),
    trailer: mass(tongue + axles),
    combined: mass(coupled + axles),
    front: hitched.value.front,
    rear: hitched.value.rear,
    axles: mass(axles),
    uncertainty: {
      tongue: { low: mass(spread.low), high: mass(spread.high) },
      tongueShare: { low, high },
    },
    limitedBy: 'the scale’s step',
    assumed: input.step === undefined ? ['step: 20 lb'] : [],
    cautions: [
      ...tongueCautions(share(tongue, axles).value, input.band, { low: low.value, high: high.value }),
      'Platform and approach must be level, brakes off, nobody moving: an axle on a slope reads wrong.',
      'Weigh with weight distribution slack; with it set, the tongue reads too low.',
    ],
  });
}

export interface WeighTongueScale {
  readonly tongue: Quantity;
  readonly tongueShare: Quantity;
  readonly trailer: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/**
 * Tongue weight from a tongue scale, or a small scale under a lever, with the axles' load from any scale.
 *
 * @param input.lever distances from the fixed end of the beam to the tongue and to the scale
 * @example reading 260 lb, tongue at 12 in, scale at 36 in → 780 lb
 */
export function weighTongueScale(input: {
  readonly reading: Quantity;
  readonly axles: Quantity;
  readonly lever?: { readonly toTongue: Quantity; readonly toScale: Quantity } | undefined;
  readonly band?: TongueBand | undefined;
}): Result<WeighTongueScale> {
  const wrong =
    weightProblem({ reading: input.reading, axles: input.axles }, 'scale', AXLES_WEIGHT) ?? bandProblem(input.band);
  if (wrong !== null) return fail(wrong);
  const arms = input.lever === undefined ? 1 : valueIn(input.lever.toScale, 'm') / valueIn(input.lever.toTongue, 'm');
  if (!(arms >= 1 && arms < 20)) {
    return fail({
      code: 'loads.lever',
      what: 'The scale stands further from the fixed end than the tongue does.',
      where: 'lever',
      expected: 'two distances from the fixed end, the scale’s the longer',
    });
  }
  const unread = rangeProblem([
    ['lever.toTongue', input.lever?.toTongue, LEVER_ARM],
    ['lever.toScale', input.lever?.toScale, LEVER_ARM],
  ]);
  if (unread !== null) return fail(unread);
  const tongue = lb(input.reading) * arms;
  const axles = lb(input.axles);
  if (tongue > axles) {
    return fail({
      code: 'loads.tongue-impossible',
      what: 'The tongue would carry more than the axles: no trailer stands like that.',
      where: 'reading',
      expected: 'a tongue that carries less than the axles do',
    });
  }
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), input.reading.unit);
  return ok({
    tongue: mass(tongue),
    tongueShare: quantity((100 * tongue) / (tongue + axles), '%'),
    trailer: mass(tongue + axles),
    limitedBy: input.lever === undefined ? 'the tongue scale' : 'the arms of the lever',
    cautions: [
      ...tongueCautions((100 * tongue) / (tongue + axles), input.band),
      'Chock both sides of every wheel first; level the trailer at towing height; weigh the coupler, not the jack, or correct for its place.',
    ],
  });
}
