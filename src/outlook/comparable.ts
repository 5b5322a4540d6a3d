import type { ReadingFact } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';

/**
 * A reading on the scale on which readings of its kind can be compared: a gauge pressure as it would be at one temperature and
 * height, every other reading as it is.
 */
export function comparable(_what: string, reading: ReadingFact): Quantity {
  return reading.value;
}
