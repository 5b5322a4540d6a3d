import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber } from '../../test/support/keeping.ts';
import { fitSpare, TestServer } from '../../test/support/serving.ts';
import { soundRig, tripOf } from '../../test/support/sound-rig.ts';
import { type Entry, foldEntries, partOf } from '../logbook/index.ts';
import { digestOf } from '../store/index.ts';

/** What may happen to an exchange on a road with little signal. */
type Signal = 'good' | 'request lost' | 'answer lost';

/** A device as the web app is one: its own entries, an outbox, a cursor; it works whether or not the server can be reached. */
class Device {
  readonly entries = new Map<string, Entry>();
  outbox = new Set<string>();
  cursor: string | undefined;
  reports = 0;

  write(entry: Entry): void {
    this.entries.set(entry.id, entry);
    this.outbox.add(entry.id);
  }

  async sync(server: TestServer, signal: Signal): Promise<void> {
    await this.#send(server, signal);
    for (let more = true; more; ) {
      const after = this.cursor ? `&after=${this.cursor}` : '';
      if (signal === 'request lost') return;
      const { json } = await server.get(`/api/rigs/marigold/entries?limit=7${after}`);
      if (signal === 'answer lost') return;
      if (json.restarted) this.outbox = new Set(this.entries.keys());
      for (const { entry } of json.entries) {
        this.entries.set(entry.id, entry);
        this.outbox.delete(entry.id);
      }
      ({ cursor: this.cursor, more } = json);
    }
  }

  async #send(server: TestServer, signal: Signal): Promise<void> {
    const waiting = [...this.outbox].slice(0, 5);
    if (waiting.length === 0 || signal === 'request lost') return;
    const { status, json } = await server.post('/api/rigs/marigold/entries', {
      entries: waiting.map((id) => this.entries.get(id)),
    });
    if (signal === 'answer lost') return;
    expect(status).toBe(200);
    this.reports += json.reports.length;
    const refused = new Set(
      json.reports.filter(({ kept }: { kept: boolean }) => !kept).map(({ id }: { id: string }) => id),
    );
    for (const id of waiting) if (!refused.has(id)) this.outbox.delete(id);
  }

  async settle(server: TestServer): Promise<void> {
    do await this.sync(server, 'good');
    while (this.outbox.size);
  }
}

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
});
afterEach(async () => {
  expect(server.failures).toEqual([]);
  await server.stop();
});

describe('two devices on one rig', () => {
  it('both offline, both write, both come back: the same rig, nothing lost', async () => {
    const [ada, ben] = [new Device(), new Device()];
    ada.write(fitSpare());
    await ada.settle(server);
    await ben.settle(server);
    for (let n = 0; n < 20; n++) ada.write({ ...entryNumber(100 + n), by: 'Ada' });
    for (let n = 0; n < 20; n++) ben.write({ ...entryNumber(10 + n), by: 'Ben' });
    await ben.settle(server);
    await ada.settle(server);
    await ben.settle(server);
    expect(ada.entries.size).toBe(41);
    expect(digestOf(ada.entries.values())).toBe(digestOf(ben.entries.values()));
    const { json } = await server.get('/api/rigs/marigold');
    expect(json).toMatchObject({ entries: 41, digest: digestOf(ada.entries.values()) });
  });

  it('a clock that is years off, in either direction, does no harm', async () => {
    const [ada, ben] = [new Device(), new Device()];
    ada.write(fitSpare());
    await ada.settle(server);
    await ben.settle(server);
    // Ids and instants come from the clock of who writes; the order of what happened comes from the day that is written.
    const readings = [0, 1, 2, 3].map((n) => ({
      ...entryNumber(n % 2 ? 5_000_000_000 + n : 10 + n),
      on: `2026-05-0${4 - n}`,
      at: n % 2 ? '2039-01-01T00:00:00Z' : '1999-01-01T00:00:00Z',
    }));
    for (const reading of readings) (reading.on < '2026-05-03' ? ada : ben).write(reading);
    for (const device of [ben, ada, ben]) await device.settle(server);
    expect([ada.reports, ben.reports]).toEqual([0, 0]);
    expect(digestOf(ada.entries.values())).toBe(digestOf(ben.entries.values()));
    const byDay = [...readings].sort((a, b) => (a.on < b.on ? -1 : 1));
    const spare = partOf(foldEntries([...ben.entries.values()]), 'spare')!;
    expect(spare.readings.get('pressure-cold')!.map(({ entry }) => entry.id)).toEqual(byDay.map(({ id }) => id));
  });

  it('one that is years behind catches up, and what it alone had comes in', async () => {
    const [ada, old] = [new Device(), new Device()];
    ada.write(fitSpare());
    await ada.settle(server);
    await old.settle(server);
    const before = old.cursor;
    old.write({ ...entryNumber(7), by: 'Ben' });
    const years = Array.from({ length: 3000 }, (_, n) => ({
      ...entryNumber(1000 + n),
      on: `20${String(16 + Math.floor(n / 300)).padStart(2, '0')}-05-01`,
    }));
    await server.store.append(years, { via: 'another device' });
    await old.settle(server);
    expect(old.cursor).not.toBe(before);
    expect(old.entries.size).toBe(3002);
    const { json } = await server.get('/api/rigs/marigold');
    expect(json).toMatchObject({ entries: 3002, digest: digestOf(old.entries.values()) });
  });

  it('an entry struck on one stays struck, whichever arrives first', async () => {
    const [ada, ben] = [new Device(), new Device()];
    ada.write(fitSpare());
    ada.write(entryNumber(10));
    await ada.settle(server);
    await ben.settle(server);
    ben.write({ ...entryNumber(20), kind: 'strike', body: { entry: entryNumber(10).id, reason: 'misread' } } as Entry);
    ada.write(entryNumber(11));
    await ada.settle(server);
    await ben.settle(server);
    ada.outbox = new Set(ada.entries.keys());
    await ada.settle(server);
    expect((await server.get('/api/rigs/marigold')).json.struck).toEqual([entryNumber(10).id]);
    expect(digestOf(ada.entries.values())).toBe(digestOf(ben.entries.values()));
  });

  it('whatever the order of writing and sending, and whatever is lost on the way', async () => {
    const step = fc.record({
      who: fc.constantFrom(0, 1, 2),
      writes: fc.nat(4),
      signal: fc.constantFrom<Signal>('good', 'request lost', 'answer lost'),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 25 }), async (steps) => {
        const own = await TestServer.start();
        const devices = [new Device(), new Device(), new Device()];
        let n = 0;
        for (const { who, writes, signal } of steps) {
          for (let i = 0; i < writes; i++) devices[who]!.write(entryNumber(1000 * (who + 1) + n++));
          await devices[who]!.sync(own, signal);
        }
        for (const device of devices) await device.settle(own);
        for (const device of devices) await device.settle(own);
        for (const device of devices)
          expect([...device.entries.keys()].sort()).toEqual([...devices[0]!.entries.keys()].sort());
        expect(devices[0]!.entries.size).toBe(n);
        expect(own.failures).toEqual([]);
        await own.stop();
      }),
      { numRuns: 25, endOnFailure: true },
    );
  });

  it('after the server was put back to an earlier copy, what it lost comes back from the devices', async () => {
    const [ada, ben] = [new Device(), new Device()];
    ada.write(fitSpare());
    for (let n = 0; n < 12; n++) ada.write(entryNumber(100 + n));
    await ada.settle(server);
    await ben.settle(server);
    const restored = await TestServer.start();
    await restored.store.append([fitSpare(), entryNumber(100)], { via: 'a copy' });
    await ben.settle(restored);
    expect((await restored.get('/api/rigs/marigold')).json.digest).toBe(digestOf(ada.entries.values()));
    await ada.settle(restored);
    expect(ada.entries.size).toBe(13);
    await restored.stop();
  });
});

