import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoDesk } from '../../../test/support/demo.ts';
import { addEntry, admit, type Entry, readEntry } from '../../logbook/index.ts';
import { fail, ok, type Problem, unwrap } from '../../problem/index.ts';
import { encodingOf } from './encoding.ts';
import { type DraftsFrom, judgeTable } from './judge.ts';
import { type Answers, mapTable } from './mapping.ts';
import { readTable } from './read.ts';

const { state, catalog } = demoDesk();
const today = '2026-05-27';

/** A fixture as it would come in beside the demo rig; each entry admitted after those before it. */
function judged(name: string, said: Answers = {}, leaveOut: readonly number[] = []) {
  const bytes = readFileSync(new URL(`../../../test/data/spreadsheets/${name}`, import.meta.url));
  const table = unwrap(readTable(new TextDecoder(unwrap(encodingOf(bytes))).decode(bytes)));
  const { mapping } = mapTable(table, said);
  if (!mapping) throw new Error('a question is open');
  let next = 10;
  const prepare = (from: readonly DraftsFrom[]) => {
    let seen = state;
    const entries: Entry[] = [];
    const problems: Problem[] = [];
    for (const { drafts, where } of from)
      for (const draft of drafts) {
        const raw = {
          id: `01KSZZZZZZZZZZZZZZZZZZZZ${next++}`,
          rig: 'marigold',
          at: `${today}T18:00:00Z`,
          by: 'Nell',
          v: 1,
          ...draft,
        };
        const read = readEntry(raw, where);
        if (!read.ok) throw new Error(JSON.stringify(read.problems));
        const found = admit(seen, read.value, { catalog, today });
        problems.push(...found.map((problem) => ({ ...problem, where: `${where}, ${problem.where}` })));
        if (found.length) continue;
        seen = addEntry(seen, read.value);
        entries.push(read.value);
      }
    return problems.length ? fail<Entry[]>(problems[0]!, ...problems.slice(1)) : ok(entries);
  };
  return judgeTable(table, mapping, { state, catalog, today, leaveOut, prepare });
}
/** Bodies of the entries that would be written, in their order. */
const bodies = (name: string, said?: Answers, leaveOut?: readonly number[]) =>
  unwrap(judged(name, said, leaveOut).made).map(({ on, kind, body }) => ({ on, kind, ...body }));
const reasons = (name: string, said?: Answers) =>
  judged(name, said).rejected.map(({ line, problems }) => [line, ...problems.map(({ code }) => code)]);
const mi = (value: number) => ({ value, unit: 'mi' });
const pressure = (part: string, value: number, unit = 'psi') => ({
  kind: 'reading',
  part,
  what: 'pressure-cold',
  value: { value, unit },
});

describe('one line a job or a reading, with odometer, cost and note', () => {
  const file = 'work-and-readings.csv';

  it('makes of each line its work or reading, of an odometer beside a reading one of its own, once', () => {
    expect(reasons(file)).toEqual([[4, 'sentence.ambiguous']]);
    expect(bodies(file, {}, [4])).toMatchObject([
      { ...pressure('spare', 42.5), on: '2026-05-23', note: 'cold before leaving' },
      { kind: 'reading', vehicle: 'trailer', what: 'odometer', value: mi(64_120.4) },
      { kind: 'work', done: [{}, {}], odometer: mi(64_120.4), cost: 24.5, note: 'new seals' },
      { kind: 'reading', on: '2026-05-25', vehicle: 'trailer', what: 'odometer', value: mi(64_120.4) },
      { kind: 'reading', on: '2026-05-25', what: 'odometer', note: 'fuel; $88.20' },
      { kind: 'carry', item: 'seal-driver', cost: 12 },
    ]);
  });

  it('writes nothing while a line is refused, and tells what the owner leaves out', () => {
    expect(judged(file).made).toMatchObject({ ok: false, problems: [{ where: 'line 4' }] });
    const left = judged(file, {}, [4, 7]);
    expect(left.passed).toEqual([4, 7].map((line) => ({ line, why: 'left out by you' })));
    expect(left.accepted.map(({ line }) => line)).toEqual([2, 3, 5, 6]);
  });

  it('says of every line in words what it would write', () => {
    expect(judged(file).accepted.map(({ said }) => said)).toEqual([
      'Read on Sat 23 May 2026: pressure cold of the spare tire at rear bumper is 42.5 psi. Trailer at 64,120.4 mi; note: cold before leaving.',
      expect.stringMatching(/^Done on .* axle 1, right. Trailer at 64,120.4 mi; \$24.50; note: new seals\.$/),
      'Read on Mon 25 May 2026: trailer at 64,120.4 mi.',
      'Read on Mon 25 May 2026: trailer at 64,120.4 mi; note: fuel; $88.20.',
      expect.stringMatching(/^Aboard: Seal driver.* \$12\.00\.$/),
    ]);
  });
});

