import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { AccessMode } from './identity.ts';
import { WaitError } from './problem-response.ts';
import type { Who } from './who.ts';

/** Most requests in a minute. */
export interface RequestLimit {
  /** From one address (of IPv6: from one /64), whoever asks. */
  readonly address: number;
  /** By one account, or with one link, from wherever. */
  readonly caller: number;
}

/** A household of four behind one address, each leafing through a page of photos, stays far below. */
export const SHARED_LIMIT: RequestLimit = { address: 1_200, caller: 600 };
/** At one's own machine it holds up a program that has run wild, and nobody else. */
export const LOCAL_LIMIT: RequestLimit = { address: 30_000, caller: 30_000 };

const WINDOW_MS = 60_000;

/** Counts a request of somebody known. Problems: `request.too-many`. */
export type CountCaller = (request: FastifyRequest, who: Who) => Promise<void>;

/**
 * Counts requests by address before anything else is done for them, and gives back what counts them by caller. Each server process
 * counts for itself: of several, a caller has as many times as much.
 */
export async function limitRequests(
  app: FastifyInstance,
  mode: AccessMode,
  given: RequestLimit | false | undefined,
): Promise<CountCaller> {
  if (given === false) return async () => undefined;
  const limit = given ?? (mode.kind === 'local' ? LOCAL_LIMIT : SHARED_LIMIT);
  await app.register(rateLimit, { global: false });
  const ofAddress = app.createRateLimit({ max: limit.address, timeWindow: WINDOW_MS });
  const ofCaller = app.createRateLimit({
    max: limit.caller,
    timeWindow: WINDOW_MS,
    keyGenerator: (request) => request.who.via,
  });
  const count = async (by: typeof ofAddress, request: FastifyRequest): Promise<void> => {
    const counted = await by(request);
    if (!counted.isAllowed && counted.isExceeded) throw tooMany(counted.max, counted.ttlInSeconds);
  };
  app.addHook('onRequest', (request) => count(ofAddress, request));
  return async (request, who) => {
    if (who.kind !== 'nobody') await count(ofCaller, request);
  };
}

function tooMany(most: number, seconds: number): WaitError {
  const problem = {
    code: 'request.too-many',
    what: 'Too many requests',
    expected: `at most ${most.toLocaleString('en-US')} in a minute`,
    next: `Wait ${seconds} ${seconds === 1 ? 'second' : 'seconds'}, then go on.`,
  };
  return new WaitError([problem], seconds);
}
