import { type Entry, readEntry } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import type { Books } from './books.ts';
import { type Line, problemsOfLine, type Role, type Standing, standingBy, waitOf } from './line.ts';

/** Entries of one batch, either way; the server's own limit is 2,000. */
const BATCH = 1000;

export interface Refusal {
  readonly id: string;
  readonly problems: readonly Problem[];
}

export interface Exchanged {
  readonly standing: Standing;
  readonly news: readonly Entry[];
  readonly refused: readonly Refusal[];
  /** What the server could not do, where it is `troubled`. */
  readonly problems: readonly Problem[];
  /** Seconds for which it asked to be left alone. */
  readonly waitS: number;
}

interface Page {
  readonly entries: readonly { readonly entry: unknown }[];
  readonly cursor: string;
  readonly more: boolean;
  readonly restarted: boolean;
}

/** What the server says of whoever asks from here. */
export interface AskedRigs {
  readonly standing: Standing;
  /** Seconds for which it asked to be left alone. */
  readonly waitS: number;
  readonly rigs: readonly { readonly rig: string; readonly role: Role }[];
  /** The day it is there. */
  readonly today?: string;
  /** Under which name we write. */
  readonly you?: { readonly name: string; readonly signedIn: boolean };
}

/** The rigs the server shows us and what we are on each, and the day it is there. */
export async function askRigs(line: Line): Promise<AskedRigs> {
  try {
    return { standing: 'in-step', waitS: 0, ...(await line.json<Omit<AskedRigs, 'standing' | 'waitS'>>('/api/rigs')) };
  } catch (error) {
    return { standing: standingBy(error), waitS: waitOf(error), rigs: [] };
  }
}

/** Whoever holds the replica. */
interface Replica {
  readonly books: Books;
  readonly line: Line;
  entry(id: string): Entry | undefined;
}

/**
 * Sends what waits and fetches what is new; `coming` is told how much of it has come. Sending twice is harmless (ids), so nothing is done about an answer that was lost:
 * it stays in the outbox until the server says that it has it. A reader sends nothing: what waits is kept.
 */
export async function exchange(
  replica: Replica,
  { rig, sends }: { readonly rig: string; readonly sends: boolean },
  coming: (entries: number) => void,
): Promise<Exchanged> {
  const { books, line } = replica;
  const refused: Refusal[] = [];
  try {
    if (sends) {
      await sendPhotos(books, line, rig);
      await send(replica, rig, refused);
    }
    const news = await fetchNews(replica, rig, coming);
    return { standing: 'in-step', waitS: 0, news, refused, problems: [] };
  } catch (error) {
    const problems = problemsOfLine(error);
    return { standing: standingBy(error), waitS: waitOf(error), news: [], refused, problems };
  }
}

async function send(replica: Replica, rig: string, refused: Refusal[]): Promise<void> {
  const ids = await replica.books.waiting(rig);
  for (let at = 0; at < ids.length; at += BATCH) {
    const entries = ids.slice(at, at + BATCH).flatMap((id) => replica.entry(id) ?? []);
    await sendBatch(replica, rig, entries, refused);
  }
}

/** One that the server cannot even read holds up none of the others: a batch refused as a whole is divided. */
async function sendBatch(replica: Replica, rig: string, entries: readonly Entry[], refused: Refusal[]): Promise<void> {
  const { books, line } = replica;
  let answer: { readonly reports: readonly { index: number; kept: boolean; problems: Problem[] }[] };
  try {
    const body = JSON.stringify({ entries });
    const headers = { 'content-type': 'application/json' };
    answer = await line.json(`/api/rigs/${rig}/entries`, { method: 'POST', headers, body });
  } catch (error) {
    const problems = problemsOfLine(error);
    if (!isAboutContent(problems)) throw error;
    if (entries.length === 1) {
      refused.push({ id: entries[0]!.id, problems });
      return;
    }
    const half = Math.ceil(entries.length / 2);
    await sendBatch(replica, rig, entries.slice(0, half), refused);
    await sendBatch(replica, rig, entries.slice(half), refused);
    return;
  }
  const back = new Map(answer.reports.filter((one) => !one.kept).map((one) => [entries[one.index]!.id, one.problems]));
  for (const [id, problems] of back) refused.push({ id, problems });
  await books.taken(entries.filter((entry) => !back.has(entry.id)).map((entry) => entry.id));
}

/** The server says that what was sent is wrong, and not that it is busy or that we may not. */
const isAboutContent = ([problem]: readonly Problem[]): boolean =>
  problem !== undefined && ['request.invalid', 'request.too-deep', 'request.body-size'].includes(problem.code);

async function fetchNews(
  { books, line, entry: known }: Replica,
  rig: string,
  coming: (entries: number) => void,
): Promise<Entry[]> {
  const pageAfter = (cursor: string | undefined): Promise<Page> => {
    const after = cursor === undefined ? '' : `&after=${encodeURIComponent(cursor)}`;
    return line.json<Page>(`/api/rigs/${rig}/entries?limit=${BATCH}${after}`);
  };
  const news: Entry[] = [];
  let next: Promise<Page> | undefined = pageAfter((await books.note(rig))?.cursor);
  while (next !== undefined) {
    const page: Page = await next;
    // The next page is on its way while this one is read and kept.
    next = page.more ? pageAfter(page.cursor) : undefined;
    next?.catch(() => undefined);
    if (page.restarted)
      await books.waitAgain(
        rig,
        (await books.entriesOf(rig)).map(({ id }) => id),
      );
    const fresh: Entry[] = [];
    const unread: unknown[] = [];
    for (const { entry } of page.entries) {
      const read = readEntry(entry, 'server');
      if (!read.ok) unread.push(entry);
      else if (known(read.value.id) === undefined) fresh.push(read.value);
    }
    const note = (await books.note(rig)) ?? { rig };
    // With the cursor in one transaction: nothing is passed over.
    await books.keep(rig, fresh, { toSend: false, unread, note: { ...note, cursor: page.cursor } });
    news.push(...fresh);
    coming(news.length);
  }
  return news;
}

async function sendPhotos(books: Books, line: Line, rig: string): Promise<void> {
  for (const blob of await books.blobsToSend(rig)) {
    await line.json(`/api/rigs/${rig}/blobs`, {
      method: 'POST',
      headers: { 'content-type': blob.type },
      body: blob.bytes,
    });
    await books.putBlob({ ...blob, sent: true });
  }
}
