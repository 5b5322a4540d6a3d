import { join } from 'node:path';
import type { Result } from '../problem/index.ts';
import { openSqliteStore } from './sqlite/store.ts';
import type { Store } from './store.ts';

/** The logbooks' file within a data folder; blobs are in `blobs` beside it. */
export const FILE_NAME = 'rigworthy.sqlite';

/** Where logbooks are kept: in the folder of one owner's data. */
export interface Target {
  readonly folder: string;
}

/**
 * Opens the store of a target, making it when there is none yet.
 *
 * Problems: `store.foreign`, `store.truncated`, `store.newer`, `store.damaged`, `store.unwritable`, `store.busy`.
 */
export async function openStore(target: Target): Promise<Result<Store>> {
  return openSqliteStore(join(target.folder, FILE_NAME));
}
