import type { AccountsDb, LinkKind, Role } from './tables.ts';
import { newShortId, newToken, readToken } from './token.ts';

export interface Link {
  readonly rig: string;
  readonly id: string;
  readonly kind: LinkKind;
  readonly role: Role;
  readonly label: string;
  readonly made: string;
  readonly expires: string;
}

/** A link as one comes in by it. */
export interface FoundLink extends Link {
  /** The account that made it. */
  readonly by: string;
}

export interface NewLink {
  readonly kind: LinkKind;
  readonly role: Role;
  readonly label: string;
  readonly days: number;
  readonly by: string;
}

const COLUMNS = ['rig', 'id', 'kind', 'role', 'label', 'made', 'expires'] as const;

/** Links to a rig that work without an account, until they end or are taken back. */
export class Links {
  readonly #db: AccountsDb;

  constructor(db: AccountsDb) {
    this.#db = db;
  }

  /** The token is told now and never again. */
  async add(rig: string, { kind, role, label, days, by }: NewLink, now: string): Promise<Link & { token: string }> {
    const { token, hash } = newToken(rig);
    const expires = new Date(Date.parse(now) + days * 86_400_000).toISOString();
    const link = { rig, id: newShortId(), kind, role, label, made: now, expires };
    await this.#db
      .insertInto('links')
      .values({ ...link, token: hash, by })
      .execute();
    return { ...link, token };
  }

  async of(rig: string, now: string): Promise<Link[]> {
    return this.#db
      .selectFrom('links')
      .select(COLUMNS)
      .where('rig', '=', rig)
      .where('expires', '>', now)
      .orderBy('made')
      .execute();
  }

  async find(token: string, kind: LinkKind, now: string): Promise<FoundLink | undefined> {
    const read = readToken(token);
    if (!read) return undefined;
    return this.#db
      .selectFrom('links')
      .select([...COLUMNS, 'by'])
      .where('rig', '=', read.owner)
      .where('token', '=', read.hash)
      .where('kind', '=', kind)
      .where('expires', '>', now)
      .executeTakeFirst();
  }

  /** Takes a link back; false where there is none of that id. An invitation is used up in the same way. */
  async remove(rig: string, id: string): Promise<boolean> {
    const gone = await this.#db
      .deleteFrom('links')
      .where('rig', '=', rig)
      .where('id', '=', id)
      .returning('id')
      .executeTakeFirst();
    return gone !== undefined;
  }
}
