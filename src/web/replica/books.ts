import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from 'idb';
import { type Entry, readEntry } from '../../logbook/index.ts';
import type { Role } from './line.ts';

/** A photo kept on this device, by the hash of its bytes. */
export interface KeptBlob {
  readonly hash: string;
  readonly rig: string;
  readonly type: string;
  readonly bytes: ArrayBuffer;
  readonly sent: boolean;
}

/** What this device knows of one rig's exchange with the server. */
export interface RigNote {
  readonly rig: string;
  /** Where the device stands in the server's order; absent before the first exchange. */
  readonly cursor?: string;
  /** The day on which a demo stands still. */
  readonly today?: string;
  /** Stays on this device: nothing of it is sent or fetched. */
  readonly local?: boolean;
  /** What whoever is signed in is on this rig, as the server said last: a reader is one without a network too. */
  readonly role?: Role;
}

/** A record as the server gave it, which this version of the program could not read. */
export interface RawRecord {
  readonly rig: string;
  readonly raw: unknown;
}

/** Entries that were kept together. */
interface Batch {
  readonly rig: string;
  readonly entries: readonly Entry[];
}

interface Shelves extends DBSchema {
  /** Batches in the order of keeping: twenty thousand entries are read in a tenth of the time that as many records take. */
  batches: { key: number; value: Batch; indexes: { rig: string } };
  /** What could not be read, as it came: after an update it is read. */
  unread: { key: number; value: RawRecord; indexes: { rig: string } };
  /** Ids of entries written here and not yet taken by the server. */
  outbox: { key: string; value: { readonly id: string; readonly rig: string }; indexes: { rig: string } };
  rigs: { key: string; value: RigNote };
  blobs: { key: string; value: KeptBlob };
  device: { key: string; value: string };
}

type DeviceKey = 'rig' | 'by' | 'today';

export interface KeepOptions {
  readonly toSend: boolean;
  readonly note?: RigNote;
  /** Records that came along and cannot be read: kept as they are. */
  readonly unread?: readonly unknown[];
}

/** The replica: every entry of its rigs, what waits to be sent, and photos. */
export interface Books {
  /** In no particular order. What an earlier version could not read, and this one can, is among them. */
  entriesOf(rig: string): Promise<Entry[]>;
  /** What this version cannot read of a rig, each record once. */
  unreadOf(rig: string): Promise<unknown[]>;
  rigs(): Promise<RigNote[]>;
  note(rig: string): Promise<RigNote | undefined>;
  putNote(note: RigNote): Promise<void>;
  /** Entries and, for those written here, their place in the outbox: all in one transaction, or none. */
  keep(rig: string, entries: readonly Entry[], options: KeepOptions): Promise<void>;
  waiting(rig: string): Promise<string[]>;
  /** Out of the outbox. */
  taken(ids: readonly string[]): Promise<void>;
  /** Everything of this rig waits again: the server went back to an earlier copy. */
  waitAgain(rig: string, ids: readonly string[]): Promise<void>;
  putBlob(blob: KeptBlob): Promise<void>;
  blob(hash: string): Promise<KeptBlob | undefined>;
  blobsToSend(rig: string): Promise<KeptBlob[]>;
  device(key: DeviceKey): Promise<string | undefined>;
  putDevice(key: DeviceKey, value: string): Promise<void>;
}

/** So many batches of a rig are bound into one when they are read. */
const MANY_BATCHES = 64;

/** The replica kept on this device. */
export class DeviceBooks implements Books {
  readonly #db: IDBPDatabase<Shelves>;

  private constructor(db: IDBPDatabase<Shelves>) {
    this.#db = db;
  }

  static async open(): Promise<DeviceBooks> {
    const db = await openDB<Shelves>('rigworthy', 3, {
      async upgrade(fresh, before, _after, tx) {
        fresh.createObjectStore('unread', { autoIncrement: true }).createIndex('rig', 'rig');
        if (before === 2) return refetch(tx);
        fresh.createObjectStore('batches', { autoIncrement: true }).createIndex('rig', 'rig');
        if (before === 1) {
          // Until version 2 each entry was a record of its own.
          const was = fresh as unknown as IDBPDatabase;
          const then = tx as unknown as IDBPTransaction<unknown, string[], 'versionchange'>;
          const entries = (await then.objectStore('entries').getAll()) as Entry[];
          for (const rig of new Set(entries.map((entry) => entry.rig)))
            void tx.objectStore('batches').add({ rig, entries: entries.filter((entry) => entry.rig === rig) });
          was.deleteObjectStore('entries');
          return refetch(tx);
        }
        fresh.createObjectStore('outbox', { keyPath: 'id' }).createIndex('rig', 'rig');
        fresh.createObjectStore('rigs', { keyPath: 'rig' });
        fresh.createObjectStore('blobs', { keyPath: 'hash' });
        fresh.createObjectStore('device');
      },
      // A window with a newer program waits for this one to let go.
      blocking: (_now, _wanted, event) => (event.target as IDBDatabase).close(),
    });
    return new DeviceBooks(db);
  }

