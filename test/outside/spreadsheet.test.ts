import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { unwrap } from '../../src/problem/index.ts';
import { encodingOf, judgeTable, mapTable, readTable } from '../../src/sheets/index.ts';
import { dateIn } from '../../src/sheets/table/days.ts';
import { demoDesk } from '../support/demo.ts';

const { state, catalog } = demoDesk();

function saved(name: string) {
  const bytes = readFileSync(new URL(`../data/spreadsheets/${name}`, import.meta.url));
  return unwrap(readTable(new TextDecoder(unwrap(encodingOf(bytes))).decode(bytes)));
}

/** A file that LibreOffice Calc saved with decimal commas; see the README beside it. */
it('reads what LibreOffice saved with decimal commas: each line an entry, or a reason', () => {
  const table = saved('decimal-comma.csv');
  const { mapping, questions } = mapTable(table);
  expect(questions).toEqual([]);
  expect(mapping).toMatchObject({
    dateOrder: 'ymd',
    decimal: ',',
    roles: ['date', 'odometer', 'what', 'cost', 'note'],
  });
  const drafts: unknown[] = [];
  const { accepted, rejected } = judgeTable(table, mapping!, {
    state,
    catalog,
    today: '2026-05-27',
    leaveOut: [],
    prepare: (from) => {
      drafts.push(...from.flatMap((one) => one.drafts));
      return { ok: true, value: [] };
    },
  });
  expect(accepted.map((line) => line.line)).toEqual([2, 3, 4]);
  const [brakes, bearings, spare] = drafts;
  expect(brakes).toMatchObject({
    kind: 'work',
    on: '2026-05-16',
    body: { odometer: { value: 64_120.4, unit: 'mi' }, note: 'rear pair next', cost: 0 },
  });
  expect(bearings).toMatchObject({ kind: 'work', body: { cost: 24.5, note: 'two seals' } });
  expect(spare).toMatchObject({
    kind: 'reading',
    on: '2026-05-18',
    body: { part: 'spare', value: { value: 42.5, unit: 'psi' } },
  });
  expect(rejected).toMatchObject([{ line: 5, problems: [{ where: expect.stringContaining('line 5') }] }]);
});

/**
 * The serial date system “1900” (ECMA-376 part 1, 18.17.4.1). What LibreOffice Calc 7.4.7 shows for `TEXT(serial;"YYYY-MM-DD")`;
 * that 39448 is 1 January 2008 is also said where spreadsheet programs document their DATE function.
 */
it.each([
  ['39448', '2008-01-01'],
  ['36585', '2000-02-29'],
  ['40729', '2011-07-05'],
  ['46166', '2026-05-24'],
  ['46167,6041666667', '2026-05-25'],
])('reads the serial day %s as %s', (cell, day) => {
  expect(dateIn(cell, 'mdy')).toBe(day);
});
