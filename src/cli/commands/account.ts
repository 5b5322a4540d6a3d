/** `account`: who may sign in where `serve --origin` lets others in. Whoever has the data may do all of it. */
import { type Command, Option } from 'commander';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { COMMAND, eventWords, type Person, type Role, type Store } from '../../store/index.ts';
import { ANSWERED, refuse, withKeeping, writeJson } from '../answer.ts';
import type { Io } from '../io.ts';
import type { Keeping, RigOptions } from '../keeping.ts';
import { type Done, placeOptions } from './options.ts';

interface AccountOptions extends RigOptions {
  readonly shown?: string;
  readonly role: Role;
  readonly passwordStdin?: boolean;
}

const ROLES: readonly Role[] = ['owner', 'helper', 'reader'];

/** A password typed twice at the terminal, unseen, or the first line of the standard input. Problems: `cli.password`. */
async function passwordOf({ passwordStdin }: AccountOptions, io: Io): Promise<Result<string>> {
  if (passwordStdin) return ok((await io.input()).split(/\r?\n/, 1)[0]!);
  if (!io.ask) {
    const what = 'Nobody is here to type a password';
    return fail({
      code: 'cli.password',
      what,
      expected: 'a terminal, or the password on the standard input with --password-stdin',
    });
  }
  const password = await io.ask('Password (not shown): ', true);
  if ((await io.ask('Once more: ', true)) === password) return ok(password);
  return fail({ code: 'cli.password', what: 'The two are not the same', next: 'Nothing was changed. Try again.' });
}

/** What is to be done with an account, and what is told of it. */
type Work = (keeping: Keeping) => Promise<Result<{ person: Person; said: string; more?: object }>>;

async function onAccounts(options: AccountOptions, io: Io, work: Work): Promise<number> {
  return withKeeping(options, io, async (keeping) => {
    const done = await work(keeping);
    if (!done.ok) return refuse(io, done.problems, options.json);
    const { person, said, more } = done.value;
    if (options.json) writeJson(io, { account: person.account, name: person.name, shown: person.shown, ...more });
    else io.out(`${said}\n`);
    return ANSWERED;
  });
}

const instant = (io: Io): string => new Date(io.clock()).toISOString();

async function rigNamed(store: Store, rig: string): Promise<Result<string>> {
  const rigs = (await store.rigs()).map((one) => one.rig);
  if (rigs.includes(rig)) return ok(rig);
  const expected =
    rigs.join(', ') ||
    'a rig with a logbook; there is none. Leave --rig out: a rig begun on the page belongs to who began it';
  return fail({ code: 'cli.rig-unknown', what: `There is no rig “${rig}”`, where: store.place.where, expected });
}

async function personNamed(store: Store, name: string): Promise<Result<Person>> {
  const person = await store.accounts.people.byName(name);
  return person
    ? ok(person)
    : fail({ code: 'cli.account-unknown', what: `Nobody signs in as ${name}`, where: store.place.where });
}

async function give(store: Store, person: Person, rig: string, role: Role, io: Io): Promise<Result<true>> {
  const { roles } = store.accounts;
  if (role === 'owner' && (await roles.claim(rig, person.account, instant(io)))) return ok(true);
  if (await roles.give(rig, person.account, role, COMMAND, instant(io))) return ok(true);
  return fail(noOwner(rig));
}

const hasOwner = async (store: Store, rig: string): Promise<boolean> =>
  (await store.accounts.roles.peopleOf(rig)).some((person) => person.role === 'owner');

const noOwner = (rig: string): Problem => ({
  code: 'access.last-owner',
  what: `${rig} would have no owner`,
  next: 'Make somebody its owner first, with --role owner.',
});

function add(name: string, options: AccountOptions, io: Io): Promise<number> {
  return onAccounts(options, io, async ({ store }) => {
    const rig = options.rig === undefined ? undefined : await rigNamed(store, options.rig);
    if (rig && !rig.ok) return rig;
    if (rig && options.role !== 'owner' && !(await hasOwner(store, rig.value))) return fail(noOwner(rig.value));
    const password = await passwordOf(options, io);
    if (!password.ok) return password;
    const { people } = store.accounts;
    const added = await people.add({ name, shown: options.shown ?? name, password: password.value }, instant(io));
    if (!added.ok) return added;
    const given = rig ? await give(store, added.value, rig.value, options.role, io) : ok(true);
    if (!given.ok) return given;
    const of = rig ? `, ${options.role} of ${rig.value}` : '';
    const more = rig ? { rig: rig.value, role: options.role } : {};
    return ok({ person: added.value, said: `${added.value.shown} signs in as ${name}${of}.`, more });
  });
}

function changePassword(name: string, options: AccountOptions, io: Io): Promise<number> {
  return onAccounts(options, io, async ({ store }) => {
    const person = await personNamed(store, name);
    if (!person.ok) return person;
    const password = await passwordOf(options, io);
    if (!password.ok) return password;
    const changed = { by: COMMAND, now: instant(io) };
    const set = await store.accounts.people.setPassword(person.value, password.value, changed);
    if (!set.ok) return set;
    return ok({ person: person.value, said: `${name} has a new password; every device of theirs is signed out.` });
  });
}

function changeRole(name: string, options: AccountOptions, io: Io): Promise<number> {
  return onAccounts(options, io, async ({ store }) => {
    const person = await personNamed(store, name);
    if (!person.ok) return person;
    const rig = await rigNamed(store, options.rig!);
    if (!rig.ok) return rig;
    const given = await give(store, person.value, rig.value, options.role, io);
    if (!given.ok) return given;
    const more = { rig: rig.value, role: options.role };
    return ok({ person: person.value, said: `${name} is ${options.role} of ${rig.value}.`, more });
  });
}

