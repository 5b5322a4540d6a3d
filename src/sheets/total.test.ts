import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { entryNumber, idNumber } from '../../test/support/keeping.ts';
import { soundRig } from '../../test/support/sound-rig.ts';
import { openDesk } from '../desk/index.ts';
import { type Entry, foldEntries, type RigState, withUnread } from '../logbook/index.ts';
import { historySheet, logbookCsv, sheetContext } from './index.ts';

const catalog = shippedCatalog();
const odd = (n: number, kind: string, body: unknown, more: object = {}) =>
  ({ ...entryNumber(n), kind, body, ...more }) as unknown as Entry;
/** What an earlier version let in, or a hand wrote into the file: each broke a page. */
const ODD: readonly Entry[] = [
  odd(100, 'set', { key: 'constructor', value: 1 }),
  odd(101, 'strike', { entry: idNumber(101), reason: 'itself' }),
  odd(102, 'strike', { entry: idNumber(103), reason: 'each' }),
  odd(103, 'strike', { entry: idNumber(102), reason: 'other' }),
  odd(104, 'reading', { part: 'spare', what: 'pressure-cold' }),
  odd(105, 'reading', { part: 'spare', what: 'pressure-cold', value: { value: 5, unit: 'furlongs' } }),
  odd(106, 'weigh', {}, { on: 'never' }),
  odd(107, 'trip-done', { trip: 'x', left: '2026-13-01', back: 'x', miles: null }),
];

describe('one bad entry', () => {
  const state: RigState = foldEntries([...soundRig().entries, entryNumber(90), ...ODD]);

  it('is one line of the spreadsheet', () => {
    const { data } = Papa.parse<Record<string, string>>(logbookCsv(state, catalog), { header: true });
    expect(data.map(({ id }) => id).sort()).toEqual([...state.entries.keys()].sort());
    expect(data.find(({ id }) => id === idNumber(104))!.what).toBe(`cannot be shown (${idNumber(104)})`);
    expect(data.find(({ id }) => id === idNumber(90))!.what).toContain('pressure cold');
  });

  it('is one line of the history', () => {
    const desk = openDesk(foldEntries([...soundRig().entries, entryNumber(90)]), catalog, { now: '2026-06-12' });
    const html = historySheet(sheetContext({ ...desk, state: withUnread(state, { newer: 2, broken: 0 }) }, 'x'));
    for (const { id } of [ODD[4]!, ODD[6]!, ODD[7]!]) expect(html).toContain(`cannot be shown (${id})`);
    expect(html.match(/<tr/g)!.length).toBeGreaterThan(state.entries.size);
    expect(html).toContain('2 more that this version of the program cannot read');
  });
});
