import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { idNumber } from '../../test/support/keeping.ts';
import { fitSpare, TestServer, TODAY } from '../../test/support/serving.ts';
import { openDesk } from '../desk/index.ts';
import { type Entry, foldEntries } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';

const base = { rig: 'marigold', at: '2026-04-01T10:00:00Z', by: 'Ada', v: 1 as const };
const entries: Entry[] = [
  { ...base, id: idNumber(2), on: '2026-03-01', kind: 'enroll', body: { vehicle: 'trailer', name: 'Marigold' } },
  {
    ...base,
    id: idNumber(3),
    on: '2026-03-01',
    kind: 'reading',
    body: { vehicle: 'trailer', what: 'odometer', value: { value: 1000, unit: 'mi' } },
  },
  fitSpare(),
  {
    ...base,
    id: idNumber(4),
    on: '2026-05-20',
    kind: 'trip',
    body: {
      trip: 'lake',
      name: 'The lake',
      leave: '2026-07-03',
      return: '2026-07-06',
      miles: { value: 120, unit: 'mi' },
      chance: 1,
    },
  },
  {
    ...base,
    id: idNumber(5),
    on: '2026-03-01',
    kind: 'set',
    body: { key: 'free-days', value: { weekdays: [6], hours: 4 } },
  },
];

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
  await server.store.append(entries, { via: 'a test' });
});
afterEach(async () => {
  expect(server.failures).toEqual([]);
  await server.stop();
});

describe('the answers', () => {
  it('are those of the desk, for today and for another day', async () => {
    for (const now of [TODAY, '2026-06-30']) {
      const desk = openDesk(foldEntries(entries), shippedCatalog(), { now });
      const query = now === TODAY ? '' : `?now=${now}`;
      const plain = (value: unknown) => JSON.parse(JSON.stringify(value));
      expect((await server.get(`/api/rigs/marigold/outlook${query}`)).json).toEqual(plain(desk.outlook()));
      expect((await server.get(`/api/rigs/marigold/plan${query}`)).json).toEqual(plain(unwrap(desk.plan())));
      expect((await server.get(`/api/rigs/marigold/sendoff${query}`)).json).toEqual(plain(unwrap(desk.sendoff())));
    }
  });

  it('for an earlier day are as things stood then: the trip was not planned yet', async () => {
    const { json } = await server.get('/api/rigs/marigold/outlook?now=2026-05-01');
    expect(json.trips).toEqual([]);
    expect((await server.get('/api/rigs/marigold/sendoff?now=2026-05-01')).json).toMatchObject({
      status: 422,
      code: 'desk.no-trip',
    });
  });

  it('have a tag that holds until the logbook grows', async () => {
    const url = '/api/rigs/marigold/sendoff?trip=lake';
    const tag = String((await server.get(url)).headers.etag);
    expect((await server.get(url, { 'if-none-match': tag })).status).toBe(304);
    await server.store.append(
      [{ ...fitSpare(), id: idNumber(9), kind: 'strike', body: { entry: idNumber(1), reason: 'sold' } } as Entry],
      { via: 'a test' },
    );
    expect((await server.get(url, { 'if-none-match': tag })).status).toBe(200);
  });

  it('never call an unknown rig fine', async () => {
    expect((await server.get('/api/rigs/nobody/sendoff')).status).toBe(422);
    expect((await server.get('/api/rigs/marigold/sendoff')).json.judgement).toBe('hold');
  });

  it('refuse a day that is none', async () => {
    expect((await server.get('/api/rigs/marigold/plan?now=2026-02-30')).status).toBe(400);
    expect((await server.get('/api/rigs/marigold/sendoff?trip=moon')).status).toBe(422);
  });
});
