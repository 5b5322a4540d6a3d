/**
 * `one-wheel-lost`: bounds on the loads of a tandem trailer with one wheel off. Never a permission.
 *
 * Statics: the load of a side does not change when one of its two wheels is gone, so the other wheel of that side carries
 * up to all of it, twice what it did. How the other side shares between its two wheels depends on the twist of the frame.
 * Permission: one trailer maker's manual (1975, and its current article) allows its rubber-torsion tandems to be moved on
 * three wheels in an emergency, slowly and not far; for equalised leaf springs no maker's permission was found, and the bare
 * hub drops towards the road. No maker publishes a distance or a speed.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { AXLE_LOAD, SIDE_SHARE, TANDEM_LOAD, WHEEL_LOAD } from './ranges.ts';

export interface WheelLimit {
  /** `tire`, `wheel` or `half the axle rating`. */
  readonly what: string;
  readonly rating: Quantity;
  /** Rating less the most that any wheel left can carry; negative: over. */
  readonly margin: Quantity;
}

export interface OneWheelLost {
  /** The remaining wheel on the same side. */
  readonly sameSide: { readonly low: Quantity; readonly high: Quantity };
  /** Each wheel of the other side. */
  readonly otherSide: { readonly low: Quantity; readonly high: Quantity };
  readonly limits: readonly WheelLimit[];
  /** True where a limit is exceeded for certain or perhaps. */
  readonly over: boolean;
  /** The load on the axles at which no limit would be exceeded. */
  readonly unloadTo: Quantity;
  /** Always false: only the maker of this trailer can permit it. */
  readonly permitted: false;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * @param input.axleLoad load on both axles together, from a scale
 * @param input.tireRating what the remaining tire may carry at its actual cold pressure
 * @param input.axleRating rating of one axle (GAWR); one end of it carries half
 * @param input.sideShare share of the load on the side of the lost wheel; half where not weighed, and said so
 * @example 5,600 lb, tires 2,540 lb, axles 3,500 lb: the wheel left may carry 2,800 lb; over by 1,050 lb at the axle end
 */
export function oneWheelLost(input: {
  readonly axleLoad: Quantity;
  readonly tireRating: Quantity;
  readonly axleRating: Quantity;
  readonly wheelRating?: Quantity | undefined;
  readonly sideShare?: Quantity | undefined;
  readonly suspension: 'torsion' | 'leaf';
}): Result<OneWheelLost> {
  const wrong = rangeProblem([
    ['axleLoad', input.axleLoad, TANDEM_LOAD],
    ['tireRating', input.tireRating, WHEEL_LOAD],
    ['axleRating', input.axleRating, AXLE_LOAD],
    ['wheelRating', input.wheelRating, WHEEL_LOAD],
    ['sideShare', input.sideShare, SIDE_SHARE],
  ]);
  if (wrong !== null) return fail(wrong);
  const lb = valueIn(input.axleLoad, 'lb');
  const share = input.sideShare === undefined ? 0.5 : valueIn(input.sideShare, 'ratio');
  if (lb <= 0) {
    return fail({
      code: 'tire.wheel-lost',
      what: 'Axles carry something.',
      where: 'axleLoad',
      expected: 'a load above zero',
    });
  }
  const unrated = (['tireRating', 'wheelRating', 'axleRating'] as const).find(
    (name) => input[name] !== undefined && valueIn(input[name], 'lb') <= 0,
  );
  if (unrated !== undefined) {
    return fail({
      code: 'tire.wheel-lost',
      what: 'A rating is above zero.',
      where: unrated,
      expected: 'the figure of its label',
    });
  }
  const unit = input.axleLoad.unit;
  const mass = (pounds: number): Quantity => convert(quantity(pounds, 'lb'), unit);
  const high = lb * share;
  // One wheel of the other side may carry all of that side, where the frame twists.
  const worst = lb * Math.max(share, 1 - share);
  const ratings: readonly [string, number][] = [
    ['tire', valueIn(input.tireRating, 'lb')],
    ...(input.wheelRating === undefined ? [] : [['wheel', valueIn(input.wheelRating, 'lb')] as [string, number]]),
    ['half the axle rating', valueIn(input.axleRating, 'lb') / 2],
  ];
  const [weakest, least] = ratings.reduce((a, b) => (b[1] < a[1] ? b : a));
  const over = ratings.some(([, rating]) => worst > rating);
  const cautions = [
    'Bounds, not a permission: only the trailer maker’s handbook can allow moving on three wheels. Call for help where it does not.',
    input.suspension === 'leaf'
      ? 'Equalised leaf springs: no maker’s permission is known; the bare hub drops towards the road. Do not move it.'
      : 'Tie up and cap the bare hub, its studs and wiring; brakes pull to one side; walking pace, off the road, to the nearest safe place.',
    'Never tow on a flat tire.',
  ];
  if (over)
    cautions.unshift(
      `Over: ${high < worst ? 'a wheel of the other side' : 'the wheel that is left'} can carry ${formatQuantity(mass(worst), { digits: 0 })}; ${weakest} allows ${formatQuantity(mass(least), { digits: 0 })}.`,
    );
  return ok({
    sameSide: { low: mass(high / 2), high: mass(high) },
    otherSide: { low: mass(0), high: mass(lb * (1 - share)) },
    limits: ratings.map(([what, rating]) => ({ what, rating: mass(rating), margin: mass(rating - worst) })),
    over,
    unloadTo: mass(least / Math.max(share, 1 - share)),
    permitted: false,
    limitedBy: weakest,
    assumed: input.sideShare === undefined ? ['sideShare: both sides carry the same'] : [],
    cautions,
  });
}
