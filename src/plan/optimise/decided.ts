import type { Model } from './model.ts';

/** What a branch of the search tree has decided, as bits of slots. A closed day closes every group on it. */
export interface Decided {
  /** Slots that are paid for whatever happens, and slots on which nothing is done. */
  dayOpen: number;
  dayClosed: number;
  /** By group: set up and paid for whatever happens; never set up. */
  readonly setOpen: Int32Array;
  readonly setClosed: Int32Array;
}

/** Nothing decided yet. */
export function undecided(model: Model): Decided {
  return { dayOpen: 0, dayClosed: 0, setOpen: new Int32Array(model.groups), setClosed: new Int32Array(model.groups) };
}

/** A copy that can be decided further on its own. */
export function copyDecided(from: Decided): Decided {
  return { ...from, setOpen: from.setOpen.slice(), setClosed: from.setClosed.slice() };
}
