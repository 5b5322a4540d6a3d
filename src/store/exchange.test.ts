import { writeFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, idNumber } from '../../test/support/keeping.ts';
import { writeEntry } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { exportLines, type ImportProgress, importLines, openStore, type Store } from './index.ts';
import { openFile } from './sqlite/open.ts';
import { SqliteStore } from './sqlite/store.ts';

let folder: Folder;
let store: Store;
beforeEach(async () => {
  folder = new Folder();
  store = unwrap(await openStore({ folder: folder.file('data') }));
});
afterEach(async () => {
  await store.close();
  folder.remove();
});
const via = { via: 'a test' };
const lines = (count: number, rig?: string) => Array.from({ length: count }, (_, n) => writeEntry(entryNumber(n, rig)));
const written = (text: string): string => {
  writeFileSync(folder.file('book.jsonl'), text);
  return folder.file('book.jsonl');
};

describe('a logbook as JSON lines', () => {
  it('comes in whole, says how far it is, and goes out as it came', async () => {
    const text = `${lines(2500).join('\n')}\n`;
    const said: ImportProgress[] = [];
    const done = unwrap(
      await importLines(store, written(text), { ...via, onProgress: (progress) => said.push(progress) }),
    );
    expect(done).toEqual({ added: 2500, known: 0, rigs: ['marigold'] });
    expect(said.map(({ step, lines }) => `${step} ${lines}`)).toEqual([
      'reading 1000',
      'reading 2000',
      'reading 2500',
      'writing 1000',
      'writing 2000',
      'writing 2500',
    ]);
    let out = '';
    for await (const line of exportLines(store, 'marigold')) out += line;
    expect(out).toBe(text);
    expect(unwrap(await importLines(store, written(out), via))).toMatchObject({ added: 0, known: 2500 });
  });

  it('torn at the end, late in the file or with an id taken: nothing of it comes in', async () => {
    await store.append([entryNumber(1, 'marigold', 'another content')], via);
    const good = lines(1800).filter((_, n) => n !== 1);
    const cases: [string, string, string][] = [
      [`${good.join('\n')}\n${lines(1900)[1850]!.slice(0, 40)}`, 'logbook.json-torn', 'line 1800'],
      [`${good.join('\n')}\n{"id":"x"}\n`, 'logbook.entry-kind', 'line 1800'],
      [`${[...good, lines(2)[1]].join('\n')}\n`, 'store.id-conflict', idNumber(1)],
    ];
    for (const [text, code, where] of cases) {
      expect(await importLines(store, written(text), via)).toMatchObject({ ok: false, problems: [{ code, where }] });
      expect((await store.rigs())[0]!.entries).toBe(1);
    }
  });

  it('comes in whole or not at all when the disk fills up while it is written', async () => {
    await store.append([entryNumber(9000)], via);
    await store.close();
    const file = folder.file('data/rigworthy.sqlite');
    const db = unwrap(openFile(file, { create: false }));
    const full = new SqliteStore(file, db);
    // SQLite's own "database or disk is full", brought about by the largest number of pages it may use: room for some 3,000.
    db.pragma(`max_page_count = ${(db.pragma('page_count', { simple: true }) as number) + 300}`);
    const book = written(`${lines(9000).join('\n')}\n`);
    await expect(importLines(full, book, via)).rejects.toMatchObject({ problems: [{ code: 'store.full' }] });
    expect((await full.rigs()).map(({ entries }) => entries)).toEqual([1]);
    db.pragma('max_page_count = 1000000');
    expect(unwrap(await importLines(full, book, via))).toMatchObject({ added: 9000 });
    await full.close();
    store = unwrap(await openStore({ folder: folder.file('data') }));
    expect((await store.check()).ok).toBe(true);
  });

  it('that differs under one id far apart, or changes while it is read, does not come in', async () => {
    const twice = [...lines(1500), writeEntry(entryNumber(3, 'marigold', 'another content'))];
    expect(await importLines(store, written(`${twice.join('\n')}\n`), via)).toMatchObject({
      ok: false,
      problems: [{ code: 'store.id-conflict', where: idNumber(3) }],
    });
    const book = written(`${lines(1500).join('\n')}\n`);
    const judge = {
      take: () => undefined,
      verdict: async () => {
        written(`${lines(1600).join('\n')}\n`);
        return [];
      },
    };
    expect(await importLines(store, book, { ...via, judge })).toMatchObject({
      ok: false,
      problems: [{ code: 'store.import-changed', where: book }],
    });
    expect(await store.rigs()).toEqual([]);
  });

  it('with a line without end, a value nested without end, or what is no text, is refused at once', async () => {
    const [good] = lines(1) as [string];
    const deep = good.replace('"value":50', `"value":${'['.repeat(500_000)}${']'.repeat(500_000)}`);
    const cases: [string | Buffer, string][] = [
      [`${good}\n${'x'.repeat(40_000_000)}`, 'store.line-long'],
      [`${good}\n${'x'.repeat(1_100_000)}\n${good}\n`, 'store.line-long'],
      [`${good}\n${deep}\n`, 'store.line-deep'],
      [`${good}\n${'['.repeat(1_000_000)}`, 'store.line-deep'],
      [
        Buffer.concat([Buffer.from(`${good}\n`), Buffer.from(good.replace('reading 0', 'reading \xff'), 'latin1')]),
        'store.line-encoding',
      ],
    ];
    for (const [text, code] of cases) {
      writeFileSync(folder.file('book.jsonl'), text);
      const started = performance.now();
      expect(await importLines(store, folder.file('book.jsonl'), via)).toMatchObject({
        ok: false,
        problems: [{ code, where: 'line 2' }],
      });
      expect(performance.now() - started).toBeLessThan(1000);
    }
    // Brackets within a text are none; a mark of byte order and a carriage return belong to no entry.
    const brackets = writeEntry(entryNumber(0, 'marigold', `${'['.repeat(900)} \\"{`));
    expect(unwrap(await importLines(store, written(`\ufeff${brackets}\r\n\r\n`), via))).toMatchObject({ added: 1 });
    expect((await store.readOne('marigold', idNumber(0)))?.entry.body).toMatchObject({
      note: `${'['.repeat(900)} \\"{`,
    });
  });

  it('that is no text of entries at all is refused after a hundred problems', async () => {
    const refused = await importLines(store, written('odometer 64,120\n'.repeat(5000)), via);
    expect(refused.ok ? 0 : refused.problems.length).toBe(100);
    expect(await importLines(store, folder.file('nothing'), via)).toMatchObject({
      ok: false,
      problems: [{ code: 'store.missing' }],
    });
    await writeFile(folder.file('empty'), '\n\n');
    expect(unwrap(await importLines(store, folder.file('empty'), via))).toEqual({ added: 0, known: 0, rigs: [] });
  });
});
