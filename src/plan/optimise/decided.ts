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

/** Nothing decided yet, but that nothing is set up where no job of the group can be done. */
export function undecided(model: Model): Decided {
  const { slots, groups, jobs, groupStart, groupJobs, jobSlots } = model;
  const none = ((1 << (slots + 1)) - 2) | 0;
  const decided = {
    dayOpen: 0,
    dayClosed: none,
    setOpen: new Int32Array(groups),
    setClosed: new Int32Array(groups).fill(none),
    jobThere: new Int32Array(jobs),
    jobNotThere: new Int32Array(jobs),
  };
  for (let g = 0; g < groups; g++) {
    for (let k = groupStart[g] as number; k < (groupStart[g + 1] as number); k++)
      decided.setClosed[g] = (decided.setClosed[g] as number) & ~(jobSlots[groupJobs[k] as number] as number);
    decided.dayClosed &= decided.setClosed[g] as number;
  }
  return decided;
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
