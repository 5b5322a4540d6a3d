import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { z } from 'zod';
import { describeCopies, makeArchive, type Store } from '../../store/index.ts';
import { type Route, route } from '../route.ts';
import { rigParams } from '../schemas.ts';

const copy = z
  .object({
    name: z.string(),
    madeAt: z.string(),
    bytes: z.number().int().meta({ description: 'Of the whole file; photos are beside it and not counted.' }),
    entries: z.number().int().nullable().meta({ description: 'Of this rig; null where it is not known.' }),
    state: z.enum(['verified', 'changed', 'unknown']).meta({
      description:
        '`verified`: read back whole when it was made, and still the same file. `changed`: no longer the same: do not trust it. `unknown`: nothing beside it says what it was.',
    }),
  })
  .meta({ id: 'Copy' });

/** What an owner can take home, and the copies that the server makes by itself. */
export function copyRoutes(store: Store, clock: () => number, folder: string | undefined): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/copies',
      id: 'listCopies',
      tag: 'Copies',
      summary: 'Copies that the server made by itself, and whether they are whole',
      access: 'owner',
      params: rigParams,
      answers: {
        200: {
          text: 'Newest first',
          schema: z.object({
            made: z.boolean().meta({ description: 'False where this server makes none by itself.' }),
            copies: z.array(copy),
          }),
        },
      },
      async handle({ params }) {
        const copies = folder === undefined ? [] : await describeCopies(folder, clock());
        const shown = copies.map(({ name, madeAt, bytes, state, rigs }) => ({
          name,
          madeAt: new Date(madeAt).toISOString(),
          bytes,
          // A copy holds all rigs of the server; of the others nothing is told.
          entries: rigs.find((one) => one.rig === params.rig)?.entries ?? (state === 'unknown' ? null : 0),
          state,
        }));
        return { json: { made: folder !== undefined, copies: shown } };
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/archive',
      id: 'readArchive',
      tag: 'Copies',
      summary:
        'This rig’s logbook and photos as one ZIP file, made now and read back whole; `rigworthy import FILE.zip` takes it in. `places=left-out`: photos without where they were taken, for others',
      access: 'owner',
      params: rigParams,
      streams: true,
      query: z.strictObject({ places: z.enum(['kept', 'left-out']).default('kept') }),
      answers: { 200: { text: 'The archive', type: 'application/zip' } },
      async handle({ params: { rig }, query, request }) {
        // Nothing is sent while it is made; a quiet connection is let go otherwise.
        request.raw.socket.setTimeout?.(MAKING_MS);
        const now = clock();
        const withPlaces = query.places === 'kept';
        const made = await oneAtATime(() => makeArchive(store, { rig, withPlaces, now }));
        const content = createReadStream(made.file).once('close', () => void made.remove());
        const { size } = await stat(made.file);
        const name = `${rig}-${new Date(now).toISOString().slice(0, 10)}${withPlaces ? '' : '-no-places'}.zip`;
        return {
          stream: { content, type: 'application/zip', bytes: size },
          headers: { 'content-disposition': `attachment; filename="${name}"`, 'cache-control': 'no-store' },
        };
      },
    }),
  ];
}

/** A rig of many years with thousands of photos takes some minutes. */
const MAKING_MS = 15 * 60_000;

let last: Promise<unknown> = Promise.resolve();
/** However many ask: each archive takes the disk, and room in the temporary folder. */
function oneAtATime<T>(act: () => Promise<T>): Promise<T> {
  const made = last.then(act);
  last = made.catch(() => undefined);
  return made;
}
