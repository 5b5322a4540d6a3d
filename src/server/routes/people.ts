import { z } from 'zod';
import { unwrap } from '../../problem/index.ts';
import { problemError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';
import { rigName, rigParams } from '../schemas.ts';
import { accountOf, originOf, type SessionRouteOptions } from './sessions.ts';

const role = z.enum(['reader', 'helper', 'owner']);
const account = z.string().regex(/^[0-9a-f]{16}$/, 'expected an account');
const link = z
  .object({
    rig: rigName,
    id: z.string(),
    kind: z.enum(['share', 'invite', 'calendar']),
    role,
    label: z.string(),
    made: z.string(),
    expires: z.string(),
  })
  .meta({ id: 'Link' });

/** Rigs change hands, people come and go. */
export function peopleRoutes(options: SessionRouteOptions): Route[] {
  return [...rigPeopleRoutes(options), ...linkRoutes(options), joinRoute(options)];
}

function rigPeopleRoutes({ store, clock }: SessionRouteOptions): Route[] {
  const { roles } = store.accounts;
  const now = (): string => new Date(clock()).toISOString();
  const lastOwner = () =>
    problemError('access.last-owner', 'A rig always has an owner', { next: 'Make somebody else an owner first.' });
  return [
    route({
      method: 'POST',
      path: '/api/rigs',
      id: 'claimRig',
      tag: 'Rigs',
      summary: 'Begin a rig: you are its owner',
      access: 'signed-in',
      body: z.strictObject({ rig: rigName }),
      answers: { 201: { text: 'It is yours', schema: z.object({ rig: rigName, role }) } },
      async handle({ who, body: { rig } }) {
        const { person } = accountOf(who);
        const inUse =
          (await store.rigs()).some((one) => one.rig === rig) && (await roles.of(rig, person.account)) !== 'owner';
        if (inUse || !(await roles.claim(rig, person.account, now()))) {
          throw problemError('access.rig-taken', 'This name is taken', {
            where: rig,
            next: 'Choose another name for the rig.',
          });
        }
        return { status: 201, json: { rig, role: 'owner' } };
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/people',
      id: 'listPeople',
      tag: 'People',
      summary: 'Who may see and write this rig',
      access: 'helper',
      params: rigParams,
      answers: {
        200: {
          text: 'By name',
          schema: z.object({
            people: z.array(z.object({ account: z.string(), name: z.string(), shown: z.string(), role })),
          }),
        },
      },
      async handle({ params }) {
        return { json: { people: await roles.peopleOf(params.rig) } };
      },
    }),
    route({
      method: 'PUT',
      path: '/api/rigs/{rig}/people/{account}',
      id: 'changeRole',
      tag: 'People',
      summary: 'Change the role of somebody of this rig',
      access: 'owner',
      params: z.strictObject({ rig: rigName, account }),
      body: z.strictObject({ role }),
      answers: { 204: { text: 'Changed' } },
      async handle({ who, params: { rig, account }, body }) {
        const { person } = accountOf(who);
        // Only those who joined: nobody is drawn into a rig by its owner, nor is an account found out about.
        if (!(await roles.of(rig, account)))
          throw problemError('request.not-found', 'There is nobody of that account here', { where: account });
        if (!(await roles.give(rig, account, body.role, person.account, now()))) throw lastOwner();
        return { status: 204 };
      },
    }),
    route({
      method: 'DELETE',
      path: '/api/rigs/{rig}/people/{account}',
      id: 'removePerson',
      tag: 'People',
      summary: 'Take somebody off this rig; anybody may take themselves off',
      access: 'reader',
      params: z.strictObject({ rig: rigName, account }),
      answers: { 204: { text: 'Off' } },
      async handle({ who, params: { rig, account } }) {
        const { person } = accountOf(who);
        if (account !== person.account && (await who.roleOn(rig)) !== 'owner')
          throw problemError('access.role', 'Only an owner takes others off');
        if (!(await roles.take(rig, account, person.account, now()))) throw lastOwner();
        return { status: 204 };
      },
    }),
  ];
}

function linkRoutes({ store, mode, clock }: SessionRouteOptions): Route[] {
  const { links } = store.accounts;
  const now = (): string => new Date(clock()).toISOString();
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/links',
      id: 'listLinks',
      tag: 'People',
      summary: 'Links to this rig that still work; their secrets are not told again',
      access: 'owner',
      params: rigParams,
      answers: { 200: { text: 'Oldest first', schema: z.object({ links: z.array(link) }) } },
      async handle({ params }) {
        return { json: { links: await links.of(params.rig, now()) } };
      },
    }),
    route({
      method: 'POST',
      path: '/api/rigs/{rig}/links',
      id: 'makeLink',
      tag: 'People',
      summary: 'A link to see the rig without an account (a buyer, a mechanic), or an invitation with a role',
      access: 'owner',
      params: rigParams,
      body: z.discriminatedUnion('kind', [
        z.strictObject({
          kind: z.literal('share'),
          label: z.string().trim().min(1).max(80),
          days: z.number().int().min(1).max(365).default(30),
        }),
        z.strictObject({
          kind: z.literal('calendar'),
          label: z.string().trim().min(1).max(80),
          days: z.number().int().min(1).max(1000).default(400),
        }),
        z.strictObject({
          kind: z.literal('invite'),
          role,
          label: z.string().trim().min(1).max(80),
          days: z.number().int().min(1).max(14).default(3),
        }),
      ]),
      answers: {
        201: { text: 'The link, with its secret', schema: link.extend({ token: z.string(), url: z.string() }) },
      },
      async handle({ who, params, body }) {
        const { token, ...made } = await links.add(params.rig, { role: 'reader', ...body, by: who.via }, now());
        const page = body.kind === 'invite' ? 'join' : body.kind;
        return { status: 201, json: { ...made, token, url: `${originOf(mode)}/#${page}=${token}` } };
      },
    }),
    route({
      method: 'DELETE',
      path: '/api/rigs/{rig}/links/{id}',
      id: 'revokeLink',
      tag: 'People',
      summary: 'Take a link back; it stops working at once',
      access: 'owner',
      params: z.strictObject({ rig: rigName, id: z.string().regex(/^[0-9a-f]{12}$/, 'expected a link’s id') }),
      answers: { 204: { text: 'Taken back' } },
      async handle({ who, params: { rig, id } }) {
        if (!(await links.remove(rig, id, who.via, now())))
          throw problemError('request.not-found', 'There is no such link', { where: id });
        return { status: 204 };
      },
    }),
  ];
}

