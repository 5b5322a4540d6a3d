import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { problemError } from './problem-response.ts';

/** No inline script, nothing from elsewhere, nobody's frame. */
const CONTENT_SECURITY_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join('; ');

const HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': CONTENT_SECURITY_POLICY,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'geolocation=(), microphone=(), camera=(self)',
};

/** Which address the server answers to. */
export interface Address {
  /** `http://127.0.0.1:4780`, `https://rig.example`. Undefined: any name of this machine itself, any port. */
  readonly origin?: string;
}

const LOOPBACK = /^(127\.0\.0\.1|localhost|\[::1\])(:\d{1,5})?$/;

/**
 * Headers on every answer, and who may ask at all: only under our own name (a page elsewhere can make its name point to this
 * machine), and, for what changes something, only from our own pages.
 */
export function guardRequests(app: FastifyInstance, address: Address): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS);
    if (address.origin?.startsWith('https:')) reply.header('strict-transport-security', 'max-age=31536000');
    const host = request.headers.host ?? '';
    if (!(address.origin === undefined ? LOOPBACK.test(host) : host === new URL(address.origin).host)) {
      throw problemError('request.host', 'This server does not answer to that name', { where: host.slice(0, 100) });
    }
    if (
      request.method !== 'GET' &&
      request.method !== 'HEAD' &&
      crossSite(request, address.origin ?? `http://${host}`)
    ) {
      throw problemError('request.cross-site', 'This may only be asked by our own pages');
    }
  });
}

/** Browsers always say where a changing request comes from; a program that says nothing has no browser's cookies to abuse. */
function crossSite({ headers }: FastifyRequest, origin: string): boolean {
  const site = headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return true;
  return headers.origin !== undefined && headers.origin !== origin;
}

/** An ETag on every read, and no body for who has it already. What is streamed has none. */
export function tagAnswers(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply, payload) => {
    if (request.method !== 'GET' || reply.statusCode !== 200) return payload;
    if (typeof payload !== 'string' && !Buffer.isBuffer(payload)) return payload;
    if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'private, no-cache');
    if (reply.hasHeader('etag')) return payload;
    const tag = `"${createHash('sha256').update(payload).digest('base64url').slice(0, 27)}"`;
    reply.header('etag', tag);
    if (!matches(request.headers['if-none-match'], tag)) return payload;
    reply.code(304).removeHeader('content-type');
    return null;
  });
}

export function matches(header: string | undefined, tag: string): boolean {
  return (
    header !== undefined && (header === '*' || header.split(',').some((one) => one.trim().replace(/^W\//, '') === tag))
  );
}
