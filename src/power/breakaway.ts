/**
 * `breakaway`: whether the breakaway battery can hold the brakes for the time the rule asks for.
 *
 * Source: 49 CFR 393.43(d): the trailer's brakes go on by themselves and stay on for at least 15 minutes. Currents: an axle
 * maker's service table, 3.0 A a brake (2.5 A for 7 in drums). A lead-acid battery counts as worn out at 80 % of its nameplate
 * (IEEE 1188, from memory): no more than that is counted on.
 */

import { power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, range, valueIn } from '../quantity/index.ts';

export interface Breakaway {
  readonly current: Quantity;
  /** What fifteen minutes take. */
  readonly charge: Quantity;
  /** What the battery gives at that current above empty. */
  readonly available: Quantity;
  readonly holds: boolean;
  readonly time: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const HOLD_HOURS = 0.25;
/** Small sealed batteries are rated at 20 h; Peukert exponent of an AGM, the cautious end (from memory). */
const RATED_HOURS = 20;
const EXPONENT = 1.15;
const AGED_SHARE = 0.8;

/** From a worn 7 in brake to a cold magnet of 3.2 Ω at 14.5 V. */
export const BREAKAWAY_AMPERES = range(2, 5, 'A');

/**
 * @param input.currentEach amperes a brake; 3.0 A for 10 and 12 in drums
 * @param input.stateOfCharge of the breakaway battery now
 * @example 4 brakes at 3.0 A → 12 A, 3.0 Ah in 15 minutes
 */
export function breakaway(input: {
  readonly brakes: number;
  readonly currentEach: Quantity;
  readonly capacity: Quantity;
  readonly stateOfCharge: Quantity;
}): Result<Breakaway> {
  if (!Number.isInteger(input.brakes) || input.brakes < 1)
    return fail({ code: 'power.brakes', what: 'Brakes are counted whole.', where: 'brakes', expected: '2, 4 or 6' });
  const each = valueIn(input.currentEach, 'A');
  const capacity = valueIn(input.capacity, 'Ah');
  const soc = valueIn(input.stateOfCharge, 'ratio');
  if (!(each > 0) || !(capacity > 0) || !(soc >= 0 && soc <= 1)) {
    return fail({
      code: 'power.battery',
      what: 'Current and capacity are above zero, a charge is from 0 to 100 %.',
      where: !(each > 0) ? 'currentEach' : !(capacity > 0) ? 'capacity' : 'stateOfCharge',
      expected: 'such as 3 A a brake, 5 Ah and 100 %',
    });
  }
  const current = input.brakes * each;
  const aged = AGED_SHARE * capacity;
  // Never more than what is left of the nameplate: below the rated current the law would promise it.
  const hours = Math.min(RATED_HOURS * power(aged / (current * RATED_HOURS), EXPONENT), aged / current) * soc;
  return ok({
    current: quantity(current, 'A'),
    charge: quantity(current * HOLD_HOURS, 'Ah'),
    available: quantity(current * hours, 'Ah'),
    holds: hours >= HOLD_HOURS,
    time: quantity(hours * 60, 'min'),
    limitedBy: 'the breakaway battery',
    cautions: [
      ...(hours >= HOLD_HOURS
        ? []
        : ['It does not hold the brakes for the 15 minutes the rule asks for: charge or renew it before you tow.']),
      'A computed time is no test: pull the pin before each tow; the trailer must hold back; put the pin back at once.',
      'Charge it every three months when idle.',
    ],
  });
}
