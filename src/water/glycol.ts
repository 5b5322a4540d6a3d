/**
 * `glycol`: propylene glycol against frost.
 *
 * Source: Lange's Handbook of Chemistry, 15th edition, table 5.13, per cent by volume (minus signs lost in the scan are restored
 * from its °C column). Between rows straight lines; never outside them.
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

function between(points: readonly (readonly [number, number])[], x: number): number | null {
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1]!;
    const [x1, y1] = points[i]!;
    if (x >= Math.min(x0, x1) && x <= Math.max(x0, x1)) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return null;
}

const CAUTIONS = [
  'Propylene glycol sold for drinking-water systems only; never automotive antifreeze (ethylene glycol is poison).',
  'Water left in a low place dilutes it: blow out or drain first, then pump until every tap runs in its colour.',
] as const;

/**
 * The freezing point of a mix, or the mix for a temperature: give one of the two.
 *
 * @example 50 % → −28 °F; 0 °F → 37 %
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
    const freezing = between(GLYCOL, valueIn(share, '%'));
    if (freezing === null)
      return fail({
        code: 'water.glycol-range',
        what: `The table holds for ${low[0]} to ${high[0]} %.`,
        where: 'share',
        expected: 'a share by volume inside it',
        next: 'Stronger mixes do not protect better without end; weaker ones hardly protect.',
      });
    return ok({
      share,
      freezing: quantity(freezing, 'degF'),
      limitedBy: 'the share of glycol',
      cautions: [...CAUTIONS],
    });
  }
  const wanted = valueIn(temperature!, 'degF');
  const percent =
    wanted > low[1]
      ? low[0]
      : between(
          GLYCOL.map(([p, f]) => [f, p] as const),
          wanted,
        );
  if (percent === null) {
    return fail({
      code: 'water.glycol-range',
      what: `The table ends at ${high[0]} % and ${formatQuantity(quantity(high[1], 'degF'))}.`,
      where: 'temperature',
      expected: 'a temperature no colder than that',
      next: 'Drain and blow out completely instead; antifreeze alone does not hold there.',
    });
  }
  return ok({
    share: quantity(percent, '%'),
    freezing: convertLike(quantity(Math.min(wanted, low[1]), 'degF'), temperature!),
    limitedBy: wanted > low[1] ? 'the weakest mix of the table' : 'the temperature',
    cautions: [...CAUTIONS],
  });
}
