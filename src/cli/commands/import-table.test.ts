import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { codesOf, DEMO_FILE, type Ran, Terminal, widest } from '../../../test/support/terminal.ts';
import type { Entry } from '../../logbook/index.ts';

let terminal: Terminal;
beforeEach(async () => {
  terminal = new Terminal();
  await terminal.run(['import', DEMO_FILE]);
});
afterEach(() => terminal.clear());

// Saved by a general spreadsheet program: see the README beside it.
const SAVED = new URL('../../../test/data/spreadsheets/decimal-comma.csv', import.meta.url).pathname;

/** The saved file with an odometer that the demo rig can have shown. */
const fitting = readFileSync(SAVED, 'utf8').replaceAll('64120,4', '64112,3');

function file(text: string): string {
  const path = join(terminal.folder, 'notes.csv');
  writeFileSync(path, text);
  return path;
}
const count = async (): Promise<number> => (await terminal.run(['export'])).out.split('\n').length;
const entriesIn = (ran: Ran): Entry[] => ran.json<{ entries: Entry[] }>().entries;

describe('import of a spreadsheet', () => {
  it('names every line that it cannot take, and writes nothing', async () => {
    const before = await count();
    const path = file(fitting);
    const ran = await terminal.run(['import', path, '--yes']);
    expect(ran.code).toBe(2);
    expect(ran.out).toContain('To be written: 3 of 4 lines');
    expect(ran.out).toContain('  line 5: 2026-05-19 · polished the moon\n    ! “polished the moon” says neither');
    expect(ran.out).toContain('set off by a comma');
    expect(ran.err).toContain('Nothing was imported');
    expect(widest(ran.out)).toBeLessThanOrEqual(80);
    expect(await count()).toBe(before);
    const told = await terminal.run(['import', path, '--yes', '--json']);
    expect(told.json()).toMatchObject({
      columns: [
        { name: 'Date', role: 'date' },
        { name: 'Odometer (mi)', role: 'odometer', unit: 'mi' },
        { name: 'Work', role: 'what' },
        { name: 'Cost', role: 'cost' },
        { name: 'Notes', role: 'note' },
      ],
      accepted: [{ line: 2 }, { line: 3 }, { line: 4 }],
      rejected: [{ line: 5, problems: [{ code: 'sentence.nothing' }] }],
      written: false,
    });
  });

  it('leaves out the lines that the owner names, and says so', async () => {
    const path = file(fitting);
    const refused = await terminal.run(['import', path, '--yes']);
    expect(refused.err.replaceAll(/\s+/g, ' ')).toContain('leave them out knowingly: --leave-out 5.');
    expect(codesOf(await terminal.run(['import', path, '--yes', '--json', '--leave-out', '9']))).toEqual([
      'cli.leave-out',
      'cli.import-whole',
    ]);
    const ran = await terminal.run(['import', path, '--yes', '--leave-out', '5']);
    expect([ran.code, ran.out]).toEqual([0, expect.stringContaining('Passed over\n  line 5: left out by you')]);
  });

  it('reads a file in any encoding, and says of a workbook that it is none', async () => {
    const path = join(terminal.folder, 'wide.csv');
    writeFileSync(path, Buffer.from('\uFEFFDate,Job\n2026-05-26,tested breakaway\n', 'utf16le'));
    expect((await terminal.run(['import', path, '--yes'])).code).toBe(0);
    const book = join(terminal.folder, 'book.xlsx');
    writeFileSync(book, Buffer.from('504b030414', 'hex'));
    expect(codesOf(await terminal.run(['import', book, '--json']))).toEqual(['table.workbook']);
  });

  it('shows what it understood, asks, and writes all of it once', async () => {
    const path = file(fitting.split('\n').slice(0, 4).join('\n'));
    const before = await count();
    expect(await terminal.run(['import', path], { answers: ['n'] })).toMatchObject({ code: 2 });
    expect(codesOf(await terminal.run(['import', path, '--json']))).toEqual(['cli.not-confirmed']);
    expect(await count()).toBe(before);
    const ran = await terminal.run(['import', path], { answers: ['y'] });
    expect([ran.code, ran.out]).toEqual([0, expect.stringContaining('Written, by Nell: 3 entries of marigold.')]);
    // The lines, and the statement that this machine signed about them.
    expect(await count()).toBe(before + 4);
    const again = await terminal.run(['import', path], { answers: [] });
    expect([again.code, again.out]).toEqual([0, expect.stringContaining('passed over: 3\nNothing is new.')]);
    expect(await count()).toBe(before + 4);
  });

  it('keeps cost, note and odometer as they are written', async () => {
    const path = file('Date;Odometer (mi);Work;Cost;Notes\n2026-05-23;64.120,4;repacked axle 1;24,5;two seals\n');
    const [entry] = entriesIn(await terminal.run(['import', path, '--yes', '--json']));
    expect(entry).toMatchObject({
      kind: 'work',
      on: '2026-05-23',
      by: 'Nell',
      body: { odometer: { value: 64120.4, unit: 'mi' }, cost: 24.5, note: 'two seals' },
    });
  });

  it('asks what stays open, with the option that answers it, and writes nothing', async () => {
    const before = await count();
    const path = file('Day,Odometer,Work\n09/05/2026,"63,690",tested breakaway\n');
    const ran = await terminal.run(['import', path, '--yes']);
    expect(ran.code).toBe(2);
    const words = ran.err.replaceAll(/\s+/g, ' ');
    expect(words).toContain('expected --date-order mdy (month, day, year), or --date-order dmy');
    expect(words).toContain('expected --odometer-unit mi (miles), or --odometer-unit km');
    expect(words).toContain('expected --decimal .');
    expect(widest(ran.err)).toBeLessThanOrEqual(80);
    expect(await count()).toBe(before);
    const answers = ['--date-order', 'dmy', '--odometer-unit', 'mi', '--decimal', '.'];
    const [entry] = entriesIn(await terminal.run(['import', path, '--yes', '--json', ...answers]));
    expect(entry).toMatchObject({ on: '2026-05-09', body: { odometer: { value: 63690, unit: 'mi' } } });
  });

  it('takes the owner’s word on columns, also that one means nothing', async () => {
    const path = file('When bought,Done on,Where,Thing,Shown km\n2020,2026-05-23,Driveway,tested breakaway,103191.8\n');
    const open = await terminal.run(['import', path, '--yes', '--json']);
    expect(codesOf(open)[0]).toBe('table.date');
    const columns = ['date=done on', 'what=Thing', 'part=-', 'odometer=Shown km'].flatMap((one) => ['--column', one]);
    const ran = await terminal.run(['import', path, '--yes', '--json', ...columns]);
    expect(ran.json()).toMatchObject({
      columns: [
        { name: 'When bought', role: '' },
        { name: 'Done on', role: 'date' },
        { name: 'Where', role: '' },
        { name: 'Thing', role: 'what' },
        { name: 'Shown km', role: 'odometer', unit: 'km' },
      ],
      entries: [{ on: '2026-05-23', body: { odometer: { value: 103191.8, unit: 'km' } } }],
      written: true,
    });
  });

  it('takes lines in any order of days, and refuses an odometer that goes backwards', async () => {
    const rows = ['2026-05-26,"64,120.4",tested breakaway', '2026-05-24,"64,120.4",tested breakaway'];
    const good = file(`Date,Odometer (mi),Job\n${rows.join('\n')}\n`);
    expect((await terminal.run(['import', good, '--yes'])).code).toBe(0);
    const bad = file(`Date,Odometer (mi),Job\n${rows.join('\n').replace('64,120.4', '12.5')}\n`);
    const ran = await terminal.run(['import', bad, '--yes', '--json']);
    expect(ran.json()).toMatchObject({
      accepted: [],
      known: 1,
      rejected: [{ line: 2, problems: [{ code: 'logbook.odometer-backwards' }] }],
    });
  });

  it('comes through the standard input with --csv', async () => {
    const input = 'Date,Job\n2026-05-26,tested breakaway\n';
    expect((await terminal.run(['import', '-', '--csv', '--yes'], { input })).code).toBe(0);
  });

  const plain = 'Date,Job\n2026-05-26,tested breakaway\n';
  it.each([
    [plain, ['--column', 'teapot=Job'], 'cli.column'],
    [plain, ['--column', 'what=Teapot'], 'cli.column'],
    [plain, ['--column', 'what=Job', '--column', 'note=Job'], 'cli.column'],
    [plain, ['--column', 'date=-'], 'cli.column'],
    [plain, ['--date-order', 'ydm'], 'cli.mapping-option'],
    [plain, ['--decimal', ';'], 'cli.mapping-option'],
    [plain, ['--odometer-unit', 'leagues'], 'cli.mapping-option'],
    [plain, ['--as-is'], 'cli.option-unused'],
    ['Date,Job\n', [], 'table.empty'],
    ['Date,Job\n2026-05-26,"torn\n', [], 'table.torn'],
    ['Date,Job\n2026-07-26,tested breakaway\n', [], 'table.future'],
    ['Thing,Job\nx,tested breakaway\n', [], 'cli.mapping-open'],
  ])('refuses %j with %j', async (text, more, code) => {
    const ran = await terminal.run(['import', file(text), '--yes', '--json', ...more]);
    expect([ran.code, codesOf(ran)[0]]).toEqual([2, code]);
  });

  it('wants a rig to write to, and JSON lines take no answers of a spreadsheet', async () => {
    const empty = ['--data', join(terminal.folder, 'empty')];
    expect(codesOf(await terminal.run(['import', file(plain), '--json', ...empty]))).toEqual(['cli.rig-none']);
    expect(codesOf(await terminal.run(['import', DEMO_FILE, '--decimal', ',', '--json']))).toEqual([
      'cli.option-unused',
    ]);
  });
});
