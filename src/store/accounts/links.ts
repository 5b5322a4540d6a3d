import type { ExpressionBuilder } from 'kysely';
import type { Atomically, Step } from './atomic.ts';
import type { AccountLog } from './log.ts';
import { type AccountsDb, type AccountTables, type LinkKind, LOCAL, type Role } from './tables.ts';
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

/** Links to a rig that work without an account, until they end, are taken back, or their maker is no owner any more. */
export class Links {
  readonly #db: AccountsDb;
  readonly #log: AccountLog;
  readonly #atomically: Atomically;

  constructor(db: AccountsDb, log: AccountLog, atomically: Atomically) {
    this.#db = db;
    this.#log = log;
    this.#atomically = atomically;
  }

  /** The token is told now and never again. */
  async add(rig: string, { kind, role, label, days, by }: NewLink, now: string): Promise<Link & { token: string }> {
    const { token, hash } = newToken(rig);
    const expires = new Date(Date.parse(now) + days * 86_400_000).toISOString();
    const link = { rig, id: newShortId(), kind, role, label, made: now, expires };
    const told =
      kind === 'invite' ? ({ what: 'invited', detail: role } as const) : ({ what: 'link', detail: kind } as const);
    await this.#atomically([
      { query: this.#db.insertInto('links').values({ ...link, token: hash, by }) },
      this.#log.step(rig, { ...told, about: link.id, aboutName: label, by }, now),
    ]);
    return { ...link, token };
  }

  async of(rig: string, now: string): Promise<Link[]> {
    return this.#good(now).select(COLUMNS).where('rig', '=', rig).orderBy('made').execute();
  }

  /** Those that an account made and that still work, of every rig. */
  async madeBy(account: string, now: string): Promise<Link[]> {
    return this.#good(now).select(COLUMNS).where('by', '=', account).orderBy('made').execute();
  }

  async find(token: string, kind: LinkKind, now: string): Promise<FoundLink | undefined> {
    const read = readToken(token);
    if (!read) return undefined;
    return this.#good(now)
      .select([...COLUMNS, 'by'])
      .where('rig', '=', read.owner)
      .where('token', '=', read.hash)
      .where('kind', '=', kind)
      .executeTakeFirst();
  }

  /** Takes a link back; false where there is none of that id. */
  async remove(rig: string, id: string, by: string, now: string): Promise<boolean> {
    const link = await this.#db
      .selectFrom('links')
      .select(['label', 'kind'])
      .where('rig', '=', rig)
      .where('id', '=', id)
      .executeTakeFirst();
    if (!link) return false;
    const { label, kind } = link;
    const stopped = await this.#atomically([
      { query: this.#db.deleteFrom('links').where('rig', '=', rig).where('id', '=', id), must: true },
      this.#log.step(rig, { what: 'revoked', about: id, aboutName: label, by, detail: kind }, now),
    ]);
    return stopped === undefined;
  }

  /** Takes away a link that still works, as a step of what it is used for. */
  usingUp(rig: string, id: string, now: string): Step {
    const query = this.#db
      .deleteFrom('links')
      .where('rig', '=', rig)
      .where('id', '=', id)
      .where('expires', '>', now)
      .where(byAnOwner);
    return { query };
  }

  /** Those that have not ended, and whose maker is still an owner of the rig. */
  #good(now: string) {
    return this.#db.selectFrom('links').where('expires', '>', now).where(byAnOwner);
  }
}

/** The maker is an owner of the rig, or was at the owner's own machine. */
function byAnOwner(eb: ExpressionBuilder<AccountTables, 'links'>) {
  const owner = eb
    .selectFrom('roles')
    .select('roles.account')
    .where('roles.role', '=', 'owner')
    .whereRef('roles.rig', '=', 'links.rig')
    .whereRef('roles.account', '=', 'links.by');
  return eb.or([eb('links.by', '=', LOCAL), eb.exists(owner)]);
}