describe('what only a newer version can read', () => {
  const NEWER = [
    { ...entryNumber(50), v: 2 },
    { ...entryNumber(51), body: { ...entryNumber(51).body, sensor: 'left' } },
    { ...entryNumber(52), kind: 'photo-walk', body: {} },
  ];
  const TORN = [
    { ...entryNumber(53), on: '2026-02-30' },
    { ...entryNumber(54), id: 'x', v: 2 },
    { ...entryNumber(55, 'wren'), v: 2 },
    'no entry',
  ];

  it('is kept by the server, told, and handed on as it came to devices that may read it', async () => {
    const { json } = await server.post('/api/rigs/marigold/entries', {
      entries: [fitSpare(), ...NEWER, ...TORN],
    });
    expect(json).toMatchObject({ added: 4, known: 0 });
    const kept = json.reports.map(({ index, kept }: { index: number; kept: boolean }) => [index, kept]);
    expect(kept).toEqual([...[1, 2, 3].map((n) => [n, true]), ...[4, 5, 6, 7].map((n) => [n, false])]);
    const page = (await server.get('/api/rigs/marigold/entries?limit=2')).json;
    expect(page.entries.map(({ seq }: { seq: number }) => seq)).toEqual([1, 2]);
    const rest = (await server.get(`/api/rigs/marigold/entries?after=${page.cursor}`)).json;
    expect([...page.entries.slice(1), ...rest.entries].map(({ entry }: { entry: unknown }) => entry)).toEqual(NEWER);
    expect((await server.post('/api/rigs/marigold/entries', { entries: NEWER })).json).toMatchObject({
      added: 0,
      known: 3,
    });
  });

  it('keeps a rig from being clear, whichever process asks', async () => {
    const rig = soundRig().add('trip', '2026-05-01', tripOf('2026-06-13', '2026-06-21', '640 mi'));
    await server.post('/api/rigs/marigold/entries', { entries: rig.entries });
    const before = (await server.get('/api/rigs/marigold/sendoff')).json.findings;
    const ids = (findings: { id: string }[]) => findings.map(({ id }) => id);
    expect(ids(before)).not.toContain('rig/newer-3');
    await server.post('/api/rigs/marigold/entries', { entries: NEWER });
    const after = (await server.get('/api/rigs/marigold/sendoff')).json;
    expect(after.judgement).not.toBe('clear');
    expect(ids(after.findings)).toContain('rig/newer-3');
    expect((await server.get('/api/rigs/marigold/sheets/send-off')).text).toContain(
      '3 entries need a newer version of this program',
    );
  });
});
