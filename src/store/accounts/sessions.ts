import type { Person } from './people.ts';
import type { AccountsDb } from './tables.ts';
import { newToken, readToken } from './token.ts';

/** A device that is signed in. */
export interface Session {
  /** Names it among the sessions of its account; no secret. */
  readonly id: string;
  readonly device: string;
  readonly made: string;
  readonly seen: string;
}

const DAY_MS = 86_400_000;
/** Signed out after so many days without use: longer than a rig sleeps through a winter. */
const SESSION_DAYS = 200;
/** A device link is held up to another screen's camera: minutes. */
const DEVICE_LINK_MS = 10 * 60_000;

const later = (now: string, ms: number): string => new Date(Date.parse(now) + ms).toISOString();
const idOf = (hash: string): string => hash.slice(0, 12);

/** Who is signed in where. */
export class Sessions {
  readonly #db: AccountsDb;

  constructor(db: AccountsDb) {
    this.#db = db;
  }

  /** Returns the token that the device keeps; it is nowhere else. */
  async open(account: string, device: string, now: string): Promise<string> {
    await this.#db.deleteFrom('sessions').where('account', '=', account).where('expires', '<', now).execute();
    const { token, hash } = newToken(account);
    await this.#db
      .insertInto('sessions')
      .values({
        account,
        token: hash,
        device: device.slice(0, 100),
        made: now,
        seen: now,
        expires: later(now, SESSION_DAYS * DAY_MS),
      })
      .execute();
    return token;
  }

  /** Who a token is, if it is still good. Used again after a day, it lasts longer. */
  async find(token: string, now: string): Promise<{ person: Person; session: Session } | undefined> {
    const read = readToken(token);
    if (!read) return undefined;
    const row = await this.#db
      .selectFrom('sessions')
      .innerJoin('people', 'people.account', 'sessions.account')
      .select([
        'people.account',
        'people.name',
        'people.shown',
        'sessions.token',
        'sessions.device',
        'sessions.made',
        'sessions.seen',
      ])
      .where('sessions.account', '=', read.owner)
      .where('sessions.token', '=', read.hash)
      .where('sessions.expires', '>', now)
      .executeTakeFirst();
    if (!row) return undefined;
    if (row.seen < later(now, -DAY_MS)) {
      const renewed = { seen: now, expires: later(now, SESSION_DAYS * DAY_MS) };
      await this.#db
        .updateTable('sessions')
        .set(renewed)
        .where('account', '=', read.owner)
        .where('token', '=', read.hash)
        .execute();
    }
    const { account, name, shown, device, made, seen } = row;
    return { person: { account, name, shown }, session: { id: idOf(row.token), device, made, seen } };
  }

  async of(account: string, now: string): Promise<Session[]> {
    const rows = await this.#db
      .selectFrom('sessions')
      .select(['token', 'device', 'made', 'seen'])
      .where('account', '=', account)
      .where('expires', '>', now)
      .orderBy('seen', 'desc')
      .execute();
    return rows.map(({ token, ...rest }) => ({ id: idOf(token), ...rest }));
  }

  /** Signs one device out. */
  async close(account: string, id: string): Promise<void> {
    await this.#db
      .deleteFrom('sessions')
      .where('account', '=', account)
      .where('token', 'like', `${id.replace(/[^0-9a-f]/g, '')}%`)
      .execute();
  }

  /** Signs every device out, but for the one with this id where it is given. Links for more devices end, too. */
  async closeAll(account: string, exceptId?: string): Promise<void> {
    let going = this.#db.deleteFrom('sessions').where('account', '=', account);
    if (exceptId) going = going.where('token', 'not like', `${exceptId}%`);
    await going.execute();
    await this.#db.deleteFrom('device_links').where('account', '=', account).execute();
  }

  /** A token by which one more device signs in, once, within ten minutes. */
  async deviceLink(account: string, now: string): Promise<{ token: string; expires: string }> {
    await this.#db.deleteFrom('device_links').where('account', '=', account).where('expires', '<', now).execute();
    const { token, hash } = newToken(account);
    const expires = later(now, DEVICE_LINK_MS);
    await this.#db.insertInto('device_links').values({ account, token: hash, expires }).execute();
    return { token, expires };
  }

  /** Uses a device link up; whose it was, if it was good. */
  async useDeviceLink(token: string, now: string): Promise<string | undefined> {
    const read = readToken(token);
    if (!read) return undefined;
    const used = await this.#db
      .deleteFrom('device_links')
      .where('account', '=', read.owner)
      .where('token', '=', read.hash)
      .returning(['account', 'expires'])
      .executeTakeFirst();
    return used && used.expires > now ? used.account : undefined;
  }
}
