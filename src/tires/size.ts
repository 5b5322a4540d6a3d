/** A size as moulded: brought to one spelling, its family letters, and how much tire there is. */

import { power } from '../elementary/index.ts';
import type { Problem } from '../problem/index.ts';
import type { TireFamily } from './families.ts';

/** A size in one spelling, and the load range that was written after it, if any. */
export interface NamedSize {
  /** `ST225/75R15`, `7.50-16LT`, `31X10.50R15LT`. */
  readonly key: string;
  readonly loadRange: string | null;
}

/** After the rim: a load range (`LRD`, `LOAD RANGE D`) or a service description (`117/112N`), or both. */
const AFTER_RIM = /^(.*?[RDB-]\d{2}(?:\.\d)?(?:LT)?)(?:\d{2,3}(?:\/\d{2,3})?[A-Z]\d?)?(?:(?:LR|LOADRANGE)([A-Z]))?$/;

/** `st 225/75 r 15 bias` → `ST225/75R15`. The family's letters are put before a size that has none. */
export function namedSize(size: string, family: TireFamily): NamedSize {
  const plain = size
    .toUpperCase()
    .replace(/\s|BIAS/g, '')
    .replace(/×/g, 'X')
    .replace(/(\d),(\d)/g, '$1.$2');
  const [, bare = plain, loadRange] = AFTER_RIM.exec(plain) ?? [];
  const prefix = family === 'LT-bias' ? '' : family;
  const key = prefix !== '' && /^\d/.test(bare) && !bare.endsWith('LT') ? prefix + bare : bare;
  return { key, loadRange: loadRange ?? null };
}

/** Letters after a size (`31X10.50R15LT`) name a radial by its R, an older bias tire without one. */
function familyOfKey(key: string): TireFamily | null {
  const letters = /^(ST|LT|P)/.exec(key)?.[1];
  if (letters !== undefined) return letters as TireFamily;
  if (!key.endsWith('LT')) return null;
  return /R\d{2}/.test(key) ? 'LT' : 'LT-bias';
}

/** The problem of a size whose letters name another family, or null. */
export function familyProblem(key: string, family: TireFamily): Problem | null {
  const own = familyOfKey(key);
  // LT before a size with a hyphen is a bias tire all the same.
  const bias = own === 'LT' && family === 'LT-bias' && !/R\d{2}/.test(key);
  if (own === null || own === family || bias) return null;
  return {
    code: 'tire.family-mismatch',
    what: `${key} is a tire of the ${own} family, not ${family}.`,
    where: 'family',
    expected: 'the family whose letters stand in the size',
    next: 'Each family has its own law; using another one overrates the tire.',
  };
}

const METRIC = /^(?:ST|LT|P)?(\d{3})\/(\d{2,3})[RDB-](\d{2}(?:\.\d)?)/;
const FLOTATION = /^(\d{2}(?:\.\d+)?)X(\d{1,2}(?:\.\d+)?)[RDB-](\d{2}(?:\.\d)?)/;

/** True of a size in millimetres and per cent, for which the load range's usual pressure holds. */
export function isMetricSize(key: string): boolean {
  return METRIC.test(key);
}

/**
 * How much tire a size is: Sd^1.39 · (rim + Sd), millimetres; a load goes with this times pressure^n. Null where the spelling does not
 * say it.
 *
 * Source: Tire and Rim Association load formula, Sd = (0.34848 + 0.6497·aspect) · section, as posted by a tire engineer. A flotation
 * size gives its outside diameter, from which the aspect follows.
 */
export function sizeFactor(key: string): number | null {
  const metric = METRIC.exec(key)?.slice(1).map(Number);
  if (metric !== undefined) return factorOf(metric[0]!, metric[1]! / 100, metric[2]! * 25.4);
  const inches = FLOTATION.exec(key)?.slice(1).map(Number);
  if (inches === undefined) return null;
  const [outside, section, rim] = inches as [number, number, number];
  return factorOf(section * 25.4, (outside - rim) / 2 / section, rim * 25.4);
}

function factorOf(section: number, aspect: number, rim: number): number | null {
  const sd = (0.34848 + 0.6497 * aspect) * section;
  const factor = sd > 0 ? power(sd, 1.39) * (rim + sd) : 0;
  return factor > 0 ? factor : null;
}
