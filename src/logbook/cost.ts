import type { Problem } from '../problem/index.ts';

/**
 * What one entry may cost, judged before anything walks through it by recursion. The longest entries owners write are an afternoon of work
 * on every wheel and an upkeep of their own with all its steps: some twenty jobs, a few kilobytes (common practice, no source).
 */
export const ENTRY_LIMITS = {
  /** Characters of all its texts, names of fields and numbers together. */
  characters: 65_536,
  /** Lists and mappings within one another. */
  depth: 16,
  /** Values of every kind: texts, numbers, lists, mappings. */
  values: 5000,
  jobs: 200,
  readingsOfJob: 20,
  facts: 60,
  mends: 100,
  setups: 40,
  stops: 200,
  blobs: 40,
  /** Characters of a free text, of a short one (a name, a place), and of an id. */
  text: 2000,
  slug: 120,
} as const;

/** Names that JSON can carry and that mean something else to an object of the language. */
const RESERVED: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

/**
 * Why a value read from JSON may not be an entry by its size, or undefined. It stops at the first limit passed, so that its own cost is
 * bounded by the limits and not by the value; nothing recurses.
 *
 * Problems: `logbook.entry-cost`; `logbook.entry-invalid` where a field has a name that objects of the language reserve.
 */
export function costOf(raw: unknown, where: string): Problem | undefined {
  const open: { readonly value: unknown; readonly depth: number }[] = [{ value: raw, depth: 0 }];
  let [values, characters] = [0, 0];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    const { value, depth } = one;
    values++;
    if (typeof value === 'string') characters += value.length;
    else if (typeof value === 'object' && value !== null) {
      if (depth >= ENTRY_LIMITS.depth)
        return tooMuch(
          'is nested too deep',
          `at most ${ENTRY_LIMITS.depth} lists and mappings inside each other`,
          where,
        );
      const inner = Array.isArray(value) ? value : valuesOf(value);
      if (values + open.length + inner.length > ENTRY_LIMITS.values)
        return tooMuch('has too many values', `at most ${ENTRY_LIMITS.values} values in one entry`, where);
      for (const each of inner) open.push({ value: each, depth: depth + 1 });
      for (const key of Array.isArray(value) ? [] : Object.keys(value)) {
        characters += key.length;
        if (RESERVED.has(key))
          return { code: 'logbook.entry-invalid', what: `A field is named “${key}”`, where, expected: 'another name' };
      }
    }
    if (characters > ENTRY_LIMITS.characters)
      return tooMuch('is too long', `at most ${ENTRY_LIMITS.characters} characters of text`, where);
  }
  return undefined;
}

const tooMuch = (what: string, expected: string, where: string): Problem => ({
  code: 'logbook.entry-cost',
  what: `The entry ${what}`,
  where,
  expected,
  next: 'Divide it among several entries.',
});

/** Values of a mapping, but no more than one past the limit. */
function valuesOf(mapping: object): unknown[] {
  const values: unknown[] = [];
  for (const key in mapping) {
    if (values.length > ENTRY_LIMITS.values) break;
    if (Object.hasOwn(mapping, key)) values.push((mapping as Record<string, unknown>)[key]);
  }
  return values;
}
