import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB } from 'idb';
import type { Entry } from '../../logbook/index.ts';
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

/** Entries that were kept together. */
interface Batch {
  readonly rig: string;
  readonly entries: readonly Entry[];
}

interface Shelves extends DBSchema {
  /** Batches in the order of keeping: twenty thousand entries are read in a tenth of the time that as many records take. */
  batches: { key: number; value: Batch; indexes: { rig: string } };
  /** Ids of entries written here and not yet taken by the server. */
  outbox: { key: string; value: { readonly id: string; readonly rig: string }; indexes: { rig: string } };
  rigs: { key: string; value: RigNote };
  blobs: { key: string; value: KeptBlob };
  device: { key: string; value: string };
}

type DeviceKey = 'rig' | 'by' | 'today';

/** The replica: every entry of its rigs, what waits to be sent, and photos. */
export interface Books {
  entriesOf(rig: string): Promise<Entry[]>;
  rigs(): Promise<RigNote[]>;
  note(rig: string): Promise<RigNote | undefined>;
  putNote(note: RigNote): Promise<void>;
  /** Entries and, for those written here, their place in the outbox: all in one transaction, or none. */
  keep(rig: string, entries: readonly Entry[], options: { toSend: boolean; note?: RigNote }): Promise<void>;
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
    const db = await openDB<Shelves>('rigworthy', 2, {
      async upgrade(fresh, before, _after, tx) {
        fresh.createObjectStore('batches', { autoIncrement: true }).createIndex('rig', 'rig');
        if (before === 1) {
          // Until version 2 each entry was a record of its own.
          const was = fresh as unknown as IDBPDatabase;
          const then = tx as unknown as IDBPTransaction<unknown, string[], 'versionchange'>;
          const entries = (await then.objectStore('entries').getAll()) as Entry[];
          for (const rig of new Set(entries.map((entry) => entry.rig)))
            void tx.objectStore('batches').add({ rig, entries: entries.filter((entry) => entry.rig === rig) });
          was.deleteObjectStore('entries');
          return;
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

  /** In no particular order; an entry that two windows fetched at once is there twice. */
  async entriesOf(rig: string): Promise<Entry[]> {
    const batches = await this.#db.getAllFromIndex('batches', 'rig', rig);
    if (batches.length > MANY_BATCHES) await this.#bind(rig);
    return batches.flatMap(({ entries }) => entries);
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

  async keep(rig: string, entries: readonly Entry[], options: { toSend: boolean; note?: RigNote }): Promise<void> {
    // What the server has can be fetched again; what was written here is nowhere else.
    const durability = options.toSend ? 'strict' : 'relaxed';
    const tx = this.#db.transaction(['batches', 'outbox', 'rigs'], 'readwrite', { durability });
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
