import { join } from 'node:path';
import type { Result } from '../problem/index.ts';
import { openPostgresStore, type PostgresTarget } from './postgres/store.ts';
import { openSqliteStore } from './sqlite/store.ts';
import type { Store } from './store.ts';

/** The logbooks' file within a data folder; blobs are in `blobs` beside it. */
export const FILE_NAME = 'rigworthy.sqlite';

/** Where logbooks are kept: in the folder of one owner's data, or in a PostgreSQL database. */
export type Target = { readonly folder: string } | PostgresTarget;

/**
 * Opens the store of a target, making it when there is none yet.
 *
 * Problems: `store.foreign`, `store.truncated`, `store.newer`, `store.damaged`, `store.unwritable`, `store.busy`,
 * `store.unreachable`.
 */
export async function openStore(target: Target): Promise<Result<Store>> {
  return 'folder' in target ? openSqliteStore(join(target.folder, FILE_NAME)) : openPostgresStore(target);
}
