import { existsSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, pngNumber } from '../../../test/support/keeping.ts';
import { unwrap } from '../../problem/index.ts';
import {
  keepCopies,
  listCopies,
  makeCopy,
  newestGoodCopy,
  openStore,
  restoreCopy,
  type Store,
  verifyCopy,
} from '../index.ts';
import { copyName, madeAt } from './name.ts';
import { expired, KEEP } from './rotation.ts';

const via = { via: 'a test' };
const NOON = Date.UTC(2026, 5, 12, 12);
const HOUR = 3_600_000;
const DAY = 24 * HOUR;

describe('names of copies', () => {
  it('say when, and sort by it', () => {
    expect(copyName(NOON)).toBe('rigworthy-2026-06-12T120000Z.sqlite');
    expect(madeAt(copyName(NOON + 5000))).toBe(NOON + 5000);
    expect(madeAt('rigworthy.sqlite')).toBeUndefined();
    expect(madeAt(`${copyName(NOON)}.json`)).toBeUndefined();
  });
});

describe('the rotation', () => {
  it('over two years of daily copies keeps days, weeks and months, and never the newest away', () => {
    let copies: number[] = [];
    for (let day = 0; day < 730; day++) {
      copies.push(NOON + day * DAY);
      const gone = new Set(expired(copies, NOON + day * DAY));
      expect(gone.has(NOON + day * DAY)).toBe(false);
      copies = copies.filter((ms) => !gone.has(ms));
      expect(copies.length).toBeLessThanOrEqual(KEEP.newest + KEEP.days + KEEP.weeks + KEEP.months);
    }
    const ages = copies.map((ms) => (NOON + 729 * DAY - ms) / DAY).sort((a, b) => a - b);
    expect(ages.slice(0, 7)).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(ages.at(-1)).toBeGreaterThan(300);
    // No hole of more than a week within the last month, nor of more than 31 days within the year.
    for (const [i, age] of ages.slice(1).entries()) expect(age - ages[i]!).toBeLessThanOrEqual(age < 28 ? 7 : 31);
  });

  it('keeps the newest few of many made on one day', () => {
    const copies = Array.from({ length: 10 }, (_, i) => NOON + i * 60_000);
    expect(expired(copies, NOON)).toEqual(copies.slice(0, 7).reverse());
  });
});

