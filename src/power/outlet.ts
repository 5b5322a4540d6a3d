/**
 * `outlet-budget`: what may run together on a 120 V outlet.
 *
 * Sources: NEC 210.20(A): a load of three hours or more counts for at most 80 % of the breaker (from memory); NEC table
 * 551.73: sites of 30 A give 3,600 VA, 50 A two-leg 9,600 VA, 20 A 2,400 VA. The voltages within which anything may run are the
 * catalog's limits.
 */

import { limitIn, limitOf } from '../catalog/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { formatQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';

export type OutletVoltage = 'within' | 'low' | 'high';
export const OUTLET_VOLTAGES = ['within', 'low', 'high'] as const;

export interface OutletBudget {
  readonly power: Quantity;
  readonly current: Quantity;
  readonly continuousMax: Quantity;
  readonly margin: Quantity;
  readonly voltageVerdict: OutletVoltage;
  /** Within the breaker, at a voltage within the limits. */
  readonly holds: boolean;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const CONTINUOUS_SHARE = 0.8;

/** @param input.loads what runs at the same time, with its rated power; `continuous` for three hours or more */
export function outletBudget(input: {
  readonly breaker: Quantity;
  readonly voltage: Quantity;
  readonly loads: readonly { readonly what: string; readonly power: Quantity; readonly continuous: boolean }[];
}): Result<OutletBudget> {
  const amps = valueIn(input.breaker, 'A');
  const volts = valueIn(input.voltage, 'V');
  const [least, most] = [limitIn('outlet-voltage-least', 'V'), limitIn('outlet-voltage-most', 'V')];
  if (!(amps > 0) || !(volts >= 80 && volts <= 140))
    return fail({
      code: 'power.outlet',
      what: !(amps > 0) ? 'An outlet has a breaker.' : `${volts} V is no 120 V outlet.`,
      where: !(amps > 0) ? 'breaker' : 'voltage',
      expected: !(amps > 0) ? 'such as 30 A' : 'hot to neutral, on one leg: 80 to 140 V, and 108 to 127 V to run on',
      next: 'On a 50 A site each leg is an outlet of its own. If the meter is right, unplug: the wiring is wrong.',
    });
  const wrong = input.loads.findIndex((load) => !(valueIn(load.power, 'W') >= 0));
  if (wrong >= 0)
    return fail({
      code: 'power.load',
      what: `${input.loads[wrong]!.what}: a load takes power.`,
      where: `loads.${wrong}.power`,
      expected: 'a power of zero or more',
    });
  const power = input.loads.reduce((sum, load) => sum + valueIn(load.power, 'W'), 0);
  // Continuous loads count for a quarter more, which is the same as 80 % of the breaker for them alone.
  const counted = input.loads.reduce(
    (sum, load) => sum + valueIn(load.power, 'W') / (load.continuous ? CONTINUOUS_SHARE : 1),
    0,
  );
  const margin = amps - counted / volts;
  const voltageVerdict: OutletVoltage = volts < least ? 'low' : volts > most ? 'high' : 'within';
  const bound = (id: 'outlet-voltage-least' | 'outlet-voltage-most') => formatQuantity(limitOf(id));
  const cautions =
    voltageVerdict === 'low'
      ? [
          `Low voltage: under ${bound('outlet-voltage-least')} at the outlet motors and air conditioners overheat. Run none of them; ask for another site, or shed load until it rises.`,
        ]
      : voltageVerdict === 'high'
        ? [
            `High voltage: over ${bound('outlet-voltage-most')}. Unplug at once: a loose neutral puts still more on one leg.`,
          ]
        : [];
  return ok({
    power: quantity(power, 'W'),
    current: quantity(power / volts, 'A'),
    continuousMax: quantity(CONTINUOUS_SHARE * amps, 'A'),
    margin: quantity(margin, 'A'),
    voltageVerdict,
    holds: margin >= 0 && voltageVerdict === 'within',
    limitedBy:
      voltageVerdict !== 'within'
        ? 'the voltage at the outlet'
        : input.loads.some((load) => load.continuous)
          ? 'the breaker, continuous loads at 80 %'
          : 'the breaker',
    cautions: [
      ...cautions,
      'A breaker that trips is doing its work: never a larger one on the same wire. 120 V work is for a licensed electrician.',
    ],
  });
}
