import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { unwrap } from '../../src/problem/index.ts';
import { previewTable, proposeMapping, readTable } from '../../src/sheets/index.ts';
import { demoDesk } from '../support/demo.ts';

const file = new URL('../data/spreadsheets/decimal-comma.csv', import.meta.url);

/** A file that LibreOffice Calc saved with decimal commas; see the README beside it. */
it('reads what LibreOffice saved with decimal commas: each line an entry, or a reason', () => {
  const { state, catalog } = demoDesk();
  const table = unwrap(readTable(readFileSync(file, 'utf8')));
  const { mapping, questions } = proposeMapping(table);
  expect(questions).toEqual([]);
  expect(mapping).toMatchObject({ dateOrder: 'ymd', decimal: ',', units: { odometer: 'mi' } });
  const { accepted, rejected } = previewTable(table, mapping!, { state, catalog, today: '2026-05-27' });
  expect(accepted.map((line) => line.line)).toEqual([2, 3, 4]);
  const [brakes, bearings, spare] = accepted.map((line) => line.drafts[0]!);
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
