/** Writes a logbook of many entries to a file, takes it in, and says what was done. Arguments: folder, entries. One line of JSON. */

import { once } from 'node:events';
import { createWriteStream } from 'node:fs';
import { writeEntry } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { importLines, openStore } from '../../src/store/index.ts';
import { entryNumber } from '../support/keeping.ts';

const [folder, count] = process.argv.slice(2) as [string, string];

async function run(): Promise<void> {
  const file = createWriteStream(`${folder}/book.jsonl`);
  for (let n = 0; n < Number(count); n++) {
    const line = writeEntry(entryNumber(n, 'marigold', `reading ${n} ${'and what was seen '.repeat(60)}`));
    if (!file.write(`${line}\n`)) await once(file, 'drain');
  }
  file.end();
  await once(file, 'finish');
  const store = unwrap(await openStore({ folder: `${folder}/data` }));
  let progress = 0;
  const done = unwrap(
    await importLines(store, `${folder}/book.jsonl`, { via: 'a test', onProgress: () => progress++ }),
  );
  const { ok } = await store.check();
  await store.close();
  console.log(JSON.stringify({ ...done, progress, bytes: file.bytesWritten, checked: ok }));
}

void run();
