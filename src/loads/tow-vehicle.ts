/**
 * `tow-vehicle`: its axles and payload before and after the trailer is on, by statics from its own weights.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, type Quantity, quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { type LoadLimit, lb, loadLimits, type OriginRating, overCautions, ratingProblem, tightest } from './limits.ts';
import { AXLE_WEIGHT, ITEM_WEIGHT, PLACE, RESTORE, TONGUE_WEIGHT } from './ranges.ts';
import { axleShift, geometryProblem, type HitchGeometry, momentFullLbMetres } from './statics.ts';
import { type VehiclePass, weightProblem } from './ticket.ts';
import { restoredCautions } from './tongue-band.ts';

export interface AxleLoads {
  readonly front: Quantity;
  readonly rear: Quantity;
  readonly total: Quantity;
}

export interface TowVehicleLoads {
  readonly before: AxleLoads;
  /** With the trailer on and weight distribution slack: what the rear axle must stand before the bars are set. */
  readonly slack: AxleLoads;
  readonly after: AxleLoads;
  /** What weight distribution hands to the trailer's axles. */
  readonly toAxles: Quantity;
  readonly limits: readonly LoadLimit[];
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** Something put aboard after the weighing; `ahead` of the rear axle, negative behind it. */
export interface AboardItem {
  readonly what: string;
  readonly weight: Quantity;
  readonly ahead: Quantity;
}

export interface TowVehicleInput extends HitchGeometry {
  readonly solo: VehiclePass;
  readonly tongue: Quantity;
  /** Share of the front axle's loss that weight distribution restores; 0 without one. */
  readonly restore: Quantity;
  readonly aboard?: readonly AboardItem[] | undefined;
  readonly ratings?:
    | {
        readonly frontAxle?: OriginRating | undefined;
        readonly rearAxle?: OriginRating | undefined;
        readonly vehicle?: OriginRating | undefined;
        readonly tongue?: OriginRating | undefined;
      }
    | undefined;
}

/**
 * @returns loads in the unit of `solo.front`; the rear axle is held against its rating slack and set alike
 * @example solo 3,200/2,800 lb with 800 lb on the tongue, half restored → 3,020.7/3,684.8 lb
 */
export function towVehicle(input: TowVehicleInput): Result<TowVehicleLoads> {
  const wrong =
    geometryProblem(input) ??
    weightProblem({ front: input.solo.front, rear: input.solo.rear }, 'solo', AXLE_WEIGHT) ??
    rangeProblem([
      ['tongue', input.tongue, TONGUE_WEIGHT],
      ...(input.aboard ?? []).flatMap((item, i) => [
        [`aboard.${i}.weight`, item.weight, ITEM_WEIGHT] as const,
        [`aboard.${i}.ahead`, item.ahead, PLACE] as const,
      ]),
    ]) ??
    ratingProblem({ ...input.ratings });
  if (wrong !== null) return fail(wrong);
  const tongue = lb(input.tongue);
  const restore = valueIn(input.restore, 'ratio');
  if (tongue < 0 || rangeProblem([['restore', input.restore, RESTORE]]) !== null) {
    return fail({
      code: 'loads.restore',
      what: 'A tongue weighs something, and restoration is a share of what it took off the front axle.',
      where: tongue < 0 ? 'tongue' : 'restore',
      expected: 'a share from 0 to 150 %',
    });
  }
  const wheelbase = valueIn(input.wheelbase, 'm');
  const aboard = (input.aboard ?? []).map((item) => ({
    lb: lb(item.weight),
    front: (lb(item.weight) * valueIn(item.ahead, 'm')) / wheelbase,
  }));
  const added = aboard.reduce((sum, item) => sum + item.lb, 0);
  const front = lb(input.solo.front) + aboard.reduce((sum, item) => sum + item.front, 0);
  const rear = lb(input.solo.rear) + added - (front - lb(input.solo.front));
  const unit = input.solo.front.unit;
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), unit);
  const loads = (shift: { front: number; rear: number }): AxleLoads => ({
    front: mass(front + shift.front),
    rear: mass(rear + shift.rear),
    total: mass(front + rear + shift.front + shift.rear),
  });
  const slack = axleShift(input, tongue, 0);
  const set = axleShift(input, tongue, restore * momentFullLbMetres(input, tongue));
  if (rear <= 0) {
    return fail({
      code: 'loads.rear-lifts',
      what: 'So much ahead of the front axle, or so little behind, lifts the rear axle off the ground.',
      where: 'aboard',
      expected: 'places ahead of the rear axle, within the vehicle',
    });
  }
  if (front + slack.front <= 0) {
    return fail({
      code: 'loads.front-lifts',
      what: 'This tongue would lift the front axle off the ground.',
      where: 'tongue',
      expected: 'a tongue weight the tow vehicle can carry',
    });
  }
  const limits = loadLimits([
    ['front axle', mass(front + Math.max(0, slack.front, set.front)), input.ratings?.frontAxle],
    ['rear axle', mass(rear + Math.max(slack.rear, set.rear)), input.ratings?.rearAxle],
    [
      'tow vehicle',
      mass(front + rear + Math.max(slack.front + slack.rear, set.front + set.rear)),
      input.ratings?.vehicle,
    ],
    ['tongue', mass(tongue), input.ratings?.tongue],
  ]);
  return ok({
    before: loads({ front: 0, rear: 0 }),
    slack: loads(slack),
    after: loads(set),
    toAxles: mass(set.axles),
    limits,
    limitedBy: tightest(limits, 'the weights and lengths as given'),
    // No weight distribution at all is no restoration that falls short.
    cautions: [
      ...overCautions(limits),
      ...(restore > 0 ? restoredCautions(100 * restore) : []),
      'A computed load is no weighing: confirm it on a scale.',
    ],
  });
}

/** What is left of a payload after people and cargo: a truck maker's manual reckons 150 lb a person where nobody was weighed. */
export function payloadLeft(input: {
  readonly payload: Quantity;
  readonly people: number;
  readonly cargo?: Quantity | undefined;
}): Quantity {
  const left = lb(input.payload) - input.people * 150 - (input.cargo === undefined ? 0 : lb(input.cargo));
  return convert(quantity(left, 'lb'), input.payload.unit);
}
