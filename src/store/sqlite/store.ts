import { statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Database } from 'better-sqlite3';
import { Kysely, SqliteDialect } from 'kysely';
import type { Entry } from '../../logbook/index.ts';
import { ok, ProblemError, type Result, unwrap } from '../../problem/index.ts';
import { type Accounts, type AccountsOptions, accountsOn } from '../accounts/accounts.ts';
import { atomicallyOnSqlite } from '../accounts/atomic.ts';
import type { AccountTables } from '../accounts/tables.ts';
import { type BlobInfo, blobHash, readBlob, type StoredBlob } from '../blob.ts';
import { BlobFolder } from '../blob-folder.ts';
import { BEGINNING, startAfter, writeCursor } from '../cursor.ts';
import { GroupCommit } from '../group-commit.ts';
import { type Line, linesOf, type RawRecord } from '../lines.ts';
import { pageLimit, pageOf, storedOf } from '../page.ts';
import { thumbnailOf } from '../pictures.ts';
import { storeError } from '../problems.ts';
import type {
  Appended,
  AppendOptions,
  BackupOptions,
  BringInOptions,
  CheckReport,
  Cursor,
  Page,
  RigSummary,
  Store,
  StoredEntry,
} from '../store.ts';
import { writeBatches, writerOf } from './append.ts';
import { backupFile } from './backup.ts';
import { checkFile } from './check.ts';
import { translated } from './failure.ts';
import { openFile } from './open.ts';

interface Row {
  readonly seq: number;
  readonly line: string;
  readonly via: string;
  readonly seal: Buffer;
}

interface Job {
  readonly lines: readonly Line[];
  readonly options: AppendOptions;
}

/** Opens a store in one file, with its blobs in the folder `blobs` beside it. Problems: those of `openFile`. */
export function openSqliteStore(file: string, options: AccountsOptions = {}): Result<Store> {
  const opened = openFile(file, { create: true });
  return opened.ok ? ok(new SqliteStore(file, opened.value, options)) : opened;
}

export class SqliteStore implements Store {
  readonly place;
  readonly accounts: Accounts;
  readonly #db: Database;
  readonly #file: string;
  readonly #inode: number;
  readonly #blobs: BlobFolder;
  readonly #group: GroupCommit<Job, Result<Appended>>;
  readonly #sql;

  constructor(file: string, db: Database, options: AccountsOptions = {}) {
    this.place = { kind: 'sqlite', where: file } as const;
    this.accounts = accountsOn(new Kysely<AccountTables>({ dialect: new SqliteDialect({ database: db }) }), {
      ...options,
      locks: false,
      atomically: atomicallyOnSqlite(db, () => this.#stillOurs()),
    });
    this.#db = db;
    this.#file = file;
    this.#inode = statSync(file).ino;
    this.#blobs = new BlobFolder(join(dirname(file), 'blobs'));
    this.#group = new GroupCommit(this.#committer());
    this.#sql = {
      head: db.prepare<[string], { epoch: string; head: number }>('SELECT epoch, head FROM rigs WHERE rig = ?'),
      page: db.prepare<[string, number, number], Row>(
        'SELECT seq, line, via, seal FROM entries WHERE rig = ? AND seq > ? ORDER BY seq LIMIT ?',
      ),
      one: db.prepare<[string, string], Row>('SELECT seq, line, via, seal FROM entries WHERE rig = ? AND id = ?'),
      rigs: db.prepare<[], { rig: string; epoch: string; head: number }>(
        'SELECT rig, epoch, head FROM rigs ORDER BY rig',
      ),
      addBlob: db.prepare<[string, string, string, number]>(
        'INSERT INTO blobs (rig, hash, type, bytes) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING',
      ),
      anyBlob: db.prepare<[string], { rig: string }>('SELECT rig FROM blobs WHERE hash = ? LIMIT 1'),
      blob: db.prepare<[string, string], BlobInfo>('SELECT hash, type, bytes FROM blobs WHERE rig = ? AND hash = ?'),
      thumbnail: db.prepare<[string, string], { content: Buffer }>(
        'SELECT content FROM thumbnails WHERE rig = ? AND hash = ?',
      ),
      keepThumbnail: db.prepare<[string, string, Buffer]>(
        'INSERT INTO thumbnails (rig, hash, content) VALUES (?, ?, ?) ON CONFLICT DO NOTHING',
      ),
      blobsOf: db.prepare<[string], BlobInfo>('SELECT hash, type, bytes FROM blobs WHERE rig = ? ORDER BY hash'),
    };
  }

  async append(entries: readonly (Entry | RawRecord)[], options: AppendOptions): Promise<Result<Appended>> {
    const lines = linesOf(entries);
    if (!lines.ok) return lines;
    return this.#run(() => this.#group.add({ lines: lines.value, options }));
  }

