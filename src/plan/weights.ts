import { type RigState, type Setting, settingOf } from '../logbook/index.ts';

export type Appetite = Setting<'appetite'>;

/** What the plan weighs against each other, all in the owner's money. */
export interface Weights {
  readonly appetite: Appetite;
  /** Worth of an hour of the owner's own work. */
  readonly hourlyValue: number;
  /** Opening a yard day at all. */
  readonly dayCost: number;
  /** Factor on what failures cost. */
  readonly riskFactor: number;
}

/**
 * The three appetites, each a set of factors on the same three figures.
 * - `least money` counts each at its face value: the default, since it is the only one that adds nothing of ours to the owner's figures.
 * - `fewest afternoons` makes opening a day four times as dear.
 * - `least risk on the road` counts failures four times.
 */
export const APPETITES: Readonly<Record<Appetite, { readonly day: number; readonly risk: number }>> = {
  'least money': { day: 1, risk: 1 },
  'fewest afternoons': { day: 4, risk: 1 },
  'least risk on the road': { day: 1, risk: 4 },
};
export const APPETITE_DEFAULT: Appetite = 'least money';
/** Worth of an hour, and cost of an afternoon opened, in money; assumptions until the owner gives theirs. */
const HOURLY_VALUE = 25;
const DAY_COST = 25;

export function weightsOf(state: RigState, appetite = settingOf(state, 'appetite') ?? APPETITE_DEFAULT): Weights {
  const factors = APPETITES[appetite];
  return {
    appetite,
    hourlyValue: settingOf(state, 'hourly-value') ?? HOURLY_VALUE,
    dayCost: (settingOf(state, 'day-cost') ?? DAY_COST) * factors.day,
    riskFactor: factors.risk,
  };
}
