/**
 * `brake-adjustment`: at which miles manual-adjusted drum brakes are adjusted next.
 *
 * Source: trailer makers' manuals: after the first 200 miles, then every 3,000 miles. Forward self-adjusting brakes are exempt.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { add, convertLike, type Quantity, quantity, subtract, valueIn } from '../quantity/index.ts';

const FIRST = quantity(200, 'mi');
const EVERY = quantity(3000, 'mi');

export interface BrakeAdjustment {
  readonly dueAt: Quantity;
  readonly left: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** @param input.first true while the shoes have not been adjusted since they were new */
export function brakeAdjustment(input: {
  readonly adjustedAt: Quantity;
  readonly now: Quantity;
  readonly first: boolean;
}): Result<BrakeAdjustment> {
  if (!(valueIn(input.adjustedAt, 'mi') >= 0))
    return fail({
      code: 'brakes.miles',
      what: 'Miles are counted from zero.',
      where: 'adjustedAt',
      expected: 'the reading at the last adjustment',
    });
  if (!(valueIn(input.now, 'mi') >= valueIn(input.adjustedAt, 'mi'))) {
    return fail({
      code: 'brakes.miles',
      what: 'Miles do not run backwards.',
      where: 'now',
      expected: 'a reading at or above the one at the last adjustment',
    });
  }
  const dueAt = add(input.adjustedAt, convertLike(input.first ? FIRST : EVERY, input.adjustedAt));
  const left = subtract(dueAt, input.now);
  return ok({
    dueAt,
    left,
    limitedBy: input.first ? 'new shoes bedding in' : 'lining wear',
    cautions: [
      `${left.value < 0 ? 'Past due: adjust before you tow. ' : left.value === 0 ? 'Due: adjust before you tow. ' : ''}Stands on firm ground, wheels chocked, before any wheel turns free.`,
    ],
  });
}
