import { z } from 'zod';
import { type AccountEvent, eventWords } from '../../store/index.ts';
import { problemError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';
import { rigName, rigParams } from '../schemas.ts';
import { accountOf, checksPassword, type SessionRouteOptions } from './sessions.ts';

const event = z
  .object({
    id: z.string(),
    at: z.string(),
    what: z.string().meta({ description: 'Stable; to switch on.' }),
    text: z.string().meta({ description: 'In plain words.' }),
  })
  .meta({ id: 'AccountEvent' });
const role = z.enum(['reader', 'helper', 'owner']);

const LINES = 500;

const told = (one: AccountEvent) => ({ id: one.id, at: one.at, what: one.what, text: eventWords(one) });

/** The log of who was let in and shut out; one's own account, to take home and to delete. */
export function accountRoutes(options: SessionRouteOptions): Route[] {
  const { store, cookie, clock } = options;
  const { people, log } = store.accounts;
  const now = (): string => new Date(clock()).toISOString();
  const byPassword = checksPassword(options);
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/account-log',
      id: 'readAccountLog',
      tag: 'People',
      summary: `Who was let in and shut out, by whom and when: the newest ${LINES} lines of a log that only grows`,
      access: 'owner',
      params: rigParams,
      answers: { 200: { text: 'Newest first', schema: z.object({ log: z.array(event) }) } },
      async handle({ params }) {
        return { json: { log: (await log.of(params.rig, LINES)).map(told) } };
      },
    }),
    route({
      method: 'GET',
      path: '/api/account',
      id: 'exportAccount',
      tag: 'People',
      summary:
        'Everything kept about your account: roles, devices, links, and what the log says. What you wrote is in the logbooks: take their archives',
      access: 'signed-in',
      answers: {
        200: {
          text: 'Your account; no secret is in it',
          schema: z.object({
            person: z.object({ account: z.string(), name: z.string(), shown: z.string() }),
            made: z.string(),
            roles: z.array(z.object({ rig: rigName, role, made: z.string() })),
            devices: z.array(z.object({ device: z.string(), made: z.string(), seen: z.string() })),
            links: z.array(z.looseObject({ rig: rigName, id: z.string(), kind: z.string(), label: z.string() })),
            log: z.array(event.extend({ rig: z.string() })),
          }),
        },
      },
      async handle({ who }) {
        const { log: events, ...rest } = await people.exportOf(accountOf(who).person, now());
        return { json: { ...rest, log: events.map((one) => ({ rig: one.rig, ...told(one) })) } };
      },
    }),
    route({
      method: 'DELETE',
      path: '/api/account',
      id: 'deleteAccount',
      tag: 'People',
      summary:
        'Delete your account, with your password: every device is signed out, you are off every rig, and your links end. What you wrote stays in the logbooks, and copies made before still hold the account',
      access: 'signed-in',
      body: z.strictObject({ password: z.string().min(1).max(1000) }),
      answers: { 204: { text: 'Deleted' } },
      async handle({ who, body, request, reply }) {
        const { person } = accountOf(who);
        await byPassword(person.name, body.password, request.ip);
        if (!(await people.remove(person, person.account, now()))) {
          const rigs = await people.soleOwnerOf(person.account);
          throw problemError('access.last-owner', `You are the only owner of ${rigs.join(', ') || 'a rig'}`, {
            next: 'Make somebody else an owner first.',
          });
        }
        cookie.take(reply);
        return { status: 204 };
      },
    }),
  ];
}
