/**
 * What no tire of a kind is rated for. A figure typed from a sidewall or a table is held against this, so that a slip of the finger
 * (28,300 for 2,830) becomes a question, not a rating.
 */

import { power } from '../elementary/index.ts';
import type { Problem } from '../problem/index.ts';
import { convert, quantity } from '../quantity/index.ts';
import { LAW_EXPONENT, type TireFamily } from './families.ts';
import { sizeFactor } from './size.ts';
import { LOAD_INDEX_FIRST, loadIndexKg } from './tables/index-and-symbol.ts';
import { tireTables } from './tables/load-inflation.ts';

/** A load at a cold pressure, pounds and psi. */
export interface Point {
  readonly psi: number;
  readonly lb: number;
}

/**
 * The highest load index of each kind. Source: the published load index table (ISO 4000-1, ETRTO); which index each kind reaches is
 * from memory, but for ST, where owners report 4,400 lb (index 132) as the most an ST235/85R16 is sold with.
 */
const HIGHEST_INDEX: Readonly<Record<TireFamily, number>> = { ST: 132, LT: 130, 'LT-bias': 130, P: 121 };

/**
 * The highest cold pressure moulded into a sidewall of each kind, psi. ST and LT: load range H, 125 psi (from memory). P: 60 psi, the most
 * that 49 CFR 571.139 lets a passenger tire be marked with (from memory).
 */
const HIGHEST_PSI: Readonly<Record<TireFamily, number>> = { ST: 125, LT: 125, 'LT-bias': 125, P: 60 };

/** Nothing that carries a trailer or a truck is rated for less than this at more than this; a smaller figure is a slip. */
const LOWEST = { psi: 10, lb: 100 } as const;

/** Kilograms, millimetres and kilopascals of the association's formula for passenger tires, as posted by a tire engineer. */
const P_FORMULA = 6.67e-5;

/**
 * How far above the association's formula a size may be rated. From memory, the smallest trailer tires (ST145/80R13) stand 16 % above the
 * published ST rows; no published row stands more than 6 % from the others of its kind.
 */
const ABOVE_FORMULA = 1.2;

const formulaKg = (key: string, psi: number, family: TireFamily): number | null => {
  const factor = sizeFactor(key);
  const kPa = convert(quantity(psi, 'psi'), 'kPa').value;
  return factor === null ? null : factor * power(kPa, LAW_EXPONENT[family]);
};

/** The formula's constant of each kind: the highest that a published row gives. */
function constants(): Readonly<Partial<Record<TireFamily, number>>> {
  const found: Partial<Record<TireFamily, number>> = { P: P_FORMULA };
  for (const { size, family, fitment, rows } of tireTables) {
    if (fitment !== 'single') continue;
    for (const [psi, lb] of rows) {
      const kg = formulaKg(size, psi, family);
      if (kg === null) continue;
      found[family] = Math.max(found[family] ?? 0, convert(quantity(lb, 'lb'), 'kg').value / kg);
    }
  }
  return found;
}

const CONSTANT = constants();

/** The most that a size may plausibly be rated for at a pressure, pounds; by its kind alone where the size does not say more. */
export function mostPlausible(key: string, family: TireFamily, psi: number): number {
  const kind = convert(quantity(loadIndexKg[HIGHEST_INDEX[family] - LOAD_INDEX_FIRST]!, 'kg'), 'lb').value;
  const constant = CONSTANT[family];
  const kg = formulaKg(key, psi, family);
  if (constant === undefined || kg === null) return kind;
  return Math.min(kind, ABOVE_FORMULA * convert(quantity(constant * kg, 'kg'), 'lb').value);
}

/** The problem of a rated load that no tire of this kind and size has, or null. */
export function implausible(point: Point, key: string, family: TireFamily, where: string): Problem | null {
  const code = 'tire.rating-implausible';
  if (!(point.psi >= LOWEST.psi && point.psi <= HIGHEST_PSI[family])) {
    return {
      code,
      what: `No ${family} tire is rated at ${plain(point.psi)} psi.`,
      where: `${where}.pressure`,
      expected: `the cold pressure moulded beside the load, from ${LOWEST.psi} to ${HIGHEST_PSI[family]} psi (${kPa(HIGHEST_PSI[family])} kPa)`,
      next: 'Read the sidewall again, and the unit: kPa, bar and psi stand side by side.',
    };
  }
  const most = mostPlausible(key, family, point.psi);
  if (point.lb >= LOWEST.lb && point.lb <= most) return null;
  return {
    code,
    what: `No ${family} tire of that size is rated for ${plain(point.lb)} lb at ${plain(point.psi)} psi.`,
    where: `${where}.load`,
    expected: `the maximum load of one tire as moulded, from ${LOWEST.lb} to about ${plain(most)} lb`,
    next: 'Read the sidewall again, and the unit: pounds and kilograms stand side by side.',
  };
}

const plain = (value: number): string => String(Math.round(value));
const kPa = (psi: number): string => plain(convert(quantity(psi, 'psi'), 'kPa').value);
