import { randomBytes } from 'node:crypto';
import type { ExpressionBuilder } from 'kysely';
import { fail, ok, type Result } from '../../problem/index.ts';
import type { Atomically, Step } from './atomic.ts';
import type { Link } from './links.ts';
import type { AccountEvent, AccountLog } from './log.ts';
import { checkPassword, hashPassword, LOCKED, matchesPassword } from './password.ts';
import { type AccountsDb, type AccountTables, COMMAND, type Role } from './tables.ts';

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

export interface AccountExport {
  readonly person: Person;
  readonly made: string;
  readonly roles: readonly { readonly rig: string; readonly role: Role; readonly made: string }[];
  readonly devices: readonly { readonly device: string; readonly made: string; readonly seen: string }[];
  readonly links: readonly Link[];
  /** What the log says about the account and what it did, newest first. */
  readonly log: readonly AccountEvent[];
}

/** Most lines of the log that go along with an account. */
const EXPORTED_LINES = 10_000;

/** Who there is, and their passwords. */
export class People {
  readonly #db: AccountsDb;
  readonly #log: AccountLog;
  readonly #atomically: Atomically;
  readonly #cost: number;
  readonly #locks: boolean;
  /** Compared with when a name is unknown, so that an unknown name takes as long as a wrong password. */
  #decoy: Promise<string> | undefined;

  constructor(
    db: AccountsDb,
    log: AccountLog,
    atomically: Atomically,
    { cost, locks }: { readonly cost: number; readonly locks: boolean },
  ) {
    this.#db = db;
    this.#log = log;
    this.#atomically = atomically;
    this.#cost = cost;
    this.#locks = locks;
  }

  async count(): Promise<number> {
    const row = await this.#db
      .selectFrom('people')
      .select(({ fn }) => fn.countAll<number | string>().as('n'))
      .executeTakeFirstOrThrow();
    return Number(row.n);
  }

