import type { QueryCreator } from 'kysely';
import type { Person } from './people.ts';
import type { AccountsDb, AccountTables, Role } from './tables.ts';

export interface RigPerson extends Person {
  readonly role: Role;
}

/** Who may do what on which rig. */
export class Roles {
  readonly #db: AccountsDb;
  readonly #locks: boolean;

  /** `locks`: the database lets two write at once, and rows can be locked. */
  constructor(db: AccountsDb, locks: boolean) {
    this.#db = db;
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
    if (first.account !== account || (await this.peopleOf(rig)).some((person) => person.account !== account))
      return false;
    return this.give(rig, account, 'owner', account, now);
  }

  /** Gives a role, or another than before. The last owner keeps theirs: then false. */
  async give(rig: string, account: string, role: Role, by: string, now: string): Promise<boolean> {
    const row = { rig, account, role, made: now, by };
    if (role === 'owner') {
      await this.#db
        .insertInto('roles')
        .values(row)
        .onConflict((conflict) => conflict.columns(['rig', 'account']).doUpdateSet({ role, made: now, by }))
        .execute();
      return true;
    }
    const given = await this.#db
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
            eb.val(now).as('made'),
            eb.val(by).as('by'),
          ])
          .where('account', '!=', account)
          .limit(1),
      )
      .onConflict((conflict) => conflict.columns(['rig', 'account']).doUpdateSet({ role, made: now, by }))
      .returning('account')
      .executeTakeFirst();
    return given !== undefined;
  }

  /** Takes the role away. The last owner keeps theirs: then false. */
  async take(rig: string, account: string): Promise<boolean> {
    const taken = await this.#db
      .with('owners', this.#ownersOf(rig))
      .deleteFrom('roles')
      .where('rig', '=', rig)
      .where('account', '=', account)
      .where((eb) => eb.exists(eb.selectFrom('owners').select('account').where('account', '!=', account)))
      .returning('account')
      .executeTakeFirst();
    return taken !== undefined || (await this.of(rig, account)) === undefined;
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
