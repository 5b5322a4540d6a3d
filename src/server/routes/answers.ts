import { createHash } from 'node:crypto';
import { z } from 'zod';
import { isPlainDate } from '../../dates/index.ts';
import type { Desk } from '../../desk/index.ts';
import { type Result, unwrap } from '../../problem/index.ts';
import type { Desks } from '../desks.ts';
import { matches } from '../guard.ts';
import { type Answer, type Call, type Route, route } from '../route.ts';
import { rigParams } from '../schemas.ts';

const now = z
  .string()
  .refine(isPlainDate, { error: 'expected a date as YYYY-MM-DD' })
  .optional()
  .meta({ description: 'The day the answer is for; today where nothing is said.' });

const quantity = z.object({ value: z.number(), unit: z.string() }).meta({ id: 'Quantity' });
const ids = z.array(z.string());
const spread = (of: z.ZodType) => z.object({ p10: of, p50: of, p90: of });

const outlookItem = z
  .looseObject({
    id: z.string(),
    upkeep: z.string(),
    part: z.string().nullable(),
    title: z.string(),
    place: z.string(),
    severity: z.enum(['safety', 'damage', 'comfort']),
    state: z.enum(['runs', 'due', 'failed', 'unproven']),
    clock: z.string().nullable(),
    left: quantity.nullable(),
    dates: spread(z.string().nullable()),
    odometer: spread(quantity.nullable()),
    chanceByTrip: z.array(z.object({ trip: z.string(), return: z.string(), chance: z.number() })),
    slackTrips: z.number().int(),
    why: z.string(),
    evidence: ids,
    sources: ids,
  })
  .meta({ id: 'OutlookItem' });

const outlook = z
  .looseObject({
    now: z.string(),
    odometer: z.looseObject({}),
    trips: z.array(z.looseObject({ trip: z.string(), name: z.string(), leave: z.string(), return: z.string() })),
    items: z.array(outlookItem),
  })
  .meta({ id: 'Outlook' });

const plan = z
  .looseObject({
    now: z.string(),
    through: z.string(),
    cost: z.number(),
    bound: z.number().meta({ description: 'No plan at all costs less than this; proven.' }),
    days: z.array(
      z.looseObject({
        date: z.string(),
        minutes: z.number(),
        jobs: z.array(
          z.looseObject({
            item: z.string(),
            title: z.string(),
            minutes: z.number(),
            why: z.string(),
            evidence: ids,
            sources: ids,
          }),
        ),
        tools: ids,
        parts: z.array(z.looseObject({ what: z.string(), quantity: z.string() })),
      }),
    ),
    onTheWay: z.array(z.looseObject({ item: z.string(), title: z.string(), trip: z.string(), why: z.string() })),
    later: z.array(z.looseObject({ item: z.string(), title: z.string() })),
    warnings: ids,
  })
  .meta({ id: 'Plan' });

const sendoff = z
  .looseObject({
    trip: z.looseObject({ id: z.string(), name: z.string(), leave: z.string(), return: z.string() }),
    judgement: z.enum(['clear', 'limits', 'hold']),
    sentence: z.string(),
    findings: z.array(
      z.looseObject({
        kind: z.enum(['stop', 'limit', 'unproven', 'pass']),
        text: z.string(),
        evidence: ids,
        sources: ids,
      }),
    ),
  })
  .meta({ id: 'SendOff', description: 'Unknown is never fine: what cannot be shown is `unproven`.' });

/** What follows from the logbook. */
export function answerRoutes(desks: Desks): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/outlook',
      id: 'readOutlook',
      tag: 'Answers',
      summary: 'When each upkeep runs out',
      access: 'reader',
      params: rigParams,
      query: z.strictObject({ now }),
      answers: { 200: { text: 'The outlook', schema: outlook } },
      handle: (call) => answer(desks, call, (desk) => ({ ok: true, value: desk.outlook() })),
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/plan',
      id: 'readPlan',
      tag: 'Answers',
      summary: 'Which upkeep on which yard day',
      access: 'reader',
      params: rigParams,
      query: z.strictObject({
        now,
        appetite: z.enum(['fewest afternoons', 'least money', 'least risk on the road']).optional(),
      }),
      answers: { 200: { text: 'The plan', schema: plan } },
      handle: (call) =>
        answer(desks, call, (desk) => desk.plan(call.query.appetite ? { appetite: call.query.appetite } : undefined)),
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/sendoff',
      id: 'readSendOff',
      tag: 'Answers',
      summary: 'May it leave on this trip? Without a trip: the next one',
      access: 'reader',
      params: rigParams,
      query: z.strictObject({ now, trip: z.string().max(100).optional() }),
      answers: { 200: { text: 'The judgement with its findings', schema: sendoff } },
      handle: (call) => answer(desks, call, (desk) => desk.sendoff(call.query.trip)),
    }),
  ];
}

/** The tag is known before the answer is: whoever has it already is not kept waiting for it. */
async function answer<T>(
  desks: Desks,
  { params, query, request }: Call<{ rig: string }, { now?: string | undefined }, unknown>,
  ask: (desk: Desk) => Result<T>,
): Promise<Answer> {
  const { desk, key } = await desks.of(params.rig, query.now);
  const tag = `"${createHash('sha256').update(`${key} ${request.url}`).digest('base64url').slice(0, 27)}"`;
  const headers = { etag: tag };
  return matches(request.headers['if-none-match'], tag)
    ? { status: 304, headers }
    : { json: unwrap(ask(desk)), headers };
}
