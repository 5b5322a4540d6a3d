import type { Store } from '../store.ts';
import { copyDue, makeCopy } from './make.ts';

export interface KeeperOptions {
  readonly store: Store;
  readonly folder: string;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
  /** Told of every copy made, and of every failure: a copy that cannot be made must not stay unseen. */
  readonly onCopy?: (file: string) => void;
  readonly onFailure: (error: unknown) => void;
}

const HOUR_MS = 3_600_000;

/** Makes copies by itself: at the start when something is new, then once a day. `first` settles when the start's copy is made. */
export function keepCopies({ store, folder, clock, onCopy, onFailure }: KeeperOptions): {
  first: Promise<void>;
  stop: () => Promise<void>;
} {
  let running: Promise<void> = Promise.resolve();
  const look = (atStart: boolean): Promise<void> => {
    running = running
      .then(async () => {
        if (!(await copyDue(store, folder, clock(), atStart))) return;
        const { file } = await makeCopy(store, folder, clock());
        onCopy?.(file);
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