  /** A job whose ids are taken fails alone and is no reason to undo the others: it writes nothing before it finds out. */
  #committer(): (jobs: readonly Job[]) => Result<Appended>[] {
    const write = writerOf(this.#db);
    const all = this.#db.transaction((jobs: readonly Job[]) =>
      jobs.map(({ lines, options }): Result<Appended> => {
        try {
          return ok(write(lines, options.via, options.dryRun ?? false));
        } catch (error) {
          if (error instanceof ProblemError) return { ok: false, problems: error.problems };
          throw error;
        }
      }),
    );
    return (jobs) => {
      this.#stillOurs();
      return all.immediate(jobs);
    };
  }

  async bringIn(
    batches: () => Iterable<readonly Entry[]>,
    { via, photos }: BringInOptions,
  ): Promise<Result<{ added: number; known: number }>> {
    return this.#run(async () => {
      this.#stillOurs();
      const written: string[] = [];
      try {
        // The files first, as in `putBlob`; without their rows they are nothing yet.
        const kept: BlobInfo[] = [];
        for await (const content of photos?.contents() ?? []) {
          const info = unwrap(readBlob(content));
          if (await this.#blobs.write(info.hash, content)) written.push(info.hash);
          kept.push(info);
        }
        const all = this.#db.transaction(() => {
          const counts = writeBatches(writerOf(this.#db), batches(), via);
          for (const { hash, type, bytes } of kept) this.#sql.addBlob.run(photos!.rig, hash, type, bytes);
          return counts;
        });
        this.#stillOurs();
        return ok(all.immediate());
      } catch (error) {
        await this.#forget(written);
        if (error instanceof ProblemError) return { ok: false, problems: error.problems };
        throw error;
      }
    });
  }

  /** Removes files of blobs that no row speaks of. Whoever adds a row meanwhile looks for the file afterwards. */
  async #forget(hashes: readonly string[]): Promise<void> {
    for (const hash of hashes) if (!this.#sql.anyBlob.get(hash)) await this.#blobs.remove(hash);
  }

  /** A restore, or a hand, may have put another file in place of the one that is open: writing to the old one would lose it. */
  #stillOurs(): void {
    if (statSync(this.#file, { throwIfNoEntry: false })?.ino !== this.#inode)
      throw storeError('store.moved', this.#file);
  }

  async readSince(rig: string, cursor: Cursor | undefined, limit: number): Promise<Result<Page>> {
    return this.#run(() => {
      const head = this.#sql.head.get(rig) ?? BEGINNING;
      const start = startAfter(head, cursor);
      if (!start.ok) return start;
      const { after, restarted } = start.value;
      const rows = this.#sql.page.all(rig, after, pageLimit(limit));
      const last = rows.at(-1)?.seq ?? after;
      return ok({
        ...pageOf(rig, rows),
        cursor: writeCursor(head.epoch, last),
        more: last < head.head,
        restarted,
      });
    });
  }

  async readOne(rig: string, id: string): Promise<StoredEntry | undefined> {
    return this.#run(() => {
      const row = this.#sql.one.get(rig, id);
      return row && storedOf(rig, row);
    });
  }

  async heads(rigs: readonly string[]): Promise<ReadonlyMap<string, Cursor>> {
    return this.#run(
      () =>
        new Map(
          rigs.map((rig) => {
            const { epoch, head } = this.#sql.head.get(rig) ?? BEGINNING;
            return [rig, writeCursor(epoch, head)];
          }),
        ),
    );
  }

  async rigs(): Promise<RigSummary[]> {
    return this.#run(() =>
      this.#sql.rigs.all().map(({ rig, epoch, head }) => ({ rig, entries: head, cursor: writeCursor(epoch, head) })),
    );
  }

  async putBlob(rig: string, content: Uint8Array): Promise<Result<BlobInfo>> {
    const info = readBlob(content);
    if (!info.ok) return info;
    return this.#run(async () => {
      this.#stillOurs();
      await this.#blobs.write(info.value.hash, content);
      // The file first: a row without its file would be a promise broken, a file without a row is only a file.
      this.#sql.addBlob.run(rig, info.value.hash, info.value.type, info.value.bytes);
      // An import that came to nothing may have taken the same file away before the row was there.
      await this.#blobs.write(info.value.hash, content);
      return info;
    });
  }

  async getBlob(rig: string, hash: string): Promise<StoredBlob | undefined> {
    return this.#run(async () => {
      const info = this.#sql.blob.get(rig, hash);
      if (!info) return undefined;
      const content = await this.#blobs.read(hash);
      if (!content || blobHash(content) !== hash) throw storeError('store.damaged', `photo or paper ${hash}`);
      return { ...info, content };
    });
  }

  async blobsOf(rig: string): Promise<BlobInfo[]> {
    return this.#run(() => this.#sql.blobsOf.all(rig));
  }

  async thumbnail(rig: string, hash: string): Promise<Result<Uint8Array> | undefined> {
    return this.#run(async () => {
      const kept = this.#sql.thumbnail.get(rig, hash);
      if (kept) return ok(kept.content);
      const blob = await this.getBlob(rig, hash);
      const made = blob && (await thumbnailOf(blob.content, blob.type));
      if (made?.ok) this.#sql.keepThumbnail.run(rig, hash, made.value);
      return made;
    });
  }

  async check(): Promise<CheckReport> {
    return this.#run(() => checkFile(this.#db, this.#blobs));
  }

  async backup(file: string, options?: BackupOptions): Promise<void> {
    return this.#run(() => backupFile(this.#file, this.#blobs, file, options));
  }

  async close(): Promise<void> {
    if (this.#db.open) this.#db.close();
  }

  async #run<T>(act: () => T | Promise<T>): Promise<T> {
    if (!this.#db.open) throw storeError('store.closed', this.#file);
    try {
      return await act();
    } catch (error) {
      throw translated(error, this.#file);
    }
  }
}
