import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import { entryNumber, Folder, idNumber, pngNumber } from '../../../test/support/keeping.ts';
import { unwrap } from '../../problem/index.ts';
import { accountsContract } from '../accounts/accounts.contract.ts';
import { openStore } from '../index.ts';
import { storeContract } from '../store.contract.ts';
import { partOf } from '../temporary.ts';
import { openFile } from './open.ts';
import { APPLICATION_ID, migrate, SCHEMA_VERSION, versionOf } from './schema.ts';
import { SqliteStore } from './store.ts';

storeContract('SQLite', async () => {
  const folder = new Folder();
  return {
    open: async () => unwrap(await openStore({ folder: folder.path })),
    remove: async () => folder.remove(),
  };
});

const accountFolders: Folder[] = [];
afterAll(() => {
  for (const folder of accountFolders) folder.remove();
});
accountsContract('SQLite', async () => {
  const folder = new Folder();
  accountFolders.push(folder);
  return unwrap(await openStore({ folder: folder.path }, { passwordCost: 4 }));
});

describe('the SQLite file', () => {
  let folder: Folder;
  let file: string;
  beforeEach(() => {
    folder = new Folder();
    file = folder.file('rigworthy.sqlite');
  });
  afterEach(() => folder.remove());
  const open = async () => unwrap(await openStore({ folder: folder.path }));
  const hash = () => createHash('sha256').update(readFileSync(file)).digest('hex');

  /** A store of 200 entries, closed. */
  async function filled(): Promise<void> {
    const store = await open();
    await store.append(
      Array.from({ length: 200 }, (_, i) => entryNumber(i)),
      { via: 'a test' },
    );
    await store.close();
  }

  async function refused(code: string): Promise<void> {
    const before = hash();
    expect(await openStore({ folder: folder.path })).toMatchObject({ ok: false, problems: [{ code, where: file }] });
    expect(hash()).toBe(before);
    expect(readdirSync(folder.path)).toEqual(['rigworthy.sqlite']);
  }

  it('is durable: write-ahead log, full flush, foreign keys on, strict tables', async () => {
    await (await open()).close();
    const db = unwrap(openFile(file, { create: false }));
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
    expect(db.pragma('foreign_keys', { simple: true })).toBe(1);
    const tables = db
      .prepare("SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND name NOT LIKE 'sqlite%'")
      .all();
    expect(tables.length).toBeGreaterThan(2);
    expect(tables.every((table) => (table as { strict: number }).strict === 1)).toBe(true);
    db.close();
  });

  it('leaves nothing else behind when it is made', async () => {
    await (await open()).close();
    expect(readdirSync(folder.path)).toEqual(['rigworthy.sqlite']);
  });

  it('refuses a newer file and does not touch it', async () => {
    await filled();
    const db = new Sqlite(file);
    db.pragma(`user_version = ${SCHEMA_VERSION + 1}`);
    db.close();
    await refused('store.newer');
  });

  it('refuses a foreign file: text, and the database of another program', async () => {
    writeFileSync(file, 'Odometer notes\n'.repeat(20));
    await refused('store.foreign');
    writeFileSync(file, '');
    const db = new Sqlite(file);
    db.exec('CREATE TABLE birds (name TEXT)');
    db.close();
    await refused('store.foreign');
  });

  it('recognises a file cut short, at every length', async () => {
    await filled();
    const whole = readFileSync(file);
    for (const length of [0, 10, 99, 100, 4096, Math.floor(whole.length / 2), whole.length - 1]) {
      writeFileSync(file, whole.subarray(0, length));
      await refused('store.truncated');
    }
  });

  it('finds every flipped bit: on opening, on reading or by the check', async () => {
    await filled();
    const whole = readFileSync(file);
    let found = 0;
    const flips = 120;
    for (let i = 0; i < flips; i++) {
      const torn = Buffer.from(whole);
      // Spread over the file by a fixed stride; within the text of entries and structures alike.
      const at = 100 + ((i * 7919) % (whole.length - 100));
      torn[at] = torn[at]! ^ (1 << (i % 8));
      writeFileSync(file, torn);
      const opened = await openStore({ folder: folder.path });
      if (!opened.ok) {
        found++;
        continue;
      }
      const report = await opened.value.check().catch(() => ({ ok: false, rigs: [] }));
      const unharmed = report.ok && report.rigs[0]?.entries === 200;
      if (!report.ok || !unharmed) found++;
      else {
        // A bit in unused space: nothing that was written is touched.
        const page = unwrap(await opened.value.readSince('marigold', undefined, 500));
        expect(page.entries.map(({ entry }) => entry)).toEqual(Array.from({ length: 200 }, (_, n) => entryNumber(n)));
      }
      await opened.value.close();
    }
    // The rest of the file is empty space and pages of tables without rows.
    expect(found).toBeGreaterThan(flips / 4);
  });

  it('does not serve an entry that is not what was written, and names it', async () => {
    await filled();
    const db = new Sqlite(file);
    db.prepare("UPDATE entries SET line = replace(line, 'reading 41', 'reading 14') WHERE id = ?").run(idNumber(41));
    db.close();
    const store = await open();
    await expect(store.readOne('marigold', idNumber(41))).rejects.toMatchObject({
      problems: [{ code: 'store.damaged', where: 'marigold, number 42' }],
    });
    expect(await store.check()).toMatchObject({
      ok: false,
      problems: [{ code: 'store.damaged', where: 'marigold, number 42' }],
    });
    await store.close();
  });

  it('finds a missing entry, at the end too', async () => {
    await filled();
    const db = new Sqlite(file);
    db.prepare('DELETE FROM entries WHERE seq IN (17, 200)').run();
    db.close();
    const store = await open();
    const { problems } = await store.check();
    expect(problems.map(({ where }) => where)).toEqual(['marigold, number 17', 'marigold, number 200']);
    await store.close();
  });

  it('finds a missing and a changed blob', async () => {
    const store = await open();
    const kept = unwrap(await store.putBlob('marigold', pngNumber(1)));
    const path = folder.file(`blobs/${kept.hash.slice(0, 2)}/${kept.hash}`);
    chmodSync(path, 0o600);
    writeFileSync(path, pngNumber(2));
    expect(await store.check()).toMatchObject({ ok: false, problems: [{ where: kept.hash }] });
    await expect(store.getBlob('marigold', kept.hash)).rejects.toMatchObject({ problems: [{ code: 'store.damaged' }] });
    renameSync(path, folder.file('away'));
    expect(await store.check()).toMatchObject({ ok: false, problems: [{ what: 'The photo or paper is missing' }] });
    await store.close();
  });

  it('does not write into a file that was replaced under it', async () => {
    const store = await open();
    await store.append([entryNumber(1)], { via: 'a test' });
    mkdirSync(folder.file('old'));
    renameSync(file, folder.file('old/rigworthy.sqlite'));
    await expect(store.append([entryNumber(2)], { via: 'a test' })).rejects.toMatchObject({
      problems: [{ code: 'store.moved' }],
    });
    await (await open()).close();
    await expect(store.append([entryNumber(2)], { via: 'a test' })).rejects.toMatchObject({
      problems: [{ code: 'store.moved' }],
    });
    await store.close();
  });

  it.each(Array.from({ length: SCHEMA_VERSION }, (_, i) => i + 1))(
    'brings a file of version %i to today’s, keeping a copy of the old one',
    async (version) => {
      const db = new Sqlite(file);
      db.pragma(`application_id = ${APPLICATION_ID}`);
      migrate(db, version);
      db.prepare("INSERT INTO rigs VALUES ('marigold', '0123456789abcdef', 0)").run();
      db.close();
      const store = await open();
      expect((await store.rigs()).map(({ rig }) => rig)).toEqual(['marigold']);
      await store.append([entryNumber(1)], { via: 'a test' });
      expect((await store.check()).ok).toBe(true);
      await store.close();
      const now = unwrap(openFile(file, { create: false }));
      expect(versionOf(now)).toBe(SCHEMA_VERSION);
      now.close();
      expect(existsSync(`${file}.version-${version}`)).toBe(version < SCHEMA_VERSION);
    },
  );

  /** A closed file of version 1 with so many rigs. */
  function oldFile(rigs: number): void {
    const db = new Sqlite(file);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    migrate(db, 1);
    db.transaction(() => {
      for (let n = 0; n < rigs; n++) db.prepare("INSERT INTO rigs VALUES (?, '0123456789abcdef', 0)").run(`rig-${n}`);
    })();
    db.close();
  }
  const rigsIn = (name: string): number => {
    const db = new Sqlite(name, { readonly: true });
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    const count = db.prepare('SELECT count(*) FROM rigs').pluck().get() as number;
    db.close();
    return count;
  };

  it('does not trust a torn copy of the old version that a killed upgrade left, and makes a whole one', async () => {
    oldFile(300);
    const whole = readFileSync(file);
    for (const torn of [Buffer.alloc(0), whole.subarray(0, 5000), Buffer.from(whole).fill(0, 4096, 9000)]) {
      writeFileSync(file, whole);
      writeFileSync(`${file}.version-1`, torn);
      await (await open()).close();
      expect(rigsIn(`${file}.version-1`)).toBe(300);
      expect(readdirSync(folder.path)).toEqual(['rigworthy.sqlite', 'rigworthy.sqlite.version-1']);
    }
  });

  it('keeps a whole copy of another day beside the new one, and makes none twice', async () => {
    oldFile(300);
    const whole = readFileSync(file);
    await (await open()).close();
    const first = readFileSync(`${file}.version-1`);
    writeFileSync(file, whole);
    await (await open()).close();
    expect(readFileSync(`${file}.version-1`)).toEqual(first);
    renameSync(file, folder.file('away'));
    oldFile(7);
    await (await open()).close();
    expect([rigsIn(`${file}.version-1`), rigsIn(`${file}.version-1.1`)]).toEqual([7, 300]);
  });

  it('removes what killed processes left beside it, and nothing that a running one works on', async () => {
    const room = new URL('../temporary.ts', import.meta.url).href;
    const script = `const { partOf, placeIn } = await import(${JSON.stringify(room)}); console.log(JSON.stringify([partOf(process.argv[1]), placeIn(process.argv[2], 'restoring')]))`;
    const dead = JSON.parse(
      execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script, file, folder.path], {
        encoding: 'utf8',
      }),
    ) as [string, string];
    for (const name of [dead[0], `${dead[0]}-journal`]) writeFileSync(name, 'half');
    mkdirSync(dead[1]);
    const running = partOf(file);
    writeFileSync(running, 'half');
    await (await open()).close();
    expect(readdirSync(folder.path).sort()).toEqual(['rigworthy.sqlite', basename(running)].sort());
  });

  it('says that the disk is full, keeps what it had, and goes on when there is space again', async () => {
    const store = await open();
    await store.append([entryNumber(0)], { via: 'a test' });
    await store.close();
    const db = unwrap(openFile(file, { create: false }));
    const full = new SqliteStore(file, db);
    // SQLite's own "database or disk is full" (SQLITE_FULL), brought about by the largest number of pages it may use.
    db.pragma(`max_page_count = ${db.pragma('page_count', { simple: true })}`);
    const many = Array.from({ length: 3000 }, (_, i) => entryNumber(i));
    await expect(full.append(many, { via: 'a test' })).rejects.toMatchObject({ problems: [{ code: 'store.full' }] });
    expect(unwrap(await full.readSince('marigold', undefined, 10)).entries).toHaveLength(1);
    db.pragma('max_page_count = 1000000');
    expect(unwrap(await full.append(many, { via: 'a test' }))).toMatchObject({ added: 2999, known: 1 });
    expect((await full.check()).ok).toBe(true);
    await full.close();
  });
});
