/** The safety envelope of a calculation: when it answers at all, within which limits, and which way it errs. */

/**
 * One law: the input moved in its worse direction never gives a milder answer. The register's tests check every law over
 * the whole range of the input, with all other inputs varied. A refusal counts as the most severe answer.
 */
export interface Law {
  /** Path of the input: `load`, or `loads.*.power` for that field of every row at once. */
  readonly input: string;
  /** The direction that is worse; or all values of a choice, the mildest first. */
  readonly worse: 'more' | 'less' | readonly (string | number | boolean)[];
  /** Path of the answer, as above. */
  readonly output: string;
  /** The severer answer is the greater or the lesser figure; or all values of a verdict, the mildest first. */
  readonly severer: 'greater' | 'lesser' | readonly (string | number | boolean | null)[];
  /** What `null` in place of a figure means; the most severe where not given. */
  readonly none?: 'mildest';
}

/**
 * What a calculation promises at its edges, in one sentence each. Where a kind of limit does not apply, the sentence says why.
 * The figures named here stand in the code or in the catalog's limits, with their source.
 */
export interface Envelope {
  /** What the input must be to count as a reading or a test; less is refused or answered as no test. */
  readonly minimum: string;
  /** The least answer ever given. */
  readonly floor: string;
  /** What is kept between the answer and the limit. */
  readonly reserve: string;
  /** The most ever given, or accepted. */
  readonly ceiling: string;
  /** The direction of rounding, and of every approximation. */
  readonly rounding: string;
  readonly laws: readonly Law[];
}
