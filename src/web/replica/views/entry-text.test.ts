import { expect, it } from 'vitest';
import { shippedCatalog } from '../../../../test/support/catalog.ts';
import { entryNumber } from '../../../../test/support/keeping.ts';
import { type Entry, foldEntries } from '../../../logbook/index.ts';
import { entryLine } from './entry-text.ts';
import type { Told } from './told.ts';

it('an entry that no words can be found for is one line with its id', () => {
  const odd = (n: number, kind: string, body: unknown, more: object = {}) =>
    ({ ...entryNumber(n), kind, body, ...more }) as unknown as Entry;
  const strike = odd(1, 'strike', { entry: entryNumber(1).id, reason: 'itself' });
  const [bare, never] = [
    odd(2, 'reading', { part: 'spare', what: 'pressure-cold' }),
    odd(3, 'weigh', {}, { on: 'never' }),
  ];
  const told = {
    state: foldEntries([strike, bare, never]),
    catalog: shippedCatalog(),
    system: 'us',
  } as unknown as Told;
  for (const entry of [bare, never]) expect(entryLine(told, entry).head).toBe(`cannot be shown (${entry.id})`);
  expect(entryLine(told, strike).aside).toMatchObject({ releasable: false, rejected: false });
});
