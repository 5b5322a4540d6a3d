/**
 * `glycol`: propylene glycol against frost.
 *
 * Source: Lange's Handbook of Chemistry, 15th edition, table 5.13, per cent by volume (minus signs lost in the scan are restored
 * from its °C column). Between rows the weaker row's freezing point, or the stronger row's share: the curve bends downward, so a
 * straight line would promise too much. Never outside the table.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { convertLike, formatQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';

/** [per cent by volume, freezing point °F] */
export const GLYCOL: readonly (readonly [percent: number, fahrenheit: number])[] = [
  [10, 28],
  [20, 20],
  [25, 16],
  [30, 9],
  [35, 3],
  [40, -5],
  [45, -16],
  [50, -28],
];

export interface Glycol {
  readonly share: Quantity;
  readonly freezing: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const CAUTIONS = [
  'Propylene glycol sold for drinking-water systems only; never automotive antifreeze (ethylene glycol is poison).',
  'Water left in a low place dilutes it: blow out or drain first, then pump until every tap runs in its color.',
  'A jug marked −50 °F names the cold at which pipes burst: it turns to slush near 10 °F (from memory), and is never thinned.',
] as const;

/** For figures that went from one unit to another and back. */
const LAST_BIT = 1e-9;

/**
 * The freezing point of a mix, or the mix for a temperature: give one of the two.
 *
 * @example 50 % → −28 °F; 0 °F → 40 %, which stands −5 °F
 */
export function glycol(input: {
  readonly share?: Quantity | undefined;
  readonly temperature?: Quantity | undefined;
}): Result<Glycol> {
  const { share, temperature } = input;
  if ((share === undefined) === (temperature === undefined)) {
    return fail({
      code: 'water.glycol-one',
      what: 'Give the share of glycol or the temperature, one of the two.',
      where: 'share',
      expected: 'for instance share 50 %, or temperature −20 °F',
    });
  }
  const [low, high] = [GLYCOL[0]!, GLYCOL.at(-1)!];
  if (share !== undefined) {
    const percent = valueIn(share, '%');
    const weaker = GLYCOL.findLast(([row]) => row <= percent + LAST_BIT);
    if (weaker === undefined || percent > high[0] + LAST_BIT)
      return fail({
        code: 'water.glycol-range',
        what: `The table holds for ${low[0]} to ${high[0]} %.`,
        where: 'share',
        expected: 'a share by volume inside it',
        next: 'Stronger mixes do not protect better without end; weaker ones hardly protect.',
      });
    return ok({
      share,
      freezing: quantity(weaker[1], 'degF'),
      limitedBy: 'the share of glycol',
      cautions: [...CAUTIONS],
    });
  }
  const wanted = valueIn(temperature!, 'degF');
  const row = GLYCOL.find(([, freezing]) => freezing <= wanted + LAST_BIT);
  if (row === undefined) {
    return fail({
      code: 'water.glycol-range',
      what: `The table ends at ${high[0]} % and ${formatQuantity(quantity(high[1], 'degF'))}.`,
      where: 'temperature',
      expected: 'a temperature no colder than that',
      next: 'Drain and blow out completely instead; antifreeze alone does not hold there.',
    });
  }
  return ok({
    share: quantity(row[0], '%'),
    freezing: convertLike(quantity(row[1], 'degF'), temperature!),
    limitedBy: wanted > low[1] ? 'the weakest mix of the table' : 'the temperature',
    cautions: [...CAUTIONS],
  });
}
