/** Loads against ratings: what is left, each rating with where it stands, the tightest named. */

import type { Problem } from '../problem/index.ts';
import { convert, formatQuantity, inRange, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { RATING } from './ranges.ts';

/** A rating and where it was read: `door-jamb label`, `hitch receiver label`. */
export interface OriginRating {
  readonly rating: Quantity;
  readonly origin: string;
}

export interface LoadLimit {
  readonly what: string;
  readonly load: Quantity;
  readonly rating: Quantity;
  readonly origin: string;
  /** Rating less load; negative: over. */
  readonly margin: Quantity;
  /** Load as a share of the rating. */
  readonly used: Quantity;
}

/** So much over a rating, per cent, that no more need be said; also where the rating is next to nothing. */
const USED_MOST = 100_000;

/** One load against its rating, in the unit of the load. A rating of nothing is over. */
export function loadLimit(what: string, load: Quantity, rated: OriginRating): LoadLimit {
  const rating = convert(rated.rating, load.unit);
  return {
    what,
    load,
    rating,
    origin: rated.origin,
    margin: quantity(rating.value - load.value, load.unit),
    used: quantity(rating.value > 0 ? Math.min((100 * load.value) / rating.value, USED_MOST) : USED_MOST, '%'),
  };
}

/** The first rating that is no rating, or null. */
export function ratingProblem(ratings: Readonly<Record<string, OriginRating | undefined>> | undefined): Problem | null {
  for (const [name, rated] of Object.entries(ratings ?? {})) {
    if (rated === undefined) continue;
    if (lb(rated.rating) <= 0) {
      return {
        code: 'loads.rating',
        what: 'A rating is above zero.',
        where: `ratings.${name}`,
        expected: 'the figure of its label',
      };
    }
    const held = inRange(rated.rating, RATING);
    if (!held.ok) return { ...held.problems[0]!, where: `ratings.${name}` };
  }
  return null;
}

/** All of them, the tightest first; ratings that were not given are left out. */
export function loadLimits(
  pairs: readonly (readonly [what: string, load: Quantity, rated: OriginRating | undefined])[],
): readonly LoadLimit[] {
  return pairs
    .flatMap(([what, load, rated]) => (rated === undefined ? [] : [loadLimit(what, load, rated)]))
    .sort((a, b) => b.used.value - a.used.value);
}

/** A sentence for each load over its rating. */
export function overCautions(limits: readonly LoadLimit[]): readonly string[] {
  return limits
    .filter((limit) => limit.margin.value < 0)
    .map(
      (limit) =>
        `Over: ${limit.what} by ${Math.ceil(-limit.margin.value)} ${limit.load.unit} (rating from ${limit.origin}). Do not tow until it is under.`,
    );
}

/**
 * A sentence for each load that is within its rating by no more than its readings may be wrong.
 *
 * @param doubts pounds by which a load may be more than it reads, by what it is
 */
export function closeCautions(limits: readonly LoadLimit[], doubts: ReadonlyMap<string, number>): readonly string[] {
  return limits.flatMap(({ what, margin }) => {
    const doubt = doubts.get(what);
    const left = lb(margin);
    if (doubt === undefined || left < 0 || left >= doubt) return [];
    return [
      `${what}: ${formatQuantity(margin, { digits: 0 })} left, less than the scale can be wrong by (${formatQuantity(convert(quantity(doubt, 'lb'), margin.unit), { digits: 0 })}). It may be over.`,
    ];
  });
}

/** The name of the tightest limit, or what limits the answer where no rating was given. */
export function tightest(limits: readonly LoadLimit[], otherwise: string): string {
  return limits[0]?.what ?? otherwise;
}

/** Pounds of a quantity of mass. */
export function lb(q: Quantity): number {
  return valueIn(q, 'lb');
}
