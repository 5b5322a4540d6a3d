/** What one entry may cost, on both sides of each limit. */

import { describe, expect, it } from 'vitest';
import { costOf, ENTRY_LIMITS } from './index.ts';

const deep = (levels: number): unknown =>
  levels === 0 ? 'x' : levels % 2 ? [deep(levels - 1)] : { a: deep(levels - 1) };
const said = (raw: unknown) => costOf(raw, 'line 7');

describe('the cost of an entry', () => {
  it.each([null, 3, 'text', true, [], {}, { a: [1, 'b', null, { c: 2 }] }])('%j costs little', (raw) =>
    expect(said(raw)).toBeUndefined(),
  );

  it('is refused one level too deep, of lists and mappings alike', () => {
    expect(said(deep(ENTRY_LIMITS.depth))).toBeUndefined();
    expect(said(deep(ENTRY_LIMITS.depth + 1))).toMatchObject({
      code: 'logbook.entry-cost',
      what: 'The entry is nested too deep',
      where: 'line 7',
      expected: expect.stringContaining('16'),
      next: expect.stringContaining('Divide'),
    });
  });

  it('is refused with one value too many, itself counted', () => {
    const list = (n: number) => Array.from({ length: n }, () => 1);
    const mapping = (n: number) => Object.fromEntries(list(n).map((one, i) => [`k${i}`, one]));
    for (const of of [list, mapping]) {
      expect(said(of(ENTRY_LIMITS.values - 1))).toBeUndefined();
      expect(said(of(ENTRY_LIMITS.values))).toMatchObject({ what: 'The entry has too many values' });
      expect(said(of(ENTRY_LIMITS.values * 3))).toMatchObject({ what: 'The entry has too many values' });
      // Spread over two: 1 + 2 + 2 × 2498 = 4999 values, and 5001 with one more in each.
      expect(said([of(2498), of(2498)])).toBeUndefined();
      expect(said([of(2499), of(2499)])).toMatchObject({ what: 'The entry has too many values' });
    }
  });

  it('is refused one character too long, names of fields among them', () => {
    const most = ENTRY_LIMITS.characters;
    expect(said('x'.repeat(most))).toBeUndefined();
    expect(said('x'.repeat(most + 1))).toMatchObject({ what: 'The entry is too long' });
    expect(said({ abc: 'x'.repeat(most - 3) })).toBeUndefined();
    expect(said({ abc: 'x'.repeat(most - 2) })).toMatchObject({ what: 'The entry is too long' });
    expect(said(['x'.repeat(most / 2), 'x'.repeat(most / 2)])).toBeUndefined();
    expect(said(['x'.repeat(most / 2), 'x'.repeat(most / 2 + 1)])).toMatchObject({ what: 'The entry is too long' });
    // The positions of a list are no names.
    expect(said(['x'.repeat(most), 1, 2, 3])).toBeUndefined();
  });

  it.each(['__proto__', 'constructor', 'prototype'])('a field named %s is refused wherever it is', (name) => {
    for (const text of [`{"${name}":1}`, `{"a":[{"${name}":{}}]}`])
      expect(said(JSON.parse(text))).toMatchObject({
        code: 'logbook.entry-invalid',
        what: expect.stringContaining(name),
        where: 'line 7',
      });
    expect(said({ a: name })).toBeUndefined();
  });
});
