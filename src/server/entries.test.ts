import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { entryNumber, idNumber, newId, pngNumber } from '../../test/support/keeping.ts';
import { fitSpare, TestServer, TODAY } from '../../test/support/serving.ts';
import type { Entry } from '../logbook/index.ts';
import { createServer } from './index.ts';

const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => entryNumber(from + i));
const reading = (value: number, on = '2026-06-10') => ({
  kind: 'reading',
  on,
  body: { part: 'spare', what: 'pressure-cold', value: `${value} psi` },
});

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
});
afterEach(async () => {
  expect(server.failures).toEqual([]);
  await server.stop();
});

describe('entries from another device', () => {
  const send = (entries: unknown[]) => server.post('/api/rigs/marigold/entries', { entries });

  it('are kept once, however often they are sent, and read back by cursor', async () => {
    expect((await send([fitSpare(), ...range(10, 20)])).json).toMatchObject({ added: 11, known: 0, reports: [] });
    const again = await send([fitSpare(), ...range(10, 25)]);
    expect(again).toMatchObject({ status: 200, json: { added: 5, known: 11, reports: [] } });
    const first = (await server.get('/api/rigs/marigold/entries?limit=10')).json;
    expect(first).toMatchObject({ more: true, restarted: false });
    expect(first.entries.map(({ seq }: { seq: number }) => seq)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    const rest = (await server.get(`/api/rigs/marigold/entries?after=${first.cursor}`)).json;
    expect(rest.entries).toHaveLength(6);
    expect(rest).toMatchObject({ more: false, cursor: again.json.cursor });
    expect(rest.entries[0].via).toBe('local');
  });

  it('are kept even where they would not be admitted, and what is odd is said', async () => {
    const { json } = await send([
      entryNumber(10),
      { ...fitSpare(), on: '2026-04-01' },
      { ...entryNumber(11), on: '2027-01-01' },
    ]);
    expect(json).toMatchObject({ added: 3 });
    // The fitting of the part comes before its reading in days, so the reading is no surprise.
    expect(json.reports).toMatchObject([{ index: 2, kept: true, problems: [{ code: 'logbook.future' }] }]);
    const lone = await server.post('/api/rigs/wren/entries', { entries: [entryNumber(1, 'wren')] });
    expect(lone.json.reports).toMatchObject([{ kept: true, problems: [{ code: 'logbook.part-unknown' }] }]);
  });

  it('are each judged alone: what is no entry, newer, of another rig or a changed one is named; the others are kept', async () => {
    await send([entryNumber(10)]);
    const { status, json } = await send([
      entryNumber(11),
      { ...entryNumber(12), v: 2 },
      'a note',
      entryNumber(13, 'wren'),
      entryNumber(10, 'marigold', 'a changed note'),
      { ...entryNumber(14), body: { part: 'spare', what: 'pressure-cold', value: '50 furlongs' } },
      entryNumber(15),
    ]);
    expect(status).toBe(200);
    expect(json).toMatchObject({ added: 3, known: 0 });
    expect(json.reports.find(({ index }: { index: number }) => index === 1)).toMatchObject({
      kept: true,
      problems: [{ code: 'logbook.entry-newer' }],
    });
    const lost = json.reports.filter(({ kept }: { kept: boolean }) => !kept);
    expect(
      lost.map(({ index, problems }: { index: number; problems: { code: string }[] }) => [index, problems[0]!.code]),
    ).toEqual([
      [2, 'logbook.entry-invalid'],
      [3, 'request.rig'],
      [4, 'store.id-conflict'],
      [5, 'logbook.entry-invalid'],
    ]);
  });

  it('make the same rig in whatever order and whatever batches they come', async () => {
    const strike = { ...entryNumber(50), kind: 'strike', body: { entry: idNumber(12), reason: 'misread' } };
    const all = [fitSpare(), ...range(10, 30), strike];
    const other = await TestServer.start();
    await send(all);
    for (const entry of [...all].reverse()) await other.post('/api/rigs/marigold/entries', { entries: [entry] });
    const [a, b] = [(await server.get('/api/rigs/marigold')).json, (await other.get('/api/rigs/marigold')).json];
    expect({ ...a, cursor: '' }).toEqual({ ...b, cursor: '' });
    expect(a).toMatchObject({ entries: 22, struck: [idNumber(12)], parts: [{ part: 'spare', kind: 'spare-tire' }] });
    // Sent again by a device that had not heard of the strike, it stays struck.
    await send([entryNumber(12)]);
    expect((await server.get('/api/rigs/marigold')).json.struck).toEqual([idNumber(12)]);
    await other.stop();
  });

  it('are judged by all that was written, here or by another program, and answered alike by every program', async () => {
    const miles = (n: number, value: number, on: string) => ({
      ...entryNumber(n),
      kind: 'reading',
      on,
      body: { what: 'odometer', value: { value, unit: 'mi' }, vehicle: 'trailer' },
    });
    const backwards = [{ kept: true, problems: [{ code: 'logbook.odometer-backwards' }] }];
    expect((await send([miles(1, 1000, '2026-05-01')])).json.reports).toEqual([]);
    expect((await send([miles(2, 900, '2026-05-02')])).json.reports).toMatchObject(backwards);
    await server.store.append([miles(3, 3000, '2026-05-03') as Entry], { via: 'another program' });
    expect((await send([miles(4, 2000, '2026-05-04')])).json.reports).toMatchObject(backwards);
    const second = await createServer({
      store: server.store,
      catalog: shippedCatalog(),
      clock: Date.now,
      today: () => TODAY,
      version: '0.0.0-test',
    });
    const there = await second.inject({ url: '/api/rigs/marigold', headers: { host: 'localhost' } });
    expect((await server.get('/api/rigs/marigold')).json).toEqual(there.json());
    await second.close();
  });

  it('two people writing down the same work is shown, not settled', async () => {
    const work = (id: string, by: string) => ({
      ...fitSpare(),
      id,
      by,
      kind: 'work',
      on: '2026-05-02',
      body: { done: [{ upkeep: 'spare-look', part: 'spare', outcome: 'good' }] },
    });
    await send([fitSpare(), work(idNumber(30), 'Ada'), work(idNumber(31), 'Ben')]);
    const { json } = await server.get('/api/rigs/marigold');
    expect(json.disagreements).toEqual([
      { part: 'spare', upkeep: 'spare-look', entries: [idNumber(30), idNumber(31)] },
    ]);
  });

  it('catches up a reader years behind, and tells one from before a restore to start over', async () => {
    for (let from = 0; from < 4000; from += 2000) await send(range(from, from + 2000));
    let cursor = '';
    let count = 0;
    for (let more = true; more; ) {
      const { json } = await server.get(`/api/rigs/marigold/entries?limit=1500${cursor && `&after=${cursor}`}`);
      count += json.entries.length;
      ({ cursor, more } = json);
    }
    expect(count).toBe(4000);
    const other = (await server.get('/api/rigs/marigold/entries?limit=1&after=00112233aabbccdd-4000')).json;
    expect(other).toMatchObject({ restarted: true, entries: [{ seq: 1 }] });
  });
});

describe('writing down here and now', () => {
  const write = (drafts: unknown[], query = '') => server.post(`/api/rigs/marigold/write${query}`, { drafts });
  beforeEach(async () => {
    await server.store.append([fitSpare()], { via: 'a test' });
  });

  it('gives id, instant and writer', async () => {
    const { status, json } = await write([reading(51)]);
    expect(status).toBe(201);
    expect(json.entries).toMatchObject([
      { rig: 'marigold', by: 'owner', at: '2026-06-12T08:30:00.000Z', body: { value: { value: 51, unit: 'psi' } } },
    ]);
    expect((await server.get(`/api/rigs/marigold/entries/${json.entries[0].id}`)).json.entry).toEqual(json.entries[0]);
    expect((await server.get('/api/rigs/marigold/entries/nothing')).status).toBe(404);
  });

  it('writes all or nothing, and gives every reason', async () => {
    const { status, json, headers } = await write([
      reading(50),
      reading(50, '2026-12-24'),
      { ...reading(50), body: { part: 'jack', what: 'play', value: '1 mm' } },
    ]);
    expect(status).toBe(422);
    expect(headers['content-type']).toContain('application/problem+json');
    expect(json.problems.map(({ code }: { code: string }) => code)).toEqual(['logbook.future', 'logbook.part-unknown']);
    expect(json).toMatchObject({ status: 422, code: 'logbook.future', type: '/problems/logbook.future' });
    expect((await server.store.rigs())[0]!.entries).toBe(1);
  });

  it('refuses what no rig can do, naming the field and what would have been right', async () => {
    const trip = {
      trip: 'coast',
      name: 'Coast',
      leave: '2026-07-03',
      return: '2026-07-05',
      miles: '-640 mi',
      nights: 9,
    };
    const { status, json } = await write([{ kind: 'trip', on: '2026-06-12', body: trip }]);
    expect(status).toBe(422);
    expect(json.problems).toMatchObject([
      { code: 'logbook.bounds', where: 'trip of 2026-06-12: nights', expected: 'up to 2' },
      { code: 'logbook.bounds', where: 'trip of 2026-06-12: miles', expected: 'more than 0, such as 640 mi' },
    ]);
  });

  it('writes nothing in a dry run', async () => {
    const { status, json } = await write([reading(50)], '?dry=true');
    expect(status).toBe(200);
    expect(json.entries).toHaveLength(1);
    expect((await server.store.rigs())[0]!.entries).toBe(1);
  });

  it('writes once when it is tried again with the same id, even at a later instant', async () => {
    const draft = { ...reading(49), id: newId() };
    expect((await write([draft])).status).toBe(201);
    server.passMinutes(3);
    const again = await write([draft]);
    expect(again).toMatchObject({ status: 200, json: { entries: [{ at: '2026-06-12T08:30:00.000Z' }] } });
    expect(await write([{ ...reading(39), id: draft.id }])).toMatchObject({
      status: 422,
      json: { code: 'logbook.id-taken' },
    });
    expect((await server.store.rigs())[0]!.entries).toBe(2);
  });

  it('a later draft may rest on an earlier one of the same batch', async () => {
    const fit = { kind: 'fit', on: '2026-05-01', body: { part: 'tire-1', kind: 'tire', isNew: true } };
    const read = {
      kind: 'reading',
      on: '2026-05-02',
      body: { part: 'tire-1', what: 'pressure-cold', value: '65 psi' },
    };
    expect((await write([fit, read])).status).toBe(201);
  });
});

describe('photos and papers', () => {
  it('come back as they are, and cannot run as a page', async () => {
    const kept = await server.post('/api/rigs/marigold/blobs', Buffer.from(pngNumber(5)), {
      'content-type': 'image/png',
    });
    expect(kept).toMatchObject({ status: 201, json: { type: 'image/png', bytes: 64 } });
    const url = `/api/rigs/marigold/blobs/${kept.json.hash}`;
    const got = await server.get(url);
    expect(got.raw).toEqual(Buffer.from(pngNumber(5)));
    expect(got.headers).toMatchObject({
      'content-type': 'image/png',
      'x-content-type-options': 'nosniff',
      'content-security-policy': "default-src 'none'; sandbox",
    });
    expect((await server.get(url, { 'if-none-match': String(got.headers.etag) })).status).toBe(304);
    expect((await server.get('/api/rigs/marigold/blobs')).json.blobs).toEqual([kept.json]);
    expect((await server.get(url.replace('marigold', 'wren'))).status).toBe(404);
  });

  it('are what they show, whatever they say they are', async () => {
    const page = Buffer.from('<script>alert(1)</script>');
    expect(await server.post('/api/rigs/marigold/blobs', page, { 'content-type': 'image/png' })).toMatchObject({
      status: 415,
      json: { code: 'store.blob-kind' },
    });
    expect(
      (await server.post('/api/rigs/marigold/blobs', page.toString(), { 'content-type': 'text/html' })).status,
    ).toBe(415);
    const large = await server.post('/api/rigs/marigold/blobs', Buffer.from(pngNumber(1, 13 * 1048576)), {
      'content-type': 'image/png',
    });
    expect(large.status).toBe(413);
  });
});
