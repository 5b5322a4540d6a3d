import { z } from 'zod';
import { unwrap } from '../../problem/index.ts';
import type { FoundLink, Person, Session, Store } from '../../store/index.ts';
import type { AccessMode, SessionCookie } from '../identity.ts';
import { problemError, WaitError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';
import { rigName } from '../schemas.ts';
import type { Who } from '../who.ts';

const name = z.string().min(1).max(60);
const password = z.string().min(1).max(1000);
const device = z
  .string()
  .trim()
  .min(1)
  .max(100)
  .default('a device')
  .meta({ description: 'What the owner calls it: “Ada’s phone”.' });
const token = z.string().min(1).max(200);
const person = z.object({ account: z.string(), name: z.string(), shown: z.string() }).meta({ id: 'Person' });
const session = z
  .object({ id: z.string(), device: z.string(), made: z.string(), seen: z.string() })
  .meta({ id: 'Session' });
const here = z.object({
  mode: z.enum(['local', 'accounts']),
  kind: z.enum(['local', 'account', 'link', 'nobody']),
  person: person.nullable(),
  link: z
    .object({ rig: rigName, label: z.string(), by: z.string(), made: z.string(), expires: z.string() })
    .nullable()
    .meta({ description: 'By which read-only link you came: whose rig it is, and until when it is shown.' }),
});

export interface SessionRouteOptions {
  readonly store: Store;
  readonly mode: AccessMode;
  readonly cookie: SessionCookie;
  readonly clock: () => number;
}

/** The account of whoever asks; at the owner's own machine there is none. */
export function accountOf(who: Who): { person: Person; session: Session } {
  if (!who.signedIn) {
    throw problemError('access.no-account', 'This needs an account', {
      next: 'Sign in; at your own machine there are no accounts to change.',
    });
  }
  return who.signedIn;
}

/** Whose name and password these are, asked from an address. Attempts are counted before the password is looked at. */
export function checksPassword({ store, clock }: SessionRouteOptions) {
  const { attempts, people } = store.accounts;
  return async (name: string, password: string, address: string): Promise<Person> => {
    const wait = await attempts.begin(name, address, clock());
    if (wait > 0) throw tooMany(wait);
    const found = await people.verify(name, password);
    if (!found) throw problemError('access.sign-in', 'The name or the password is wrong');
    await attempts.succeed(name, address, clock());
    return found;
  };
}

/** Signing in and out. */
export function sessionRoutes(options: SessionRouteOptions): Route[] {
  const { store, mode, cookie, clock } = options;
  const byPassword = checksPassword(options);
  const { people, sessions } = store.accounts;
  const now = (): string => new Date(clock()).toISOString();
  return [
    route({
      method: 'GET',
      path: '/api/session',
      id: 'readSession',
      tag: 'People',
      summary: 'Who you are here',
      access: 'open',
      answers: { 200: { text: 'You', schema: here } },
      async handle({ who }) {
        const { kind, signedIn, link } = who;
        return {
          json: { mode: mode.kind, kind, person: signedIn?.person ?? null, link: link ? await told(link) : null },
        };
      },
    }),
    route({
      method: 'POST',
      path: '/api/session',
      id: 'signIn',
      tag: 'People',
      summary: 'Sign in on this device, by name and password or by a device link',
      access: 'open',
      body: z.union([z.strictObject({ name, password, device }), z.strictObject({ deviceLink: token, device })]),
      answers: { 200: { text: 'You', schema: here } },
      async handle({ body, request, reply }) {
        if (mode.kind === 'local') throw problemError('access.no-account', 'There are no accounts here');
        const found =
          'deviceLink' in body
            ? await byDeviceLink(body.deviceLink)
            : await byPassword(body.name, body.password, request.ip);
        cookie.give(reply, await sessions.open(found.account, body.device, now()));
        return { json: { mode: mode.kind, kind: 'account', person: found, link: null } };
      },
    }),
    route({
      method: 'DELETE',
      path: '/api/session',
      id: 'signOut',
      tag: 'People',
      summary: 'Sign this device out',
      access: 'signed-in',
      answers: { 204: { text: 'Signed out' } },
      async handle({ who, reply }) {
        const { person, session } = accountOf(who);
        await sessions.close(person.account, session.id);
        cookie.take(reply);
        return { status: 204 };
      },
    }),
    route({
      method: 'GET',
      path: '/api/sessions',
      id: 'listSessions',
      tag: 'People',
      summary: 'Your devices',
      access: 'signed-in',
      answers: {
        200: { text: 'By last use', schema: z.object({ sessions: z.array(session.extend({ here: z.boolean() })) }) },
      },
      async handle({ who }) {
        const { person, session } = accountOf(who);
        const all = await sessions.of(person.account, now());
        return { json: { sessions: all.map((one) => ({ ...one, here: one.id === session.id })) } };
      },
    }),
    route({
      method: 'DELETE',
      path: '/api/sessions',
      id: 'signOutEverywhere',
      tag: 'People',
      summary: 'Sign every device out, this one too',
      access: 'signed-in',
      answers: { 204: { text: 'Signed out' } },
      async handle({ who, reply }) {
        await sessions.closeAll(accountOf(who).person.account);
        cookie.take(reply);
        return { status: 204 };
      },
    }),
    route({
      method: 'DELETE',
      path: '/api/sessions/{id}',
      id: 'signOutDevice',
      tag: 'People',
      summary: 'Sign one of your devices out',
      access: 'signed-in',
      params: z.strictObject({ id: z.string().regex(/^[0-9a-f]{12}$/, 'expected a session’s id') }),
      answers: { 204: { text: 'Signed out' } },
      async handle({ who, params }) {
        await sessions.close(accountOf(who).person.account, params.id);
        return { status: 204 };
      },
    }),
    route({
      method: 'POST',
      path: '/api/password',
      id: 'changePassword',
      tag: 'People',
      summary: 'Change your password; every other device is signed out',
      access: 'signed-in',
      body: z.strictObject({ old: password, new: password }),
      answers: { 204: { text: 'Changed' } },
      async handle({ who, body, request }) {
        const { person, session } = accountOf(who);
        await byPassword(person.name, body.old, request.ip);
        unwrap(await people.setPassword(person, body.new, { by: person.account, now: now(), keep: session.id }));
        return { status: 204 };
      },
    }),
    route({
      method: 'POST',
      path: '/api/device-link',
      id: 'makeDeviceLink',
      tag: 'People',
      summary: 'A link that signs one more of your devices in, once, within ten minutes; to be shown as a square code',
      access: 'signed-in',
      answers: {
        201: { text: 'The link', schema: z.object({ url: z.string(), token: z.string(), expires: z.string() }) },
      },
      async handle({ who }) {
        const made = await sessions.deviceLink(accountOf(who).person.account, now());
        return { status: 201, json: { ...made, url: `${originOf(mode)}/#device=${made.token}` } };
      },
    }),
  ];

  /** A link by the name of who made it. */
  async function told({ rig, label, by, made, expires }: FoundLink) {
    return { rig, label, by: (await people.byAccount(by))?.shown ?? 'the owner', made, expires };
  }

  async function byDeviceLink(link: string): Promise<Person> {
    const account = await sessions.useDeviceLink(link, now());
    const found = account && (await people.byAccount(account));
    if (!found)
      throw problemError('access.sign-in', 'The link is used up or has ended', {
        next: 'Make a new one on a device that is signed in.',
      });
    return found;
  }
}

/** Where pages of ours are. */
export function originOf(mode: AccessMode): string {
  return mode.kind === 'accounts' ? mode.origin : '';
}

function tooMany(waitMs: number): WaitError {
  const seconds = Math.ceil(waitMs / 1000);
  const problem = {
    code: 'request.too-many',
    what: 'Too many wrong passwords',
    next: `Wait ${seconds < 120 ? `${seconds} seconds` : `${Math.ceil(seconds / 60)} minutes`}, then try again.`,
  };
  return new WaitError([problem], seconds);
}
