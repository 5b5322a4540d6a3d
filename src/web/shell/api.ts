import { Line } from '../replica/line.ts';

const line = new Line();

/** The server by name of its routes, for what cannot be done without it. Rejects with `ProblemError`. */
export async function api<T>(method: string, path: string, body?: unknown): Promise<T> {
  const content =
    body === undefined ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
  const answer = await line.fetch(path, { method, ...content });
  return answer.status === 204 ? (undefined as T) : ((await answer.json()) as T);
}
