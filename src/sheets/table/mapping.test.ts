import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateOf } from '../../dates/index.ts';
import { unwrap } from '../../problem/index.ts';
import { dateIn } from './days.ts';
import { encodingOf } from './encoding.ts';
import { type Answers, mapTable } from './mapping.ts';
import { plainNumber } from './numbers.ts';
import { readTable } from './read.ts';

const ask = (csv: string, said: Answers = {}) => mapTable(unwrap(readTable(csv)), said);
const texts = (csv: string): string[] => ask(csv).questions.map(({ text }) => text);

describe('a spreadsheet', () => {
  it('finds delimiter, columns, units in the heading', () => {
    const table = unwrap(
      readTable('\uFEFFDate;Odometer (km);What was done;Cost;Notes\r\n2026-04-18;103.200,5;repacked axle 2;12,50;\r\n'),
    );
    expect(table.delimiter).toBe(';');
    expect(table.rows).toEqual([{ line: 2, cells: ['2026-04-18', '103.200,5', 'repacked axle 2', '12,50', ''] }]);
    const roles = ['date', 'odometer', 'what', 'cost', 'note'];
    expect(mapTable(table)).toEqual({
      roles,
      questions: [],
      mapping: { roles, dateOrder: 'ymd', decimal: ',', units: [undefined, 'km', undefined, undefined, undefined] },
    });
  });

  it('gives each column one role, the more telling word first; what is still to come means nothing', () => {
    const roles = (heading: string) => ask(`${heading}\n2026-05-04\n`).roles;
    expect(roles('Service date,Service,Service cost,Job notes,Done by,Next due (mi),Truck miles')).toEqual([
      'date',
      'what',
      'cost',
      'note',
      'by',
      '',
      'tow-odometer',
    ]);
    expect(roles('Date,Gallons,Price/gal,Total,Odometer')).toEqual(['date', '', '', 'cost', 'odometer']);
    expect(roles('Date,LF (psi),RF (psi),Axle 2 left psi,Spare,Temp (F)')).toEqual([
      'date',
      'reading',
      'reading',
      'reading',
      'reading',
      'temperature',
    ]);
    expect(roles('Date,Tire,Cold pressure (psi)')).toEqual(['date', 'part', 'value']);
    expect(roles('Date,Hour meter')).toEqual(['date', 'reading']);
  });

  it('finds the heading below a title and blank lines, and passes sums and repeated headings over', () => {
    const table = unwrap(
      readTable(
        'Our trailer log to date,,\n,,\nDate,Job,Cost\n2026-05-04,x,1\n,,\nDate,Job,Cost\n2026-05-06,y,2\nTotal,,3\n',
      ),
    );
    expect(table.columns).toEqual(['Date', 'Job', 'Cost']);
    expect(table.rows.map(({ line }) => line)).toEqual([4, 7]);
    expect(table.passed).toEqual([
      { line: 6, why: 'the heading again' },
      { line: 8, why: 'a sum' },
    ]);
  });

  it('tells day/month from month/day where one line decides, and asks where none does', () => {
    expect(ask('Date,Job\n13/04/2026,x\n02/05/2026,y\n').mapping).toMatchObject({ dateOrder: 'dmy' });
    expect(ask('Date,Job\n04/13/2026,x\n').mapping).toMatchObject({ dateOrder: 'mdy' });
    expect(texts('Date,Job\n04/05/2026,x\n')).toEqual([
      'Is “04/05/2026” (line 2) month/day/year or day/month/year? Both fit every line.',
    ]);
    expect(texts('Date,Job\n05-06-07,x\n')[0]).toMatch(/year\/month\/day, month\/day\/year or day.*All fit/);
    // No order is asked for where none matters, or where a cell is no day at all.
    expect(texts('Date,Job\n04/04/2026,x\n12 May 2026,y\nsoon,z\n')).toEqual([]);
  });

  it('says of each order which line contradicts it, where none fits', () => {
    const mixed = 'Date,Job\n13/04/2026,x\n02/05/2026,y\n04/13/2026,z\n';
    expect(ask(mixed).questions).toMatchObject([
      {
        about: 'date order',
        text: 'No one order of day, month and year fits every line: month/day/year is contradicted by “13/04/2026” (line 2); day/month/year is contradicted by “04/13/2026” (line 4).',
        choices: [
          ['mdy', 'month, day, year'],
          ['dmy', 'day, month, year'],
        ],
      },
    ]);
    expect(ask(mixed, { dateOrder: 'dmy' })).toMatchObject({
      mapping: { dateOrder: 'dmy' },
      questions: [{ answered: true }],
    });
  });

  it('tells decimal points from commas where one number decides, and asks where none does or two quarrel', () => {
    const decimal = (...numbers: string[]) =>
      ask(`Date\tOdometer (mi)\tJob\n${numbers.map((one) => `2026-05-04\t${one}\tx`).join('\n')}\n`);
    expect(decimal('64,120', '64,120.5').mapping?.decimal).toBe('.');
    expect(decimal('64.120', '64.120,5').mapping?.decimal).toBe(',');
    expect(decimal('64120', '641').mapping?.decimal).toBe('.');
    expect(decimal("64'120", '64 121').mapping?.decimal).toBe('.');
    expect(decimal('64,120').questions[0]!.text).toBe(
      'Does the comma in “64,120” (line 2) set off thousands or decimals? Both fit every line.',
    );
    expect(decimal('64.120').questions[0]!.text).toContain('Does the point in “64.120” (line 2)');
    expect(decimal('64,120.5', '64.120,5').questions[0]!.text).toBe(
      'Numbers are written in two ways: “64,120.5” (line 2) fits only a decimal point, “64.120,5” (line 3) only a decimal comma.',
    );
  });

  it('asks which column is the day, and the units of bare odometers and gauges', () => {
    expect(ask('Thing,Job\n04/05/2026,x\n').questions).toMatchObject([{ about: 'date column' }]);
    const bare = 'Date,Odometer,LF,RF\n2026-05-04,1200,65,64\n';
    expect(ask(bare).questions).toMatchObject([{ about: 'odometer unit' }, { about: 'reading unit' }]);
    expect(ask(bare, { odometerUnit: 'km', readingUnit: 'kPa' }).mapping?.units).toEqual([
      undefined,
      'km',
      'kPa',
      'kPa',
    ]);
  });

  it('lays the owner’s word over the heading’s', () => {
    const csv = 'When bought,Done on,Where,Thing\n2020-01-01,2026-05-23,Driveway,x\n';
    expect(ask(csv).roles).toEqual(['date', 'what', 'part', '']);
    expect(ask(csv, { roles: [undefined, 'date', undefined, 'what'], without: ['part'] }).roles).toEqual([
      '',
      'date',
      '',
      'what',
    ]);
    expect(ask(csv, { roles: ['', 'date', '', 'what'] }).roles).toEqual(['', 'date', '', 'what']);
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
      dateIn('1234', 'mdy'),
      dateIn('99999', 'mdy'),
    ]).toEqual([null, null, '2024-02-29', '2026-01-02', null, null, null]);
  });

  it('reads months as words, and passes the weekday and the time of day over', () => {
    const spelled = ['12 May 2026', 'May 12, 2026', '12-May-26', 'Tue, 12 May 2026', 'May 12th 2026', '2026 May 12'];
    const timed = ['2026-05-12T14:32:00Z', '2026-05-12 14:32', '5/12/2026 2:32 PM'];
    expect([...spelled, ...timed].map((cell) => dateIn(cell, cell.startsWith('5/') ? 'mdy' : 'ymd'))).toEqual(
      Array(9).fill('2026-05-12'),
    );
    expect([dateIn('31 June 2026', 'ymd'), dateIn('12 Mayhem 2026', 'ymd')]).toEqual([null, null]);
  });

  it('rewrites numbers with their own thousands and decimals', () => {
    expect([
      plainNumber('18.204,6 km', ','),
      plainNumber('18 204,6', ','),
      plainNumber("1'204", '.'),
      plainNumber('18,204.6 mi', '.'),
      plainNumber('3,4 bar', ','),
      plainNumber('24,5', '.'),
      plainNumber('1,2,3', '.'),
    ]).toEqual(['18204.6 km', '18204.6', '1204', '18204.6 mi', '3.4 bar', null, null]);
  });

  it('finds the encoding out, and says of a workbook that it is one', () => {
    const bytes = (...of: number[]) => Uint8Array.from(of);
    const wide = (text: string, big: boolean) =>
      bytes(...[...text].flatMap((one) => (big ? [0, one.charCodeAt(0)] : [one.charCodeAt(0), 0])));
    const found = [
      bytes(0xef, 0xbb, 0xbf, 0x44),
      bytes(0xff, 0xfe, 0x44, 0),
      bytes(0xfe, 0xff, 0, 0x44),
      wide('Date,Job', false),
      wide('Date,Job', true),
      new TextEncoder().encode('Spare °F – müde €'),
      bytes(0x36, 0x31, 0xb0, 0x46, 0x2c),
      bytes(),
    ].map((one) => unwrap(encodingOf(one)));
    expect(found).toEqual(['utf-8', 'utf-16le', 'utf-16be', 'utf-16le', 'utf-16be', 'utf-8', 'windows-1252', 'utf-8']);
    expect(encodingOf(bytes(0x50, 0x4b, 3, 4))).toMatchObject({ problems: [{ code: 'table.workbook' }] });
  });
});
