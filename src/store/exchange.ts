import { createReadStream } from 'node:fs';
import { createInterface } from 'node:readline';
import { type Entry, readEntry, writeEntry } from '../logbook/index.ts';
import { fail, ok, type Problem, type Result, unwrap } from '../problem/index.ts';
import { PAGE_MAX } from './page.ts';
import type { Cursor, Store } from './store.ts';

/** Entries held at once. */
const CHUNK = 1000;
/** Problems told; a file in ruins needs no more. */
const PROBLEMS_MAX = 100;

export interface ImportProgress {
  readonly step: 'reading' | 'writing';
  readonly lines: number;
}

export interface ImportOptions {
  readonly via: string;
  /** Told after every thousand lines. */
  readonly onProgress?: (progress: ImportProgress) => void;
  /** Sees every entry before anything is written, and may then say why nothing shall be. */
  readonly judge?: {
    take(entries: readonly Entry[]): void;
    verdict(): Promise<readonly Problem[]>;
  };
}

export interface Imported {
  readonly added: number;
  readonly known: number;
  readonly rigs: readonly string[];
}

/**
 * Takes in a file of JSON lines of any length, holding a thousand entries at once. The whole file is read and judged before
 * anything is written; a problem anywhere and nothing is. Stopped on the way (a power cut), it may simply be started again.
 *
 * Problems: `logbook.json-torn`, those of `readEntry`, `store.id-conflict`, `store.missing`; at most a hundred.
 */
export async function importLines(store: Store, file: string, options: ImportOptions): Promise<Result<Imported>> {
  const problems: Problem[] = [];
  const rigs = new Set<string>();
  const opened = await eachChunk(file, problems, async (entries, lines) => {
    for (const { rig } of entries) rigs.add(rig);
    options.judge?.take(entries);
    const judged = await store.append(entries, { via: options.via, dryRun: true });
    if (!judged.ok) problems.push(...judged.problems);
    options.onProgress?.({ step: 'reading', lines });
    return problems.length < PROBLEMS_MAX;
  });
  if (!opened.ok) return opened;
  if (problems.length) return fail(...(problems.slice(0, PROBLEMS_MAX) as [Problem, ...Problem[]]));
  const refused = await options.judge?.verdict();
  if (refused?.length) return fail(...(refused as [Problem, ...Problem[]]));
  let added = 0;
  let known = 0;
  await eachChunk(file, problems, async (entries, lines) => {
    const appended = unwrap(await store.append(entries, { via: options.via }));
    added += appended.added;
    known += appended.known;
    options.onProgress?.({ step: 'writing', lines });
    return true;
  });
  return ok({ added, known, rigs: [...rigs].sort() });
}

/** Runs `take` over the entries of a file, a chunk at a time, until it says no. What is no entry is added to `problems`. */
async function eachChunk(
  file: string,
  problems: Problem[],
  take: (entries: Entry[], lines: number) => Promise<boolean>,
): Promise<Result<true>> {
  let entries: Entry[] = [];
  let number = 0;
  const input = createReadStream(file, 'utf8');
  try {
    for await (const line of createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY })) {
      number++;
      if (line.trim() === '') continue;
      const read = readLine(line, `line ${number}`);
      if (read.ok) entries.push(read.value);
      else problems.push(...read.problems);
      if (entries.length < CHUNK && problems.length < PROBLEMS_MAX) continue;
      if (!(await take(entries, number))) return ok(true);
      entries = [];
    }
    if (entries.length) await take(entries, number);
    return ok(true);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== 'ENOENT' && code !== 'EISDIR' && code !== 'EACCES') throw error;
    return fail({
      code: 'store.missing',
      what: 'This file cannot be read',
      where: file,
      expected: 'a file of JSON lines',
    });
  } finally {
    input.destroy();
  }
}

function readLine(line: string, where: string): Result<Entry> {
  let raw: unknown;
  try {
    raw = JSON.parse(line);
  } catch {
    const what = 'The line is not complete JSON; the file may be cut short';
    return fail({ code: 'logbook.json-torn', what, where, expected: 'one entry a line, as written by export' });
  }
  return readEntry(raw, where);
}

/** A rig's logbook as JSON lines in the order in which it became known, a page at a time. */
export async function* exportLines(store: Store, rig: string): AsyncGenerator<string> {
  let cursor: Cursor | undefined;
  for (let more = true; more; ) {
    const page = unwrap(await store.readSince(rig, cursor, PAGE_MAX));
    for (const { entry } of page.entries) yield `${writeEntry(entry)}\n`;
    ({ cursor, more } = page);
  }
}
