import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import exifr from 'exifr';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, pngNumber } from '../../../test/support/keeping.ts';
import { photoWithPlace } from '../../../test/support/photos.ts';
import { unwrap } from '../../problem/index.ts';
import { importArchive, makeArchive, openStore, type Store } from '../index.ts';

const NOW = Date.UTC(2026, 5, 12);
let folder: Folder;
let store: Store;
let photo: Buffer;
beforeEach(async () => {
  folder = new Folder();
  store = unwrap(await openStore({ folder: folder.file('data') }));
  photo = await photoWithPlace('image/jpeg');
  await store.append(
    Array.from({ length: 1500 }, (_, n) => entryNumber(n)),
    { via: 'a test' },
  );
  await store.append([entryNumber(1, 'wren')], { via: 'a test' });
  await store.putBlob('marigold', photo);
  await store.putBlob('marigold', Buffer.from('%PDF-1.7\n%%EOF'));
  await store.putBlob('wren', pngNumber(9));
});
afterEach(async () => {
  await store.close();
  folder.remove();
});

describe('an archive of one rig', () => {
  it('brings back entries and photos byte by byte, of this rig alone, and twice without harm', async () => {
    const made = await makeArchive(store, { rig: 'marigold', withPlaces: true, now: NOW });
    expect(made.about).toMatchObject({ rig: 'marigold', entries: 1500, places: 'kept', withheld: [] });
    const other = unwrap(await openStore({ folder: folder.file('other') }));
    const first = unwrap(await importArchive(other, made.file, { via: 'a test' }));
    expect(first).toEqual({ added: 1500, known: 0, rigs: ['marigold'], photos: 2, photosMissing: 0 });
    expect(unwrap(await importArchive(other, made.file, { via: 'a test' }))).toMatchObject({ added: 0, known: 1500 });
    const digests = async (of: Store) => (await of.check()).rigs.find(({ rig }) => rig === 'marigold');
    expect(await digests(other)).toEqual(await digests(store));
    expect(await other.blobsOf('marigold')).toEqual(await store.blobsOf('marigold'));
    expect(await other.blobsOf('wren')).toEqual([]);
    await other.close();
    await made.remove();
  });

  it('is a ZIP file to another program, too', async () => {
    const made = await makeArchive(store, { rig: 'marigold', withPlaces: true, now: NOW });
    // Python’s zipfile reads every part and compares its CRC.
    const read = spawnSync('python3', ['-m', 'zipfile', '-t', made.file], { encoding: 'utf8' });
    expect([read.status, read.stdout.trim()]).toEqual([0, 'Done testing']);
    const listed = spawnSync('python3', ['-m', 'zipfile', '-l', made.file], { encoding: 'utf8' }).stdout;
    for (const name of ['logbook.jsonl', 'about.json', '.jpg', '.pdf']) expect(listed).toContain(name);
    await made.remove();
  });

  it('for others has no place in any photo, and says what it left out', async () => {
    const torn = unwrap(await store.putBlob('marigold', photo.subarray(0, 300)));
    const made = await makeArchive(store, { rig: 'marigold', withPlaces: false, now: NOW });
    expect(made.about.withheld.map(({ hash }) => hash)).toEqual([torn.hash]);
    expect(made.about.photos.length).toBe(2);
    const out = folder.file('out');
    spawnSync('python3', ['-m', 'zipfile', '-e', made.file, out]);
    for (const { file, type } of made.about.photos) {
      const content = readFileSync(`${out}/${file}`);
      if (type === 'image/jpeg') expect((await exifr.gps(content)) ?? null).toBe(null);
    }
    const other = unwrap(await openStore({ folder: folder.file('other') }));
    expect(unwrap(await importArchive(other, made.file, { via: 'a test' }))).toMatchObject({
      added: 1500,
      photos: 1,
      photosMissing: 2,
    });
    await other.close();
    await made.remove();
  });

  it('cut short, flipped or foreign is refused, and nothing of it comes in', async () => {
    const made = await makeArchive(store, { rig: 'marigold', withPlaces: true, now: NOW });
    const whole = readFileSync(made.file);
    const other = unwrap(await openStore({ folder: folder.file('other') }));
    const bad = folder.file('bad.zip');
    const tried = [Buffer.from('no archive'), Buffer.alloc(0)];
    for (let n = 1; n < 12; n++) tried.push(whole.subarray(0, Math.floor((whole.length * n) / 12)));
    for (let n = 0; n < 60; n++) {
      const flipped = Buffer.from(whole);
      // Where the parts themselves are: names, times and modes in the directory behind them carry nothing of the logbook.
      const at = 80 + Math.floor((n / 60) * (whole.indexOf('PK\x01\x02', 0, 'latin1') - 120));
      flipped[at] = flipped[at]! ^ (1 << (n % 8));
      tried.push(flipped);
    }
    let refused = 0;
    for (const content of tried) {
      writeFileSync(bad, content);
      const done = await importArchive(other, bad, { via: 'a test' });
      if (done.ok) expect(done.value.rigs).toEqual(['marigold']);
      else {
        expect(done.problems[0]!.code).toBe('store.archive-damaged');
        refused++;
      }
    }
    expect(refused).toBeGreaterThan(tried.length - 8);
    const { problems, rigs } = await other.check();
    expect(problems).toEqual([]);
    for (const { entries } of rigs) expect(entries).toBe(1500);
    await other.close();
    await made.remove();
  });
});