  /** Problems: `accounts.name`, `accounts.name-taken`, `accounts.password-weak`. */
  async add(given: NewPerson, now: string, by: string = COMMAND): Promise<Result<Person>> {
    const made = await this.prepare(given, now);
    if (!made.ok) return made;
    const { person, adding } = made.value;
    const told = this.#log.step('', { what: 'account-made', about: person.account, by }, now);
    return (await this.#atomically([{ ...adding, must: true }, told])) === undefined
      ? ok(person)
      : this.nameTaken(given.name);
  }

  /** Somebody new, and the step that adds them: it finds nothing to do where the name is taken. Problems: those of `add`. */
  async prepare({ name, shown, password }: NewPerson, now: string): Promise<Result<{ person: Person; adding: Step }>> {
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
    if (await this.byName(name)) return this.nameTaken(name);
    const person = { account: randomBytes(8).toString('hex'), name, shown: shown.trim() };
    const hashed = await hashPassword(good.value, this.#cost);
    const query = this.#db
      .insertInto('people')
      .values({ ...person, password: hashed, made: now })
      .onConflict((conflict) => conflict.column('name').doNothing());
    return ok({ person, adding: { query } });
  }

  nameTaken(name: string): Result<never> {
    return fail({
      code: 'accounts.name-taken',
      what: `Somebody else signs in as ${name}`,
      next: 'Choose another name.',
    });
  }

  /** Whose name and password these are. Takes as long for an unknown name as for a wrong password. */
  async verify(name: string, password: string): Promise<Person | undefined> {
    const row = await this.#db.selectFrom('people').selectAll().where('name', '=', name).executeTakeFirst();
    this.#decoy ??= hashPassword('nobody has this password', this.#cost);
    const kept = row?.password === LOCKED ? undefined : row?.password;
    const right = await matchesPassword(password, kept ?? (await this.#decoy));
    return row && kept && right ? { account: row.account, name: row.name, shown: row.shown } : undefined;
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

  /** Everybody, by name, and whether they can sign in: not after a restore that could not tell what had been taken away since. */
  async all(): Promise<(Person & { readonly made: string; readonly locked: boolean })[]> {
    const rows = await this.#db.selectFrom('people').selectAll().orderBy('name').execute();
    return rows.map(({ account, name, shown, made, password }) => ({
      account,
      name,
      shown,
      made,
      locked: password === LOCKED,
    }));
  }

  /**
   * Another password. Every device of theirs is signed out, but for the session with the id `keep` where it is given; links for
   * more devices end, too. Problems: `accounts.password-weak`.
   */
  async setPassword(
    person: Person,
    password: string,
    { by, now, keep }: { readonly by: string; readonly now: string; readonly keep?: string },
  ): Promise<Result<true>> {
    const good = checkPassword(password, person.name);
    if (!good.ok) return good;
    const { account } = person;
    const hashed = await hashPassword(good.value, this.#cost);
    const sessions = this.#db.deleteFrom('sessions').where('account', '=', account);
    const told = { what: 'password', about: account, by } as const;
    await this.#atomically([
      { query: this.#db.updateTable('people').set({ password: hashed }).where('account', '=', account) },
      { query: keep === undefined ? sessions : sessions.where('token', 'not like', `${keep}%`) },
      { query: this.#db.deleteFrom('device_links').where('account', '=', account) },
      this.#log.step('', told, now),
      this.#log.stepOnEachRig(account, told, now),
    ]);
    return ok(true);
  }

  /** Rigs whose only owner an account is: they must have another before it can go. */
  async soleOwnerOf(account: string): Promise<string[]> {
    const rows = await this.#db
      .selectFrom('roles')
      .select('rig')
      .where('account', '=', account)
      .where((eb) => this.#isSoleOwner(eb))
      .orderBy('rig')
      .execute();
    return rows.map(({ rig }) => rig);
  }

  /** Takes an account away with its roles, sessions, and the links it made. False where a rig would have no owner. */
  async remove({ account, name, shown }: Person, by: string, now: string): Promise<boolean> {
    const told = {
      what: 'account-deleted',
      about: account,
      aboutName: shown,
      by,
      ...(by === account ? { byName: shown } : {}),
    } as const;
    // PostgreSQL: two owners of one rig who go at once wait for each other here.
    const waiting = this.#db
      .selectFrom('roles')
      .select('account')
      .where('role', '=', 'owner')
      .where('rig', 'in', (eb) => eb.selectFrom('roles as own').select('own.rig').where('own.account', '=', account))
      .orderBy('rig')
      .orderBy('account')
      .forUpdate();
    const going = this.#db
      .deleteFrom('people')
      .where('account', '=', account)
      .where((eb) =>
        eb.not(
          eb.exists(
            eb
              .selectFrom('roles')
              .select('roles.rig')
              .where('roles.account', '=', account)
              .where((inner) => this.#isSoleOwner(inner)),
          ),
        ),
      );
    const of = (table: 'sessions' | 'device_links' | 'roles'): Step => ({
      query: this.#db.deleteFrom(table).where('account', '=', account),
    });
    const must = { query: going, must: true } as const;
    const stopped = await this.#atomically([
      ...(this.#locks ? [{ query: waiting }] : []),
      this.#log.stepOnEndingLinks(account, undefined, now),
      must,
      this.#log.step('', told, now),
      this.#log.stepOnEachRig(account, told, now),
      of('sessions'),
      of('device_links'),
      of('roles'),
      { query: this.#db.deleteFrom('links').where('by', '=', account) },
      { query: this.#db.deleteFrom('attempts').where('key', 'like', `known:${name} %`) },
    ]);
    return stopped === undefined;
  }

  /** Everything that is kept about an account, but what it wrote into logbooks. No secret, and no hash of one. */
  async exportOf(person: Person, now: string): Promise<AccountExport> {
    const { account } = person;
    const { made } = await this.#db
      .selectFrom('people')
      .select('made')
      .where('account', '=', account)
      .executeTakeFirstOrThrow();
    const roles = await this.#db
      .selectFrom('roles')
      .select(['rig', 'role', 'made'])
      .where('account', '=', account)
      .orderBy('rig')
      .execute();
    const devices = await this.#db
      .selectFrom('sessions')
      .select(['device', 'made', 'seen'])
      .where('account', '=', account)
      .where('expires', '>', now)
      .orderBy('made')
      .execute();
    const links = await this.#db
      .selectFrom('links')
      .select(['rig', 'id', 'kind', 'role', 'label', 'made', 'expires'])
      .where('by', '=', account)
      .orderBy('made')
      .execute();
    const log = await this.#log.concerning(account, EXPORTED_LINES);
    return { person, made, roles, devices, links, log };
  }

  /** Of a row of `roles`: an owner beside whom the rig has none. */
  #isSoleOwner(eb: ExpressionBuilder<AccountTables, 'roles'>) {
    const other = eb
      .selectFrom('roles as other')
      .select('other.account')
      .where('other.role', '=', 'owner')
      .whereRef('other.rig', '=', 'roles.rig')
      .whereRef('other.account', '!=', 'roles.account');
    return eb.and([eb('roles.role', '=', 'owner'), eb.not(eb.exists(other))]);
  }
}
