/** Quantities at a door: JSON `{value, unit}` or a text with its unit, both become a Quantity. */

import * as z from 'zod/mini';
import { problemText } from '../problem/index.ts';
import type { Quantity } from './convert.ts';
import { dimensionText, parseQuantity, readQuantity } from './parse.ts';
import { inRange, type QuantityRange } from './range.ts';
import type { Dimension } from './units.ts';

// Read on a phone's first screen, so written with zod's small door, which speaks no language until told.
z.config(z.locales.en());

/**
 * A zod schema that reads `"50 psi"` or `{"value": 50, "unit": "psi"}`. What is wrong is told in the issue's message;
 * the issue's `params.problem` holds the Problem with its stable code.
 *
 * `dimension` in zod's registry tells what it measures, for forms and help.
 *
 * @param dimension refuse quantities of any other dimension
 * @param range refuse what lies outside; without it any finite value is read
 */
export function quantitySchema(dimension?: Dimension, range?: QuantityRange) {
  const expected = dimension === undefined ? 'a quantity with its unit, such as `50 psi`' : dimensionText(dimension);
  const accepted = z.union([z.string(), z.strictObject({ value: z.number(), unit: z.string() })], {
    error: () => `expected ${expected}`,
  });
  const read = z.transform((input: z.output<typeof accepted>, context): Quantity => {
    const read =
      typeof input === 'string' ? parseQuantity(input, dimension) : readQuantity(input.value, input.unit, dimension);
    const result = read.ok && range !== undefined ? inRange(read.value, range) : read;
    if (result.ok) return result.value;
    for (const problem of result.problems) {
      context.issues.push({ code: 'custom', input, message: problemText(problem), params: { problem } });
    }
    return z.NEVER;
  });
  const schema = z.pipe(accepted, read);
  return dimension === undefined ? schema : schema.register(z.globalRegistry, { dimension });
}
