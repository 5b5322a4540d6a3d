import { createHash, type Hash } from 'node:crypto';
import { closeSync, createReadStream, openSync, readSync } from 'node:fs';
import { type Entry, writeEntry } from '../logbook/index.ts';
import { fail, ok, type Problem, ProblemError, type Result, unwrap } from '../problem/index.ts';
import { bounded, isBlank, LineSplitter, type NumberedLine, PROBLEMS_MAX, readEntryLine } from './json-lines.ts';
import { PAGE_MAX } from './page.ts';
import type { Cursor, Photos, Store } from './store.ts';

/** Entries held at once, and the bytes of their lines. */
const CHUNK = 1000;
const CHUNK_BYTES = 4 * 1024 * 1024;
const PIECE_BYTES = 256 * 1024;

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
    /** @param bytes length of their lines */
    take(entries: readonly Entry[], bytes: number): void;
    verdict(): Promise<readonly Problem[]>;
  };
  /** Kept together with the entries: all of it, or nothing. */
  readonly photos?: Photos;
}

export interface Imported {
  readonly added: number;
  readonly known: number;
  readonly rigs: readonly string[];
}

/**
 * Takes in a file of JSON lines of any length, holding a thousand entries at once. The whole file is read and judged before
 * anything is written; then all of it is written in one transaction. A problem anywhere, a full disk or a power cut, and
 * nothing is.
 *
 * Problems: `store.line-long`, `store.line-encoding`, `store.line-deep`, `logbook.json-torn`, those of `readEntry`,
 * `store.id-conflict`, `store.missing`, `store.import-changed` (another program wrote to the file); at most a hundred.
 */
export async function importLines(store: Store, file: string, options: ImportOptions): Promise<Result<Imported>> {
  const read = await judged(store, file, options);
  if (!read.ok) return read;
  const { rigs, sum } = read.value;
  const { via, photos } = options;
  const written = await store.bringIn(() => writingBatches(file, sum, options), { via, ...(photos ? { photos } : {}) });
  return written.ok ? ok({ ...written.value, rigs: [...rigs].sort() }) : fail(...bounded(written.problems));
}

/** Entries of consecutive lines, and how far the file is read with them. */
interface Batch {
  readonly entries: Entry[];
  readonly bytes: number;
  readonly lines: number;
}

/** Gathers lines into batches. What is no entry is added to `problems`. */
class Batches {
  readonly #problems: Problem[];
  #entries: Entry[] = [];
  #bytes = 0;

  constructor(problems: Problem[]) {
    this.#problems = problems;
  }

  add({ number, bytes }: NumberedLine): Batch | undefined {
    // A mark of byte order that some editors put before a text.
    const line = number === 1 && bytes.subarray(0, 3).toString('hex') === 'efbbbf' ? bytes.subarray(3) : bytes;
    if (isBlank(line)) return undefined;
    const read = readEntryLine(line, `line ${number}`);
    if (read.ok) this.#entries.push(read.value);
    else this.#problems.push(...read.problems);
    this.#bytes += line.length;
    const isFull = this.#entries.length >= CHUNK || this.#bytes >= CHUNK_BYTES || this.#problems.length >= PROBLEMS_MAX;
    return isFull ? this.rest(number) : undefined;
  }