/** By an invitation one joins a rig: with an account of before, or with one made now. */
function joinRoute({ store, mode, cookie, clock }: SessionRouteOptions): Route {
  const { join, links, sessions } = store.accounts;
  return route({
    method: 'POST',
    path: '/api/join',
    id: 'join',
    tag: 'People',
    summary: 'Use an invitation: signed in, or with a name and a password for a new account',
    access: 'open',
    body: z.strictObject({
      token: z.string().min(1).max(200),
      account: z
        .strictObject({
          name: z.string().min(1).max(60),
          shown: z.string().min(1).max(60),
          password: z.string().min(1).max(1000),
        })
        .optional(),
    }),
    answers: { 201: { text: 'You are on the rig', schema: z.object({ rig: rigName, role, account: z.string() }) } },
    async handle({ who, body, reply }) {
      if (mode.kind === 'local') throw problemError('access.no-account', 'There are no accounts here');
      const now = new Date(clock()).toISOString();
      // Nothing is said about names and passwords to who has no invitation.
      if (!(await links.find(body.token, 'invite', now)))
        throw problemError('access.invitation', 'The invitation is used up or has ended', {
          next: 'Ask for a new one.',
        });
      const joining = who.signedIn?.person ?? body.account;
      if (!joining) throw problemError('access.sign-in', 'Sign in, or give a name and a password for a new account');
      const { rig, role, person } = unwrap(await join(body.token, joining, now));
      if (!who.signedIn) cookie.give(reply, await sessions.open(person.account, 'a device', now));
      return { status: 201, json: { rig, role, account: person.account } };
    },
  });
}
