import type { FastifyReply } from 'fastify';
import { type Problem, ProblemError, problemText } from '../problem/index.ts';

/** HTTP status by the beginning of a problem's code; the longest that fits counts. */
const statuses: Readonly<Record<string, number>> = {
  '': 422,
  'request.': 400,
  'request.body-size': 413,
  'request.media-type': 415,
  'request.not-found': 404,
  'request.method': 405,
  'request.host': 421,
  'request.cross-site': 403,
  'request.too-many': 429,
  'access.sign-in': 401,
  'access.': 403,
  'access.not-found': 404,
  'access.rig-taken': 409,
  'access.last-owner': 409,
  'accounts.name-taken': 409,
  'store.cursor': 400,
  'store.id-conflict': 409,
  'store.blob-size': 413,
  'store.blob-kind': 415,
  'store.no-thumbnail': 404,
  'store.full': 507,
  'store.busy': 503,
  'store.unreachable': 503,
  'store.moved': 503,
  'store.closed': 503,
  'store.damaged': 500,
  'store.unwritable': 500,
  'server.': 500,
};

export function statusOf(code: string): number {
  let best = '';
  for (const start of Object.keys(statuses)) if (code.startsWith(start) && start.length > best.length) best = start;
  return statuses[best]!;
}

/** Problem details (RFC 9457): the first problem gives type, title and status; all of them are in `problems`. */
export function problemDetails(problems: readonly Problem[], status = statusOf(problems[0]!.code)) {
  const first = problems[0]!;
  return {
    type: `/problems/${first.code}`,
    title: first.what,
    status,
    detail: problems.slice(0, 20).map(problemText).join('\n'),
    code: first.code,
    problems,
  };
}

/** Problems that time mends. */
export class WaitError extends ProblemError {
  constructor(
    problems: readonly Problem[],
    readonly seconds: number,
  ) {
    super(problems);
  }
}

/** Seconds after which to try again, where nothing better is known. */
const WAIT_S = 5;

export function sendProblems(reply: FastifyReply, problems: readonly Problem[], waitS = WAIT_S): FastifyReply {
  const details = problemDetails(problems);
  if (details.status === 401) reply.header('www-authenticate', 'Session');
  if (details.status === 429 || details.status === 503) reply.header('retry-after', String(waitS));
  return reply.code(details.status).type('application/problem+json').send(JSON.stringify(details));
}

export function problemError(code: string, what: string, more: Partial<Problem> = {}): ProblemError {
  return new ProblemError([{ code, what, ...more }]);
}

/** Anything thrown, as problems. What is not ours is not shown to the caller. */
export function problemsOf(error: unknown): readonly Problem[] {
  if (error instanceof ProblemError) return error.problems;
  const {
    statusCode = 500,
    message = '',
    code = '',
  } = error as { statusCode?: number; message?: string; code?: string };
  if (statusCode === 413) return [{ code: 'request.body-size', what: 'The request is too large' }];
  if (statusCode === 415)
    return [
      { code: 'request.media-type', what: 'This kind of content is not taken here', expected: 'application/json' },
    ];
  if (statusCode === 405) return [{ code: 'request.method', what: 'This cannot be done here' }];
  if (statusCode >= 400 && statusCode < 500)
    return [{ code: 'request.invalid', what: message || 'The request cannot be read', where: code }];
  return [
    {
      code: 'server.unexpected',
      what: 'Something went wrong on our side',
      next: 'Try again; if it stays so, look at what the server printed.',
    },
  ];
}
