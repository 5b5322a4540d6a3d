import type { Database } from 'better-sqlite3';
import type { Compilable } from 'kysely';
import type { Pool } from 'pg';

/** One statement of a change that takes several. `must`: where it affects no row, nothing of the whole change is done. */
export interface Step {
  readonly query: Compilable;
  readonly must?: true;
}

/** Runs all steps in one transaction, or none; the index of the `must` that found nothing, where one did. */
export type Atomically = (steps: readonly Step[]) => Promise<number | undefined>;

/** Stops the transaction of whoever throws it. */
class NothingFound extends Error {
  constructor(readonly index: number) {
    super(`step ${index} found nothing`);
  }
}

/**
 * SQLite: the connection is shared with the appends, so that a transaction may not wait for anything between its statements.
 * `mayWrite` throws where the file is no longer the one that was opened.
 */
export function atomicallyOnSqlite(db: Database, mayWrite: () => void): Atomically {
  const run = db.transaction((steps: readonly Step[]) => {
    for (const [index, { query, must }] of steps.entries()) {
      const { sql, parameters } = query.compile();
      const { changes } = db.prepare(sql).run(...parameters);
      if (must && changes === 0) throw new NothingFound(index);
    }
  });
  return async (steps) => {
    mayWrite();
    return stopped(() => run.immediate(steps));
  };
}

export function atomicallyOnPostgres(pool: Pool): Atomically {
  return async (steps) => {
    const client = await pool.connect();
    let broken: Error | undefined;
    try {
      return await stopped(async () => {
        await client.query('BEGIN; SET LOCAL synchronous_commit = on');
        for (const [index, { query, must }] of steps.entries()) {
          const { sql, parameters } = query.compile();
          const { rowCount } = await client.query(sql, [...parameters]);
          if (must && !rowCount) throw new NothingFound(index);
        }
        await client.query('COMMIT');
      });
    } finally {
      await client.query('ROLLBACK').catch((error: Error) => {
        broken = error;
      });
      client.release(broken);
    }
  };
}

async function stopped(act: () => void | Promise<void>): Promise<number | undefined> {
  try {
    await act();
    return undefined;
  } catch (error) {
    if (error instanceof NothingFound) return error.index;
    throw error;
  }
}
