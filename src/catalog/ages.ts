import type { Clock } from './types.ts';

/** The ages that hold for one part, in months, and what says so. Absent: no such age. */
export interface Ages {
  /** From here on renewing is advised. */
  readonly from?: number;
  /** By then it must be done. */
  readonly by?: number;
  readonly source: string;
}

/** `LT235/85R16` and `7.50-16LT`: a light-truck size. */
const LIGHT_TRUCK = /^\s*(?:LT\s*\d|[\d./-]+\s*LT\b)/i;

/**
 * The ages of a clock for a part of this size. A size that is not known to be of another kind takes the clock's own figures, which are
 * the shortest.
 *
 * @param size as molded on the part, where it is on record
 */
export function agesOf(clock: Extract<Clock, { kind: 'age' }>, size: unknown): Ages {
  const own = typeof size === 'string' && LIGHT_TRUCK.test(size) ? clock.sizes?.LT : undefined;
  if (own) return own;
  const { from, by, source } = clock;
  return { ...(from === undefined ? {} : { from }), ...(by === undefined ? {} : { by }), source };
}
