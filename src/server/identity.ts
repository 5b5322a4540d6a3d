import cookie from '@fastify/cookie';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Store } from '../store/index.ts';
import { problemError } from './problem-response.ts';
import type { Identify } from './register.ts';
import { accountHolder, linkHolder, localOwner, NOBODY } from './who.ts';

/**
 * Who may come in. `local`: whoever asks from this machine, under a name of this machine. `accounts`: who has an account, at
 * one address; `proxy` is the address of a reverse proxy whose word on where a request comes from is taken.
 */
export type AccessMode =
  | { readonly kind: 'local'; readonly ownerName?: string }
  | { readonly kind: 'accounts'; readonly origin: string; readonly proxy?: string };

/** Where a read-only link is told: no cookie, so that nothing is sent unasked. */
export const LINK_HEADER = 'x-rig-link';

const HALF_YEAR_S = 200 * 86_400;

/** The cookie that keeps a device signed in. */
export class SessionCookie {
  readonly name: string;
  readonly #options;

  constructor(secure: boolean) {
    // With this prefix a browser takes the cookie only over https, only from this host and for all of it.
    this.name = secure ? '__Host-session' : 'session';
    this.#options = { path: '/', httpOnly: true, sameSite: 'strict', secure } as const;
  }

  of(request: FastifyRequest): string | undefined {
    return request.cookies[this.name];
  }

  give(reply: FastifyReply, token: string): void {
    reply.setCookie(this.name, token, { ...this.#options, maxAge: HALF_YEAR_S });
  }

  take(reply: FastifyReply): void {
    reply.clearCookie(this.name, this.#options);
  }
}

export async function identifyBy(
  app: FastifyInstance,
  store: Store,
  mode: AccessMode,
  sessions: SessionCookie,
  clock: () => number,
): Promise<Identify> {
  await app.register(cookie);
  if (mode.kind === 'local') {
    const owner = localOwner(mode.ownerName ?? 'owner');
    return async () => owner;
  }
  return async (request) => {
    const now = new Date(clock()).toISOString();
    const token = sessions.of(request);
    if (token !== undefined) {
      const found = await store.accounts.sessions.find(token, now);
      if (found) {
        fromOurPage(request);
        return accountHolder(store, found);
      }
    }
    const linkToken = request.headers[LINK_HEADER];
    if (typeof linkToken !== 'string') return NOBODY;
    const link = await store.accounts.links.find(linkToken, 'share', now);
    return link ? linkHolder(link) : NOBODY;
  };
}

/** A browser says where a changing request comes from. One that sends a cookie and does not say is not let through. */
function fromOurPage({ method, headers }: FastifyRequest): void {
  if (method === 'GET' || method === 'HEAD') return;
  if (headers.origin === undefined && headers['sec-fetch-site'] === undefined) {
    throw problemError('request.cross-site', 'This may only be asked by our own pages', {
      expected: 'an Origin header',
    });
  }
}
