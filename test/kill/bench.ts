/** What every kind of kill round begins with: stores, copies and an archive, made once. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import pg from 'pg';
import { unwrap } from '../../src/problem/index.ts';
import { type CheckReport, makeArchive, makeCopy, openStore, type Store, type Target } from '../../src/store/index.ts';
import { migrate as migratePostgres } from '../../src/store/postgres/schema.ts';
import { APPLICATION_ID, migrate } from '../../src/store/sqlite/schema.ts';
import { entryNumber, pngNumber } from '../support/keeping.ts';

export const NOW = Date.UTC(2026, 5, 12, 12);
/** Enough that each thing takes long enough to be met midway. */
const SMALL = 400;
const LARGE = 1600;
const PHOTO_BYTES = 60_000;

/** What a store holds, comparable. */
export type Content = string;
export const contentOf = ({ rigs, blobs }: Pick<CheckReport, 'rigs' | 'blobs'>): Content =>
  JSON.stringify([rigs, blobs]);

export interface Bench {
  readonly folder: string;
  /** A copy of a small content, and one of a larger. */
  readonly small: { readonly copy: string; readonly content: Content };
  readonly large: { readonly copy: string; readonly content: Content };
  /** An archive of another rig, and what the small store holds with it. */
  readonly archive: string;
  readonly withArchive: Content;
}

async function fill(store: Store, entries: number, rig = 'marigold'): Promise<void> {
  const batch = Array.from({ length: entries }, (_, n) => entryNumber(n, rig));
  unwrap(await store.bringIn(() => [batch], { via: 'a test' }));
  for (let n = 0; n < 3; n++) unwrap(await store.putBlob(rig, pngNumber(n + entries, PHOTO_BYTES)));
}

export async function makeBench(folder: string): Promise<Bench> {
  const made = async (name: string, entries: number) => {
    const store = unwrap(await openStore({ folder: join(folder, `${name}-data`) }));
    await fill(store, entries);
    const { file } = await makeCopy(store, join(folder, `${name}-copies`), NOW);
    const content = contentOf(await store.check());
    return { store, copy: file, content };
  };
  const small = await made('small', SMALL);
  const large = await made('large', LARGE);
  const wren = unwrap(await openStore({ folder: join(folder, 'wren-data') }));
  await fill(wren, LARGE, 'wren');
  const { file, remove } = await makeArchive(wren, { rig: 'wren', withPlaces: true, now: NOW });
  const archive = join(folder, 'wren.zip');
  cpSync(file, archive);
  await remove();
  await wren.close();
  await large.store.close();
  // What the small one holds with the archive: as another store says that was given both.
  const both = unwrap(await openStore({ folder: join(folder, 'both-data') }));
  await fill(both, SMALL);
  await fill(both, LARGE, 'wren');
  const withArchive = contentOf(await both.check());
  await both.close();
  await small.store.close();
  oldFile(folder);
  return { folder, small, large, archive, withArchive };
}

/** A data folder of version 1, as the first program left it. */
function oldFile(folder: string): void {
  const old = join(folder, 'old-data');
  mkdirSync(old);
  const db = new Sqlite(join(folder, 'large-data/rigworthy.sqlite'), { readonly: true });
  const to = new Sqlite(join(old, 'rigworthy.sqlite'));
  to.pragma(`application_id = ${APPLICATION_ID}`);
  migrate(to, 1);
  to.transaction(() => {
    for (const [table, columns] of Object.entries(TABLES)) {
      const insert = to.prepare(`INSERT INTO ${table} VALUES (${Array(columns).fill('?').join(', ')})`);
      for (const row of rowsOf(db, table)) insert.run(row);
    }
  })();
  db.close();
  to.close();
}

/** The tables of version 1 that hold the logbook, and how many columns they have. */
const TABLES = { rigs: 3, entries: 6 } as const;
const rowsOf = (db: Sqlite.Database, table: string): unknown[][] =>
  db.prepare(`SELECT * FROM ${table}`).raw().all() as unknown[][];

/** A schema of version 1 with the content of the large store, without its photos. */
export async function oldSchema(bench: Bench, database: string, schema: string): Promise<void> {
  const pool = new pg.Pool({ connectionString: database, max: 1 });
  const client = await pool.connect();
  const db = new Sqlite(join(bench.folder, 'large-data/rigworthy.sqlite'), { readonly: true });
  await migratePostgres(client, schema, 1);
  const columns = { rigs: 'text[], text[], integer[]', entries: 'text[], integer[], text[], text[], text[], bytea[]' };
  for (const [table, types] of Object.entries(columns)) {
    const rows = rowsOf(db, table);
    const parameters = types.split(', ').map((type, at) => `$${at + 1}::${type}`);
    await client.query(
      `INSERT INTO ${schema}.${table} SELECT * FROM unnest(${parameters.join(', ')})`,
      parameters.map((_, at) => rows.map((row) => row[at])),
    );
  }
  db.close();
  client.release();
  await pool.end();
}

/** Runs statements on the server, each for itself. */
export async function onServer(database: string, ...statements: string[]): Promise<void> {
  const client = new pg.Client({ connectionString: database });
  await client.connect();
  for (const statement of statements) await client.query(statement);
  await client.end();
}

export function fresh(from: string, to: string): string {
  rmSync(to, { recursive: true, force: true });
  cpSync(from, to, { recursive: true });
  return to;
}

export async function lookInto(target: Target): Promise<{ ok: boolean; content: Content; problems: string }> {
  const store = unwrap(await openStore(target));
  const report = await store.check();
  await store.close();
  return { ok: report.ok, content: contentOf(report), problems: JSON.stringify(report.problems) };
}

/** Names in a folder that are there only for a while. */
export function leftovers(folder: string): string[] {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  return names.filter((name) => /\.part(-|$)|restoring-|rigworthy-(archive|copy|restore)-/.test(name));
}

export const commitNow = (root: string): string =>
  execFileSync('git', ['rev-parse', '--short=12', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
