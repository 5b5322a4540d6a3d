import type { Entry } from '../logbook/index.ts';
import type { Problem, Result } from '../problem/index.ts';
import type { Accounts } from './accounts/accounts.ts';
import type { AccessRestored } from './accounts/carry.ts';
import type { BlobInfo, StoredBlob } from './blob.ts';
import type { RawRecord } from './lines.ts';

/**
 * Where a reader stands in a rig's logbook: `EPOCH-SEQ`, opaque to everybody but the store. The epoch changes when a rig's
 * rows are replaced (a restore), so a cursor from before is recognised and its reader starts over instead of missing entries.
 */
export type Cursor = string;

/** An entry with its place in the store. */
export interface StoredEntry {
  /** 1, 2, 3 … without gaps, in the order in which this store learned of the rig's entries. */
  readonly seq: number;
  readonly entry: Entry;
  /** Who handed it in (an account, a command), which need not be who wrote it (`entry.by`). */
  readonly via: string;
}

/** A record that this version cannot read, with its place in the store. */
export interface StoredRaw {
  readonly seq: number;
  /** As it came. */
  readonly raw: unknown;
  /** Why it cannot be read. */
  readonly problems: readonly Problem[];
  readonly via: string;
}

export interface Page {
  readonly entries: readonly StoredEntry[];
  /** What of this page cannot be read: it is kept and handed on, and may be about safety. */
  readonly unread: readonly StoredRaw[];
  /** Pass it to the next read. */
  readonly cursor: Cursor;
  /** More is there now. */
  readonly more: boolean;
  /** The cursor given was of another epoch: this page begins at the beginning. What the reader alone has, it must send again. */
  readonly restarted: boolean;
}

export interface Appended {
  /** Entries that were new, and those that were there already with the same content. */
  readonly added: number;
  readonly known: number;
  /** Where each rig that was appended to stood before, and stands after: between the two lie the new ones, and nothing else. */
  readonly heads: ReadonlyMap<string, { readonly before: Cursor; readonly after: Cursor }>;
}

export interface RigSummary {
  readonly rig: string;
  readonly entries: number;
  readonly cursor: Cursor;
}

export interface CheckReport {
  /** True when there is no problem. */
  readonly ok: boolean;
  /** `store.damaged` (one a finding): what, where (rig, sequence number or blob), what to do. */
  readonly problems: readonly {
    readonly code: string;
    readonly what: string;
    readonly where?: string;
    readonly next?: string;
  }[];
  /** What was found whole. `digest` is the same for the same set of entries, whatever the store and the order. */
  readonly rigs: readonly { readonly rig: string; readonly entries: number; readonly digest: string }[];
  readonly blobs: { readonly count: number; readonly bytes: number };
  /** Records that need a newer version of the program; they are whole. */
  readonly newer: number;
}

/** A copy that was put back. */
export interface Restored {
  readonly report: CheckReport;
  readonly access: AccessRestored;
  /** Where what was there before now is; undefined where nothing was. */
  readonly replaced?: string;
}

/** Photos and papers of one rig, a content at a time. */
export interface Photos {
  readonly rig: string;
  readonly contents: () => AsyncIterable<Uint8Array>;
}

export interface BringInOptions {
  readonly via: string;
  readonly photos?: Photos;
}

export interface BackupOptions {
  readonly withoutBlobs?: boolean;
}

export interface AppendOptions {
  readonly via: string;
  /** Only say what an append would say; write nothing. */
  readonly dryRun?: boolean;
}

/**
 * The keeping of logbooks. Append-only: nothing here changes or deletes an entry or a blob.
 *
 * Every verb rejects with a `ProblemError` when the keeping itself fails: `store.full` (no space), `store.busy` (another writer
 * holds it too long), `store.damaged`, `store.moved` (the file was replaced under the running program), `store.unwritable`,
 * `store.unreachable` (PostgreSQL cannot be reached), `store.closed`. What was acknowledged before stays.
 */
export interface Store {
  /** `sqlite` or `postgres`, and where, for messages (no password). */
  readonly place: { readonly kind: 'sqlite' | 'postgres'; readonly where: string };
  readonly accounts: Accounts;
  /**
   * Adds entries durably: all of them or none. Those already there (same id, same content) are passed over, so sending twice is
   * harmless. Entries may be of several rigs; a rig begins with its first entry. A raw record is kept as it is.
   *
   * Problems: `store.id-conflict`, one for each entry whose id is taken by another content; `where` is the id.
   */
  append(entries: readonly (Entry | RawRecord)[], options: AppendOptions): Promise<Result<Appended>>;
  /**
   * Adds any number of entries, and photos with them, in one transaction: all of them or none, whatever ends it. `batches` is
   * walked within the transaction, one batch in memory at a time; what it throws ends the transaction. Other writers wait.
   *
   * Problems: those of `append` and `putBlob`, and those of a `ProblemError` that `batches` throws.
   */
  bringIn(
    batches: () => Iterable<readonly Entry[]>,
    options: BringInOptions,
  ): Promise<Result<{ readonly added: number; readonly known: number }>>;
  /**
   * The entries of a rig after a cursor (from the beginning without one), at most `limit` (1 … 5,000), in sequence.
   * An unknown rig is an empty page. Problems: `store.cursor` (not a cursor).
   */
  readSince(rig: string, cursor: Cursor | undefined, limit: number): Promise<Result<Page>>;
  /** One entry by id, where it can be read. */
  readOne(rig: string, id: string): Promise<StoredEntry | undefined>;
  /** Where each of these rigs stands now; one nobody wrote of stands at its beginning. */
  heads(rigs: readonly string[]): Promise<ReadonlyMap<string, Cursor>>;
  /** Rigs in name order. */
  rigs(): Promise<RigSummary[]>;
  /** Keeps a photo or a paper of a rig, by its content. Problems: `store.blob-kind`, `store.blob-size`. */
  putBlob(rig: string, bytes: Uint8Array): Promise<Result<BlobInfo>>;
  /** The blob, if this rig has it. */
  getBlob(rig: string, hash: string): Promise<StoredBlob | undefined>;
  blobsOf(rig: string): Promise<BlobInfo[]>;
  /**
   * A small picture (WebP) of a photo of this rig, made when it is first asked for and then kept; undefined where the rig has no
   * such photo. Problems: `store.no-thumbnail`.
   */
  thumbnail(rig: string, hash: string): Promise<Result<Uint8Array> | undefined>;
  /** Reads everything there is and says whether it is whole. */
  check(): Promise<CheckReport>;
  /**
   * A copy of everything as of one moment, made while others write, as a new SQLite store at `file` with its blobs beside it.
   * The same for every kind of store: a copy can be opened, checked, and moved to another kind. `file` must not exist.
   * `withoutBlobs`: the file alone.
   */
  backup(file: string, options?: BackupOptions): Promise<void>;
  close(): Promise<void>;
}
