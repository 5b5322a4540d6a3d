/** The kinds of kill round: what is done, and what must hold after it was killed and after it was then done to its end. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { generateX25519Identity, identityToRecipient } from 'age-encryption';
import Sqlite from 'better-sqlite3';
import { verifyEncrypted } from '../../src/store/copies/encrypt.ts';
import { listCopies, restoreCopy, type Target, verifyCopy } from '../../src/store/index.ts';
import { type Bench, fresh, leftovers, lookInto, NOW, oldSchema, onServer } from './bench.ts';
import type { Work } from './work.ts';

export const KINDS = ['backup', 'restore', 'import', 'upgrade'] as const;
export type Kind = (typeof KINDS)[number];

/** One round, prepared. `check` throws where something is lost or torn. */
export interface Round {
  readonly work: Work;
  /** `killed`: on the way or just after; `done`: it came to its end; `again`: killed, and then done once more to its end. */
  readonly check: (state: 'killed' | 'done' | 'again') => Promise<void>;
  readonly clear: () => Promise<void>;
}

/** Where rounds are held: in folders beneath `bench.folder`, or on a server. */
export interface Ring {
  readonly bench: Bench;
  readonly database: string | undefined;
}

export function must(holds: boolean, what: string): void {
  if (!holds) throw new Error(what);
}

export async function prepare(kind: Kind, round: number, ring: Ring): Promise<Round> {
  switch (kind) {
    case 'backup':
      return backup(round, ring);
    case 'restore':
      return restore(round, ring);
    case 'import':
      return bringIn(round, ring);
    case 'upgrade':
      return upgrade(round, ring);
  }
}

const nothing = async (): Promise<void> => undefined;

/** A target with the small content. */
async function smallTarget(
  { bench, database }: Ring,
  name: string,
): Promise<{ target: Target; clear: () => Promise<void> }> {
  if (database === undefined)
    return { target: { folder: fresh(join(bench.folder, 'small-data'), join(bench.folder, name)) }, clear: nothing };
  const target = { database, schema: name.replaceAll('-', '_') };
  const restored = await restoreCopy(bench.small.copy, target, NOW);
  must(restored.ok, 'the small content comes onto the server');
  return { target, clear: () => dropSchemas(database, target.schema) };
}

/** The schema itself, what it replaced, and what was begun. */
async function dropSchemas(database: string, schema: string): Promise<void> {
  await onServer(
    database,
    `DO $$ DECLARE s text; BEGIN FOR s IN SELECT nspname FROM pg_namespace WHERE nspname ~ '^${schema}(_(old|new)_|$)' LOOP EXECUTE 'DROP SCHEMA ' || s || ' CASCADE'; END LOOP; END $$`,
  );
}

async function holds(target: Target, allowed: readonly string[], what: string): Promise<void> {
  const found = await lookInto(target);
  must(found.ok, `${what}: the check finds ${found.problems}`);
  must(allowed.includes(found.content), `${what}: it holds ${found.content}`);
}

/** Every second round encrypted. Copies that have their name are whole, those of before stay, the store is untouched. */
async function backup(round: number, ring: Ring): Promise<Round> {
  const { bench } = ring;
  const { target, clear } = await smallTarget(ring, 'backup-data');
  const copies = fresh(join(bench.folder, 'large-copies'), join(bench.folder, 'backup-copies'));
  const to = round % 2 ? await identityToRecipient(await generateX25519Identity()) : undefined;
  return {
    work: { kind: 'backup', target, copies, now: NOW + 1000, ...(to ? { to } : {}) },
    async check(state) {
      await holds(target, [bench.small.content], 'the store');
      const listed = await listCopies(copies, NOW + 2000);
      const fewest = state === 'killed' ? 1 : 2;
      const most = state === 'again' ? 3 : 2;
      must(listed.length >= fewest && listed.length <= most, `there are ${listed.length} copies`);
      for (const { file, encrypted } of listed) {
        const verified = encrypted ? await verifyEncrypted(file) : await verifyCopy(file);
        must(verified.ok, `${file}: ${JSON.stringify(verified)}`);
      }
      if (state !== 'killed') must(leftovers(copies).length === 0, `left behind: ${leftovers(copies)}`);
    },
    clear,
  };
}

