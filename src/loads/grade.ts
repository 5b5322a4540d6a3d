/** `grade-force`: what gravity asks on a slope. Physics: weight · grade/√(1 + grade²), the sine of the slope. */

import { fail, ok, type Result } from '../problem/index.ts';
import { convert, type Quantity, quantity, rangeProblem, systemOf, valueIn } from '../quantity/index.ts';
import { GRADE, RIG_WEIGHT } from './ranges.ts';

export interface GradeForce {
  readonly force: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** @example 12,400 lb on 6 % → 742.7 lbf */
export function gradeForce(input: { readonly weight: Quantity; readonly grade: Quantity }): Result<GradeForce> {
  const heavy = rangeProblem([['weight', input.weight, RIG_WEIGHT]]);
  if (heavy !== null) return fail(heavy);
  if (valueIn(input.weight, 'kg') <= 0 || rangeProblem([['grade', input.grade, GRADE]]) !== null) {
    return fail({
      code: 'loads.grade',
      what: 'No public road is that steep, or the weight is not above zero.',
      where: 'grade',
      expected: 'a grade up to 40 %, as the sign shows it',
    });
  }
  const grade = valueIn(input.grade, 'ratio');
  const newtons = valueIn(input.weight, 'kg') * 9.80665 * (grade / Math.sqrt(1 + grade ** 2));
  const force = quantity(newtons, 'N');
  return ok({
    force: systemOf(input.weight.unit) === 'metric' ? force : convert(force, 'lbf'),
    limitedBy: 'the grade',
    cautions: ['Downhill the brakes must hold this without fading: low gear first, then short firm applications.'],
  });
}
