import {
  addEntry,
  countUnread,
  type Entry,
  emptyState,
  foldEntries,
  type Judge,
  type RigState,
  withUnread,
  writeEntry,
} from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';
import { type Appended, type Cursor, PAGE_MAX, type Page, type Store } from '../store/index.ts';

/** A rig's state as of a cursor. */
export interface StateAt {
  readonly state: RigState;
  readonly cursor: Cursor | undefined;
}

interface JustAppended {
  readonly rig: string;
  readonly entries: readonly Entry[];
  readonly head: { readonly before: Cursor; readonly after: Cursor };
}

/** Rigs whose state is kept in memory; the least lately used goes first. */
const RIGS_MAX = 64;
/** From so many new entries on, folding anew is quicker than adding one by one. */
const REFOLD = 2000;

/**
 * The state of each rig, caught up from the store at every asking: one row read when nothing is new. Several server processes
 * on one store therefore agree. What this process appends itself is folded in without being read again.
 */
export class States {
  readonly #store: Store;
  readonly #judge: Judge;
  readonly #kept = new Map<string, StateAt>();
  #waiting: JustAppended[] = [];

  /** `judge` sets aside what cannot be true, the same on every device with this catalog. */
  constructor(store: Store, judge: Judge) {
    this.#store = store;
    this.#judge = judge;
  }

  async of(rig: string): Promise<StateAt> {
    this.#takeOver();
    const kept = this.#kept.get(rig);
    if (kept && (await this.#store.heads([rig])).get(rig) === kept.cursor)
      return this.#keep(rig, this.#kept.get(rig) ?? kept);
    let { state, cursor } = kept ?? { state: emptyState(this.#judge), cursor: undefined };
    const fresh: Entry[] = [];
    for (let more = true; more; ) {
      const page = unwrap(await this.#store.readSince(rig, cursor, PAGE_MAX));
      if (page.restarted) {
        state = emptyState(this.#judge);
        fresh.length = 0;
      }
      for (const { entry } of page.entries) fresh.push(entry);
      state = withMoreUnread(state, page);
      ({ cursor, more } = page);
    }
    if (fresh.length > REFOLD)
      state = withUnread(foldEntries([...state.entries.values(), ...fresh], undefined, this.#judge), state.unread);
    else for (const entry of fresh) state = addEntry(state, entry);
    return this.#keep(rig, { state, cursor });
  }

  /**
   * Takes over entries just appended: soon, since the answer to their writer need not wait for the folding. Where somebody else
   * wrote meanwhile, the next asking reads them instead.
   */
  appended(rig: string, entries: readonly Entry[], { heads }: Appended): void {
    const head = heads.get(rig);
    if (!head || entries.length > REFOLD) return;
    if (this.#waiting.length === 0) setImmediate(() => this.#takeOver());
    this.#waiting.push({ rig, entries, head });
  }

  #takeOver(): void {
    for (const { rig, entries, head } of this.#waiting) {
      const kept = this.#kept.get(rig);
      if (!kept || kept.cursor !== head.before) continue;
      // As the store would give them back, to the order of their keys.
      const state = entries.reduce((before, entry) => addEntry(before, JSON.parse(writeEntry(entry))), kept.state);
      this.#keep(rig, { state, cursor: head.after });
    }
    this.#waiting = [];
  }

  #keep(rig: string, at: StateAt): StateAt {
    this.#kept.delete(rig);
    this.#kept.set(rig, at);
    if (this.#kept.size > RIGS_MAX) this.#kept.delete(this.#kept.keys().next().value!);
    return at;
  }
}

/** Of what cannot be read only the number is known. */
function withMoreUnread(state: RigState, { unread }: Page): RigState {
  if (unread.length === 0) return state;
  const { newer, broken } = countUnread(unread.map(({ raw }) => raw));
  return withUnread(state, { newer: state.unread.newer + newer, broken: state.unread.broken + broken });
}