/** Either what was there or what the copy holds. What was set aside is whole, the copy stays. */
async function restore(_: number, ring: Ring): Promise<Round> {
  const { bench, database } = ring;
  const { target, clear } = await smallTarget(ring, 'restore-data');
  return {
    work: { kind: 'restore', target, copy: bench.large.copy, now: NOW },
    async check(state) {
      const done = state !== 'killed';
      await holds(target, done ? [bench.large.content] : [bench.small.content, bench.large.content], 'the store');
      must((await verifyCopy(bench.large.copy)).ok, 'the copy is whole');
      if (!('folder' in target)) {
        if (done) await noNewSchemas(database!, target.schema!);
        return;
      }
      for (const name of readdirSync(target.folder).filter((one) => one.startsWith('replaced-'))) {
        const file = join(target.folder, name, 'rigworthy.sqlite');
        if (existsSync(file)) isWholeFile(file);
      }
      // Half written photos go with the next copy or restore.
      const left = leftovers(target.folder).filter((name) => done || !name.startsWith('blobs/'));
      must(left.length === 0, `left behind: ${left}`);
    },
    clear,
  };
}

/** A file with its entries; the photos of one that was set aside are in the folder it came from. */
function isWholeFile(file: string): void {
  const db = new Sqlite(file, { readonly: true });
  const isWhole = db.pragma('integrity_check', { simple: true }) === 'ok';
  const { entries, heads } = db
    .prepare('SELECT (SELECT count(*) FROM entries) AS entries, (SELECT sum(head) FROM rigs) AS heads')
    .get() as { entries: number; heads: number };
  must(isWhole && entries > 0 && entries === heads, `${file} is not whole`);
  db.close();
}

async function noNewSchemas(database: string, schema: string): Promise<void> {
  await onServer(
    database,
    `DO $$ BEGIN IF EXISTS (SELECT 1 FROM pg_namespace WHERE nspname ~ '^${schema}_new_') THEN RAISE 'a schema that was begun is left'; END IF; END $$`,
  );
}

/** All of the archive, photos too, or nothing of it. */
async function bringIn(_: number, ring: Ring): Promise<Round> {
  const { bench } = ring;
  const { target, clear } = await smallTarget(ring, 'import-data');
  return {
    work: { kind: 'import', target, archive: bench.archive },
    async check(state) {
      const done = state !== 'killed';
      await holds(target, done ? [bench.withArchive] : [bench.small.content, bench.withArchive], 'the store');
      const temporary = process.env.TMPDIR!;
      if (done) must(leftovers(temporary).length === 0, `left behind: ${leftovers(temporary)}`);
    },
    clear,
  };
}

/** The entries are what they were; a file of the old version that has its name is whole. */
async function upgrade(round: number, ring: Ring): Promise<Round> {
  const { bench, database } = ring;
  const expected = JSON.stringify([JSON.parse(bench.large.content)[0], { count: 0, bytes: 0 }]);
  if (database !== undefined) {
    const schema = `upgrade_${round}`;
    await oldSchema(bench, database, schema);
    const target = { database, schema };
    return {
      work: { kind: 'upgrade', target },
      check: () => holds(target, [expected], 'the store'),
      clear: () => dropSchemas(database, schema),
    };
  }
  const target = { folder: fresh(join(bench.folder, 'old-data'), join(bench.folder, 'upgrade-data')) };
  const kept = join(target.folder, 'rigworthy.sqlite.version-1');
  return {
    work: { kind: 'upgrade', target },
    async check() {
      if (existsSync(kept)) isWholeFile(kept);
      await holds(target, [expected], 'the store');
      must(existsSync(kept), 'the old version is kept');
      isWholeFile(kept);
      must(leftovers(target.folder).length === 0, `left behind: ${leftovers(target.folder)}`);
    },
    clear: nothing,
  };
}
