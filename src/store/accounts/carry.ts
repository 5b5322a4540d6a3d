import type { Database } from 'better-sqlite3';
import type { PoolClient } from 'pg';
import { monotonicFactory } from 'ulid';
import { LOCKED } from './password.ts';
import { ACCOUNT_TABLES, COMMAND } from './tables.ts';

/** What putting a copy back did about who may come in. */
export interface AccessRestored {
  /**
   * `none`: there are no accounts. `kept`: all stays as it was here before, and nothing is taken from the copy, so that nobody who
   * was shut out comes back. `copy`: a new place; people and their passwords are the copy's. `locked`: there was something here
   * that cannot be read any more; people are the copy's, and nobody can sign in until given a new password.
   */
  readonly kind: 'none' | 'kept' | 'copy' | 'locked';
  readonly people: number;
  /** Links and invitations that work on (`kept`), or that the copy had and that are void. */
  readonly links: number;
  /** Rigs that nobody is an owner of, where there are people. */
  readonly ownerless: readonly string[];
}

/** How a place stood before: its own state of access, or that it can no longer be read, or that nothing was there. */
export type Before<T> = { readonly kind: 'readable'; readonly access: T } | { readonly kind: 'unreadable' | 'new' };

/** Tables whose rows of the copy stay beside those of the place: nothing in them lets anybody in. */
const MERGED: ReadonlySet<string> = new Set(['claims', 'account_log']);

/** Something that ever let anybody in, or shut anybody out. */
const HISTORY = ['people', 'links', 'account_log'] as const;

const nextId = monotonicFactory();

const logged = (kind: AccessRestored['kind'], from: string): string =>
  `${from}; ${
    {
      none: 'there are no accounts',
      kept: 'who may come in stayed as it was',
      copy: 'people as of the copy, its links void',
      locked: 'people as of the copy, everybody locked, its links void',
    }[kind]
  }`;