describe('a column a tire', () => {
  const file = 'tire-columns.csv';
  const said = { readingUnit: 'psi' } as const;

  it('reads each cell on what its heading names, in one air; blank cells are nothing, a word is a remark', () => {
    expect(reasons(file, said)).toEqual([[4, 'table.blank']]);
    const made = bodies(file, said, [4]);
    const air = (value: number) => ({ temperature: { value, unit: 'degF' } });
    expect(made.slice(0, 6)).toMatchObject([
      { ...pressure('tire-axle-1-left', 65), ...air(61), on: '2026-05-20' },
      { ...pressure('tire-axle-1-right', 64.5), ...air(61) },
      { ...pressure('tire-axle-2-left', 65), ...air(61) },
      { ...pressure('tire-axle-2-right', 64), ...air(61) },
      { ...pressure('spare', 42), ...air(61) },
      { ...pressure('tire-axle-1-left', 65), ...air(58), on: '2026-05-21' },
    ]);
    expect(made).toHaveLength(10);
    expect(made[6]).toMatchObject({ on: '2026-05-23', note: 'Marigold RF: flat' });
  });
});

describe('a book below a title', () => {
  const file = 'title-above.csv';

  it('takes two jobs in one cell, the hands, and a remark in brackets', () => {
    expect(judged(file).accepted.map(({ line }) => line)).toEqual([4, 5, 6]);
    const upkeeps = bodies(file, {}, [7, 8, 9, 10]).map((body) => [
      body.on,
      ...('done' in body ? new Set(body.done.map(({ upkeep }) => upkeep)) : []),
    ]);
    expect(upkeeps).toEqual([
      ['2026-05-02', 'repack-bearings', 'adjust-brakes'],
      ['2026-05-09', 'test-breakaway', 'test-co-alarm'],
      ['2026-05-10', 'repack-bearings'],
    ]);
    expect(bodies(file, {}, [7, 8, 9, 10])).toMatchObject([
      { doneBy: 'Nell', cost: 31.4 },
      {},
      { note: 'left drum scored' },
    ]);
  });

  it('says why not: nothing understood, no day, no such day, a day to come; and passes the sum over', () => {
    expect(reasons(file)).toEqual([
      [7, 'sentence.nothing'],
      [8, 'table.date'],
      [9, 'table.date'],
      [10, 'table.future'],
    ]);
    expect(judged(file).passed).toEqual([{ line: 12, why: 'a sum' }]);
  });
});

describe('other ways of saving', () => {
  it('serial days, an hour meter, and the odometer of the tow vehicle', () => {
    expect(bodies('serial-days.csv', { odometerUnit: 'mi' })).toMatchObject([
      {
        on: '2026-05-24',
        kind: 'reading',
        part: 'generator',
        what: 'generator-hours',
        value: { value: 412.5, unit: 'h' },
      },
      { on: '2026-05-25', kind: 'work', odometerTow: mi(29_201) },
      { on: '2026-05-25', kind: 'work', done: [{ upkeep: 'inspect-tow-brakes' }] },
    ]);
  });

  it('UTF-16 with tabs, and Windows-1252 with semicolons', () => {
    expect(bodies('utf-16.tsv')).toMatchObject([
      { ...pressure('spare', 290, 'kPa'), note: 'gauge of 2019, ±2 %' },
      pressure('tire-axle-1-left', 448, 'kPa'),
    ]);
    expect(bodies('windows-1252.csv')).toMatchObject([
      { ...pressure('spare', 42), on: '2026-05-16', temperature: { value: 12, unit: 'degC' }, note: 'très froid' },
    ]);
  });
});
