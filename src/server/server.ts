import Fastify, { type FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Catalog } from '../catalog/index.ts';
import { judgeBy } from '../logbook/index.ts';
import type { Store } from '../store/index.ts';
import { Changes } from './changes.ts';
import { Desks } from './desks.ts';
import { guardRequests, tagAnswers } from './guard.ts';
import { type AccessMode, identifyBy, SessionCookie } from './identity.ts';
import { refuseDeepJson } from './json-body.ts';
import { openApiDocument } from './openapi.ts';
import { problemsOf, sendProblems, WaitError } from './problem-response.ts';
import { registerRoutes } from './register.ts';
import { limitRequests, type RequestLimit } from './request-limit.ts';
import { type Route, route } from './route.ts';
import { accountRoutes } from './routes/account.ts';
import { answerRoutes } from './routes/answers.ts';
import { asideRoutes } from './routes/aside.ts';
import { blobRoutes } from './routes/blobs.ts';
import { calculationRoutes } from './routes/calculations.ts';
import { changesRoute } from './routes/changes.ts';
import { copyRoutes } from './routes/copies.ts';
import { documentRoutes } from './routes/documents.ts';
import { entryRoutes } from './routes/entries.ts';
import { peopleRoutes } from './routes/people.ts';
import { rigRoutes } from './routes/rigs.ts';
import { sessionRoutes } from './routes/sessions.ts';
import { writingRoutes } from './routes/writing.ts';
import { States } from './states.ts';
import { serveWeb } from './web-files.ts';

export interface ServerOptions {
  readonly store: Store;
  readonly catalog: Catalog;
  /** Milliseconds since 1970, for instants. */
  readonly clock: () => number;
  /** Today where the rig's owner is, `2026-06-12`. */
  readonly today: () => string;
  readonly version: string;
  /** The built web app; without it only the API is served. */
  readonly webFolder?: string;
  /** Where copies are that are made by themselves; without it there are none. */
  readonly copiesFolder?: string;
  /** Who may come in; the owner at their own machine where nothing is said. */
  readonly access?: AccessMode;
  /** How often one may ask; `false`: as often as one likes (tests and measurements). By default as in docs/operating.md. */
  readonly requestLimit?: RequestLimit | false;
  /** Told of every failure that is ours. */
  readonly onFailure?: (error: unknown) => void;
}

/**
 * The server, not yet listening. Without accounts it answers to names of this machine only, and whoever asks is the owner; to
 * listen on any other address is refused by `serve`.
 */
export async function createServer(options: ServerOptions): Promise<FastifyInstance> {
  const { store, catalog, clock, today } = options;
  const mode = options.access ?? { kind: 'local' };
  const app = Fastify({
    bodyLimit: 64 * 1024,
    // A slow or silent caller is let go.
    connectionTimeout: 30_000,
    requestTimeout: 60_000,
    keepAliveTimeout: 20_000,
    // An address that cannot be read gets no further than the router.
    frameworkErrors: (error, _request, reply) => sendProblems(reply, problemsOf(error)),
    // A feed's file is the longest: the rig's name, the secret and its ending.
    routerOptions: { maxParamLength: 200 },
    ...(mode.kind === 'accounts' && mode.proxy ? { trustProxy: mode.proxy } : {}),
  });
  // JSON and files only: a form or a plain text can be sent by any page of any site without asking.
  app.removeAllContentTypeParsers();
  const parseJson = app.getDefaultJsonParser('error', 'error');
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (request, body: string, done) => {
    try {
      refuseDeepJson(body);
    } catch (error) {
      return done(error as Error);
    }
    return parseJson(request, body, done);
  });
  for (const type of ['application/octet-stream', 'application/pdf', /^image\//]) {
    app.addContentTypeParser(type, { parseAs: 'buffer' }, (_request, body, done) => done(null, body));
  }
  app.decorateRequest('who');
  app.setErrorHandler((error, _request, reply) => {
    const problems = problemsOf(error);
    if (problems[0]!.code === 'server.unexpected') options.onFailure?.(error);
    return sendProblems(reply, problems, error instanceof WaitError ? error.seconds : undefined);
  });
  app.setNotFoundHandler((request, reply) =>
    sendProblems(reply, [
      { code: 'request.not-found', what: 'There is nothing here', where: request.url.slice(0, 200) },
    ]),
  );
  guardRequests(app, mode.kind === 'accounts' ? { origin: mode.origin } : {});
  const countCaller = await limitRequests(app, mode, options.requestLimit);
  tagAnswers(app);

  const states = new States(store, judgeBy(catalog));
  const cookie = new SessionCookie(mode.kind === 'accounts' && mode.origin.startsWith('https:'));
  const identify = await identifyBy(app, store, mode, cookie, clock);
  const desks = new Desks(states, catalog, today);
  const changes = new Changes(store, options.onFailure);
  // Before the server waits for its connections to end: these would not by themselves.
  app.addHook('preClose', async () => changes.close());
  const people = { store, mode, cookie, clock };
  const routes: Route[] = [
    ...rigRoutes(store, states, today),
    ...entryRoutes(store, states, catalog, today),
    ...writingRoutes(store, states, catalog, clock, today),
    ...asideRoutes({ store, states, catalog, clock, today }),
    ...blobRoutes(store),
    ...calculationRoutes(),
    ...answerRoutes(desks),
    ...documentRoutes(desks, people),
    ...copyRoutes(store, clock, options.copiesFolder),
    changesRoute(changes, identify),
    ...sessionRoutes(people),
    ...peopleRoutes(people),
    ...accountRoutes(people),
  ];
  routes.push(documentRoute(routes, options.version));
  registerRoutes(app, routes, identify, countCaller);
  if (options.webFolder) await serveWeb(app, options.webFolder);
  return app;
}

function documentRoute(routes: readonly Route[], version: string): Route {
  let document: unknown;
  return route({
    method: 'GET',
    path: '/api/openapi.json',
    id: 'readApiDocument',
    tag: 'About',
    summary: 'This document',
    access: 'open',
    answers: { 200: { text: 'OpenAPI 3.1', schema: z.looseObject({ openapi: z.string() }) } },
    async handle() {
      document ??= openApiDocument(routes, version);
      return { json: document };
    },
  });
}
