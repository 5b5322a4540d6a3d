import { type Problem, ProblemError } from '../../problem/index.ts';

/** Where a share link is told to the server: no cookie goes along, so that its reader is nobody else by chance. */
const LINK_HEADER = 'x-rig-link';
const PATIENCE_MS = 20_000;
/** Waits that a server may ask for, in seconds: one without a figure (its own window is a minute), the least and the most that is believed. */
const WAIT_S = { unsaid: 60, least: 1, most: 3600 };

/** The server asks to be left alone for a while (RFC 6585, 429; RFC 9110, 503 with `Retry-After`). */
export class WaitAsked extends ProblemError {
  constructor(
    problems: readonly Problem[],
    readonly seconds: number,
  ) {
    super(problems);
  }
}

/** Seconds to wait by a `Retry-After`: seconds, or a date (RFC 9110, section 10.2.3). Null where it says neither. */
export function secondsToWait(header: string | null, now: number): number | null {
  if (header === null || header.trim() === '') return null;
  const seconds = /^\d+$/.test(header.trim()) ? Number(header) : (Date.parse(header) - now) / 1000;
  return Number.isNaN(seconds) ? null : Math.min(WAIT_S.most, Math.max(WAIT_S.least, Math.ceil(seconds)));
}

/**
 * The line to the server: by this browser's sign-in, or by the secret of a share link. Rejects with `ProblemError`: `web.unreached`
 * where there is no answer, else what the server says.
 */
export class Line {
  readonly #link: string | undefined;

  constructor(link?: string) {
    this.#link = link;
  }

  async fetch(path: string, init: RequestInit = {}): Promise<Response> {
    const headers = new Headers(init.headers);
    if (this.#link !== undefined) headers.set(LINK_HEADER, this.#link);
    const credentials = this.#link === undefined ? 'same-origin' : 'omit';
    let answer: Response;
    try {
      const signal = AbortSignal.timeout(PATIENCE_MS);
      answer = await fetch(path, { ...init, headers, credentials, cache: 'no-store', signal });
    } catch {
      throw new ProblemError([
        { code: 'web.unreached', what: 'The server cannot be reached', next: 'Try again when there is a network.' },
      ]);
    }
    if (answer.ok) return answer;
    const read = (await answer.json().catch(() => null)) as { problems?: readonly Problem[] } | null;
    const problems = read?.problems ?? [
      { code: 'web.unreached', what: `The server answered with ${answer.status} and no reason` },
    ];
    const wait = secondsToWait(answer.headers.get('retry-after'), Date.now());
    if (answer.status === 429) throw new WaitAsked(problems, wait ?? WAIT_S.unsaid);
    if (answer.status === 503 && wait !== null) throw new WaitAsked(problems, wait);
    throw new ProblemError(problems);
  }

  async json<T>(path: string, init?: RequestInit): Promise<T> {
    return (await (await this.fetch(path, init)).json()) as T;
  }
}

export type Role = 'reader' | 'helper' | 'owner';

/**
 * How this device stands with the server. `alone`: this rig stays here on purpose; `not-there`: the server does not know the rig, or
 * does not show it to whoever is signed in; `held-up`: it has had too many requests and asks for a pause; `troubled`: it answered, and
 * could not do it.
 */
export type Standing =
  | 'not-asked'
  | 'alone'
  | 'in-step'
  | 'unreached'
  | 'signed-out'
  | 'not-there'
  | 'held-up'
  | 'troubled';

export const problemsOfLine = (error: unknown): readonly Problem[] =>
  error instanceof ProblemError ? error.problems : [{ code: 'web.unexpected', what: String(error) }];

/** What a failed request says about how we stand. */
export function standingBy(error: unknown): Standing {
  const code = problemsOfLine(error)[0]?.code;
  if (code === 'web.unreached') return 'unreached';
  if (code === 'access.sign-in') return 'signed-out';
  if (code === 'access.not-found') return 'not-there';
  if (code === 'request.too-many') return 'held-up';
  return 'troubled';
}

/** Seconds for which the server asked to be left alone; 0 where it did not. */
export const waitOf = (error: unknown): number => (error instanceof WaitAsked ? error.seconds : 0);
