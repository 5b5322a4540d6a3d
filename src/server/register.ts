import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { type Problem, ProblemError } from '../problem/index.ts';
import { nulIn } from './json-body.ts';
import { problemError } from './problem-response.ts';
import type { CountCaller } from './request-limit.ts';
import type { Answer, Route } from './route.ts';
import { mayAct, type Who } from './who.ts';

export const EVENTS = 'text/event-stream';

/** Finds out who makes a request. */
export type Identify = (request: FastifyRequest) => Promise<Who>;

/** Puts the routes on the server: input by its schema, then the role, then the handler. Nothing gets past this. */
export function registerRoutes(
  app: FastifyInstance,
  routes: readonly Route[],
  identify: Identify,
  countCaller: CountCaller,
): void {
  for (const spec of routes) {
    app.route({
      method: spec.method,
      url: spec.path.replace(/\{(\w+)\}/g, ':$1'),
      // Fastify answers HEAD by running the handler of GET: a stream that nobody reads would stay open, an archive be made in vain.
      exposeHeadRoute: spec.streams !== true,
      bodyLimit: spec.bodyMax ?? 64 * 1024,
      // Who may not is told so before a large body is read.
      onRequest: async (request) => {
        request.who = await identify(request);
        await countCaller(request, request.who);
        await authorise(spec, request);
      },
      handler: async (request, reply) => {
        const answer = await spec.handle({
          params: parse(spec.params, request.params, 'path'),
          query: parse(spec.query, request.query, 'query'),
          body: spec.body === 'file' ? file(request) : parse(spec.body, request.body, 'body', spec.judgesParts),
          who: request.who,
          request,
          reply,
        });
        return send(reply, answer);
      },
    });
  }
}

async function authorise(spec: Route, request: FastifyRequest): Promise<void> {
  if (spec.access === 'open') return;
  const { who } = request;
  if (who.kind === 'nobody') {
    throw problemError('access.sign-in', 'You are not signed in', { next: 'Sign in, then try again.' });
  }
  if (spec.access === 'signed-in') return;
  const { rig } = request.params as { rig: string };
  const role = await who.roleOn(rig);
  // A rig one may not see looks just like one that does not exist.
  if (!role)
    throw problemError('access.not-found', 'There is no such rig, or it is not shared with you', { where: rig });
  if (!mayAct(role, spec.access)) {
    throw problemError('access.role', `This needs the role of ${spec.access}; you are a ${role} of this rig`, {
      where: rig,
    });
  }
}

/** Input by its schema. Where a route takes none, none may come. Problems: `request.invalid`, one a field. */
function parse(schema: z.ZodType | undefined, value: unknown, place: string, judgesParts = false): unknown {
  if (!schema) {
    const extra = Object.keys((value ?? {}) as object);
    if (extra.length && place !== 'path')
      throw problemError('request.invalid', `Nothing is expected in the ${place}`, { where: extra[0]! });
    return {};
  }
  const nul = judgesParts ? undefined : nulIn(value);
  if (nul) {
    const [where, expected] = [[place, ...nul].join('.'), 'text without NUL characters'];
    throw problemError('request.invalid', 'A text has a NUL character in it', { where, expected });
  }
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const problems = parsed.error.issues.map(
    ({ message, path }): Problem => ({
      code: 'request.invalid',
      what: message,
      where: [place, ...path].join('.'),
    }),
  );
  throw new ProblemError(problems);
}

function file(request: FastifyRequest): Uint8Array {
  if (!Buffer.isBuffer(request.body))
    throw problemError('request.media-type', 'A file is expected here', { expected: 'its bytes, with its media type' });
  return request.body;
}

function send(reply: FastifyReply, { status = 200, json, bytes, stream, headers = {} }: Answer): FastifyReply {
  reply.code(status).headers(headers);
  if (stream) {
    if (stream.bytes !== undefined) reply.header('content-length', stream.bytes);
    return reply.type(stream.type).send(stream.content);
  }
  if (bytes) return reply.type(bytes.type).send(Buffer.from(bytes.content));
  return json === undefined ? reply.send() : reply.send(json);
}

declare module 'fastify' {
  interface FastifyRequest {
    who: Who;
  }
}
