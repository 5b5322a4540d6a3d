import { z } from 'zod';
import type { Catalog } from '../../catalog/index.ts';
import { addEntry, admit, type Entry, readEntry, sortRecords } from '../../logbook/index.ts';
import { type Problem, unwrap } from '../../problem/index.ts';
import { statementProblems } from '../../proof/index.ts';
import type { RawRecord, Store } from '../../store/index.ts';
import { problemError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';
import { cursor, entry, problem, rigName, rigParams, stored, storedRecord } from '../schemas.ts';
import type { States } from '../states.ts';

/** Most entries of one batch, in either direction. */
export const BATCH_MAX = 2000;
/** Largest batch in bytes. */
const BATCH_BYTES = 8 * 1024 * 1024;

interface Report {
  readonly index: number;
  readonly id?: string;
  readonly kept: boolean;
  readonly problems: readonly Problem[];
}

/** Entries in and out, as devices exchange them. */
export function entryRoutes(store: Store, states: States, catalog: Catalog, today: () => string): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/entries',
      id: 'readEntries',
      tag: 'Logbook',
      summary: 'Entries after a cursor, in the order in which the server learned of them',
      access: 'reader',
      params: rigParams,
      query: z.strictObject({
        after: cursor.optional(),
        limit: z.coerce.number().int().min(1).max(BATCH_MAX).default(500),
      }),
      answers: {
        200: {
          text: 'A page of entries',
          schema: z.object({
            entries: z.array(z.union([stored, storedRecord])).meta({
              description:
                'In sequence. One that needs a newer version of the program than this server’s is handed on as it came: keep it, and read it after an update.',
            }),
            cursor,
            more: z.boolean().meta({ description: 'There is more after this cursor now.' }),
            restarted: z.boolean().meta({
              description:
                'The server’s data was put back to an earlier copy: this page begins at the beginning; send again what only you have.',
            }),
          }),
        },
      },
      async handle({ params, query }) {
        const { entries, unread, ...rest } = unwrap(await store.readSince(params.rig, query.after, query.limit));
        const raws = unread.map(({ seq, via, raw }) => ({ seq, entry: raw, via }));
        return { json: { entries: [...entries, ...raws].sort((a, b) => a.seq - b.seq), ...rest } };
      },
    }),
    route({
      method: 'GET',
      path: '/api/rigs/{rig}/entries/{id}',
      id: 'readEntry',
      tag: 'Logbook',
      summary: 'One entry',
      access: 'reader',
      params: z.strictObject({ rig: rigName, id: z.string().max(26) }),
      answers: { 200: { text: 'The entry', schema: stored } },
      async handle({ params }) {
        const found = await store.readOne(params.rig, params.id);
        if (!found) throw problemError('request.not-found', 'There is no such entry', { where: params.id });
        return { json: found };
      },
    }),
    route({
      method: 'POST',
      path: '/api/rigs/{rig}/entries',
      id: 'sendEntries',
      tag: 'Logbook',
      summary:
        'Hand in entries written elsewhere. Sending twice is harmless; what is odd about an entry is reported, and the entry kept',
      access: 'helper',
      params: rigParams,
      // Each entry is judged by itself, so that one from a newer program does not hold up the others.
      body: z.strictObject({
        entries: z.array(z.unknown().meta({ $ref: '#/components/schemas/Entry' })).max(BATCH_MAX),
      }),
      judgesParts: true,
      bodyMax: BATCH_BYTES,
      answers: {
        200: {
          text: 'What became of each',
          schema: z.object({
            added: z.number().int(),
            known: z.number().int(),
            cursor,
            reports: z.array(
              z.object({
                index: z.number().int(),
                id: z.string().optional(),
                kept: z.boolean(),
                problems: z.array(problem),
              }),
            ),
          }),
        },
      },
      async handle({ params, body, who }) {
        const { good, raws, reports } = readAll(body.entries, params.rig);
        const { state } = await states.of(params.rig);
        const { appended, taken } = await appendUnion(store, [...good.map(({ entry }) => entry), ...raws], who.via);
        const kept = taken.size ? good.filter(({ entry }) => !taken.has(entry.id)) : good;
        for (const { id, index } of [...good.map(({ entry, index }) => ({ id: entry.id, index })), ...raws]) {
          const problems = taken.get(id);
          if (problems) reports.push({ index, id, kept: false, problems });
        }
        // Judged in the order of the days they speak of: a batch may hold the fitting of a part after its reading.
        let seen = state;
        const fresh = kept.filter(({ entry }) => !state.entries.has(entry.id)).sort(byDay);
        for (const [at, { entry, index }] of fresh.entries()) {
          if (seen.entries.has(entry.id)) continue;
          const problems = admit(seen, entry, { catalog, today: today() });
          if (problems.length) reports.push({ index, id: entry.id, kept: true, problems });
          // Nothing comes after the last: one entry alone is folded once, below.
          if (at < fresh.length - 1) seen = addEntry(seen, entry);
        }
        const entries = kept.map(({ entry }) => entry);
        // What cannot be read is counted when it is read back.
        if (raws.length === 0) states.appended(params.rig, entries, appended);
        reports.sort((a, b) => a.index - b.index);
        const { added, known, heads } = appended;
        const at = heads.get(params.rig)?.after ?? (await store.heads([params.rig])).get(params.rig)!;
        return { json: { added, known, cursor: at, reports } };
      },
    }),
  ];
}

interface Numbered {
  readonly entry: Entry;
  readonly index: number;
}

const byDay = (a: Numbered, b: Numbered): number =>
  a.entry.on < b.entry.on ? -1 : a.entry.on > b.entry.on ? 1 : a.entry.id < b.entry.id ? -1 : 1;

interface NumberedRaw extends RawRecord {
  readonly index: number;
}

/** What can be read, and what a newer version wrote: it is kept for those who can read it. */
function readAll(
  records: readonly unknown[],
  rig: string,
): { good: Numbered[]; raws: NumberedRaw[]; reports: Report[] } {
  const good: Numbered[] = [];
  const raws: NumberedRaw[] = [];
  const reports: Report[] = [];
  records.forEach((raw, index) => {
    const read = readEntry(raw, `entry ${index}`);
    const { id, rig: own } = (raw ?? {}) as { id?: unknown; rig?: unknown };
    const named = typeof id === 'string' ? { id: id.slice(0, 40) } : {};
    if (!read.ok) {
      const newer = sortRecords([raw]).newer[0];
      const kept = newer !== undefined && own === rig;
      if (kept) raws.push({ rig, id: newer.id!, raw, index });
      reports.push({ index, ...named, kept, problems: read.problems });
    } else if (read.value.rig !== rig) {
      const other = { code: 'request.rig', what: 'The entry is of another rig', where: read.value.rig, expected: rig };
      reports.push({ index, ...named, kept: false, problems: [other] });
    } else {
      const forged = statementProblems(read.value);
      if (forged.length === 0) good.push({ entry: read.value, index });
      else reports.push({ index, ...named, kept: false, problems: forged });
    }
  });
  return { good, raws, reports };
}

/** All but those whose id is taken by another content; which those are, too. */
async function appendUnion(store: Store, records: readonly (Entry | RawRecord)[], via: string) {
  const taken = new Map<string, Problem[]>();
  for (;;) {
    const entries = records.filter(({ id }) => !taken.has(id));
    const appended = await store.append(entries, { via });
    if (appended.ok) return { appended: appended.value, taken };
    const before = taken.size;
    for (const problem of appended.problems) taken.set(problem.where!, [problem]);
    if (taken.size === before) throw new Error('the store refused entries without naming them');
  }
}

export { entry as entryComponent };
