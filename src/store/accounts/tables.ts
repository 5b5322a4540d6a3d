import type { Kysely } from 'kysely';

/** What somebody may do on a rig. */
export type Role = 'reader' | 'helper' | 'owner';
/** `share`: see a rig without an account. `invite`: become somebody's helper. `calendar`: the feed's private address. */
export type LinkKind = 'share' | 'invite' | 'calendar';

/** Stands as an account for whoever is at the owner's own machine, where there are none. */
export const LOCAL = 'local';
/** Stands as an account for the commands, which whoever has the data may run. */
export const COMMAND = 'command';

/** What the account log tells of. */
export type AccountEventKind =
  | 'account-made'
  | 'begun'
  | 'invited'
  | 'joined'
  | 'role'
  | 'removed'
  | 'link'
  | 'revoked'
  | 'ended'
  | 'password'
  | 'account-deleted'
  | 'restored';

/** Instants are ISO text in UTC, always of the same length, so that they compare as text in both databases. */
export interface AccountTables {
  people: { account: string; name: string; shown: string; password: string; made: string };
  sessions: { account: string; token: string; device: string; made: string; seen: string; expires: string };
  device_links: { account: string; token: string; expires: string };
  /** Who brought a rig here first. */
  claims: { rig: string; account: string; made: string };
  roles: { rig: string; account: string; role: Role; made: string; by: string };
  links: {
    rig: string;
    id: string;
    token: string;
    kind: LinkKind;
    role: Role;
    label: string;
    made: string;
    by: string;
    expires: string;
  };
  attempts: { key: string; failures: number; until: string };
  account_log: {
    rig: string;
    id: string;
    at: string;
    what: AccountEventKind;
    about: string;
    about_name: string;
    by: string;
    by_name: string;
    detail: string;
  };
}

/** One set of queries for both databases. What takes several statements goes by `Atomically`: on SQLite they share the connection with the appends. */
export type AccountsDb = Kysely<AccountTables>;

/** Tables whose rows a copy carries. Sessions, device links and attempts are of the moment and are left out of what is put back. */
export const ACCOUNT_TABLES = [
  'people',
  'claims',
  'roles',
  'links',
  'account_log',
] as const satisfies readonly (keyof AccountTables)[];
export const MOMENTARY_TABLES = [
  'sessions',
  'device_links',
  'attempts',
] as const satisfies readonly (keyof AccountTables)[];

/** What was added later: the log of changes of access. As `accountTablesSql`. */
export function accountLogSql({ text, s, end }: { text: string; s: string; end: string }): string {
  return [
    `CREATE TABLE ${s}account_log (rig ${text} NOT NULL, id ${text} NOT NULL, at ${text} NOT NULL, what TEXT NOT NULL, about ${text} NOT NULL, about_name TEXT NOT NULL, by ${text} NOT NULL, by_name TEXT NOT NULL, detail TEXT NOT NULL, PRIMARY KEY (rig, id))${end};`,
    `CREATE INDEX account_log_by_time ON ${s}account_log (at, id);`,
  ].join('\n');
}

/** The tables, in words that both databases understand; `text` is the type of a key, `s` the schema with its dot, or nothing. */
export function accountTablesSql({ text, s, end }: { text: string; s: string; end: string }): string {
  const table = (name: string, columns: string): string => `CREATE TABLE ${s}${name} (${columns})${end};`;
  return [
    table(
      'people',
      `account ${text} NOT NULL PRIMARY KEY, name ${text} NOT NULL UNIQUE, shown TEXT NOT NULL, password TEXT NOT NULL, made ${text} NOT NULL`,
    ),
    table(
      'sessions',
      `account ${text} NOT NULL, token ${text} NOT NULL, device TEXT NOT NULL, made ${text} NOT NULL, seen ${text} NOT NULL, expires ${text} NOT NULL, PRIMARY KEY (account, token)`,
    ),
    table(
      'device_links',
      `account ${text} NOT NULL, token ${text} NOT NULL, expires ${text} NOT NULL, PRIMARY KEY (account, token)`,
    ),
    table(
      'roles',
      `rig ${text} NOT NULL, account ${text} NOT NULL, role TEXT NOT NULL CHECK (role IN ('reader', 'helper', 'owner')), made ${text} NOT NULL, by TEXT NOT NULL, PRIMARY KEY (rig, account)`,
    ),
    `CREATE INDEX roles_by_account ON ${s}roles (account, rig);`,
    table('claims', `rig ${text} NOT NULL PRIMARY KEY, account ${text} NOT NULL, made ${text} NOT NULL`),
    table(
      'links',
      `rig ${text} NOT NULL, id ${text} NOT NULL, token ${text} NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('share', 'invite', 'calendar')), role TEXT NOT NULL CHECK (role IN ('reader', 'helper', 'owner')), label TEXT NOT NULL, made ${text} NOT NULL, by TEXT NOT NULL, expires ${text} NOT NULL, PRIMARY KEY (rig, id), UNIQUE (rig, token)`,
    ),
    table('attempts', `key ${text} NOT NULL PRIMARY KEY, failures INTEGER NOT NULL, until ${text} NOT NULL`),
  ].join('\n');
}
