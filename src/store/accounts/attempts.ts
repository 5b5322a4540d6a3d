import type { AccountsDb } from './tables.ts';

/** Failures that are free, by whether they are counted for a name or for an address. */
const FREE = { name: 5, address: 20 } as const;
const MINUTE_MS = 60_000;
/** Longest wait: a stranger who guesses must not lock the owner out for a day. */
const WAIT_MAX_MS = 15 * MINUTE_MS;
/** After so long without a failure the count starts anew. */
const FORGET_MS = 24 * 60 * MINUTE_MS;

export type AttemptKey = `name:${string}` | `address:${string}`;

/** Counts failed sign-ins, and says how long to wait. */
export class Attempts {
  readonly #db: AccountsDb;

  constructor(db: AccountsDb) {
    this.#db = db;
  }

  /**
   * Counts one attempt before it is judged, so that many at once are many. Returns the milliseconds still to wait; an attempt
   * that must wait is not judged.
   */
  async begin(key: AttemptKey, now: number): Promise<number> {
    const free = FREE[key.startsWith('name:') ? 'name' : 'address'];
    const before = await this.#db.selectFrom('attempts').selectAll().where('key', '=', key).executeTakeFirst();
    const until = before ? Date.parse(before.until) : 0;
    if (before && before.failures >= free && until > now) return until - now;
    const forgotten = before !== undefined && now - until > FORGET_MS;
    const failures = before && !forgotten ? before.failures + 1 : 1;
    const wait = failures < free ? 0 : Math.min(WAIT_MAX_MS, MINUTE_MS * 2 ** (failures - free));
    const next = new Date(now + wait).toISOString();
    await this.#db
      .insertInto('attempts')
      .values({ key, failures: 1, until: next })
      .onConflict((conflict) =>
        conflict.column('key').doUpdateSet(({ ref, eb }) => ({
          failures: forgotten ? 1 : eb(ref('attempts.failures'), '+', 1),
          until: next,
        })),
      )
      .execute();
    return 0;
  }

  /** It was the right password: forget the failures of the name, and that this attempt was counted for the address. */
  async succeed(name: AttemptKey, address: AttemptKey): Promise<void> {
    await this.#db.deleteFrom('attempts').where('key', '=', name).execute();
    await this.#db
      .updateTable('attempts')
      .set(({ eb, ref }) => ({ failures: eb(ref('failures'), '-', 1) }))
      .where('key', '=', address)
      .where('failures', '>', 0)
      .execute();
  }
}
