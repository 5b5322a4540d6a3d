import type { Person } from './people.ts';
import type { AccountsDb, Role } from './tables.ts';

export interface RigPerson extends Person {
  readonly role: Role;
}

/** Who may do what on which rig. */
export class Roles {
  readonly #db: AccountsDb;

  constructor(db: AccountsDb) {
    this.#db = db;
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
    if (role !== 'owner' && !(await this.#othersOwn(rig, account))) return false;
    await this.#db
      .insertInto('roles')
      .values({ rig, account, role, made: now, by })
      .onConflict((conflict) => conflict.columns(['rig', 'account']).doUpdateSet({ role, made: now, by }))
      .execute();
    return true;
  }

  /** Takes the role away. The last owner keeps theirs: then false. */
  async take(rig: string, account: string): Promise<boolean> {
    if (!(await this.#othersOwn(rig, account))) return false;
    await this.#db.deleteFrom('roles').where('rig', '=', rig).where('account', '=', account).execute();
    return true;
  }

  async #othersOwn(rig: string, account: string): Promise<boolean> {
    const other = await this.#db
      .selectFrom('roles')
      .select('account')
      .where('rig', '=', rig)
      .where('role', '=', 'owner')
      .where('account', '!=', account)
      .executeTakeFirst();
    return other !== undefined;
  }
}
