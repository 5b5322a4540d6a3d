import type { QueryCreator } from 'kysely';
import type { Atomically, Step } from './atomic.ts';
import type { AccountLog } from './log.ts';
import type { Person } from './people.ts';
import type { AccountsDb, AccountTables, Role } from './tables.ts';

export interface RigPerson extends Person {
  readonly role: Role;
}

/** Who may do what on which rig. */
export class Roles {
  readonly #db: AccountsDb;
  readonly #log: AccountLog;
  readonly #atomically: Atomically;
  readonly #locks: boolean;

  /** `locks`: the database lets two write at once, and rows can be locked. */
  constructor(db: AccountsDb, log: AccountLog, atomically: Atomically, locks: boolean) {
    this.#db = db;
    this.#log = log;
    this.#atomically = atomically;
    this.#locks = locks;
  }

  async of(rig: string, account: string): Promise<Role | undefined> {
    const row = await this.#db
      .selectFrom('roles')
      .select('role')
      .where('rig', '=', rig)
      .where('account', '=', account)
      .executeTakeFirst();
    return row?.role;
  }

  async rigsOf(account: string): Promise<Map<string, Role>> {
    const rows = await this.#db
      .selectFrom('roles')
      .select(['rig', 'role'])
      .where('account', '=', account)
      .orderBy('rig')
      .execute();
    return new Map(rows.map(({ rig, role }) => [rig, role]));
  }

  async peopleOf(rig: string): Promise<RigPerson[]> {
    return this.#db
      .selectFrom('roles')
      .innerJoin('people', 'people.account', 'roles.account')
      .select(['people.account', 'people.name', 'people.shown', 'roles.role'])
      .where('roles.rig', '=', rig)
      .orderBy('people.name')
      .execute();
  }

  /**
   * Makes somebody the owner of a rig that nobody brought here before; false where somebody did. Of two who ask at once, one
   * is told so. One who asks again after a failure in between gets what was missing.
   */
  async claim(rig: string, account: string, now: string): Promise<boolean> {
    await this.#db
      .insertInto('claims')
      .values({ rig, account, made: now })
      .onConflict((conflict) => conflict.column('rig').doNothing())
      .execute();
    const first = await this.#db
      .selectFrom('claims')
      .select('account')
      .where('rig', '=', rig)
      .executeTakeFirstOrThrow();
    const there = await this.peopleOf(rig);
    if (first.account !== account || there.some((person) => person.account !== account)) return false;
    if (there.some(({ role }) => role === 'owner')) return true;
    const begun = this.#log.step(rig, { what: 'begun', about: account, by: account }, now);
    await this.#atomically([this.#giving({ rig, account, role: 'owner', made: now, by: account }), begun]);
    return true;
  }

  /**
   * Gives a role, or another than before. Of who is an owner no longer, the links and invitations end. The last owner keeps
   * theirs: then false.
   */
  async give(rig: string, account: string, role: Role, by: string, now: string): Promise<boolean> {
    const before = (await this.of(rig, account)) ?? '';
    if (before === role) return true;
    const stopped = await this.#atomically([
      { ...this.#giving({ rig, account, role, made: now, by }), must: true },
      ...(role === 'owner' ? [] : this.#endingLinks(rig, account, now)),
      this.#log.step(rig, { what: 'role', about: account, by, detail: `${role}/${before}` }, now),
    ]);
    return stopped === undefined;
  }

  /** Takes the role away, and with it the links and invitations they made. The last owner keeps theirs: then false. */
  async take(rig: string, account: string, by: string, now: string): Promise<boolean> {
    const taking = this.#db
      .with('owners', this.#ownersOf(rig))
      .deleteFrom('roles')
      .where('rig', '=', rig)
      .where('account', '=', account)
      .where((eb) => eb.exists(eb.selectFrom('owners').select('account').where('account', '!=', account)));
    const stopped = await this.#atomically([
      { query: taking, must: true },
      ...this.#endingLinks(rig, account, now),
      this.#log.step(rig, { what: 'removed', about: account, by }, now),
    ]);
    return stopped === undefined || (await this.of(rig, account)) === undefined;
  }

  /** The role that an invitation gives, as a step of joining; who has one keeps it. */
  joining(rig: string, account: string, role: Role, by: string, now: string): Step {
    const query = this.#db
      .insertInto('roles')
      .values({ rig, account, role, made: now, by })
      .onConflict((conflict) => conflict.columns(['rig', 'account']).doNothing());
    return { query };
  }

  #endingLinks(rig: string, account: string, now: string): Step[] {
    const ending = this.#db.deleteFrom('links').where('rig', '=', rig).where('by', '=', account);
    return [this.#log.stepOnEndingLinks(account, rig, now), { query: ending }];
  }

  /** Any role but an owner's is given only where there is another owner. */
  #giving(row: AccountTables['roles']): Step {
    const { rig, account, role, made, by } = row;
    if (role === 'owner') {
      const query = this.#db
        .insertInto('roles')
        .values(row)
        .onConflict((conflict) => conflict.columns(['rig', 'account']).doUpdateSet({ role, made, by }));
      return { query };
    }
    const query = this.#db
      .with('owners', this.#ownersOf(rig))
      .insertInto('roles')
      .columns(['rig', 'account', 'role', 'made', 'by'])
      .expression((eb) =>
        eb
          .selectFrom('owners')
          .select([
            eb.val(rig).as('rig'),
            eb.val(account).as('account'),
            eb.val(role).as('role'),
            eb.val(made).as('made'),
            eb.val(by).as('by'),
          ])
          .where('account', '!=', account)
          .limit(1),
      )
      .onConflict((conflict) => conflict.columns(['rig', 'account']).doUpdateSet({ role, made, by }));
    return { query };
  }

  /**
   * The rig's owners, as part of the statement that takes the role of one. PostgreSQL must lock them, all and in one order: else of two
   * owners who each remove the other at once, each would still see the other. SQLite lets one writer at a time in anyway.
   */
  #ownersOf(rig: string) {
    return (db: QueryCreator<AccountTables>) => {
      const owners = db.selectFrom('roles').select('account').where('rig', '=', rig).where('role', '=', 'owner');
      return this.#locks ? owners.orderBy('account').forUpdate() : owners;
    };
  }
}