  /** An entry that two windows fetched at once is there twice. */
  async entriesOf(rig: string): Promise<Entry[]> {
    await this.#readAgain(rig);
    const batches = await this.#db.getAllFromIndex('batches', 'rig', rig);
    if (batches.length > MANY_BATCHES) await this.#bind(rig);
    return batches.flatMap(({ entries }) => entries);
  }

  async unreadOf(rig: string): Promise<unknown[]> {
    return distinct((await this.#db.getAllFromIndex('unread', 'rig', rig)).map(({ raw }) => raw));
  }

  /** What an earlier version could not read becomes a batch, where this one can; in one transaction. */
  async #readAgain(rig: string): Promise<void> {
    if ((await this.#db.countFromIndex('unread', 'rig', rig)) === 0) return;
    const tx = this.#db.transaction(['unread', 'batches'], 'readwrite', { durability: 'strict' });
    const entries: Entry[] = [];
    for (let at = await tx.objectStore('unread').index('rig').openCursor(rig); at; at = await at.continue()) {
      const read = readEntry(at.value.raw, 'kept');
      if (!read.ok) continue;
      entries.push(read.value);
      void at.delete();
    }
    if (entries.length > 0) void tx.objectStore('batches').add({ rig, entries });
    await tx.done;
  }

  /** Many small batches as one, in one transaction. */
  async #bind(rig: string): Promise<void> {
    const tx = this.#db.transaction('batches', 'readwrite', { durability: 'strict' });
    const byRig = tx.store.index('rig');
    const batches = await byRig.getAll(rig);
    for (const key of await byRig.getAllKeys(rig)) void tx.store.delete(key);
    void tx.store.add({ rig, entries: batches.flatMap(({ entries }) => entries) });
    await tx.done;
  }

  rigs(): Promise<RigNote[]> {
    return this.#db.getAll('rigs');
  }

  note(rig: string): Promise<RigNote | undefined> {
    return this.#db.get('rigs', rig);
  }

  async putNote(note: RigNote): Promise<void> {
    await this.#db.put('rigs', note);
  }

  async keep(rig: string, entries: readonly Entry[], options: KeepOptions): Promise<void> {
    // What the server has can be fetched again; what was written here is nowhere else.
    const durability = options.toSend ? 'strict' : 'relaxed';
    const tx = this.#db.transaction(['batches', 'unread', 'outbox', 'rigs'], 'readwrite', { durability });
    for (const raw of options.unread ?? []) void tx.objectStore('unread').add({ rig, raw });
    if (entries.length > 0) void tx.objectStore('batches').add({ rig, entries });
    const outbox = tx.objectStore('outbox');
    if (options.toSend) for (const { id } of entries) void outbox.put({ id, rig });
    if (options.note) void tx.objectStore('rigs').put(options.note);
    await tx.done;
  }

  async waiting(rig: string): Promise<string[]> {
    return this.#db.getAllKeysFromIndex('outbox', 'rig', rig);
  }

  async taken(ids: readonly string[]): Promise<void> {
    const tx = this.#db.transaction('outbox', 'readwrite');
    for (const id of ids) void tx.store.delete(id);
    await tx.done;
  }

  async waitAgain(rig: string, ids: readonly string[]): Promise<void> {
    const tx = this.#db.transaction('outbox', 'readwrite');
    for (const id of ids) void tx.store.put({ id, rig });
    await tx.done;
  }

  async putBlob(blob: KeptBlob): Promise<void> {
    await this.#db.put('blobs', blob);
  }

  blob(hash: string): Promise<KeptBlob | undefined> {
    return this.#db.get('blobs', hash);
  }

  async blobsToSend(rig: string): Promise<KeptBlob[]> {
    return (await this.#db.getAll('blobs')).filter((blob) => blob.rig === rig && !blob.sent);
  }

  device(key: DeviceKey): Promise<string | undefined> {
    return this.#db.get('device', key);
  }

  async putDevice(key: DeviceKey, value: string): Promise<void> {
    await this.#db.put('device', value, key);
  }
}

/**
 * Until version 3 what could not be read was dropped, and the cursor moved on past it. Without a cursor everything is asked for once
 * more; what is here already is known by its id.
 */
async function refetch(tx: IDBPTransaction<Shelves, ArrayLike<StoreNames<Shelves>>, 'versionchange'>): Promise<void> {
  const rigs = tx.objectStore('rigs');
  for (const { cursor: _, ...note } of await rigs.getAll()) void rigs.put(note);
}

/** Each record once: two windows, or a server that began anew, bring the same again. */
export const distinct = (raws: readonly unknown[]): unknown[] => [
  ...new Map(raws.map((raw) => [JSON.stringify(raw), raw])).values(),
];