describe('copies', () => {
  let folder: Folder;
  let store: Store;
  let copies: string;
  const data = () => ({ folder: folder.file('data') });
  const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => entryNumber(from + i));
  beforeEach(async () => {
    folder = new Folder();
    copies = folder.file('copies');
    store = unwrap(await openStore(data()));
    await store.append(range(0, 50), via);
    await store.putBlob('marigold', pngNumber(1));
  });
  afterEach(async () => {
    await store.close();
    folder.remove();
  });

  it('are read back, described beside, and need no file of their own beside them', async () => {
    const { file, report } = await makeCopy(store, copies, NOON);
    expect(report).toMatchObject({ ok: true, rigs: [{ rig: 'marigold', entries: 50 }], blobs: { count: 1 } });
    expect(readdirSync(copies).sort()).toEqual([
      'blobs',
      'rigworthy-2026-06-12T120000Z.sqlite',
      'rigworthy-2026-06-12T120000Z.sqlite.json',
    ]);
    expect((await verifyCopy(file)).ok).toBe(true);
    expect(readdirSync(copies)).toHaveLength(3);
  });

  it('that were cut short, flipped or changed are recognised, and the newest good one is found', async () => {
    await makeCopy(store, copies, NOON);
    await store.append(range(50, 60), via);
    const flipped = await makeCopy(store, copies, NOON + DAY);
    const cut = await makeCopy(store, copies, NOON + 2 * DAY);
    const changed = await makeCopy(store, copies, NOON + 3 * DAY);
    const bytes = readFileSync(flipped.file);
    const at = bytes.indexOf('reading 55');
    bytes[at + 8] = bytes[at + 8]! ^ 1;
    writeFileSync(flipped.file, bytes);
    truncateSync(cut.file, 9000);
    // Whole in itself, but of another day.
    writeFileSync(changed.file, readFileSync((await listCopies(copies, NOON)).at(-1)!.file));
    const found = await newestGoodCopy(copies, NOON + 3 * DAY);
    expect(found.copy?.madeAt).toBe(NOON);
    expect(found.bad.map(({ problems }) => problems[0]!.code)).toEqual([
      'store.truncated',
      'store.damaged',
      'store.copy-changed',
    ]);
  });

  it('of a clock that was years ahead are neither taken for the newest nor in the way of daily ones', async () => {
    const AHEAD = Date.UTC(2036, 0, 1, 12);
    const wrong = await makeCopy(store, copies, AHEAD);
    await store.append(range(50, 60), via);
    const failures: unknown[] = [];
    const made: string[] = [];
    for (let day = 0; day < 3; day++) {
      const keeper = keepCopies({
        store,
        folder: copies,
        clock: () => NOON + day * DAY,
        onCopy: (file) => made.push(file),
        onFailure: (error) => failures.push(error),
      });
      await keeper.first;
      await keeper.stop();
    }
    expect(failures).toEqual([]);
    expect(made.length).toBe(3);
    const found = await newestGoodCopy(copies, NOON + 2 * DAY);
    expect(found.copy?.file).toBe(made[2]);
    expect(found.doubtful).toEqual([
      { file: wrong.file, doubt: expect.stringContaining('2036-01-01, which is still to come') },
    ]);
    // Also where nothing stands beside the copies, and when that year has come.
    for (const name of readdirSync(copies)) if (name.endsWith('.json')) rmSync(`${copies}/${name}`);
    expect((await newestGoodCopy(copies, NOON + 2 * DAY)).copy?.file).toBe(made[2]);
    const later = await newestGoodCopy(copies, AHEAD + DAY);
    expect(later.copy?.file).toBe(made[2]);
    expect(later.doubtful.map(({ doubt }) => doubt)[0]).toMatch(/2026-06-14, yet it is newer than one of 2036-01-01/);
  });

  it('of a clock that fell back years ago push no others out, nor are pushed out by them', async () => {
    for (let day = 0; day < 12; day++) {
      await store.append(range(50 + day, 51 + day), via);
      await makeCopy(store, copies, NOON + day * DAY);
    }
    const before = (await listCopies(copies, NOON + 12 * DAY)).map(({ file }) => file);
    await store.append(range(70, 71), via);
    const AT_FACTORY = Date.UTC(2020, 0, 1);
    const { file } = await makeCopy(store, copies, AT_FACTORY);
    const after = await listCopies(copies, AT_FACTORY);
    expect(after.map((copy) => copy.file)).toEqual([file, ...before]);
    // Right again, the copy of 2020 is the newest by what it holds, and stays.
    await makeCopy(store, copies, NOON + 13 * DAY);
    const found = await newestGoodCopy(copies, NOON + 13 * DAY);
    expect(found.copy?.madeAt).toBe(NOON + 13 * DAY);
    expect((await listCopies(copies, NOON + 13 * DAY))[1]).toMatchObject({
      file,
      doubt: expect.stringContaining('2020-01-01, yet'),
    });
  });

  it('made after a restore are newer than the larger ones from before it', async () => {
    const old = await makeCopy(store, copies, NOON);
    await store.append(range(50, 90), via);
    await makeCopy(store, copies, NOON + HOUR);
    await store.close();
    unwrap(await restoreCopy(old.file, data(), NOON + 2 * HOUR));
    store = unwrap(await openStore(data()));
    await store.append(range(100, 103), via);
    const newest = await makeCopy(store, copies, NOON + 3 * HOUR);
    expect((await newestGoodCopy(copies, NOON + 4 * HOUR)).copy?.file).toBe(newest.file);
    expect((await listCopies(copies, NOON + 4 * HOUR)).map(({ madeAt }) => (madeAt - NOON) / HOUR)).toEqual([3, 1, 0]);
  });

  it('heal a photo among them that is not what it was, from the store', async () => {
    await makeCopy(store, copies, NOON);
    const hash = (await store.blobsOf('marigold'))[0]!.hash;
    writeFileSync(`${copies}/blobs/${hash.slice(0, 2)}/${hash}`, 'not a photo');
    const { file } = await makeCopy(store, copies, NOON + DAY);
    expect((await verifyCopy(file)).ok).toBe(true);
  });

  it('are not put back while a program has the data open', async () => {
    const { file } = await makeCopy(store, copies, NOON);
    expect(await restoreCopy(file, data(), NOON)).toMatchObject({ ok: false, problems: [{ code: 'store.in-use' }] });
    await store.append(range(60, 61), via);
    expect((await store.check()).ok).toBe(true);
  });

  it('are put back whole; what was there is kept; a reader from before starts over', async () => {
    const { file } = await makeCopy(store, copies, NOON);
    const cursor = unwrap(await store.append(range(50, 80), via)).heads.get('marigold')!.after;
    await store.close();
    const { report, replaced } = unwrap(await restoreCopy(file, data(), NOON + HOUR));
    expect(report.rigs[0]!.entries).toBe(50);
    expect(readdirSync(folder.file('data')).filter((name) => name.startsWith('restoring'))).toEqual([]);
    const old = unwrap(await openStore({ folder: replaced! }));
    expect((await old.rigs())[0]!.entries).toBe(80);
    await old.close();
    store = unwrap(await openStore(data()));
    const page = unwrap(await store.readSince('marigold', cursor, 100));
    expect(page).toMatchObject({ restarted: true });
    expect(page.entries).toHaveLength(50);
    // The device hands in again what only it has.
    expect(unwrap(await store.append(range(0, 80), via))).toMatchObject({ added: 30, known: 50 });
  });

  it('with photos come into a new place as they are: nobody has to ask for a new password', async () => {
    unwrap(
      await store.accounts.people.add(
        { name: 'ada', shown: 'Ada', password: 'a password of hers' },
        '2026-06-12T00:00:00.000Z',
      ),
    );
    const { file } = await makeCopy(store, copies, NOON);
    expect(unwrap(await restoreCopy(file, { folder: folder.file('another') }, NOON)).access.kind).toBe('copy');
    const other = unwrap(await openStore({ folder: folder.file('another') }));
    expect(await other.blobsOf('marigold')).toHaveLength(1);
    await other.close();
  });

  it('are put back over a damaged file, a damaged and a missing blob', async () => {
    const { file } = await makeCopy(store, copies, NOON);
    const hash = (await store.blobsOf('marigold'))[0]!.hash;
    await store.close();
    truncateSync(folder.file('data/rigworthy.sqlite'), 5000);
    writeFileSync(folder.file(`data/blobs/${hash.slice(0, 2)}/${hash}`), 'not a photo');
    expect((await openStore(data())).ok).toBe(false);
    unwrap(await restoreCopy(file, data(), NOON));
    store = unwrap(await openStore(data()));
    expect(await store.check()).toMatchObject({ ok: true, rigs: [{ entries: 50 }], blobs: { count: 1 } });
    expect((await store.getBlob('marigold', hash))?.bytes).toBe(64);
  });

  it('that are not good are not put back', async () => {
    const { file } = await makeCopy(store, copies, NOON);
    await store.close();
    truncateSync(file, 5000);
    expect(await restoreCopy(file, data(), NOON)).toMatchObject({ ok: false, problems: [{ code: 'store.truncated' }] });
    expect(readdirSync(folder.file('data')).sort()).toEqual(['blobs', 'rigworthy.sqlite']);
  });

  it('are made by themselves: at a start when something is new, and once a day', async () => {
    let now = NOON;
    const made: string[] = [];
    const keep = async () => {
      const keeper = keepCopies({
        store,
        folder: copies,
        clock: () => now,
        onCopy: (file) => made.push(file),
        onFailure: (error) => expect.unreachable(String(error)),
      });
      await keeper.first;
      await keeper.stop();
    };
    await keep();
    expect(made).toHaveLength(1);
    now += HOUR;
    await keep();
    expect(made).toHaveLength(1);
    await store.append(range(50, 51), via);
    await keep();
    expect(made).toHaveLength(2);
    now += DAY;
    await keep();
    expect(made).toHaveLength(3);
    expect(await listCopies(copies, now)).toHaveLength(3);
  });

  it('that cannot be made are told, and no old one is let go', async () => {
    await makeCopy(store, copies, NOON);
    const failures: unknown[] = [];
    await store.append(range(50, 51), via);
    const keeper = keepCopies({ store, folder: copies, clock: () => NOON, onFailure: (error) => failures.push(error) });
    await keeper.first;
    await keeper.stop();
    // A copy of that very second is there already.
    expect(failures).toHaveLength(1);
    expect(failures[0]).toMatchObject({ problems: [{ code: 'store.unwritable' }] });
    expect(existsSync((await listCopies(copies, NOON))[0]!.file)).toBe(true);
  });
});
