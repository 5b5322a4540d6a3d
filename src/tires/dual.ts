/**
 * What a tire carries as one of a pair on one axle end, from what it carries alone.
 *
 * Source: the published rows that stand for both: the tire maker's own pair of figures where the size has it, else the least ratio that
 * any published row of the family shows (LT 0.903, older bias truck tires 0.876). For ST and passenger tires no row of a pair is
 * published: only the sidewall's second figure says.
 */

import type { TireFamily } from './families.ts';
import type { Point } from './plausible.ts';
import { tireTables } from './tables/load-inflation.ts';

interface Pair {
  readonly size: string;
  readonly family: TireFamily;
  readonly psi: number;
  readonly ratio: number;
}

/** Every published row of a pair over its row alone. */
function pairs(): readonly Pair[] {
  return tireTables.flatMap(({ size, family, fitment, rows }) => {
    if (fitment !== 'dual') return [];
    const single = tireTables.find((one) => one.size === size && one.fitment === 'single');
    return rows.flatMap(([psi, lb]) => {
      const alone = single?.rows.find((row) => row[0] === psi);
      return alone === undefined ? [] : [{ size, family, psi, ratio: lb / alone[1] }];
    });
  });
}

const PAIRS = pairs();

const least = (ratios: readonly number[]): number | null => (ratios.length === 0 ? null : Math.min(...ratios));

/** The share of its single load that a tire carries in a pair, or null where nothing is published. */
export function dualShare(key: string, family: TireFamily, psi: number): number | null {
  const own = PAIRS.filter((pair) => pair.size === key && Math.abs(pair.psi - psi) < 0.5);
  return (
    least(own.map((pair) => pair.ratio)) ??
    least(PAIRS.filter((pair) => pair.family === family).map((pair) => pair.ratio))
  );
}

/** Points of a tire alone as those of one in a pair, or null where nothing is published. */
export function asDual(points: readonly Point[], key: string, family: TireFamily): readonly Point[] | null {
  const reduced = points.map(({ psi, lb }) => ({ psi, lb: lb * (dualShare(key, family, psi) ?? 0) }));
  if (reduced.some((point) => point.lb <= 0)) return null;
  // A size's own ratio may differ from row to row: a higher row never carries less.
  return reduced.map((point, i) => ({ ...point, lb: Math.min(...reduced.slice(i).map((higher) => higher.lb)) }));
}
