/** `tire-load-index`: the number after the size as a load. */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity } from '../quantity/index.ts';
import { LOAD_INDEX_FIRST, loadIndexKg } from './tables/index-and-symbol.ts';

/** The load of a load index, kilograms; the sidewall's pounds outrank it (some tires are rated below their index). */
export function loadOfIndex(index: number): Result<Quantity> {
  const kg = Number.isInteger(index) ? loadIndexKg[index - LOAD_INDEX_FIRST] : undefined;
  if (kg !== undefined) return ok(quantity(kg, 'kg'));
  return fail({
    code: 'tire.load-index',
    what: `${index} is no load index of the table.`,
    where: 'index',
    expected: `a whole number from ${LOAD_INDEX_FIRST} to ${LOAD_INDEX_FIRST + loadIndexKg.length - 1}`,
  });
}
