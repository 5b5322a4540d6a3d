import type { Readable } from 'node:stream';
import type { FastifyInstance, InjectOptions } from 'fastify';
import type { Entry } from '../../src/logbook/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { createServer, type ServerOptions } from '../../src/server/index.ts';
import { openStore, type Store } from '../../src/store/index.ts';
import { shippedCatalog } from './catalog.ts';
import { Folder, idNumber } from './keeping.ts';

export const TODAY = '2026-06-12';

/** A server on a store in a folder of its own, asked without a network. */
export class TestServer {
  readonly folder: Folder;
  readonly store: Store;
  readonly app: FastifyInstance;
  readonly failures: unknown[];
  #now: { ms: number };

  private constructor(folder: Folder, store: Store, app: FastifyInstance, failures: unknown[], now: { ms: number }) {
    this.folder = folder;
    this.store = store;
    this.app = app;
    this.failures = failures;
    this.#now = now;
  }

  static async start(options: Partial<ServerOptions> = {}): Promise<TestServer> {
    const folder = new Folder();
    const store = unwrap(await openStore({ folder: folder.path }, { passwordCost: 4 }));
    const now = { ms: Date.UTC(2026, 5, 12, 8, 30) };
    const failures: unknown[] = [];
    const app = await createServer({
      store,
      catalog: shippedCatalog(),
      clock: () => now.ms,
      today: () => TODAY,
      version: '0.0.0-test',
      onFailure: (error) => failures.push(error),
      ...options,
    });
    await app.ready();
    return new TestServer(folder, store, app, failures, now);
  }

  passMinutes(minutes: number): void {
    this.#now.ms += minutes * 60_000;
  }

  async ask(
    method: NonNullable<InjectOptions['method']>,
    url: string,
    body?: unknown,
    headers: Record<string, string> = {},
  ) {
    const answer = await this.app.inject({
      payloadAsStream: true,
      method,
      url,
      headers: { ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers },
      ...(body === undefined
        ? {}
        : { payload: typeof body === 'string' || Buffer.isBuffer(body) ? body : JSON.stringify(body) }),
    });
    const type = String(answer.headers['content-type'] ?? '');
    const raw = await bodyOf(answer.stream(), type);
    const text = raw.toString('utf8');
    return {
      status: answer.statusCode,
      headers: answer.headers,
      text,
      raw,
      json: type.includes('json') && text !== '' ? JSON.parse(text) : undefined,
    };
  }

  get(url: string, headers?: Record<string, string>) {
    return this.ask('GET', url, undefined, headers);
  }

  post(url: string, body: unknown, headers?: Record<string, string>) {
    return this.ask('POST', url, body, headers);
  }

  async stop(): Promise<void> {
    await this.app.close();
    await this.store.close();
    this.folder.remove();
  }
}

/** All of an answer; of events, which do not end by themselves, the first: then the caller goes. */
export async function bodyOf(stream: Readable, type: string): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of stream) {
    parts.push(part as Buffer);
    // Leaving the loop destroys the stream.
    if (type.startsWith('text/event-stream')) break;
  }
  return Buffer.concat(parts);
}

/** The spare of an invented rig, fitted; later entries can speak of it. */
export function fitSpare(rig = 'marigold', n = 1): Entry {
  return {
    id: idNumber(n),
    rig,
    kind: 'fit',
    on: '2026-04-01',
    at: '2026-04-01T10:00:00Z',
    by: 'Ada',
    v: 1,
    body: { part: 'spare', kind: 'spare-tire', place: 'rear bumper', isNew: false },
  };
}
