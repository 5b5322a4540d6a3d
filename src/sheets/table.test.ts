import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateOf } from '../dates/index.ts';
import { unwrap } from '../problem/index.ts';
import { dateIn, plainNumber, proposeMapping, readTable } from './table.ts';

const ask = (csv: string) => proposeMapping(unwrap(readTable(csv)));

describe('a spreadsheet', () => {
  it('finds delimiter, columns, units in the heading', () => {
    const table = unwrap(
      readTable('\uFEFFDate;Odometer (km);What was done;Cost;Notes\r\n2026-04-18;103.200,5;repacked axle 2;12,50;\r\n'),
    );
    expect(table.delimiter).toBe(';');
    expect(table.rows).toEqual([{ line: 2, cells: ['2026-04-18', '103.200,5', 'repacked axle 2', '12,50', ''] }]);
    expect(proposeMapping(table)).toEqual({
      mapping: {
        columns: { date: 0, odometer: 1, what: 2, cost: 3, note: 4 },
        dateOrder: 'ymd',
        decimal: ',',
        units: { odometer: 'km' },
      },
      found: { date: 0, odometer: 1, what: 2, cost: 3, note: 4 },
      questions: [],
    });
  });

  it('tells day/month from month/day where one line decides, and asks where none does', () => {
    expect(ask('Date,Job\n13/04/2026,x\n02/05/2026,y\n').mapping).toMatchObject({ dateOrder: 'dmy' });
    expect(ask('Date,Job\n04/13/2026,x\n').mapping).toMatchObject({ dateOrder: 'mdy' });
    expect(ask('Date,Job\n04/05/2026,x\n').questions).toMatchObject([{ about: 'date order' }]);
  });

  it('asks which column is the day, and whether bare odometers are miles', () => {
    expect(ask('Thing,Job\n04/05/2026,x\n').questions).toMatchObject([{ about: 'date column' }]);
    expect(ask('Date,Odometer,Job\n2026-05-04,1200,x\n').questions).toMatchObject([{ about: 'odometer unit' }]);
  });

  it('keeps quoted cells with line ends whole, and says where a quote is left open', () => {
    expect(unwrap(readTable('Date,Job\n2026-05-04,"one\ntwo, three"\n')).rows[0]!.cells[1]).toBe('one\ntwo, three');
    expect(readTable('Date,Job\n2026-05-04,"one\n')).toMatchObject({ ok: false, problems: [{ code: 'table.torn' }] });
    expect(readTable('Date,Job\n')).toMatchObject({ ok: false, problems: [{ code: 'table.empty' }] });
  });

  it('reads every day back, in each order, and refuses days that do not exist', () => {
    fc.assert(
      fc.property(fc.integer({ min: 11_000, max: 25_000 }), (day) => {
        const date = dateOf(day);
        const [y, m, d] = date.split('-') as [string, string, string];
        expect([
          dateIn(date, 'ymd'),
          dateIn(`${d}.${m}.${y}`, 'dmy'),
          dateIn(`${Number(m)}/${Number(d)}/${y}`, 'mdy'),
        ]).toEqual([date, date, date]);
      }),
    );
    expect([
      dateIn('31/04/2026', 'dmy'),
      dateIn('29.02.2026', 'dmy'),
      dateIn('29.02.2024', 'dmy'),
      dateIn('1/2/26', 'mdy'),
      dateIn('May', 'mdy'),
    ]).toEqual([null, null, '2024-02-29', '2026-01-02', null]);
  });

  it('rewrites numbers with their own thousands and decimals', () => {
    expect([
      plainNumber('18.204,6 km', ','),
      plainNumber('18 204,6', ','),
      plainNumber("1'204", '.'),
      plainNumber('18,204.6 mi', '.'),
      plainNumber('3,4 bar', ','),
    ]).toEqual(['18204.6 km', '18204.6', '1204', '18204.6 mi', '3.4 bar']);
  });
});
