import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
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

interface Shelves extends DBSchema {
  entries: { key: string; value: Entry; indexes: { rig: string } };
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
  entries(ids: readonly string[]): Promise<Entry[]>;
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

/** The replica kept on this device. */
export class DeviceBooks implements Books {
  readonly #db: IDBPDatabase<Shelves>;

  private constructor(db: IDBPDatabase<Shelves>) {
    this.#db = db;
  }

  static async open(): Promise<DeviceBooks> {
    const db = await openDB<Shelves>('rigworthy', 1, {
      upgrade(fresh) {
        fresh.createObjectStore('entries', { keyPath: 'id' }).createIndex('rig', 'rig');
        fresh.createObjectStore('outbox', { keyPath: 'id' }).createIndex('rig', 'rig');
        fresh.createObjectStore('rigs', { keyPath: 'rig' });
        fresh.createObjectStore('blobs', { keyPath: 'hash' });
        fresh.createObjectStore('device');
      },
    });
    return new DeviceBooks(db);
  }

  entriesOf(rig: string): Promise<Entry[]> {
    return this.#db.getAllFromIndex('entries', 'rig', rig);
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
    const tx = this.#db.transaction(['entries', 'outbox', 'rigs'], 'readwrite', { durability: 'strict' });
    const shelf = tx.objectStore('entries');
    const outbox = tx.objectStore('outbox');
    for (const entry of entries) {
      void shelf.put(entry);
      if (options.toSend) void outbox.put({ id: entry.id, rig });
    }
    if (options.note) void tx.objectStore('rigs').put(options.note);
    await tx.done;
  }

  async waiting(rig: string): Promise<string[]> {
    return this.#db.getAllKeysFromIndex('outbox', 'rig', rig);
  }

  async entries(ids: readonly string[]): Promise<Entry[]> {
    const tx = this.#db.transaction('entries');
    const found = await Promise.all(ids.map((id) => tx.store.get(id)));
    await tx.done;
    return found.filter((entry) => entry !== undefined);
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
