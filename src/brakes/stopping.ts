/**
 * `stopping`: what the regulation asks of brakes from 20 mph, and what a deceleration comes to.
 *
 * Source: 49 CFR 393.52(d), the same figures in 67 Pa. Code 175 table I: braking force, deceleration and distance are separate
 * tests, not one formula. Physics: distance = v²/(2a), after the brakes are full on.
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
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const FEET_A_SECOND_PER_MPH = 5280 / 3600;

export function stopping(input: { readonly kind: StoppingClass; readonly speed: Quantity }): Result<Stopping> {
  const mph = valueIn(input.speed, 'mph');
  if (mph <= 0 || mph > 90)
    return fail({
      code: 'brakes.speed',
      what: 'A speed to stop from is above zero, and towed.',
      where: 'speed',
      expected: 'up to 90 mph',
    });
  const [force, deceleration, service, emergency] = STOPPING_RULE[input.kind];
  const feet = (mph * FEET_A_SECOND_PER_MPH) ** 2 / (2 * deceleration);
  const length = (ft: number) => convertLike(quantity(ft, 'ft'), input.speed);
  return ok({
    distanceRule: length(service),
    emergencyRule: length(emergency),
    forceShare: quantity(force, '%'),
    distance: length(feet),
    limitedBy: 'the deceleration the rule asks for',
    cautions: [
      'Add the road covered before the brakes bite; wet road, hot drums and a downgrade lengthen it.',
      'The rule binds commercial vehicles; most states copy it. State law holds.',
    ],
  });
}
