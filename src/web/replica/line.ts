import { type Problem, ProblemError } from '../../problem/index.ts';

/** Where a share link is told to the server: no cookie goes along, so that its reader is nobody else by chance. */
const LINK_HEADER = 'x-rig-link';
const PATIENCE_MS = 20_000;

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
    throw new ProblemError(
      read?.problems ?? [{ code: 'web.unreached', what: `The server answered with ${answer.status} and no reason` }],
    );
  }

  async json<T>(path: string, init?: RequestInit): Promise<T> {
    return (await (await this.fetch(path, init)).json()) as T;
  }
}

export type Role = 'reader' | 'helper' | 'owner';

/**
 * How this device stands with the server. `alone`: this rig stays here on purpose; `not-there`: the server does not know the rig, or
 * does not show it to whoever is signed in; `troubled`: it answered, and could not do it.
 */
export type Standing = 'not-asked' | 'alone' | 'in-step' | 'unreached' | 'signed-out' | 'not-there' | 'troubled';

export const problemsOfLine = (error: unknown): readonly Problem[] =>
  error instanceof ProblemError ? error.problems : [{ code: 'web.unexpected', what: String(error) }];

/** What a failed request says about how we stand. */
export function standingBy(error: unknown): Standing {
  const code = problemsOfLine(error)[0]?.code;
  if (code === 'web.unreached') return 'unreached';
  if (code === 'access.sign-in') return 'signed-out';
  if (code === 'access.not-found') return 'not-there';
  return 'troubled';
}
