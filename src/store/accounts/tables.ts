import type { Kysely } from 'kysely';

/** What somebody may do on a rig. */
export type Role = 'reader' | 'helper' | 'owner';
/** `share`: see a rig without an account. `invite`: become somebody's helper. `calendar`: the feed's private address. */
export type LinkKind = 'share' | 'invite' | 'calendar';

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
}

/** One set of queries for both databases. Each is a single statement: on SQLite they share the connection with the appends. */
export type AccountsDb = Kysely<AccountTables>;

/** Tables whose rows a copy carries. Sessions, device links and attempts are of the moment and are left out of what is put back. */
export const ACCOUNT_TABLES = [
  'people',
  'claims',
  'roles',
  'links',
] as const satisfies readonly (keyof AccountTables)[];
export const MOMENTARY_TABLES = [
  'sessions',
  'device_links',
  'attempts',
] as const satisfies readonly (keyof AccountTables)[];

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
