import { type Entry, type EntryKind, foldEntries, type RigState, readEntry } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { idNumber } from './keeping.ts';

/** A logbook written by hand in a test: each entry passes the schema, quantities may be text (`65 psi`). */
export class Logbook {
  readonly #entries: Entry[];
  readonly #rig: string;

  constructor(entries: readonly Entry[] = [], rig = 'marigold') {
    this.#entries = [...entries];
    this.#rig = rig;
  }

  /** A new logbook with one more entry. Ids rise in the order in which entries are added. */
  add(kind: EntryKind, on: string, body: Record<string, unknown>, by = 'Ada'): Logbook {
    const id = idNumber(this.#entries.length + 1);
    const raw = { id, rig: this.#rig, kind, on, at: `${on}T10:00:00Z`, by, v: 1, body };
    return new Logbook([...this.#entries, unwrap(readEntry(raw, `entry ${this.#entries.length + 1}`))], this.#rig);
  }

  get entries(): readonly Entry[] {
    return this.#entries;
  }

  get last(): Entry {
    return this.#entries.at(-1)!;
  }

  get state(): RigState {
    return foldEntries(this.#entries);
  }
}
