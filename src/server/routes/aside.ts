import { ulid } from 'ulid';
import { z } from 'zod';
import type { Catalog } from '../../catalog/index.ts';
import { ENTRY_VERSION, type Entry, entryWords, quarantineKey } from '../../logbook/index.ts';
import { unwrap } from '../../problem/index.ts';
import type { Store } from '../../store/index.ts';
import { problemError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';
import { problem, rigName, rigParams } from '../schemas.ts';
import type { States } from '../states.ts';

const decision = z.enum(['release', 'reject']);
const set = z
  .object({
    id: z.string(),
    on: z.string(),
    by: z.string(),
    words: z.string(),
    problems: z.array(problem),
    releasable: z.boolean().meta({ description: 'An owner may let it count all the same.' }),
    decision: decision.nullable(),
  })
  .meta({ id: 'SetAside', description: 'An entry that cannot be true: kept, shown, and counting for nothing.' });

interface AsideRouteOptions {
  readonly store: Store;
  readonly states: States;
  readonly catalog: Catalog;
  readonly clock: () => number;
  readonly today: () => string;
}

/** What was set aside, and what an owner decides about it. */
export function asideRoutes({ store, states, catalog, clock, today }: AsideRouteOptions): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/set-aside',
      id: 'listSetAside',
      tag: 'Logbook',
      summary: 'Entries that cannot be true and count for nothing, and how many records this server cannot read',
      access: 'reader',
      params: rigParams,
      answers: {
        200: {
          text: 'By id',
          schema: z.object({
            aside: z.array(set),
            newer: z.number().int().meta({ description: 'Records that need a newer version of the program.' }),
            unreadable: z.number().int(),
          }),
        },
      },
      async handle({ params }) {
        const { state } = await states.of(params.rig);
        const aside = [...state.aside.values()].map(({ entry, problems, releasable, decision: decided }) => ({
          id: entry.id,
          on: entry.on,
          by: entry.by,
          words: entryWords(entry, { state, catalog }),
          problems,
          releasable,
          decision: decided ?? null,
        }));
        return { json: { aside, newer: state.unread.newer, unreadable: state.unread.broken } };
      },
    }),
    route({
      method: 'PUT',
      path: '/api/rigs/{rig}/set-aside/{id}',
      id: 'decideSetAside',
      tag: 'Logbook',
      summary: 'Let an entry that was set aside count, or reject it; written down as an entry of its own',
      access: 'owner',
      params: z.strictObject({ rig: rigName, id: z.string().max(26) }),
      body: z.strictObject({ decision: decision.nullable() }),
      answers: { 204: { text: 'Decided' } },
      async handle({ params: { rig, id }, body, who }) {
        const { state } = await states.of(rig);
        const found = state.aside.get(id);
        if (!found) throw problemError('request.not-found', 'No entry of this id is set aside', { where: id });
        if (body.decision === 'release' && !found.releasable)
          throw problemError('logbook.not-releasable', 'This entry cannot count', {
            where: id,
            expected: 'reject',
          });
        const now = clock();
        const entry: Entry = {
          id: ulid(now),
          rig,
          kind: 'set',
          on: today(),
          at: new Date(now).toISOString(),
          by: who.name,
          v: ENTRY_VERSION,
          body: { key: quarantineKey(id), value: body.decision },
        };
        unwrap(await store.append([entry], { via: who.via }));
        return { status: 204 };
      },
    }),
  ];
}
