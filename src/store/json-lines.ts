import { isUtf8 } from 'node:buffer';
import { type Entry, readEntry } from '../logbook/index.ts';
import { fail, type Problem, ProblemError, type Result } from '../problem/index.ts';

/** Longest line read, in bytes: more than a hundred times what an entry has. */
export const LINE_BYTES_MAX = 1024 * 1024;
/** Deepest nesting of objects and lists. An entry has less than ten; a parser's time and stack grow with it. */
const DEPTH_MAX = 64;

const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const EXPECTED = 'one entry a line, as written by export';

/** A line without its end, numbered from 1. */
export interface NumberedLine {
  readonly number: number;
  readonly bytes: Buffer;
}

/**
 * Cuts a stream of bytes into lines. Never holds more than one line of `LINE_BYTES_MAX` and the piece at hand.
 * Throws a `ProblemError` (`store.line-long`).
 */
export class LineSplitter {
  #rest: Buffer[] = [];
  #restBytes = 0;
  #number = 0;

  /** The lines that a piece completes. */
  *take(piece: Buffer): Generator<NumberedLine> {
    let from = 0;
    for (let at = piece.indexOf(LINE_FEED); at !== -1; at = piece.indexOf(LINE_FEED, from)) {
      yield this.#line(piece.subarray(from, at));
      from = at + 1;
    }
    if (from === piece.length) return;
    this.#bounded(this.#restBytes + piece.length - from);
    this.#rest.push(piece.subarray(from));
    this.#restBytes += piece.length - from;
  }

  /** The last line, where no line feed ends it. */
  *end(): Generator<NumberedLine> {
    if (this.#restBytes) yield this.#line(Buffer.alloc(0));
  }

  #line(end: Buffer): NumberedLine {
    this.#bounded(this.#restBytes + end.length);
    const whole = this.#restBytes ? Buffer.concat([...this.#rest, end]) : end;
    this.#rest = [];
    this.#restBytes = 0;
    this.#number++;
    const bytes = whole.at(-1) === CARRIAGE_RETURN ? whole.subarray(0, -1) : whole;
    return { number: this.#number, bytes };
  }

  #bounded(bytes: number): void {
    if (bytes <= LINE_BYTES_MAX) return;
    throw new ProblemError([
      {
        code: 'store.line-long',
        what: `The line is longer than ${LINE_BYTES_MAX / 1024 / 1024} MiB`,
        where: `line ${this.#number + 1}`,
        expected: EXPECTED,
      },
    ]);
  }
}

/** Problems: `store.line-encoding`, `store.line-deep`, `logbook.json-torn`, those of `readEntry`. */
export function readEntryLine(bytes: Buffer, where: string): Result<Entry> {
  const wrong = (code: string, what: string): Result<Entry> => fail<Entry>({ code, what, where, expected: EXPECTED });
  if (!isUtf8(bytes)) return wrong('store.line-encoding', 'The line is not UTF-8 text');
  if (isDeeperThan(DEPTH_MAX, bytes))
    return wrong('store.line-deep', `Objects and lists are nested more than ${DEPTH_MAX} deep`);
  let raw: unknown;
  try {
    raw = JSON.parse(bytes.toString('utf8'));
  } catch {
    return wrong('logbook.json-torn', 'The line is not complete JSON; the file may be cut short');
  }
  return readEntry(raw, where);
}

/** Whether a line is nothing but white space. */
export function isBlank(bytes: Buffer): boolean {
  for (const byte of bytes) if (byte !== 32 && byte !== 9 && byte !== CARRIAGE_RETURN) return false;
  return true;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;

/** Counts brackets outside of strings: the parser itself has no bound. */
function isDeeperThan(most: number, json: Buffer): boolean {
  let depth = 0;
  let isInString = false;
  for (let at = 0; at < json.length; at++) {
    const byte = json[at]!;
    if (isInString) {
      if (byte === BACKSLASH) at++;
      else if (byte === QUOTE) isInString = false;
    } else if (byte === QUOTE) isInString = true;
    // [ and {, ] and }
    else if (byte === 0x5b || byte === 0x7b) {
      if (++depth > most) return true;
    } else if (byte === 0x5d || byte === 0x7d) depth--;
  }
  return false;
}

/** Told in place of a hundred and more. */
export const PROBLEMS_MAX = 100;

/** The first hundred problems; a file in ruins needs no more. */
export function bounded(problems: readonly Problem[]): readonly [Problem, ...Problem[]] {
  return problems.slice(0, PROBLEMS_MAX) as [Problem, ...Problem[]];
}