/** Settles who may come in to a store that was built from a copy, before it takes the place of what was there. */
export function carryOnSqlite(
  to: Database,
  before: Before<Database>,
  { from, now }: { readonly from: string; readonly now: number },
): AccessRestored {
  const count = (db: Database, table: string): number =>
    hasTable(db, table) ? (db.prepare(`SELECT count(*) FROM ${table}`).pluck().get() as number) : 0;
  return to.transaction((): AccessRestored => {
    const here = before.kind === 'readable' ? before.access : undefined;
    if (here) for (const table of ACCOUNT_TABLES) mustBeWhole(here, table);
    const kept = here !== undefined && HISTORY.some((table) => count(here, table) > 0);
    let links = count(to, 'links');
    if (kept) {
      for (const table of ACCOUNT_TABLES) {
        if (!MERGED.has(table)) to.prepare(`DELETE FROM ${table}`).run();
        if (!hasTable(here, table)) continue;
        for (const row of here.prepare(`SELECT * FROM ${table}`).all() as Record<string, unknown>[]) {
          const columns = Object.keys(row);
          to.prepare(
            `INSERT OR REPLACE INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
          ).run(...Object.values(row));
        }
      }
      links = count(to, 'links');
    } else {
      to.prepare('DELETE FROM links').run();
      if (before.kind === 'unreadable') to.prepare('UPDATE people SET password = ?').run(LOCKED);
    }
    const people = count(to, 'people');
    const kind = kindOf(before.kind, kept, people);
    const ownerless = people ? (to.prepare(OWNERLESS('')).pluck().all() as string[]) : [];
    const tell = to.prepare(INSERT_LINE('', ['?', '?', '?', '?', '?', '?', '?', '?', '?']));
    const rigs = to.prepare('SELECT rig FROM rigs').pluck().all() as string[];
    for (const rig of ['', ...rigs]) tell.run(...line(rig, logged(kind, from), now));
    return { kind, people, links, ownerless };
  })();
}

/** As `carryOnSqlite`, from one schema of a database to another, within a transaction that the caller has begun. */
export async function carryOnPostgres(
  client: PoolClient,
  to: string,
  before: Before<string>,
  { from, now }: { readonly from: string; readonly now: number },
): Promise<AccessRestored> {
  const count = async (s: string, table: string): Promise<number> =>
    Number((await client.query<{ n: string }>(`SELECT count(*) AS n FROM ${s}.${table}`)).rows[0]!.n);
  const here = before.kind === 'readable' ? before.access : undefined;
  let kept = false;
  if (here !== undefined) {
    // Whoever changes something now waits until it is decided which rows are looked at.
    await client.query(`LOCK TABLE ${ACCOUNT_TABLES.map((table) => `${here}.${table}`).join(', ')} IN EXCLUSIVE MODE`);
    for (const table of HISTORY) kept ||= (await count(here, table)) > 0;
  }
  let links = await count(to, 'links');
  if (kept) {
    for (const table of ACCOUNT_TABLES) {
      if (!MERGED.has(table)) await client.query(`DELETE FROM ${to}.${table}`);
      else
        await client.query(
          `DELETE FROM ${to}.${table} t USING ${here}.${table} h WHERE ${keyOf(table)
            .map((column) => `t.${column} = h.${column}`)
            .join(' AND ')}`,
        );
      await client.query(`INSERT INTO ${to}.${table} SELECT * FROM ${here}.${table}`);
    }
    links = await count(to, 'links');
  } else {
    await client.query(`DELETE FROM ${to}.links`);
    if (before.kind === 'unreadable') await client.query(`UPDATE ${to}.people SET password = $1`, [LOCKED]);
  }
  const people = await count(to, 'people');
  const kind = kindOf(before.kind, kept, people);
  const ownerless = people ? (await client.query<{ rig: string }>(OWNERLESS(`${to}.`))).rows.map(({ rig }) => rig) : [];
  const { rows } = await client.query<{ rig: string }>(`SELECT rig FROM ${to}.rigs`);
  const tell = INSERT_LINE(`${to}.`, ['$1', '$2', '$3', '$4', '$5', '$6', '$7', '$8', '$9']);
  for (const rig of ['', ...rows.map((row) => row.rig)]) await client.query(tell, line(rig, logged(kind, from), now));
  return { kind, people, links, ownerless };
}

const keyOf = (table: string): readonly string[] => (table === 'claims' ? ['rig'] : ['rig', 'id']);

function kindOf(before: Before<unknown>['kind'], kept: boolean, people: number): AccessRestored['kind'] {
  if (people === 0 && !kept) return 'none';
  if (kept) return people === 0 ? 'none' : 'kept';
  return before === 'unreadable' ? 'locked' : 'copy';
}

const OWNERLESS = (s: string): string =>
  `SELECT rig FROM ${s}rigs r WHERE NOT EXISTS (SELECT 1 FROM ${s}roles o WHERE o.rig = r.rig AND o.role = 'owner') ORDER BY rig`;

const INSERT_LINE = (s: string, values: readonly string[]): string =>
  `INSERT INTO ${s}account_log (rig, id, at, what, about, about_name, by, by_name, detail) VALUES (${values.join(', ')})`;

function line(rig: string, detail: string, now: number): string[] {
  return [rig, nextId(now), new Date(now).toISOString(), 'restored', '', '', COMMAND, COMMAND, detail];
}

/** Throws what SQLite throws of a damaged file: a row that was lost may be somebody who was shut out, or a link that was taken back. */
function mustBeWhole(db: Database, table: string): void {
  if (!hasTable(db, table)) return;
  const [found] = db.pragma(`integrity_check(${table})`) as { integrity_check: string }[];
  if (found?.integrity_check !== 'ok')
    throw Object.assign(new Error(found?.integrity_check), { code: 'SQLITE_CORRUPT' });
}

function hasTable(db: Database, table: string): boolean {
  return db.prepare("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = ?").get(table) !== undefined;
}
