import { chmodSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, pngNumber } from '../../test/support/keeping.ts';
import { unwrap } from '../problem/index.ts';
import { makeCopy, openStore, restoreCopy } from './index.ts';
import { APPLICATION_ID, migrate } from './sqlite/schema.ts';

const NOON = Date.UTC(2026, 5, 12, 12);
let folder: Folder;
beforeEach(() => {
  folder = new Folder();
});
afterEach(() => folder.remove());

/** What others of this machine may do with anything below a folder. */
function openToOthers(path: string): string[] {
  return readdirSync(path, { withFileTypes: true }).flatMap((entry) => {
    const file = join(path, entry.name);
    const mode = statSync(file).mode & 0o077;
    return [...(mode ? [`${entry.name} ${mode.toString(8)}`] : []), ...(entry.isDirectory() ? openToOthers(file) : [])];
  });
}

describe('files of a store', () => {
  it('are nobody else’s on the machine: database, logs, photos, copies, what an upgrade and a restore leave', async () => {
    const before = process.umask(0o022);
    try {
      const data = { folder: folder.file('data') };
      const store = unwrap(await openStore(data));
      await store.append([entryNumber(1)], { via: 'a test' });
      await store.putBlob('marigold', pngNumber(1));
      const { file } = await makeCopy(store, join(data.folder, 'copies'), NOON);
      expect(readdirSync(data.folder)).toContain('rigworthy.sqlite-wal');
      expect(openToOthers(folder.path)).toEqual([]);
      await store.close();
      unwrap(await restoreCopy(file, data, NOON));
      await unwrap(await openStore(data)).close();
      expect(openToOthers(folder.path)).toEqual([]);
    } finally {
      process.umask(before);
    }
  });

  it('of an earlier version, open to others, are closed to them when they are opened', async () => {
    const file = folder.file('rigworthy.sqlite');
    const db = new Sqlite(file);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    migrate(db, 2);
    db.close();
    chmodSync(file, 0o644);
    const store = unwrap(await openStore({ folder: folder.path }));
    expect(readdirSync(folder.path)).toContain('rigworthy.sqlite.version-2');
    expect(openToOthers(folder.path)).toEqual([]);
    await store.close();
  });
});
