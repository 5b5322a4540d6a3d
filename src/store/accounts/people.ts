import { randomBytes } from 'node:crypto';
import { fail, ok, type Result } from '../../problem/index.ts';
import { checkPassword, hashPassword, matchesPassword } from './password.ts';
import type { AccountsDb } from './tables.ts';

export interface Person {
  readonly account: string;
  /** What one signs in with. */
  readonly name: string;
  /** As written into entries. */
  readonly shown: string;
}

export interface NewPerson {
  readonly name: string;
  readonly shown: string;
  readonly password: string;
}

/** Who there is, and their passwords. */
export class People {
  readonly #db: AccountsDb;
  readonly #cost: number;
  /** Compared with when a name is unknown, so that an unknown name takes as long as a wrong password. */
  #decoy: Promise<string> | undefined;

  constructor(db: AccountsDb, cost: number) {
    this.#db = db;
    this.#cost = cost;
  }

  async count(): Promise<number> {
    const row = await this.#db
      .selectFrom('people')
      .select(({ fn }) => fn.countAll<number | string>().as('n'))
      .executeTakeFirstOrThrow();
    return Number(row.n);
  }

  /** Problems: `accounts.name`, `accounts.name-taken`, `accounts.password-weak`. */
  async add({ name, shown, password }: NewPerson, now: string): Promise<Result<Person>> {
    if (!/^[a-z][a-z0-9.-]{1,39}$/.test(name)) {
      return fail({
        code: 'accounts.name',
        what: 'This is no name to sign in with',
        where: name.slice(0, 60),
        expected: '2 to 40 small letters, digits, dots and hyphens, beginning with a letter',
      });
    }
    if (!/^[^\p{C}]{1,60}$/u.test(shown.trim()))
      return fail({ code: 'accounts.name', what: 'This name cannot be shown', expected: '1 to 60 characters' });
    const good = checkPassword(password, name);
    if (!good.ok) return good;
    const account = randomBytes(8).toString('hex');
    const added = await this.#db
      .insertInto('people')
      .values({ account, name, shown: shown.trim(), password: await hashPassword(good.value, this.#cost), made: now })
      .onConflict((conflict) => conflict.column('name').doNothing())
      .executeTakeFirst();
    if (Number(added.numInsertedOrUpdatedRows ?? 0) === 0) {
      return fail({
        code: 'accounts.name-taken',
        what: `Somebody else signs in as ${name}`,
        next: 'Choose another name.',
      });
    }
    return ok({ account, name, shown: shown.trim() });
  }

  /** Whose name and password these are. Takes as long for an unknown name as for a wrong password. */
  async verify(name: string, password: string): Promise<Person | undefined> {
    const row = await this.#db.selectFrom('people').selectAll().where('name', '=', name).executeTakeFirst();
    this.#decoy ??= hashPassword('nobody has this password', this.#cost);
    const right = await matchesPassword(password, row?.password ?? (await this.#decoy));
    return row && right ? { account: row.account, name: row.name, shown: row.shown } : undefined;
  }

  async byAccount(account: string): Promise<Person | undefined> {
    return this.#db
      .selectFrom('people')
      .select(['account', 'name', 'shown'])
      .where('account', '=', account)
      .executeTakeFirst();
  }

  async byName(name: string): Promise<Person | undefined> {
    return this.#db
      .selectFrom('people')
      .select(['account', 'name', 'shown'])
      .where('name', '=', name)
      .executeTakeFirst();
  }

  /** Problems: `accounts.password-weak`. */
  async setPassword(person: Person, password: string): Promise<Result<true>> {
    const good = checkPassword(password, person.name);
    if (!good.ok) return good;
    const hashed = await hashPassword(good.value, this.#cost);
    await this.#db.updateTable('people').set({ password: hashed }).where('account', '=', person.account).execute();
    return ok(true);
  }
}
