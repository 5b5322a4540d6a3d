import type { Result } from '../../problem/index.ts';
import type { Atomically } from './atomic.ts';
import { Attempts } from './attempts.ts';
import { type Joined, joinBy } from './join.ts';
import { Links } from './links.ts';
import { AccountLog } from './log.ts';
import { COST_DEFAULT } from './password.ts';
import { type NewPerson, People, type Person } from './people.ts';
import { Roles } from './roles.ts';
import { Sessions } from './sessions.ts';
import type { AccountsDb } from './tables.ts';

export interface AccountsOptions {
  /** log2 of scrypt's cost; tests that are not about it take less. */
  readonly passwordCost?: number;
}

/** Who may come in, and what they may do. Instants are given as ISO text in UTC. */
export interface Accounts {
  readonly people: People;
  readonly sessions: Sessions;
  readonly roles: Roles;
  readonly links: Links;
  readonly attempts: Attempts;
  readonly log: AccountLog;
  /**
   * Uses an invitation up: somebody with an account of before, or with one made by it, is on the rig. Of many who use it at once
   * one joins, and no account is made for the others. Problems: `access.invitation`, `accounts.*` of a new account.
   */
  join(token: string, who: Person | NewPerson, now: string): Promise<Result<Joined>>;
}

/** `locks`: the database lets two write at once, and rows can be locked. */
export function accountsOn(
  db: AccountsDb,
  {
    passwordCost = COST_DEFAULT,
    locks,
    atomically,
  }: AccountsOptions & { readonly locks: boolean; readonly atomically: Atomically },
): Accounts {
  const log = new AccountLog(db);
  const links = new Links(db, log, atomically);
  const roles = new Roles(db, log, atomically, locks);
  const people = new People(db, log, atomically, { cost: passwordCost, locks });
  return {
    people,
    sessions: new Sessions(db),
    roles,
    links,
    attempts: new Attempts(db),
    log,
    join: (token, who, now) => joinBy({ people, roles, links, log, atomically }, token, who, now),
  };
}
