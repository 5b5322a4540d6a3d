/**
 * `peukert`: how long a battery lasts at a current.
 *
 * Source: Peukert (1897). Two forms, kept apart: with the rated time H, t = H·(C/(I·H))^k; with the one-ampere capacity,
 * t = C₁/I^k. Below the rated current the law promises more than the nameplate: that much is never given. Exponents from memory:
 * flooded 1.2 to 1.3, AGM 1.05 to 1.15, LiFePO4 1.01 to 1.05.
 */

import { power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

export interface Peukert {
  /** Until it is empty. */
  readonly time: Quantity;
  /** Until half of what it gives at that current is gone: the end for a lead-acid battery that is to last. */
  readonly timeHalf: Quantity;
  /** What it gives at that current before it is empty. */
  readonly charge: Quantity;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const RATED_TIME = quantity(20, 'h');

/**
 * @param input.capacity rated at `ratedTime`, or at one ampere where `form` is `one-ampere`
 * @param input.ratedTime 20 h where not given, and said so
 * @example 100 Ah at 20 h, k 1.2, 10 A → 8.7055 h, 87.055 Ah
 */
export function peukert(input: {
  readonly capacity: Quantity;
  readonly current: Quantity;
  readonly exponent: number;
  readonly ratedTime?: Quantity | undefined;
  readonly form?: 'rated' | 'one-ampere' | undefined;
}): Result<Peukert> {
  const capacity = valueIn(input.capacity, 'Ah');
  const current = valueIn(input.current, 'A');
  const ratedTime = valueIn(input.ratedTime ?? RATED_TIME, 'h');
  if (!(capacity > 0) || !(current > 0) || !(ratedTime > 0)) {
    return fail({
      code: 'power.battery',
      what: 'Capacity, current and rated time are above zero.',
      where: !(capacity > 0) ? 'capacity' : !(current > 0) ? 'current' : 'ratedTime',
      expected: 'a value above zero',
    });
  }
  if (!(input.exponent >= 1 && input.exponent <= 2)) {
    return fail({
      code: 'power.peukert-exponent',
      what: `${input.exponent} is no exponent of a battery: 1 is a perfect one, 1.6 a worn one.`,
      where: 'exponent',
      expected: 'a number from 1 to 2',
    });
  }
  const oneAmpere = input.form === 'one-ampere';
  const byLaw = oneAmpere
    ? capacity / power(current, input.exponent)
    : ratedTime * power(capacity / (current * ratedTime), input.exponent);
  const byNameplate = capacity / current;
  const hours = Math.min(byLaw, byNameplate);
  return ok({
    time: quantity(hours, 'h'),
    timeHalf: quantity(hours / 2, 'h'),
    charge: quantity(hours * current, 'Ah'),
    limitedBy: byLaw <= byNameplate ? 'the current' : 'the capacity on the nameplate',
    assumed: oneAmpere || input.ratedTime !== undefined ? [] : ['ratedTime: 20 h'],
    cautions: [
      'A lead-acid battery used below half its charge ages fast; plan with half of this.',
      'For a new battery at 77 °F: near 0 °F a lead-acid one gives about half (common practice, no source), an old one less.',
    ],
  });
}
