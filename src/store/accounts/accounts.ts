import { Attempts } from './attempts.ts';
import { Links } from './links.ts';
import { COST_DEFAULT } from './password.ts';
import { People } from './people.ts';
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
}

/** `locks`: the database lets two write at once, and rows can be locked. */
export function accountsOn(
  db: AccountsDb,
  { passwordCost = COST_DEFAULT, locks }: AccountsOptions & { readonly locks: boolean },
): Accounts {
  return {
    people: new People(db, passwordCost),
    sessions: new Sessions(db),
    roles: new Roles(db, locks),
    links: new Links(db),
    attempts: new Attempts(db),
  };
}
