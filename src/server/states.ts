import { addEntry, EMPTY, type Entry, foldEntries, type RigState } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { type Cursor, PAGE_MAX, type Store } from '../store/index.ts';

/** A rig's state as of a cursor. */
export interface StateAt {
  readonly state: RigState;
  readonly cursor: Cursor | undefined;
}

/** Rigs whose state is kept in memory; the least lately used goes first. */
const RIGS_MAX = 64;
/** From so many new entries on, folding anew is quicker than adding one by one. */
const REFOLD = 2000;

/**
 * The state of each rig, caught up from the store at every asking: one row read when nothing is new. Several server processes
 * on one store therefore agree.
 */
export class States {
  readonly #store: Store;
  readonly #kept = new Map<string, StateAt>();

  constructor(store: Store) {
    this.#store = store;
  }

  async of(rig: string): Promise<StateAt> {
    let { state, cursor } = this.#kept.get(rig) ?? { state: EMPTY, cursor: undefined };
    const fresh: Entry[] = [];
    for (let more = true; more; ) {
      const page = unwrap(await this.#store.readSince(rig, cursor, PAGE_MAX));
      if (page.restarted) {
        state = EMPTY;
        fresh.length = 0;
      }
      for (const { entry } of page.entries) fresh.push(entry);
      ({ cursor, more } = page);
    }
    if (fresh.length > REFOLD) state = foldEntries([...state.entries.values(), ...fresh]);
    else for (const entry of fresh) state = addEntry(state, entry);
    this.#kept.delete(rig);
    this.#kept.set(rig, { state, cursor });
    if (this.#kept.size > RIGS_MAX) this.#kept.delete(this.#kept.keys().next().value!);
    return { state, cursor };
  }
}
