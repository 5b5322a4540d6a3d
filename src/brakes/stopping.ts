/**
 * `stopping`: what the regulation asks of brakes from 20 mph, and what a deceleration comes to.
 *
 * Source: 49 CFR 393.52(d), the same figures in 67 Pa. Code 175 table I: braking force, deceleration and distance are separate
 * tests, not one formula. Physics: distance = v²/(2a), after the brakes are full on. A driver takes 2.5 s before that, and slows by
 * 11.2 ft/s² at most in comfort (AASHTO Green Book, stopping sight distance, from memory): the distance to keep.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convertLike, type Quantity, quantity, valueIn } from '../quantity/index.ts';

export type StoppingClass =
  | 'passenger-car'
  | 'truck-to-10000-lb'
  | 'tow-vehicle-with-trailer-to-3000-lb'
  | 'other-combination';
export const STOPPING_CLASSES = [
  'passenger-car',
  'truck-to-10000-lb',
  'tow-vehicle-with-trailer-to-3000-lb',
  'other-combination',
] as const;

/** [force as % of weight, deceleration ft/s², service distance ft, emergency distance ft] from 20 mph */
export const STOPPING_RULE: Readonly<Record<StoppingClass, readonly [number, number, number, number]>> = {
  'passenger-car': [65.2, 21, 20, 54],
  'truck-to-10000-lb': [52.8, 17, 25, 66],
  'tow-vehicle-with-trailer-to-3000-lb': [43.5, 14, 35, 85],
  'other-combination': [43.5, 14, 40, 90],
};

export interface Stopping {
  /** The rule's service distance from 20 mph. */
  readonly distanceRule: Quantity;
  readonly emergencyRule: Quantity;
  readonly forceShare: Quantity;
  /** Physics at the rule's deceleration from the speed asked for, without reaction time. */
  readonly distance: Quantity;
  /** The road to keep free: reaction time and a stop a driver makes. */
  readonly distanceKept: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const FEET_A_SECOND_PER_MPH = 5280 / 3600;
const REACTION_SECONDS = 2.5;
const COMFORT_DECELERATION = 11.2;

export function stopping(input: { readonly kind: StoppingClass; readonly speed: Quantity }): Result<Stopping> {
  const mph = valueIn(input.speed, 'mph');
  if (!(mph > 0 && mph <= 90))
    return fail({
      code: 'brakes.speed',
      what: 'A speed to stop from is above zero, and towed.',
      where: 'speed',
      expected: 'up to 90 mph',
    });
  const [force, deceleration, service, emergency] = STOPPING_RULE[input.kind];
  const speed = mph * FEET_A_SECOND_PER_MPH;
  const feet = speed ** 2 / (2 * deceleration);
  const kept = speed * REACTION_SECONDS + speed ** 2 / (2 * Math.min(deceleration, COMFORT_DECELERATION));
  const length = (ft: number) => convertLike(quantity(ft, 'ft'), input.speed);
  return ok({
    distanceRule: length(service),
    emergencyRule: length(emergency),
    forceShare: quantity(force, '%'),
    distance: length(feet),
    distanceKept: length(kept),
    limitedBy: 'the deceleration the rule asks for',
    cautions: [
      'Keep the longer distance free: it counts 2.5 s before the brakes bite. Wet road, hot drums, a downgrade and a trailer whose brakes are weak lengthen both.',
      'The rule binds commercial vehicles; most states copy it. State law holds.',
    ],
  });
}
