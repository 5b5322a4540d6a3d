import type { Entry } from '../../logbook/index.ts';
import { type Books, distinct, type KeepOptions, type KeptBlob, type RawRecord, type RigNote } from './books.ts';

/** A replica that is gone with its page: what a share link shows is never put down on the reader's device. Nothing waits in it. */
export class MemoryBooks implements Books {
  readonly #entries = new Map<string, Entry>();
  readonly #unread: RawRecord[] = [];
  readonly #notes = new Map<string, RigNote>();
  readonly #blobs = new Map<string, KeptBlob>();

  async entriesOf(rig: string): Promise<Entry[]> {
    return [...this.#entries.values()].filter((entry) => entry.rig === rig);
  }

  async unreadOf(rig: string): Promise<unknown[]> {
    return distinct(this.#unread.filter((record) => record.rig === rig).map(({ raw }) => raw));
  }

  async rigs(): Promise<RigNote[]> {
    return [...this.#notes.values()];
  }

  async note(rig: string): Promise<RigNote | undefined> {
    return this.#notes.get(rig);
  }

  async putNote(note: RigNote): Promise<void> {
    this.#notes.set(note.rig, note);
  }

  async keep(rig: string, entries: readonly Entry[], { note, unread = [] }: KeepOptions): Promise<void> {
    for (const raw of unread) this.#unread.push({ rig, raw });
    for (const entry of entries) this.#entries.set(entry.id, entry);
    if (note) this.#notes.set(note.rig, note);
  }

  async waiting(): Promise<string[]> {
    return [];
  }

  async taken(): Promise<void> {}

  async waitAgain(): Promise<void> {}

  async putBlob(blob: KeptBlob): Promise<void> {
    this.#blobs.set(blob.hash, blob);
  }

  async blob(hash: string): Promise<KeptBlob | undefined> {
    return this.#blobs.get(hash);
  }

  async blobsToSend(): Promise<KeptBlob[]> {
    return [];
  }

  async device(): Promise<string | undefined> {
    return undefined;
  }

  async putDevice(): Promise<void> {}
}
