/** Limits that several upkeeps, mishaps, calculations or findings share. Each stands once, in `catalog/limits.json`. */

import shipped from '../../catalog/limits.json' with { type: 'json' };
import { parseQuantity, type Quantity, valueIn } from '../quantity/index.ts';
import type { Limit, Source } from './types.ts';

/** A key of `limits` in `catalog/limits.json`. */
export type LimitId = keyof typeof shipped.limits;

/**
 * A shared limit as a quantity, in the unit of its source.
 *
 * @example limitOf('tongue-share-least') // { value: 10, unit: '%' }
 */
export function limitOf(id: LimitId): Quantity {
  const read = parseQuantity(shipped.limits[id].is);
  if (!read.ok) throw new Error(`catalog/limits.json: \`${id}\` is not a quantity`);
  return read.value;
}

/** The number of a shared limit in a unit: `limitIn('tire-age-trailer-end', 'month')` is 72. */
export function limitIn(id: LimitId, unit: Quantity['unit']): number {
  return valueIn(limitOf(id), unit);
}

/** Where a shared limit comes from, to be named beside it. */
export function limitSource(id: LimitId): Source {
  const { source } = shipped.limits[id];
  const found = shipped.sources.find((one) => one.id === source);
  if (found === undefined)
    throw new Error(`catalog/limits.json: \`${id}\` names the source \`${source}\`, which is not in that file`);
  return found as Source;
}

/** A shared limit as its source writes it: `limitWords('tread-least')` is `2/32 in`. */
export function limitWords(id: LimitId): string {
  return limitText({ text: shipped.limits[id].is });
}

/** `2/32 in`; a difference of temperatures as a thermometer's reader says it, `30 °F`. */
export function limitText({ text }: Pick<Limit, 'text'>): string {
  return text.replace(/ F°$/, ' °F');
}

/** `{limit-id}` in a text of the catalog. */
const MENTION = /\{([a-z0-9]+(?:-[a-z0-9]+)*)\}/g;

/** What a raw item of the catalog says of shared limits. */
export interface Mentions {
  /** The item with every `{limit-id}` replaced by the limit's text. */
  readonly value: unknown;
  /** The ids named, each once, with the path to where it first stands. */
  readonly named: ReadonlyMap<string, readonly (string | number)[]>;
}

/** Replaces each `{limit-id}` in the strings of a raw item; an id that is not known stays as it is. */
export function withLimits(raw: unknown, limits: ReadonlyMap<string, Limit>): Mentions {
  const named = new Map<string, readonly (string | number)[]>();
  const walk = (value: unknown, path: readonly (string | number)[]): unknown => {
    if (typeof value === 'string') {
      return value.replace(MENTION, (mention, id: string) => {
        if (!named.has(id)) named.set(id, path);
        const limit = limits.get(id);
        return limit === undefined ? mention : limitText(limit);
      });
    }
    if (Array.isArray(value)) return value.map((one, index) => walk(one, [...path, index]));
    if (value === null || typeof value !== 'object') return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, walk(one, [...path, key])]));
  };
  return { value: walk(raw, []), named };
}

/** The months of `6 years` or of a bare number of months. */
export function monthsOf(value: number | Quantity): number {
  return typeof value === 'number' ? value : valueIn(value, 'month');
}
