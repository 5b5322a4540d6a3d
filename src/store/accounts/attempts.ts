import type { AccountsDb } from './tables.ts';

const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;
/** Longest wait: a stranger who guesses must not lock the owner out for a day. */
const WAIT_MAX_MS = 15 * MINUTE_MS;
/** After so long without a failure the count starts anew. */
const FORGET_MS = DAY_MS;
/** A place from which somebody signed in stays known for as long as a device stays signed in. */
const KNOWN_MS = 200 * DAY_MS;

/**
 * Failures that are free, by what they are counted for: one name from one place, everything from one place, one name from
 * everywhere. The last: NIST SP 800-63B, 3.2.2, at most 100 failures in a row on one account.
 */
const FREE = { pair: 5, address: 20, name: 100 } as const;

interface Counted {
  readonly key: string;
  readonly free: number;
}

/** Counts failed sign-ins, and says how long to wait. */
export class Attempts {
  readonly #db: AccountsDb;

  constructor(db: AccountsDb) {
    this.#db = db;
  }

  /**
   * Counts one attempt before it is judged, so that many at once are many. Returns the milliseconds still to wait; an attempt
   * that must wait is not judged, nor counted any further.
   *
   * Guessing from one place locks out nobody elsewhere. Guessing from very many places in the end makes everybody wait but who
   * signed in from where they are before (the idea of device cookies: OWASP, Slow Down Online Guessing Attacks with Device Cookies).
   */
  async begin(name: string, address: string, now: number): Promise<number> {
    const place = placeOf(address);
    const known = (await this.#read(knownKey(name, place)))?.until ?? '';
    const counts: Counted[] = [
      { key: `address:${place}`, free: FREE.address },
      { key: pairKey(name, place), free: FREE.pair },
      ...(Date.parse(known) > now ? [] : [{ key: `name:${name}`, free: FREE.name }]),
    ];
    for (const count of counts) {
      const wait = await this.#count(count, now);
      if (wait > 0) return wait;
    }
    return 0;
  }

  /** It was the right password: forget the failures from this place, and that this attempt was counted; the place is known now. */
  async succeed(name: string, address: string, now: number): Promise<void> {
    const place = placeOf(address);
    await this.#db
      .deleteFrom('attempts')
      .where((eb) =>
        eb.or([eb('key', '=', pairKey(name, place)), eb('until', '<', new Date(now - FORGET_MS).toISOString())]),
      )
      .execute();
    await this.#db
      .updateTable('attempts')
      .set(({ eb, ref }) => ({ failures: eb(ref('failures'), '-', 1) }))
      .where('key', 'in', [`address:${place}`, `name:${name}`])
      .where('failures', '>', 0)
      .execute();
    const until = new Date(now + KNOWN_MS).toISOString();
    await this.#db
      .insertInto('attempts')
      .values({ key: knownKey(name, place), failures: 0, until })
      .onConflict((conflict) => conflict.column('key').doUpdateSet({ until }))
      .execute();
  }

  async #count({ key, free }: Counted, now: number): Promise<number> {
    const before = await this.#read(key);
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

  #read(key: string): Promise<{ failures: number; until: string } | undefined> {
    return this.#db.selectFrom('attempts').select(['failures', 'until']).where('key', '=', key).executeTakeFirst();
  }
}

const pairKey = (name: string, place: string): string => `pair:${name} ${place}`;
const knownKey = (name: string, place: string): string => `known:${name} ${place}`;

/** Of IPv6 a household, or a guesser, has a whole /64 (RFC 6177): it counts as one place. Of IPv4 the address. */
function placeOf(address: string): string {
  if (!address.includes(':')) return address;
  const [head, tail = ''] = address.toLowerCase().replace(/%.*$/, '').split('::');
  const left = head!.split(':').filter(Boolean);
  const right = tail.split(':').filter(Boolean);
  const mapped = /^(?:0+:)*:?:?(?:0+:)*ffff:(\d+\.\d+\.\d+\.\d+)$/.exec(address.toLowerCase())?.[1];
  if (mapped !== undefined) return mapped;
  const zeros = address.includes('::') ? Math.max(0, 8 - left.length - right.length) : 0;
  const groups = [...left, ...Array<string>(zeros).fill('0'), ...right];
  return `${groups
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16))
    .join(':')}::/64`;
}