  rest(lines: number): Batch | undefined {
    if (this.#entries.length === 0) return undefined;
    const batch = { entries: this.#entries, bytes: this.#bytes, lines };
    this.#entries = [];
    this.#bytes = 0;
    return batch;
  }
}

/** Reads and judges the whole file: which rigs it speaks of, and its SHA-256, by which it is known again. */
async function judged(
  store: Store,
  file: string,
  options: ImportOptions,
): Promise<Result<{ rigs: ReadonlySet<string>; sum: string }>> {
  const problems: Problem[] = [];
  const rigs = new Set<string>();
  const hash = createHash('sha256');
  const take = async ({ entries, bytes, lines }: Batch): Promise<void> => {
    for (const { rig } of entries) rigs.add(rig);
    options.judge?.take(entries, bytes);
    const tried = await store.append(entries, { via: options.via, dryRun: true });
    if (!tried.ok) problems.push(...tried.problems);
    options.onProgress?.({ step: 'reading', lines });
  };
  const input = createReadStream(file, { highWaterMark: PIECE_BYTES });
  try {
    const splitter = new LineSplitter();
    const batches = new Batches(problems);
    let lines = 0;
    const each = async (numbered: Iterable<NumberedLine>): Promise<void> => {
      for (const line of numbered) {
        if (problems.length >= PROBLEMS_MAX) return;
        lines = line.number;
        const batch = batches.add(line);
        if (batch) await take(batch);
      }
    };
    for await (const piece of input) {
      hash.update(piece as Buffer);
      await each(splitter.take(piece as Buffer));
      if (problems.length >= PROBLEMS_MAX) break;
    }
    await each(splitter.end());
    const last = batches.rest(lines);
    if (last) await take(last);
  } catch (error) {
    return unreadable(error, file);
  } finally {
    input.destroy();
  }
  if (problems.length) return fail(...bounded(problems));
  const refused = await options.judge?.verdict();
  if (refused?.length) return fail(...bounded(refused));
  return ok({ rigs, sum: hash.digest('hex') });
}

function unreadable(error: unknown, file: string): Result<never> {
  const { code } = error as NodeJS.ErrnoException;
  if (error instanceof ProblemError && error.problems[0]!.code === 'store.line-long')
    return { ok: false, problems: error.problems };
  if (code !== 'ENOENT' && code !== 'EISDIR' && code !== 'EACCES') throw error;
  return fail({
    code: 'store.missing',
    what: 'This file cannot be read',
    where: file,
    expected: 'a file of JSON lines',
  });
}

/**
 * The batches of a file that was judged, read again within the transaction that writes them, and therefore without waiting.
 * Throws a `ProblemError` at the end where the file is no longer the one that was judged.
 */
function* writingBatches(file: string, sum: string, options: ImportOptions): Generator<readonly Entry[]> {
  const hash = createHash('sha256');
  const problems: Problem[] = [];
  const batches = new Batches(problems);
  let lines = 0;
  for (const line of linesNow(file, hash)) {
    lines = line.number;
    const batch = batches.add(line);
    if (!batch) continue;
    yield batch.entries;
    options.onProgress?.({ step: 'writing', lines: batch.lines });
  }
  const last = batches.rest(lines);
  if (last) {
    yield last.entries;
    options.onProgress?.({ step: 'writing', lines: last.lines });
  }
  if (problems.length || hash.digest('hex') !== sum)
    throw new ProblemError([
      {
        code: 'store.import-changed',
        what: 'The file was changed while it was read',
        where: file,
        next: 'Nothing was written. Try again when nobody writes to it.',
      },
    ]);
}

function* linesNow(file: string, hash: Hash): Generator<NumberedLine> {
  const splitter = new LineSplitter();
  const fd = openSync(file, 'r');
  try {
    for (;;) {
      const piece = Buffer.allocUnsafe(PIECE_BYTES);
      const read = readSync(fd, piece, 0, PIECE_BYTES, null);
      if (read === 0) break;
      hash.update(piece.subarray(0, read));
      yield* splitter.take(piece.subarray(0, read));
    }
    yield* splitter.end();
  } finally {
    closeSync(fd);
  }
}

/** A rig's logbook as JSON lines in the order in which it became known, a page at a time. */
export async function* exportLines(store: Store, rig: string): AsyncGenerator<string> {
  let cursor: Cursor | undefined;
  for (let more = true; more; ) {
    const page = unwrap(await store.readSince(rig, cursor, PAGE_MAX));
    // What cannot be read goes along as it is: a newer program may take it in.
    const raws = page.unread.map(({ seq, raw }) => [seq, JSON.stringify(raw)] as const);
    const lines = page.entries.map(({ seq, entry }) => [seq, writeEntry(entry)] as const);
    for (const [, line] of [...lines, ...raws].sort(([a], [b]) => a - b)) yield `${line}\n`;
    ({ cursor, more } = page);
  }
}
