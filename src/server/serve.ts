import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { fail, ok, type Result } from '../problem/index.ts';
import { createServer, type ServerOptions } from './server.ts';

/** The usual port. */
export const PORT = 4780;

export interface Listening {
  /** Where a browser finds it. */
  readonly url: string;
  readonly app: FastifyInstance;
  close(): Promise<void>;
}

const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);

/**
 * Creates the server and listens. Port 0 takes any free one.
 *
 * Problems: `server.address-open` (an address that others can reach, without accounts), `server.no-account`,
 * `server.port-taken`, `server.address-unknown`.
 */
export async function serve(
  options: ServerOptions,
  { host = '127.0.0.1', port = PORT } = {},
): Promise<Result<Listening>> {
  if (!LOOPBACK.has(host) && options.access?.kind !== 'accounts') {
    return fail({
      code: 'server.address-open',
      what: `Others can reach ${host}, and there is no password`,
      expected: '127.0.0.1',
      next: 'Leave the address out, or set up accounts and say under which address others reach this machine.',
    });
  }
  if (options.access?.kind === 'accounts' && (await options.store.accounts.people.count()) === 0) {
    return fail({
      code: 'server.no-account',
      what: 'Nobody has an account yet, so nobody could sign in',
      next: 'Make the first account, then try again.',
    });
  }
  const app = await createServer(options);
  try {
    await app.listen({ host, port });
  } catch (error) {
    await app.close();
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EADDRINUSE') {
      const next = 'Stop the program that uses it, or choose another with --port.';
      return fail({ code: 'server.port-taken', what: `Port ${port} is in use`, where: host, next });
    }
    if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND' || code === 'EACCES') {
      return fail({
        code: 'server.address-unknown',
        what: `This machine cannot listen on ${host}:${port}`,
        where: host,
      });
    }
    throw error;
  }
  const { port: actual } = app.server.address() as AddressInfo;
  const name = host === '::1' ? '[::1]' : host;
  return ok({ url: `http://${name}:${actual}`, app, close: () => app.close() });
}
