/** Loads against ratings: what is left, each rating with where it stands, the tightest named. */

import type { Problem } from '../problem/index.ts';
import { convert, type Quantity, quantity, valueIn } from '../quantity/index.ts';

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

/** One load against its rating, in the unit of the load. */
export function loadLimit(what: string, load: Quantity, rated: OriginRating): LoadLimit {
  const rating = convert(rated.rating, load.unit);
  return {
    what,
    load,
    rating,
    origin: rated.origin,
    margin: quantity(rating.value - load.value, load.unit),
    used: quantity((100 * load.value) / rating.value, '%'),
  };
}

/** The first rating that is no rating, or null. */
export function ratingProblem(ratings: Readonly<Record<string, OriginRating | undefined>> | undefined): Problem | null {
  for (const [name, rated] of Object.entries(ratings ?? {})) {
    if (rated !== undefined && lb(rated.rating) <= 0) {
      return {
        code: 'loads.rating',
        what: 'A rating is above zero.',
        where: `ratings.${name}`,
        expected: 'the figure of its label',
      };
    }
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

/** The name of the tightest limit, or what limits the answer where no rating was given. */
export function tightest(limits: readonly LoadLimit[], otherwise: string): string {
  return limits[0]?.what ?? otherwise;
}

/** Pounds of a quantity of mass. */
export function lb(q: Quantity): number {
  return valueIn(q, 'lb');
}