/** Everybody who may sign in, what they are on which rig, and rigs that nobody owns. */
async function list(options: RigOptions, io: Io): Promise<number> {
  return withKeeping(options, io, async ({ store }) => {
    const { people, roles } = store.accounts;
    const all = await people.all();
    const told = await Promise.all(
      all.map(async (person) => ({ ...person, rigs: Object.fromEntries(await roles.rigsOf(person.account)) })),
    );
    const owned = new Set(
      told.flatMap(({ rigs }) => Object.entries(rigs).flatMap(([rig, role]) => (role === 'owner' ? [rig] : []))),
    );
    const ownerless = (await store.rigs()).map(({ rig }) => rig).filter((rig) => !owned.has(rig));
    if (options.json) {
      writeJson(io, { accounts: told, ownerless: told.length ? ownerless : [] });
      return ANSWERED;
    }
    const lines = told.map(({ name, shown, rigs, locked }) => {
      const parts = Object.entries(rigs).map(([rig, role]) => `${role} of ${rig}`);
      const lock = locked ? '; locked: `rigworthy account password` gives a new one' : '';
      return `${name} (${shown}): ${parts.join(', ') || 'on no rig'}${lock}`;
    });
    if (told.length === 0) lines.push('Nobody has an account here.');
    else lines.push(...ownerless.map((rig) => `${rig} has no owner: \`rigworthy account role NAME --rig ${rig}\``));
    io.out(`${lines.join('\n')}\n`);
    return ANSWERED;
  });
}

/** Most lines of the log told at once. */
const LOG_LINES = 500;

async function showLog(options: RigOptions, io: Io): Promise<number> {
  return withKeeping(options, io, async ({ store }) => {
    const { log } = store.accounts;
    const events = await (options.rig === undefined ? log.all(LOG_LINES) : log.of(options.rig, LOG_LINES));
    if (options.json) writeJson(io, { log: events.map((event) => ({ ...event, text: eventWords(event) })) });
    else if (events.length === 0) io.out('Nothing is written down about access here.\n');
    else
      io.out(
        `${events.map((event) => `${event.at.slice(0, 16).replace('T', ' ')} UTC  ${event.rig || '(all)'}  ${eventWords(event)}`).join('\n')}\n`,
      );
    return ANSWERED;
  });
}

function remove(name: string, options: AccountOptions, io: Io): Promise<number> {
  return onAccounts(options, io, async ({ store }) => {
    const person = await personNamed(store, name);
    if (!person.ok) return person;
    const { people } = store.accounts;
    const removed = await people.remove(person.value, COMMAND, instant(io));
    if (!removed) {
      const rigs = await people.soleOwnerOf(person.value.account);
      return fail(noOwner(rigs.join(', ') || 'A rig'));
    }
    const said = `${name} has no account any more: signed out everywhere, off every rig, links and invitations of theirs ended.`;
    const more = 'What they wrote into logbooks stays, with their name. Copies made before still hold the account.';
    return ok({ person: person.value, said: `${said}\n${more}`, more: { removed: true } });
  });
}

async function exportIt(name: string, options: RigOptions, io: Io): Promise<number> {
  return withKeeping(options, io, async ({ store }) => {
    const person = await personNamed(store, name);
    if (!person.ok) return refuse(io, person.problems, options.json);
    writeJson(io, await store.accounts.people.exportOf(person.value, instant(io)));
    return ANSWERED;
  });
}

/** `rigworthy account list|log|add|password|role|export|remove` */
export function addAccounts(program: Command, io: Io, done: Done): void {
  const account = program.command('account').description('who may sign in where `serve --origin` lets others in');
  const one = (verb: string, description: string): Command =>
    placeOptions(account.command(verb)).description(description).argument('<name>', 'what they sign in with');
  const role = (): Option => new Option('--role <role>', 'what they may do on the rig').choices(ROLES).default('owner');
  const secret = (command: Command): Command =>
    command.option('--password-stdin', 'take the password from the standard input');
  secret(one('add', 'somebody new'))
    .option('--shown <name>', 'as written into entries (default: the same)')
    .option('--rig <rig>', 'a rig that they may come to')
    .addOption(role())
    .action((name: string, options: AccountOptions) => done(add(name, options, io)));
  secret(one('password', 'another password, where it was forgotten')).action((name: string, options: AccountOptions) =>
    done(changePassword(name, options, io)),
  );
  const all = (verb: string, description: string): Command =>
    placeOptions(account.command(verb)).description(description);
  all('list', 'who has an account, and what they are on which rig').action((options: RigOptions) =>
    done(list(options, io)),
  );
  all('log', 'who was let in and shut out, by whom and when')
    .option('--rig <rig>', 'only what is about this rig')
    .action((options: RigOptions) => done(showLog(options, io)));
  one('remove', 'take an account away: it can sign in no more, and what it invited is void').action(
    (name: string, options: AccountOptions) => done(remove(name, options, io)),
  );
  one('export', 'everything kept about an account, as JSON').action((name: string, options: RigOptions) =>
    done(exportIt(name, options, io)),
  );
  one('role', 'what somebody may do on a rig')
    .requiredOption('--rig <rig>', 'which rig')
    .addOption(role())
    .action((name: string, options: AccountOptions) => done(changeRole(name, options, io)));
}
