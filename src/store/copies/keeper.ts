import type { Store } from '../store.ts';
import { type DrillReport, drillDue, holdDrill } from './drill.ts';
import { copyDue, makeCopy } from './make.ts';

export interface KeeperOptions {
  readonly store: Store;
  readonly folder: string;
  /** The public recipient to which copies are encrypted, asked anew for each; undefined: not encrypted. */
  readonly recipient?: () => Promise<string | undefined>;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
  /** Told of every copy made, of every restore drill, and of every failure: a copy that cannot be made must not stay unseen. */
  readonly onCopy?: (file: string) => void;
  readonly onDrill?: (report: DrillReport) => void;
  readonly onFailure: (error: unknown) => void;
}

const HOUR_MS = 3_600_000;

/**
 * Makes copies by itself: at the start when something is new, then once a day; and once a month tries whether the newest comes
 * back. `first` settles when the start's copy is made.
 */
export function keepCopies({ store, folder, recipient, clock, onCopy, onDrill, onFailure }: KeeperOptions): {
  first: Promise<void>;
  stop: () => Promise<void>;
} {
  let running: Promise<void> = Promise.resolve();
  const look = (atStart: boolean): Promise<void> => {
    running = running
      .then(async () => {
        if (await copyDue(store, folder, clock(), atStart)) {
          const { file } = await makeCopy(store, folder, clock(), await recipient?.());
          onCopy?.(file);
        }
      })
      .catch(onFailure)
      .then(async () => {
        // Of nothing there is no copy yet.
        if ((await store.rigs()).length > 0 && (await drillDue(folder, clock())))
          onDrill?.(await holdDrill(folder, clock()));
      })
      .catch(onFailure);
    return running;
  };
  const timer = setInterval(() => void look(false), HOUR_MS);
  timer.unref();
  return {
    first: look(true),
    stop: () => {
      clearInterval(timer);
      return running;
    },
  };
}
