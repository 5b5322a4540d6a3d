import type { Problem } from '../../problem/index.ts';
import type { Role, Standing } from './line.ts';

/** A rig that a share link shows: by whom, from which day and until which. */
export interface Shown {
  readonly by: string;
  readonly since: string;
  readonly until: string;
}

/** What the head of every page shows. Sent by the worker whenever anything changes; `version` then goes up. */
export interface Frame {
  readonly version: number;
  /**
   * `opening` until the first look into the replica; `empty`: no rig on this device and none at the server; `ended`: the share link
   * this page came by shows nothing any more.
   */
  readonly stage: 'opening' | 'empty' | 'open' | 'ended';
  readonly rig: string | null;
  readonly rigs: readonly string[];
  readonly trailer: string;
  readonly tow: string;
  readonly odometer: string | null;
  readonly today: string;
  readonly todayText: string;
  readonly todayShort: string;
  /** True when `today` is not the device's own: the demo stands still on its last day. */
  readonly todayFixed: boolean;
  /** The trip that has left and is not back, with the day of it that today is. */
  readonly underWay: { readonly trip: string; readonly name: string; readonly day: number; readonly of: number } | null;
  readonly entries: number;
  /** Records that are kept on this device and cannot be read by this version; of these, written by a newer one. */
  readonly unread: number;
  readonly newer: number;
  /** Entries set aside, about which nobody has decided. */
  readonly aside: number;
  /** Entries fetched so far, while a logbook is on its way here for the first time. */
  readonly coming: number;
  /** Entries written here that the server does not have yet. */
  readonly waiting: number;
  readonly standing: Standing;
  /** When the server is asked again, where it asked to be left alone until then: ms since 1970. */
  readonly again: number | null;
  /** What the server said it could not do, where it is `troubled`. */
  readonly troubles: readonly Problem[];
  /** What we are on this rig, as the server said last; null where it said nothing. */
  readonly role: Role | null;
  /** False for readers: nothing that writes is offered. */
  readonly mayWrite: boolean;
  /** Where the page came by a share link. */
  readonly shown: Shown | null;
  /** Entries the server would not take, with its reasons. */
  readonly refused: readonly { readonly id: string; readonly problems: readonly Problem[] }[];
  readonly by: string;
  /** `by` is the account's name. */
  readonly signedIn: boolean;
  readonly units: 'us' | 'metric';
}
