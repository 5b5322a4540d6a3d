import { appendFileSync, readdirSync, writeFileSync } from 'node:fs';
import exifr from 'exifr';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Household } from '../../test/support/household.ts';
import { entryNumber, Folder } from '../../test/support/keeping.ts';
import { photoWithPlace } from '../../test/support/photos.ts';
import { unwrap } from '../problem/index.ts';
import { importArchive, makeCopy, openStore } from '../store/index.ts';

let house: Household;
let copies: Folder;
beforeEach(async () => {
  copies = new Folder();
  house = await Household.start({ copiesFolder: copies.path });
});
afterEach(async () => {
  expect(house.server.failures).toEqual([]);
  await house.stop();
  copies.remove();
});

describe('what an owner can take home', () => {
  it('is an archive that comes in elsewhere, entries and photos, and leaves nothing lying about', async () => {
    const photo = await photoWithPlace('image/jpeg');
    const { hash } = unwrap(await house.server.store.putBlob('marigold', photo));
    const ada = await house.as('ada');
    vi.stubEnv('TMPDIR', copies.path);
    const got = await ada.ask('GET', '/api/rigs/marigold/archive');
    expect([got.status, got.headers['content-type'], Number(got.headers['content-length'])]).toEqual([
      200,
      'application/zip',
      got.raw.length,
    ]);
    expect(got.headers['content-disposition']).toBe('attachment; filename="marigold-2026-06-12.zip"');
    writeFileSync(copies.file('got.zip'), got.raw);
    const other = unwrap(await openStore({ folder: copies.file('other') }));
    expect(unwrap(await importArchive(other, copies.file('got.zip'), { via: 'a test' }))).toMatchObject({
      added: 1,
      rigs: ['marigold'],
      photos: 1,
    });
    expect((await other.getBlob('marigold', hash))!.content).toEqual(photo);
    expect(await exifr.gps(photo)).toBeDefined();
    await other.close();
    const shown = await ada.ask('GET', '/api/rigs/marigold/archive?places=left-out');
    expect(shown.headers['content-disposition']).toContain('no-places');
    expect(shown.raw.includes(photo)).toBe(false);
    vi.unstubAllEnvs();
    await vi.waitFor(() =>
      expect(readdirSync(copies.path).filter((name) => name.startsWith('rigworthy-'))).toEqual([]),
    );
  });

  it('is for owners alone', async () => {
    for (const name of ['ben', 'cleo'])
      for (const what of ['archive', 'copies'])
        expect((await (await house.as(name)).ask('GET', `/api/rigs/marigold/${what}`)).status).toBe(403);
  });
});

describe('the copies that the server made', () => {
  it('are told with age, size and state, and of other rigs nothing', async () => {
    const { store } = house.server;
    const ada = await house.as('ada');
    const list = async () => (await ada.ask('GET', '/api/rigs/marigold/copies')).json;
    expect(await list()).toEqual({ made: true, copies: [] });
    const first = await makeCopy(store, copies.path, Date.UTC(2026, 5, 11, 6));
    await store.append([entryNumber(2)], { via: 'a test' });
    const second = await makeCopy(store, copies.path, Date.UTC(2026, 5, 12, 6));
    const told = await list();
    expect(told.copies).toEqual([
      {
        name: 'rigworthy-2026-06-12T060000Z.sqlite',
        madeAt: '2026-06-12T06:00:00.000Z',
        bytes: expect.any(Number),
        entries: 2,
        state: 'verified',
      },
      expect.objectContaining({ name: 'rigworthy-2026-06-11T060000Z.sqlite', entries: 1, state: 'verified' }),
    ]);
    expect(JSON.stringify(told)).not.toContain('wren');
    expect(told.copies[0].bytes).toBeGreaterThan(4096);
    appendFileSync(first.file, 'x');
    writeFileSync(`${second.file}.json`, 'torn');
    expect(
      (await list()).copies.map(({ state, entries }: { state: string; entries: number }) => [state, entries]),
    ).toEqual([
      ['unknown', null],
      ['changed', 1],
    ]);
  });

  it('are none where none are made', async () => {
    const plain = await Household.start();
    const ada = await plain.as('ada');
    expect((await ada.ask('GET', '/api/rigs/marigold/copies')).json).toEqual({ made: false, copies: [] });
    await plain.stop();
  });
});
