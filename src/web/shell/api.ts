import { type Problem, ProblemError } from '../../problem/index.ts';

/** The server by name of its routes, for what cannot be done without it. Rejects with `ProblemError`. */
export async function api<T>(method: string, path: string, body?: unknown): Promise<T> {
  let answer: Response;
  try {
    answer = await fetch(path, {
      method,
      cache: 'no-store',
      signal: AbortSignal.timeout(20_000),
      ...(body === undefined ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
    });
  } catch {
    throw new ProblemError([
      { code: 'web.unreached', what: 'The server cannot be reached', next: 'Try again when there is a network.' },
    ]);
  }
  if (answer.status === 204) return undefined as T;
  const read = (await answer.json().catch(() => null)) as (T & { problems?: readonly Problem[] }) | null;
  if (answer.ok && read !== null) return read;
  throw new ProblemError(
    read?.problems ?? [{ code: 'web.unreached', what: `The server answered with ${answer.status} and no reason` }],
  );
}
