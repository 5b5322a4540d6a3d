import { Readable } from 'node:stream';
import type { Cursor, Role, Store } from '../store/index.ts';
import { problemError } from './problem-response.ts';

export interface ChangesPace {
  /** How often the store is asked where the watched rigs are, in ms: what another process writes is told so soon. */
  readonly lookMs: number;
  /** How often somebody who only waits is asked again whether they still may, in ms. */
  readonly checkMs: number;
  /** A sign of life so often, in ms: well below the half minute after which a silent connection is let go. */
  readonly beatMs: number;
}

const PACE: ChangesPace = { lookMs: 300, checkMs: 2000, beatMs: 15_000 };
/** Most channels of one caller (an account, a link, this machine), and of all together. */
export const CHANNELS = { each: 16, all: 1000 } as const;
/** Bytes that a reader may leave lying before it is let go. */
const UNREAD_MAX = 16 * 1024;

interface Watch {
  readonly rig: string;
  readonly by: string;
  readonly stream: Readable;
  readonly roleNow: () => Promise<Role | undefined>;
  role: Role | undefined;
  cursor: Cursor;
  checkedAt: number;
  spokeAt: number;
}

/**
 * Tells readers when a rig's logbook has moved, as server-sent events (HTML standard, section 9.2). The store is looked at
 * several times a second, by one question for all rigs that are watched: so it does not matter which process wrote, or in which
 * kind of store. What the reader may is asked before each event, and every few seconds: another role is told.
 */
export class Changes {
  readonly #store: Store;
  readonly #pace: ChangesPace;
  readonly #onFailure: (error: unknown) => void;
  readonly #watches = new Set<Watch>();
  #timer: NodeJS.Timeout | undefined;
  #failing = false;

  constructor(store: Store, onFailure: (error: unknown) => void = () => undefined, pace: ChangesPace = PACE) {
    this.#store = store;
    this.#onFailure = onFailure;
    this.#pace = pace;
  }

  /**
   * A stream of events that begins by saying where the rig is now, and ends when `roleNow` says none. Problems:
   * `request.too-many`.
   */
  async open(rig: string, by: string, roleNow: () => Promise<Role | undefined>): Promise<Readable> {
    const own = [...this.#watches].filter((watch) => watch.by === by).length;
    if (own >= CHANNELS.each || this.#watches.size >= CHANNELS.all) {
      throw problemError('request.too-many', 'Too many pages are waiting for news', {
        expected: `at most ${CHANNELS.each} at once`,
        next: 'Close some; a page without this channel asks every now and then.',
      });
    }
    const now = performance.now();
    const stream = new Readable({ read: () => undefined });
    const watch: Watch = { rig, by, stream, roleNow, role: undefined, cursor: '', checkedAt: now, spokeAt: now };
    // Counted before the first wait, so that many at once do not slip in together.
    this.#watches.add(watch);
    stream.once('close', () => this.#watches.delete(watch));
    try {
      watch.role = await roleNow();
      tell(watch, (await this.#store.heads([rig])).get(rig)!);
    } catch (error) {
      stream.destroy();
      throw error;
    }
    this.#timer ??= setTimeout(() => void this.#look(), this.#pace.lookMs);
    return stream;
  }

  /** How many are open. */
  get size(): number {
    return this.#watches.size;
  }

  /** Ends them all; browsers come back by themselves. */
  close(): void {
    clearTimeout(this.#timer);
    for (const { stream } of this.#watches) stream.push(null);
    this.#watches.clear();
  }

  async #look(): Promise<void> {
    try {
      const heads = await this.#store.heads([...new Set([...this.#watches].map(({ rig }) => rig))]);
      await Promise.all([...this.#watches].map((watch) => this.#attend(watch, heads.get(watch.rig) ?? watch.cursor)));
      this.#failing = false;
    } catch (error) {
      // A store out of reach for a while: they wait on, and are told when it is back. Said once.
      if (!this.#failing) this.#onFailure(error);
      this.#failing = true;
    }
    this.#timer = this.#watches.size ? setTimeout(() => void this.#look(), this.#pace.lookMs) : undefined;
  }

  async #attend(watch: Watch, head: Cursor): Promise<void> {
    const now = performance.now();
    const moved = head !== watch.cursor;
    if (moved || now - watch.checkedAt >= this.#pace.checkMs) {
      const role = await watch.roleNow();
      if (role === undefined) {
        watch.stream.push(null);
        this.#watches.delete(watch);
        return;
      }
      watch.checkedAt = now;
      if (role !== watch.role) say(watch, `event: role\ndata: ${JSON.stringify({ role })}\n\n`);
      watch.role = role;
    }
    if (moved) tell(watch, head);
    else if (now - watch.spokeAt >= this.#pace.beatMs) say(watch, ':\n\n');
  }
}

function tell(watch: Watch, cursor: Cursor): void {
  watch.cursor = cursor;
  say(watch, `event: moved\nid: ${cursor}\ndata: ${JSON.stringify({ cursor })}\n\n`);
}

function say(watch: Watch, text: string): void {
  watch.spokeAt = performance.now();
  if (watch.stream.readableLength > UNREAD_MAX) watch.stream.destroy();
  else watch.stream.push(text);
}
