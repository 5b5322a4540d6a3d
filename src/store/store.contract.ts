import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, idNumber, pngNumber } from '../../test/support/keeping.ts';
import { photoWithPlace } from '../../test/support/photos.ts';
import { unwrap } from '../problem/index.ts';
import { digestOf, exportLines, openStore, type Store } from './index.ts';

/** A place for one test's store, opened as often as the test likes. */
export interface Place {
  open(): Promise<Store>;
  remove(): Promise<void>;
}

const via = { via: 'a test' };
const range = (from: number, to: number, rig?: string) =>
  Array.from({ length: to - from }, (_, i) => entryNumber(from + i, rig));

/** What every store promises. Each kind of store runs these same tests. */
export function storeContract(kind: string, makePlace: () => Promise<Place>): void {
  describe(`every promise of a store, on ${kind}`, () => {
    let place: Place;
    let store: Store;
    let folder: Folder;
    beforeEach(async () => {
      folder = new Folder();
      place = await makePlace();
      store = await place.open();
    });
    afterEach(async () => {
      await store.close();
      await place.remove();
      folder.remove();
    });
    const page = async (rig: string, cursor?: string, limit = 100) => unwrap(await store.readSince(rig, cursor, limit));
    const ids = async (rig: string) => (await page(rig, undefined, 5000)).entries.map(({ entry }) => entry.id);

    it('keeps what only a newer version can read, as it came and in its place', async () => {
      const raw = { ...entryNumber(2), v: 2, mood: { b: 1, a: [2] } };
      const record = { rig: 'marigold', id: raw.id, raw };
      expect(unwrap(await store.append([entryNumber(1), record, entryNumber(3)], via)).added).toBe(3);
      // Sent again, and with its keys in another order: the same record.
      const { mood: _, ...rest } = raw;
      const again = { ...record, raw: { mood: { a: [2], b: 1 }, ...rest } };
      expect(unwrap(await store.append([again], via))).toMatchObject({ added: 0, known: 1 });
      expect(await store.append([{ ...record, raw: { ...raw, mood: 3 } }], via)).toMatchObject({
        ok: false,
        problems: [{ code: 'store.id-conflict', where: raw.id }],
      });
      expect(await store.append([entryNumber(2)], via)).toMatchObject({ ok: false });
      const read = unwrap(await store.readSince('marigold', undefined, 10));
      expect(read.entries.map(({ seq }) => seq)).toEqual([1, 3]);
      expect(read.unread).toEqual([
        { seq: 2, raw, problems: [expect.objectContaining({ code: 'logbook.entry-newer' })], via: 'a test' },
      ]);
      expect([read.more, (await store.rigs())[0]!.entries]).toEqual([false, 3]);
      // A page of nothing but what cannot be read moves the cursor on.
      const first = unwrap(await store.readSince('marigold', undefined, 1));
      const second = unwrap(await store.readSince('marigold', first.cursor, 1));
      expect([second.entries.length, second.unread.length, second.more]).toEqual([0, 1, true]);
      expect(unwrap(await store.readSince('marigold', second.cursor, 1)).entries[0]!.entry.id).toBe(entryNumber(3).id);
      expect(await store.check()).toMatchObject({ ok: true, newer: 1 });
      const lines: string[] = [];
      for await (const line of exportLines(store, 'marigold')) lines.push(line);
      expect(JSON.parse(lines[1]!)).toEqual(raw);
    });

    it('reads what was kept raw as an entry, once it can be', async () => {
      const entry = entryNumber(5);
      unwrap(await store.append([{ rig: 'marigold', id: entry.id, raw: entry }], via));
      expect(unwrap(await store.readSince('marigold', undefined, 10))).toMatchObject({
        entries: [{ entry }],
        unread: [],
      });
      expect(await store.readOne('marigold', entry.id)).toMatchObject({ entry });
      expect(unwrap(await store.append([entry], via))).toMatchObject({ added: 0, known: 1 });
      expect(await store.check()).toMatchObject({ ok: true, newer: 0 });
    });

    it('gives back what was appended, in sequence, and remembers who handed it in', async () => {
      const appended = unwrap(await store.append(range(0, 3), { via: 'ada' }));
      expect(appended).toMatchObject({ added: 3, known: 0 });
      const { entries, more: rest, cursor } = await page('marigold');
      expect(entries.map(({ seq, via }) => [seq, via])).toEqual([
        [1, 'ada'],
        [2, 'ada'],
        [3, 'ada'],
      ]);
      expect(entries.map(({ entry }) => entry)).toEqual(range(0, 3));
      expect(rest).toBe(false);
      expect(appended.heads.get('marigold')!.after).toBe(cursor);
      const more = unwrap(await store.append([...range(2, 5), entryNumber(1, 'wren')], via));
      const moved = more.heads.get('marigold')!;
      expect(moved.before).toBe(cursor);
      const between = await page('marigold', moved.before);
      expect(between.entries.map(({ entry }) => entry)).toEqual(range(3, 5));
      expect(moved.after).toBe(between.cursor);
      expect(more.heads.get('wren')!.after).toBe((await page('wren')).cursor);
    });

    it('brings in any number of entries and photos in one go', async () => {
      await store.append(range(0, 3), via);
      async function* contents() {
        yield pngNumber(7);
      }
      const batches = () => [range(0, 1000), range(1000, 1500), range(0, 40, 'wren')];
      const came = unwrap(await store.bringIn(batches, { ...via, photos: { rig: 'wren', contents } }));
      expect(came).toEqual({ added: 1537, known: 3 });
      expect((await store.rigs()).map(({ rig, entries }) => [rig, entries])).toEqual([
        ['marigold', 1500],
        ['wren', 40],
      ]);
      expect((await store.blobsOf('wren')).length).toBe(1);
      expect(await store.check()).toMatchObject({ ok: true, blobs: { count: 1 } });
      expect(unwrap(await store.bringIn(batches, via))).toEqual({ added: 0, known: 1540 });
    });

    it('brings in all or nothing, whatever ends it', async () => {
      await store.append([entryNumber(1), entryNumber(1200, 'marigold', 'another content')], via);
      const before = await page('marigold');
      async function* contents() {
        yield pngNumber(7);
      }
      async function* noPhoto() {
        yield pngNumber(8);
        yield Buffer.from('no photo');
      }
      function* ending(): Generator<ReturnType<typeof range>> {
        yield range(2, 900);
        throw new Error('the reader ended');
      }
      const wren = { ...via, photos: { rig: 'wren', contents } };
      expect(await store.bringIn(() => [range(2, 900), range(900, 1300)], wren)).toMatchObject({
        ok: false,
        problems: [{ code: 'store.id-conflict', where: idNumber(1200) }],
      });
      expect(
        await store.bringIn(() => [range(2, 9)], { ...via, photos: { rig: 'wren', contents: noPhoto } }),
      ).toMatchObject({ ok: false, problems: [{ code: 'store.blob-kind' }] });
      const twice = [[entryNumber(5)], [entryNumber(5, 'marigold', 'another content')]];
      expect(await store.bringIn(() => twice, via)).toMatchObject({ problems: [{ code: 'store.id-conflict' }] });
      await expect(store.bringIn(ending, wren)).rejects.toThrow('the reader ended');
      expect(await page('marigold')).toEqual(before);
      expect(await store.blobsOf('wren')).toEqual([]);
      expect(await store.check()).toMatchObject({
        ok: true,
        rigs: [{ rig: 'marigold', entries: 2 }],
        blobs: { count: 0 },
      });
      // A photo that was there before stays.
      unwrap(await store.putBlob('marigold', pngNumber(7)));
      await expect(store.bringIn(ending, wren)).rejects.toThrow('the reader ended');
      expect(await store.check()).toMatchObject({ ok: true, blobs: { count: 1 } });
    });

    it('says where rigs stand, those that nobody wrote of at their beginning', async () => {
      const before = await store.heads(['marigold', 'nobody']);
      expect(before.get('marigold')).toBe((await page('marigold')).cursor);
      await store.append(range(0, 3), via);
      const after = await store.heads(['nobody', 'marigold']);
      expect(after.get('marigold')).toBe((await page('marigold')).cursor);
      expect(after.get('marigold')).not.toBe(before.get('marigold'));
      expect(after.get('nobody')).toBe(before.get('nobody'));
      expect([...(await store.heads([]))]).toEqual([]);
    });

    it('passes over what is there already: sending twice changes nothing', async () => {
      await store.append(range(0, 5), via);
      expect(unwrap(await store.append(range(3, 8), via))).toMatchObject({ added: 3, known: 2 });
      expect(await ids('marigold')).toEqual(range(0, 8).map(({ id }) => id));
      expect(unwrap(await store.append(range(0, 8), via)).added).toBe(0);
    });

    it('takes the keys of a body in any order for the same content', async () => {
      const entry = entryNumber(1);
      await store.append([entry], via);
      const turned = JSON.parse(JSON.stringify(entry), (_key, value) =>
        value && typeof value === 'object' && !Array.isArray(value)
          ? Object.fromEntries(Object.entries(value).reverse())
          : value,
      );
      expect(unwrap(await store.append([turned], via))).toMatchObject({ added: 0, known: 1 });
    });

    it('refuses the same id with another content, and then writes nothing of the batch', async () => {
      await store.append(range(0, 2), via);
      const refused = await store.append(
        [entryNumber(7), entryNumber(1, 'marigold', 'another content'), entryNumber(8)],
        via,
      );
      expect(refused).toMatchObject({ ok: false, problems: [{ code: 'store.id-conflict', where: idNumber(1) }] });
      expect(await ids('marigold')).toEqual(range(0, 2).map(({ id }) => id));
      const within = await store.append([entryNumber(9), entryNumber(9, 'marigold', 'another content')], via);
      expect(within).toMatchObject({ ok: false, problems: [{ code: 'store.id-conflict', where: idNumber(9) }] });
      expect(await store.readOne('marigold', idNumber(9))).toBeUndefined();
    });

    it('keeps rigs apart, and the same id may be used by two rigs', async () => {
      await store.append([...range(0, 3), ...range(0, 2, 'wren')], via);
      expect(await ids('marigold')).toHaveLength(3);
      expect(await ids('wren')).toHaveLength(2);
      expect((await store.rigs()).map(({ rig, entries }) => [rig, entries])).toEqual([
        ['marigold', 3],
        ['wren', 2],
      ]);
      expect((await store.readOne('wren', idNumber(1)))?.entry.rig).toBe('wren');
      expect(await store.readOne('wren', idNumber(2))).toBeUndefined();
    });

    it('reads on from a cursor, page by page, without a gap or a repeat', async () => {
      await store.append(range(0, 25), via);
      const found: number[] = [];
      let cursor: string | undefined;
      for (let more = true; more; ) {
        const next = await page('marigold', cursor, 10);
        found.push(...next.entries.map(({ seq }) => seq));
        ({ cursor, more } = next);
      }
      expect(found).toEqual(Array.from({ length: 25 }, (_, i) => i + 1));
      await store.append(range(25, 27), via);
      expect((await page('marigold', cursor)).entries.map(({ seq }) => seq)).toEqual([26, 27]);
    });

    it('starts over for a cursor of another epoch, and says so; refuses what is no cursor', async () => {
      await store.append(range(0, 3), via);
      const other = await page('marigold', '0123456789abcdef-2');
      expect(other).toMatchObject({ restarted: true });
      expect(other.entries).toHaveLength(3);
      const beyond = (await page('marigold')).cursor.replace(/-3$/, '-9');
      expect(await page('marigold', beyond)).toMatchObject({ restarted: true });
      expect(await store.readSince('marigold', "3'; DROP TABLE entries", 10)).toMatchObject({
        ok: false,
        problems: [{ code: 'store.cursor' }],
      });
    });

    it('reads an unknown rig as empty, and its cursor starts over once there is something', async () => {
      const empty = await page('nobody');
      expect(empty).toMatchObject({ entries: [], more: false });
      await store.append([entryNumber(1, 'nobody')], via);
      expect((await page('nobody', empty.cursor)).entries).toHaveLength(1);
    });

    it('says in a dry run what an append would say, and writes nothing', async () => {
      await store.append(range(0, 2), via);
      expect(unwrap(await store.append(range(0, 4), { via: 'x', dryRun: true }))).toMatchObject({ added: 2, known: 2 });
      expect(await ids('marigold')).toHaveLength(2);
      expect((await store.append([entryNumber(1, 'marigold', 'other')], { via: 'x', dryRun: true })).ok).toBe(false);
    });

    it('appends of many at once all arrive, each once, numbered without a gap', async () => {
      const results = await Promise.all(
        Array.from({ length: 40 }, (_, i) =>
          store.append([entryNumber(i), entryNumber(i % 7), entryNumber(1000 + i, 'wren')], { via: `writer ${i}` }),
        ),
      );
      expect(results.every(({ ok }) => ok)).toBe(true);
      const { entries } = await page('marigold');
      expect(entries.map(({ seq }) => seq)).toEqual(Array.from({ length: 40 }, (_, i) => i + 1));
      expect(new Set(entries.map(({ entry }) => entry.id)).size).toBe(40);
      expect((await page('wren')).entries).toHaveLength(40);
    });

    it('one refused append does not carry off those that came with it', async () => {
      await store.append([entryNumber(0)], via);
      const [good, bad, also] = await Promise.all([
        store.append([entryNumber(1)], via),
        store.append([entryNumber(0, 'marigold', 'other')], via),
        store.append([entryNumber(2)], via),
      ]);
      expect([good.ok, bad.ok, also.ok]).toEqual([true, false, true]);
      expect((await ids('marigold')).sort()).toEqual(range(0, 3).map(({ id }) => id));
    });

    it('is there again after closing and opening', async () => {
      await store.append(range(0, 4), via);
      const blob = unwrap(await store.putBlob('marigold', pngNumber(1)));
      const before = (await page('marigold')).cursor;
      await store.close();
      store = await place.open();
      expect(await page('marigold', before)).toMatchObject({ entries: [], restarted: false });
      expect(await ids('marigold')).toHaveLength(4);
      expect((await store.getBlob('marigold', blob.hash))?.type).toBe('image/png');
    });

    it('two that have it open see each other’s entries and disturb nobody', async () => {
      const other = await place.open();
      await Promise.all([
        store.append(range(0, 20), via),
        other.append(range(10, 30), via),
        store.append(range(25, 40), via),
      ]);
      expect((await ids('marigold')).sort()).toEqual(range(0, 40).map(({ id }) => id));
      expect(unwrap(await other.readSince('marigold', undefined, 100)).entries).toHaveLength(40);
      await other.close();
    });

    it('keeps a blob by its content, for the rig that brought it and no other', async () => {
      const blob = unwrap(await store.putBlob('marigold', pngNumber(3)));
      expect(blob).toMatchObject({ type: 'image/png', bytes: 64 });
      expect(unwrap(await store.putBlob('marigold', pngNumber(3)))).toEqual(blob);
      const found = await store.getBlob('marigold', blob.hash);
      expect(Buffer.from(found!.content)).toEqual(Buffer.from(pngNumber(3)));
      expect(await store.getBlob('wren', blob.hash)).toBeUndefined();
      expect(await store.blobsOf('marigold')).toEqual([blob]);
      expect(await store.blobsOf('wren')).toEqual([]);
    });

    it('makes a small picture of a photo once, turned the right way up and without its place', async () => {
      const photo = await photoWithPlace('image/jpeg', { width: 1200, height: 800 });
      const { hash } = unwrap(await store.putBlob('marigold', photo));
      const small = unwrap((await store.thumbnail('marigold', hash))!);
      const made = await sharp(small).metadata();
      // Orientation 6: the left side of what is stored is the top of what was seen.
      expect([made.format, made.width, made.height]).toEqual(['webp', 320, 480]);
      expect(made.exif ?? made.xmp).toBeUndefined();
      expect(unwrap((await store.thumbnail('marigold', hash))!)).toEqual(small);
      expect(await store.thumbnail('wren', hash)).toBeUndefined();
      for (const content of [pngNumber(8), Buffer.from('%PDF-1.7\n%%EOF')]) {
        const other = unwrap(await store.putBlob('marigold', content));
        expect(await store.thumbnail('marigold', other.hash)).toMatchObject({
          ok: false,
          problems: [{ code: 'store.no-thumbnail' }],
        });
      }
    });

    it('does not keep what a browser might run, nor what is too large', async () => {
      const page = Buffer.from('<html><script>alert(1)</script>');
      expect(await store.putBlob('marigold', page)).toMatchObject({
        ok: false,
        problems: [{ code: 'store.blob-kind' }],
      });
      expect(await store.putBlob('marigold', pngNumber(1, 12 * 1048576 + 1))).toMatchObject({
        ok: false,
        problems: [{ code: 'store.blob-size' }],
      });
    });

    it('checks clean, and says the same digest as the entries themselves', async () => {
      await store.append([...range(0, 30), ...range(0, 5, 'wren')].reverse(), via);
      await store.putBlob('marigold', pngNumber(1));
      const report = await store.check();
      expect(report.problems).toEqual([]);
      expect(report.rigs).toEqual([
        { rig: 'marigold', entries: 30, digest: digestOf(range(0, 30)) },
        { rig: 'wren', entries: 5, digest: digestOf(range(0, 5, 'wren')) },
      ]);
      expect(report.blobs).toEqual({ count: 1, bytes: 64 });
    });

    it('backs up into a store of its own, whole, while it goes on', async () => {
      await store.append([...range(0, 30), ...range(0, 3, 'wren')], via);
      const blob = unwrap(await store.putBlob('wren', pngNumber(2)));
      const file = folder.file('rigworthy.sqlite');
      await Promise.all([store.backup(file), store.append(range(30, 60), via)]);
      await store.append(range(60, 70), via);
      const copy = unwrap(await openStore({ folder: folder.path }));
      const report = await copy.check();
      expect(report.problems).toEqual([]);
      expect(report.rigs.map(({ rig }) => rig)).toEqual(['marigold', 'wren']);
      expect([30, 60]).toContain(report.rigs[0]!.entries);
      expect(await copy.getBlob('wren', blob.hash)).toBeDefined();
      await copy.close();
      await expect(store.backup(file)).rejects.toMatchObject({ problems: [{ code: 'store.unwritable' }] });
    });

    it('says that it is closed', async () => {
      await store.close();
      await expect(store.append(range(0, 1), via)).rejects.toMatchObject({ problems: [{ code: 'store.closed' }] });
      await expect(store.rigs()).rejects.toMatchObject({ problems: [{ code: 'store.closed' }] });
    });
  });
}
