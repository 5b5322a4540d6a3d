import { ulid } from 'ulid';
import { z } from 'zod';
import type { Catalog } from '../../catalog/index.ts';
import { addEntry, admit, ENTRY_KINDS, ENTRY_VERSION, type Entry, readEntry, writeEntry } from '../../logbook/index.ts';
import { type Problem, ProblemError, unwrap } from '../../problem/index.ts';
import type { Store } from '../../store/index.ts';
import { type Route, route } from '../route.ts';
import { cursor, entry, rigParams } from '../schemas.ts';
import type { States } from '../states.ts';
import type { Who } from '../who.ts';

/** Most drafts written in one go. */
const DRAFTS_MAX = 200;

const draft = z.strictObject({
  id: z
    .string()
    .max(26)
    .optional()
    .meta({ description: 'A ULID of the caller’s own, so that trying again writes once.' }),
  kind: z.enum(ENTRY_KINDS as [string, ...string[]]),
  on: z.string().max(10),
  body: z.record(z.string(), z.unknown()),
  blobs: z.array(z.string().max(64)).max(20).optional(),
});
type Draft = z.infer<typeof draft>;

/** Writing something down here and now: the server gives id, instant and writer, and refuses what cannot be. */
export function writingRoutes(
  store: Store,
  states: States,
  catalog: Catalog,
  clock: () => number,
  today: () => string,
): Route[] {
  return [
    route({
      method: 'POST',
      path: '/api/rigs/{rig}/write',
      id: 'write',
      tag: 'Logbook',
      summary: 'Write entries down: all of them, or none and every reason',
      access: 'helper',
      params: rigParams,
      query: z.strictObject({ dry: z.enum(['true', 'false']).default('false') }),
      body: z.strictObject({ drafts: z.array(draft).min(1).max(DRAFTS_MAX) }),
      bodyMax: 1024 * 1024,
      answers: {
        200: {
          text: 'What would be written (`dry=true`), or was already',
          schema: z.object({ entries: z.array(entry), cursor: cursor.nullable() }),
        },
        201: { text: 'What was written', schema: z.object({ entries: z.array(entry), cursor: cursor.nullable() }) },
      },
      async handle({ params, query, body, who }) {
        const at = new Date(clock()).toISOString();
        const { state, cursor: before } = await states.of(params.rig);
        const problems: Problem[] = [];
        const entries: Entry[] = [];
        let next = state;
        for (const [index, one] of body.drafts.entries()) {
          const read = readEntry(enveloped(one, params.rig, at, who, clock()), `draft ${index}`);
          if (!read.ok) {
            problems.push(...read.problems);
            continue;
          }
          const written = asWritten(next.entries.get(read.value.id), read.value);
          entries.push(written);
          problems.push(
            ...(next.entries.get(written.id) === written ? [] : admit(next, written, { catalog, today: today() })),
          );
          next = addEntry(next, written);
        }
        if (problems.length) throw new ProblemError(problems);
        if (query.dry === 'true') return { json: { entries, cursor: before ?? null } };
        const appended = unwrap(await store.append(entries, { via: who.via }));
        const after = appended.heads.get(params.rig)?.after ?? null;
        return { status: appended.added ? 201 : 200, json: { entries, cursor: after } };
      },
    }),
  ];
}

function enveloped({ id, kind, on, body, blobs }: Draft, rig: string, at: string, who: Who, now: number) {
  return {
    id: id ?? ulid(now),
    rig,
    kind,
    on,
    at,
    by: who.name,
    v: ENTRY_VERSION,
    body,
    ...(blobs?.length ? { blobs } : {}),
  };
}

/** The entry written at an earlier try, where there was one: it differs in nothing but the instant. */
function asWritten(earlier: Entry | undefined, entry: Entry): Entry {
  return earlier && writeEntry({ ...earlier, at: entry.at }) === writeEntry(entry) ? earlier : entry;
}
