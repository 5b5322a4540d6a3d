import { type ExpressionBuilder, sql } from 'kysely';
import { monotonicFactory } from 'ulid';
import type { Step } from './atomic.ts';
import { type AccountEventKind, type AccountsDb, type AccountTables, COMMAND, LOCAL } from './tables.ts';

/** One line of the account log: who let whom in, shut whom out, and when. */
export interface AccountEvent {
  /** Empty where it is about no rig. */
  readonly rig: string;
  readonly id: string;
  readonly at: string;
  readonly what: AccountEventKind;
  /** An account, or a link's id; its name or label as it was then. */
  readonly about: string;
  readonly aboutName: string;
  readonly by: string;
  readonly byName: string;
  readonly detail: string;
}

export interface NewEvent {
  readonly what: AccountEventKind;
  readonly about: string;
  /** Taken from the account where it is not given. */
  readonly aboutName?: string;
  readonly by: string;
  readonly byName?: string;
  readonly detail?: string;
}

const nextId = monotonicFactory();
const COLUMNS = ['rig', 'id', 'at', 'what', 'about', 'about_name', 'by', 'by_name', 'detail'] as const;

/** What was changed about access. There is no verb here that changes or removes a line. */
export class AccountLog {
  readonly #db: AccountsDb;

  constructor(db: AccountsDb) {
    this.#db = db;
  }

  /** Lines about one rig, newest first. */
  async of(rig: string, limit: number): Promise<AccountEvent[]> {
    return (await this.#newest(limit).where('rig', '=', rig).execute()).map(eventOf);
  }

  /** Every line, newest first. */
  async all(limit: number): Promise<AccountEvent[]> {
    return (await this.#newest(limit).execute()).map(eventOf);
  }

  /** Lines about an account, and what it did, newest first. */
  async concerning(account: string, limit: number): Promise<AccountEvent[]> {
    const rows = await this.#newest(limit)
      .where((eb) => eb.or([eb('about', '=', account), eb('by', '=', account)]))
      .execute();
    return rows.map(eventOf);
  }

  #newest(limit: number) {
    return this.#db.selectFrom('account_log').select(COLUMNS).orderBy('at', 'desc').orderBy('id', 'desc').limit(limit);
  }

  /** A line about a rig, as a step of the change that it tells of. */
  step(rig: string, event: NewEvent, now: string): Step {
    const query = this.#db.insertInto('account_log').values((eb) => ({
      rig,
      id: nextId(Date.parse(now)),
      at: now,
      what: event.what,
      about: event.about,
      about_name: named(eb, event.about, event.aboutName),
      by: event.by,
      by_name: named(eb, event.by, event.byName),
      detail: event.detail ?? '',
    }));
    return { query };
  }

  /** The same line on each rig that an account has a part in. */
  stepOnEachRig(account: string, event: NewEvent, now: string): Step {
    const id = nextId(Date.parse(now));
    const query = this.#db
      .insertInto('account_log')
      .columns(COLUMNS)
      .expression((eb) =>
        eb
          .selectFrom('roles')
          .select((inner) => [
            'roles.rig',
            text(id).as('id'),
            text(now).as('at'),
            text<AccountEventKind>(event.what).as('what'),
            text(event.about).as('about'),
            named(inner, event.about, event.aboutName).as('about_name'),
            text(event.by).as('by'),
            named(inner, event.by, event.byName).as('by_name'),
            text(event.detail ?? '').as('detail'),
          ])
          .where('roles.account', '=', account),
      );
    return { query };
  }

  /** A line for each link of somebody's making that is about to end with their rights, on one rig or on all. */
  stepOnEndingLinks(maker: string, rig: string | undefined, now: string): Step {
    const id = nextId(Date.parse(now));
    const query = this.#db
      .insertInto('account_log')
      .columns(COLUMNS)
      .expression((eb) => {
        const lines = eb
          .selectFrom('links')
          .select((inner) => [
            'links.rig',
            sql<string>`${id} || '-' || ${sql.ref('links.id')}`.as('id'),
            text(now).as('at'),
            text<AccountEventKind>('ended').as('what'),
            'links.id as about',
            'links.label as about_name',
            text(maker).as('by'),
            named(inner, maker).as('by_name'),
            'links.kind as detail',
          ])
          .where('links.by', '=', maker)
          .where('links.expires', '>', now);
        return rig === undefined ? lines : lines.where('links.rig', '=', rig);
      });
    return { query };
  }
}

/** A parameter whose type PostgreSQL cannot see from where it stands. */
const text = <T extends string>(value: T) => sql<T>`cast(${value} as text)`;

/** The name that an account bears now, else what it is itself. */
function named(eb: ExpressionBuilder<AccountTables, keyof AccountTables>, account: string, name?: string) {
  if (name !== undefined) return text(name);
  const shown = eb.selectFrom('people').select('people.shown').where('people.account', '=', account);
  return sql<string>`coalesce(${shown}, ${text(account)})`;
}

type Row = Pick<AccountTables['account_log'], (typeof COLUMNS)[number]>;
const eventOf = ({ about_name, by_name, ...rest }: Row): AccountEvent => ({
  ...rest,
  aboutName: about_name,
  byName: by_name,
});

const KINDS: Readonly<Record<string, string>> = {
  share: 'a link to look',
  calendar: 'a calendar feed',
  invite: 'an invitation',
};

/** Who did it: an account by its name, or whoever was at the machine. */
const doer = ({ by, byName }: AccountEvent): string =>
  by === LOCAL ? 'Whoever was at the machine' : by === COMMAND ? 'A command at the machine' : byName;

/** One line of the log in plain words. */
export function eventWords(event: AccountEvent): string {
  const { what, about, aboutName, by, detail, byName } = event;
  const own = about === by;
  switch (what) {
    case 'account-made':
      return `${doer(event)} made an account for ${aboutName}`;
    case 'begun':
      return `${doer(event)} began the rig`;
    case 'invited':
      return `${doer(event)} invited “${aboutName}” as ${detail}`;
    case 'joined': {
      const [role, label] = split(detail);
      return `${aboutName} joined as ${role}, invited by ${doer(event)} (“${label}”)`;
    }
    case 'role': {
      const [role, before] = split(detail);
      return `${doer(event)} made ${own ? 'themselves' : aboutName} ${role}${before === '' ? '' : `, who was ${before}`}`;
    }
    case 'removed':
      return own ? `${aboutName} left the rig` : `${doer(event)} took ${aboutName} off the rig`;
    case 'link':
      return `${doer(event)} made ${KINDS[detail] ?? detail}: “${aboutName}”`;
    case 'revoked':
      return `${doer(event)} took back the ${detail === 'invite' ? 'invitation' : 'link'} “${aboutName}”`;
    case 'ended':
      return `The ${detail === 'invite' ? 'invitation' : 'link'} “${aboutName}” ended with the rights of ${byName}, who made it`;
    case 'password':
      return own ? `${aboutName} changed their own password` : `${doer(event)} gave ${aboutName} a new password`;
    case 'account-deleted':
      return own ? `${aboutName} deleted their own account` : `${doer(event)} deleted the account of ${aboutName}`;
    case 'restored':
      return `A copy was put back: ${detail}`;
  }
}

/** `helper/for Eve`: two parts, the second of which may have a stroke in it. */
function split(detail: string): [first: string, rest: string] {
  const at = detail.indexOf('/');
  return at < 0 ? [detail, ''] : [detail.slice(0, at), detail.slice(at + 1)];
}
