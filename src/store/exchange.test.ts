import { writeFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, idNumber } from '../../test/support/keeping.ts';
import { writeEntry } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { exportLines, type ImportProgress, importLines, openStore, type Store } from './index.ts';

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
