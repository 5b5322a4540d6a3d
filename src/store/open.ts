import { join } from 'node:path';
import type { Result } from '../problem/index.ts';
import type { AccountsOptions } from './accounts/accounts.ts';
import type { PostgresTarget } from './postgres/store.ts';
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
export async function openStore(target: Target, options: AccountsOptions = {}): Promise<Result<Store>> {
  if ('folder' in target) return openSqliteStore(join(target.folder, FILE_NAME), options);
  // Loaded only by those who use it: most have one file and are waiting for the first page.
  const { openPostgresStore } = await import('./postgres/store.ts');
  return openPostgresStore(target, options);
}
