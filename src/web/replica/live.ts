/**
 * Told by the server that a rig's logbook has moved, or that we are something else on it (`GET /api/rigs/{rig}/changes`, server-sent
 * events); or asking now and then where that cannot be.
 */

/** First wait after the channel broke, and the longest; doubled in between, with a third more or less, so that a server that comes back is not run over. */
const WAIT_MS = { first: 1000, most: 60_000 };
/** However well the channel seems to stand, somebody asks so often: a connection can be dead without either end knowing. */
const TRUST_MS = 60_000;

interface Follower {
  /** Sends what waits and fetches what is new. */
  pull(): Promise<void>;
  /** Something written here has not gone yet: the channel tells nothing of that. */
  waits(): boolean;
  /** Where this device stands in the server's order; `null` where the rig stays on this device and nothing is asked. */
  standing(rig: string): Promise<{ readonly cursor: string | undefined } | null>;
}

/** One channel a browser and rig: windows wait for each other by a lock, and hear of news from the one that has it. */
export class Live {
  readonly #follower: Follower;
  #rig: string | null = null;
  #leave: AbortController | undefined;
  #wake: () => void = () => undefined;
  #isOpen = false;
  #pulled = 0;
  #pulling = false;
  #again = false;

  constructor(follower: Follower) {
    this.#follower = follower;
  }

  /** Follows this rig from now on, and no other. */
  follow(rig: string | null): void {
    if (rig === this.#rig) return;
    this.#rig = rig;
    this.#leave?.abort();
    if (rig === null) return;
    this.#leave = new AbortController();
    void this.#stay(rig, this.#leave.signal);
  }

  /** Somebody looks again, or the network is back: ask now, unless nothing waits here and the channel would have said of news. */
  async look(): Promise<void> {
    this.#wake();
    if (this.#isOpen && !this.#follower.waits() && Date.now() - this.#pulled < TRUST_MS) return;
    await this.#pull();
  }

  async #stay(rig: string, leave: AbortSignal): Promise<void> {
    if ((await this.#follower.standing(rig)) === null) return;
    const watch = (): Promise<void> => this.#watch(rig, leave);
    try {
      if (navigator.locks) await navigator.locks.request(`rigworthy-live/${rig}`, { signal: leave }, watch);
      else await watch();
    } catch {
      // Left while waiting for the lock.
    }
  }

  /** Opens the channel, and opens it again whenever it breaks, until we leave. */
  async #watch(rig: string, leave: AbortSignal): Promise<void> {
    let wait = WAIT_MS.first;
    while (!leave.aborted) {
      const stood = await this.#channel(rig, leave);
      if (stood) wait = WAIT_MS.first;
      if (leave.aborted) return;
      // It may have ended because we may no longer read: then we are to know.
      if (stood) void this.#pull();
      await new Promise<void>((go) => {
        this.#wake = go;
        setTimeout(go, wait * (0.67 + 0.66 * Math.random()));
        leave.addEventListener('abort', () => go(), { once: true });
      });
      wait = Math.min(WAIT_MS.most, wait * 2);
    }
  }

  /** Until it breaks; true where it had stood. */
  #channel(rig: string, leave: AbortSignal): Promise<boolean> {
    return new Promise((broken) => {
      const source = new EventSource(`/api/rigs/${encodeURIComponent(rig)}/changes`);
      const end = (): void => {
        source.close();
        broken(this.#isOpen);
        this.#isOpen = false;
      };
      source.onopen = () => {
        this.#isOpen = true;
      };
      source.addEventListener('moved', ({ data }: MessageEvent<string>) => void this.#moved(rig, data));
      // What we are now is told along with the rigs.
      source.addEventListener('role', () => void this.#pull());
      source.onerror = end;
      leave.addEventListener('abort', end, { once: true });
    });
  }

  async #moved(rig: string, data: string): Promise<void> {
    const { cursor } = JSON.parse(data) as { cursor: string };
    if ((await this.#follower.standing(rig))?.cursor !== cursor) await this.#pull();
  }

  /** One pull at a time; what moves meanwhile is fetched right after. */
  async #pull(): Promise<void> {
    this.#again = this.#pulling;
    if (this.#pulling) return;
    this.#pulling = true;
    try {
      do {
        this.#again = false;
        this.#pulled = Date.now();
        await this.#follower.pull();
      } while (this.#again);
    } finally {
      this.#pulling = false;
    }
  }
}
