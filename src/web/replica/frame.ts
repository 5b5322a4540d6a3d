import type { Problem } from '../../problem/index.ts';

/** What the head of every page shows. Sent by the worker whenever anything changes; `version` then goes up. */
export interface Frame {
  readonly version: number;
  /** `opening` until the first look into the replica; `empty`: no rig on this device and none at the server. */
  readonly stage: 'opening' | 'empty' | 'open';
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
  readonly nextTrip: { readonly name: string; readonly inDays: number } | null;
  readonly entries: number;
  /** Entries written here that the server does not have yet. */
  readonly waiting: number;
  /** Whether the server answered last time it was asked; null before the first answer. */
  readonly reached: boolean | null;
  /** Entries the server would not take, with its reasons. */
  readonly refused: readonly { readonly id: string; readonly problems: readonly Problem[] }[];
  readonly by: string;
  readonly units: 'us' | 'metric';
}
