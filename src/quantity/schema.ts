/** Quantities at a door: JSON `{value, unit}` or a text with its unit, both become a Quantity. */

import { z } from 'zod';
import { problemText } from '../problem/index.ts';
import type { Quantity } from './convert.ts';
import { dimensionText, parseQuantity, readQuantity } from './parse.ts';
import type { Dimension } from './units.ts';

/**
 * A zod schema that reads `"50 psi"` or `{"value": 50, "unit": "psi"}`. What is wrong is told in the issue's message;
 * the issue's `params.problem` holds the Problem with its stable code.
 *
 * The schema's `meta().dimension` tells what it measures, for forms and help.
 *
 * @param dimension refuse quantities of any other dimension
 */
export function quantitySchema(dimension?: Dimension) {
  const expected = dimension === undefined ? 'a quantity with its unit, such as `50 psi`' : dimensionText(dimension);
  const accepted = z.union([z.string(), z.strictObject({ value: z.number(), unit: z.string() })], {
    error: () => `expected ${expected}`,
  });
  const read = accepted.transform((input, context): Quantity => {
    const result =
      typeof input === 'string' ? parseQuantity(input, dimension) : readQuantity(input.value, input.unit, dimension);
    if (result.ok) return result.value;
    for (const problem of result.problems) {
      context.addIssue({ code: 'custom', message: problemText(problem), params: { problem } });
    }
    return z.NEVER;
  });
  return dimension === undefined ? read : read.meta({ dimension });
}
