import { type Entry, readEntry } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import type { Books } from './books.ts';

/** Entries of one batch, either way; the server's own limit is 2,000. */
const BATCH = 1000;

export interface Refusal {
  readonly id: string;
  readonly problems: readonly Problem[];
}

export interface Exchanged {
  /** The server answered. */
  readonly reached: boolean;
  readonly news: readonly Entry[];
  readonly refused: readonly Refusal[];
}

interface Page {
  readonly entries: readonly { readonly entry: unknown }[];
  readonly cursor: string;
  readonly more: boolean;
  readonly restarted: boolean;
}

async function json<T>(path: string, init?: RequestInit): Promise<T> {
  const answer = await fetch(path, { ...init, cache: 'no-store', signal: AbortSignal.timeout(20_000) });
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return (await answer.json()) as T;
}

/** The rigs the server knows, and the day it is there; null when it cannot be reached. */
export async function askRigs(): Promise<{ rigs: string[]; today?: string } | null> {
  try {
    const { rigs, today } = await json<{ rigs: { rig: string }[]; today?: string }>('/api/rigs');
    return { rigs: rigs.map(({ rig }) => rig), ...(today === undefined ? {} : { today }) };
  } catch {
    return null;
  }
}

/**
 * Sends what waits and fetches what is new. Sending twice is harmless (ids), so nothing is done about an answer that was lost:
 * it stays in the outbox until the server says that it has it.
 */
export async function exchange(books: Books, rig: string, known: (id: string) => boolean): Promise<Exchanged> {
  const refused: Refusal[] = [];
  try {
    await sendPhotos(books, rig);
    await send(books, rig, refused);
    const news = await fetchNews(books, rig, known);
    return { reached: true, news, refused };
  } catch {
    return { reached: false, news: [], refused };
  }
}

async function send(books: Books, rig: string, refused: Refusal[]): Promise<void> {
  const ids = await books.waiting(rig);
  for (let at = 0; at < ids.length; at += BATCH) {
    const entries = await books.entries(ids.slice(at, at + BATCH));
    const { reports } = await json<{ reports: { index: number; kept: boolean; problems: Problem[] }[] }>(
      `/api/rigs/${rig}/entries`,
      { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ entries }) },
    );
    const back = new Map(reports.filter((one) => !one.kept).map((one) => [entries[one.index]!.id, one.problems]));
    for (const [id, problems] of back) refused.push({ id, problems });
    await books.taken(entries.filter((entry) => !back.has(entry.id)).map((entry) => entry.id));
  }
}

async function fetchNews(books: Books, rig: string, known: (id: string) => boolean): Promise<Entry[]> {
  const news: Entry[] = [];
  for (let more = true; more; ) {
    const note = (await books.note(rig)) ?? { rig };
    const after = note.cursor === undefined ? '' : `&after=${encodeURIComponent(note.cursor)}`;
    const page = await json<Page>(`/api/rigs/${rig}/entries?limit=${BATCH}${after}`);
    if (page.restarted)
      await books.waitAgain(
        rig,
        (await books.entriesOf(rig)).map(({ id }) => id),
      );
    const fresh = page.entries.flatMap(({ entry }) => {
      const read = readEntry(entry, 'server');
      return read.ok && !known(read.value.id) ? [read.value] : [];
    });
    await books.keep(rig, fresh, { toSend: false, note: { ...note, cursor: page.cursor } });
    news.push(...fresh);
    more = page.more;
  }
  return news;
}

async function sendPhotos(books: Books, rig: string): Promise<void> {
  for (const blob of await books.blobsToSend(rig)) {
    await json(`/api/rigs/${rig}/blobs`, { method: 'POST', headers: { 'content-type': blob.type }, body: blob.bytes });
    await books.putBlob({ ...blob, sent: true });
  }
}
