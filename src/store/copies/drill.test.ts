import { createHash } from 'node:crypto';
import { rmSync } from 'node:fs';
import pg from 'pg';
import { afterAll, describe, expect, it } from 'vitest';
import { entryNumber, Folder, pngNumber } from '../../../test/support/keeping.ts';
import { startPostgres } from '../../../test/support/postgres.ts';
import { type Entry, foldEntries } from '../../logbook/index.ts';
import { unwrap } from '../../problem/index.ts';
import { digestOf, makeCopy, openStore, restoreCopy, type Store, type Target } from '../index.ts';

const NOW = Date.UTC(2026, 5, 12, 12);

/** Hash of the fold: every chain of every subject, by ids in their order. */
function foldHash(entries: readonly Entry[]): string {
  const { subjects, struck } = foldEntries(entries);
  const chains = [...subjects].flatMap(([subject, aspects]) =>
    [...aspects].map(([aspect, chain]) => `${subject} ${aspect} ${chain.map(({ id }) => id)}`),
  );
  return createHash('sha256')
    .update([...chains.sort(), ...[...struck.keys()].sort()].join('\n'))
    .digest('hex');
}

async function all(store: Store, rig: string): Promise<Entry[]> {
  const page = unwrap(await store.readSince(rig, undefined, 5000));
  expect(page.more).toBe(false);
  return page.entries.map(({ entry }) => entry);
}

/** Backup under load, destroy, restore, compare. */
async function drill(folder: Folder, from: Target, destroy: () => Promise<void>, to: Target): Promise<void> {
  const store = unwrap(await openStore(from));
  const strike = {
    ...entryNumber(900),
    kind: 'strike',
    body: { entry: entryNumber(3).id, reason: 'misread' },
  } as Entry;
  const acknowledged = new Set<string>();
  await store.append([...Array.from({ length: 300 }, (_, i) => entryNumber(i)), strike], { via: 'before' });
  await store.append([entryNumber(1, 'wren')], { via: 'before' });
  await store.putBlob('wren', pngNumber(4));
  let loading = true;
  const writers = [1, 2, 3, 4].map(async (writer) => {
    for (let n = 0; loading && n < 400; n++) {
      const entry = entryNumber(writer * 10_000 + n);
      unwrap(await store.append([entry], { via: `writer ${writer}` }));
      acknowledged.add(entry.id);
    }
  });
  const { file, report } = await makeCopy(store, folder.file('copies'), NOW);
  loading = false;
  await Promise.all(writers);
  const before = await all(store, 'marigold');
  const there = new Set(before.map(({ id }) => id));
  expect([...acknowledged].filter((id) => !there.has(id))).toEqual([]);
  await store.close();
  await destroy();

  unwrap(await restoreCopy(file, to, NOW));
  const restored = unwrap(await openStore(to));
  const after = await all(restored, 'marigold');
  // The copy is a moment of the logbook: its entries are the first of those there were in the end.
  const moment = before.slice(0, after.length);
  expect(after.length).toBeGreaterThanOrEqual(301);
  expect(foldHash(after)).toBe(foldHash(moment));
  expect(digestOf(after)).toBe(report.rigs[0]!.digest);
  expect(await restored.check()).toMatchObject({ ok: true, rigs: report.rigs, blobs: { count: 1 } });
  await restored.close();
}

describe('the drill: backup under load, destroy, restore, the fold is the same', () => {
  it('on SQLite', async () => {
    const folder = new Folder();
    const data = { folder: folder.file('data') };
    await drill(folder, data, async () => rmSync(data.folder, { recursive: true }), data);
    folder.remove();
  });

  const server = startPostgres({ fsync: false });
  if (typeof server === 'string') {
    it('cannot be held on PostgreSQL here', () => {
      console.warn(`PostgreSQL was NOT tested: ${server}`);
      expect(server).not.toBe('');
    });
  } else {
    afterAll(server.stop);
    const destroyed = (schema: string) => async () => {
      const client = new pg.Client({ connectionString: server.url });
      await client.connect();
      await client.query(`DROP SCHEMA ${schema} CASCADE`);
      await client.end();
    };
    const postgres = (schema: string) => ({ database: server.url, schema });
    it('on PostgreSQL', async () => {
      const folder = new Folder();
      await drill(folder, postgres('drill'), destroyed('drill'), postgres('drill'));
      folder.remove();
    });

    it('from SQLite to PostgreSQL and back: a household that outgrows one machine', async () => {
      const folder = new Folder();
      const data = { folder: folder.file('data') };
      const nothing = async () => undefined;
      await drill(folder, data, nothing, postgres('moved'));
      const folderBack = new Folder();
      await drill(folderBack, postgres('another'), nothing, { folder: folderBack.file('data') });
      folder.remove();
      folderBack.remove();
    });
  }
});
