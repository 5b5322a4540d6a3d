import type { Model } from './model.ts';

/** What a branch of the search tree has decided, as bits of slots. A closed day closes every group on it. */
export interface Decided {
  /** Slots that are paid for whatever happens, and slots on which nothing is done. */
  dayOpen: number;
  dayClosed: number;
  /** By group: set up and paid for whatever happens; never set up. */
  readonly setOpen: Int32Array;
  readonly setClosed: Int32Array;
  /** By job: done there for certain; never done there. Only where hours are limited is this ever decided. */
  readonly jobThere: Int32Array;
  readonly jobNotThere: Int32Array;
}

/** Nothing decided yet. */
export function undecided(model: Model): Decided {
  return {
    dayOpen: 0,
    dayClosed: 0,
    setOpen: new Int32Array(model.groups),
    setClosed: new Int32Array(model.groups),
    jobThere: new Int32Array(model.jobs),
    jobNotThere: new Int32Array(model.jobs),
  };
}

/** A copy that can be decided further on its own. */
export function copyDecided(from: Decided): Decided {
  return {
    ...from,
    setOpen: from.setOpen.slice(),
    setClosed: from.setClosed.slice(),
    jobThere: from.jobThere.slice(),
    jobNotThere: from.jobNotThere.slice(),
  };
}

/** Decide group `g` (or, with -1, the whole day) on slot `t`. */
export function decideSlot(decided: Decided, g: number, t: number, open: boolean): void {
  const bit = 1 << t;
  if (open) {
    decided.dayOpen |= bit;
    if (g >= 0) decided.setOpen[g] = (decided.setOpen[g] as number) | bit;
  } else if (g >= 0) decided.setClosed[g] = (decided.setClosed[g] as number) | bit;
  else {
    decided.dayClosed |= bit;
    for (let k = 0; k < decided.setClosed.length; k++) decided.setClosed[k] = (decided.setClosed[k] as number) | bit;
  }
}

/** Decide whether job `j` is done on slot `t`. */
export function decideJob(decided: Decided, j: number, t: number, there: boolean): void {
  const bits = there ? decided.jobThere : decided.jobNotThere;
  bits[j] = (bits[j] as number) | (1 << t);
}
