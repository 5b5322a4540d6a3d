import { z } from 'zod';
import { disagreements, odometerTrack, partsOf, type RigState, tripsOf, vehicleOf } from '../../logbook/index.ts';
import { digestOf, type Store } from '../../store/index.ts';
import { type Route, route } from '../route.ts';
import { cursor, rigName, rigParams } from '../schemas.ts';
import type { States } from '../states.ts';

const role = z.enum(['reader', 'helper', 'owner']);

/** Which rigs there are, and how one of them stands. */
export function rigRoutes(store: Store, states: States, today: () => string): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs',
      id: 'listRigs',
      tag: 'Rigs',
      summary: 'The rigs you may see',
      access: 'signed-in',
      answers: {
        200: {
          text: 'Rigs by name',
          schema: z.object({
            today: z.string().meta({ description: 'The day it is here; a demo stands still on its last day.' }),
            you: z
              .object({ name: z.string(), signedIn: z.boolean() })
              .meta({ description: 'Under which name you write; of an account it is the account’s.' }),
            rigs: z.array(z.object({ rig: rigName, entries: z.number().int(), cursor, role })),
          }),
        },
      },
      async handle({ who }) {
        const mine = await who.rigs();
        const all = await store.rigs();
        const rigs = all.flatMap((summary) => {
          const role = mine === undefined ? 'owner' : mine.get(summary.rig);
          return role ? [{ ...summary, role }] : [];
        });
        const you = { name: who.name, signedIn: who.kind === 'account' };
        return { json: { today: today(), you, rigs } };
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}',
      id: 'readRig',
      tag: 'Rigs',
      summary: 'A rig as it stands: vehicles, parts, trips, odometers, and where two people wrote down different work',
      access: 'reader',
      params: rigParams,
      answers: { 200: { text: 'The rig', schema: rigSchema } },
      async handle({ params }) {
        const { state, cursor: at } = await states.of(params.rig);
        return {
          json: { rig: params.rig, cursor: at ?? null, digest: digestOf(state.entries.values()), ...summaryOf(state) },
        };
      },
    }),
  ];
}

const entryId = z.string();
const rigSchema = z
  .object({
    rig: rigName,
    cursor: cursor.nullable(),
    digest: z.string().meta({ description: 'The same for the same set of entries, in whatever order they came.' }),
    entries: z.number().int(),
    struck: z.array(entryId),
    vehicles: z.array(
      z.object({
        role: z.enum(['trailer', 'tow']),
        name: z.string(),
        miles: z.number().nullable(),
        readOn: z.string().nullable(),
      }),
    ),
    parts: z.array(
      z.object({ part: z.string(), kind: z.string(), place: z.string(), fittedOn: z.string(), entry: entryId }),
    ),
    trips: z.array(
      z.object({
        trip: z.string(),
        name: z.string(),
        leave: z.string(),
        return: z.string(),
        done: z.boolean(),
        entry: entryId,
      }),
    ),
    disagreements: z.array(z.object({ part: z.string(), upkeep: z.string(), entries: z.array(entryId) })),
  })
  .meta({ id: 'Rig' });

type Summary = Omit<z.infer<typeof rigSchema>, 'rig' | 'cursor' | 'digest'>;

function summaryOf(state: RigState): Summary {
  const vehicles = (['trailer', 'tow'] as const).flatMap((role) => {
    const vehicle = vehicleOf(state, role);
    const last = odometerTrack(state, role).points.at(-1);
    return vehicle
      ? [{ role, name: vehicle.body.name, miles: last?.shownMiles ?? null, readOn: last?.entry.on ?? null }]
      : [];
  });
  return {
    entries: state.entries.size,
    struck: [...state.struck.keys()].sort(),
    vehicles,
    parts: partsOf(state).map(({ id, kind, place, fit }) => ({
      part: id,
      kind,
      place,
      fittedOn: fit.on,
      entry: fit.id,
    })),
    trips: tripsOf(state).map(({ id, plan, done }) => ({
      trip: id,
      name: plan.body.name,
      leave: plan.body.leave,
      return: plan.body.return,
      done: done !== undefined,
      entry: plan.id,
    })),
    disagreements: disagreements(state).map(({ part, upkeep, entries }) => ({
      part,
      upkeep,
      entries: entries.map(({ id }) => id),
    })),
  };
}
