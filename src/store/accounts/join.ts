import { fail, ok, type Result } from '../../problem/index.ts';
import type { Atomically } from './atomic.ts';
import type { Links } from './links.ts';
import type { AccountLog } from './log.ts';
import type { NewPerson, People, Person } from './people.ts';
import type { Roles } from './roles.ts';
import type { Role } from './tables.ts';

export interface Joined {
  readonly rig: string;
  /** What they are on it now: who had a role keeps it. */
  readonly role: Role;
  readonly person: Person;
}

interface Joining {
  readonly people: People;
  readonly roles: Roles;
  readonly links: Links;
  readonly log: AccountLog;
  readonly atomically: Atomically;
}

/** As `Accounts.join`. The invitation, the account, the role and the lines of the log are written together, or none of them. */
export async function joinBy(
  { people, roles, links, log, atomically }: Joining,
  token: string,
  who: Person | NewPerson,
  now: string,
): Promise<Result<Joined>> {
  const found = await links.find(token, 'invite', now);
  if (!found) return usedUp();
  const { rig, role, label, by, id } = found;
  const used = { ...links.usingUp(rig, id, now), must: true } as const;
  if ('account' in who) {
    const has = await roles.of(rig, who.account);
    const joined = has
      ? []
      : [
          roles.joining(rig, who.account, role, by, now),
          log.step(rig, { what: 'joined', about: who.account, by, detail: `${role}/${label}` }, now),
        ];
    const stopped = await atomically([used, ...joined]);
    return stopped === undefined ? ok({ rig, role: has ?? role, person: who }) : usedUp();
  }
  const made = await people.prepare(who, now);
  if (!made.ok) return made;
  const { person, adding } = made.value;
  const stopped = await atomically([
    used,
    { ...adding, must: true },
    roles.joining(rig, person.account, role, by, now),
    log.step('', { what: 'account-made', about: person.account, by }, now),
    log.step(rig, { what: 'joined', about: person.account, by, detail: `${role}/${label}` }, now),
  ]);
  if (stopped === undefined) return ok({ rig, role, person });
  return stopped === 0 ? usedUp() : people.nameTaken(who.name);
}

const usedUp = (): Result<never> =>
  fail({
    code: 'access.invitation',
    what: 'The invitation is used up or has ended',
    next: 'Ask for a new one.',
  });
