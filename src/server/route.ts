import type { Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Role } from '../store/index.ts';
import type { Who } from './who.ts';

/**
 * What a caller must be. `open`: anybody. `signed-in`: somebody. A role: on the rig that the path names; that check is made in
 * one place (`register.ts`), for every route, before its handler runs.
 */
export type Access = 'open' | 'signed-in' | Role;

/** Chapter of the API document. */
export type Tag = 'Rigs' | 'Logbook' | 'Photos and papers' | 'Answers' | 'Calculations' | 'Copies' | 'People' | 'About';

/** What a route answers: JSON unless it says otherwise. */
export interface Answer {
  readonly status?: number;
  readonly json?: unknown;
  /** What is not held in memory; `bytes` where it is known how many come. */
  readonly stream?: { readonly content: Readable; readonly type: string; readonly bytes?: number };
  readonly bytes?: { readonly content: Uint8Array; readonly type: string; readonly name?: string };
  readonly headers?: Readonly<Record<string, string>>;
}

export interface Call<P, Q, B> {
  readonly params: P;
  readonly query: Q;
  readonly body: B;
  readonly who: Who;
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
}

/** One route: all that is known about it, in one value. */
export interface Route<P = unknown, Q = unknown, B = unknown> {
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** As OpenAPI writes it: `/api/rigs/{rig}`. */
  readonly path: string;
  /** Name in the API document. */
  readonly id: string;
  readonly tag: Tag;
  readonly summary: string;
  readonly access: Access;
  readonly params?: z.ZodType<P>;
  readonly query?: z.ZodType<Q>;
  /** JSON by its schema, or a file as it is. */
  readonly body?: z.ZodType<B> | 'file';
  /** The handler judges each part of the body by itself, so that one bad part holds up none of the others. */
  readonly judgesParts?: true;
  /** Largest body in bytes; 64 KiB where nothing is said. */
  readonly bodyMax?: number;
  /** Answers that are not problems, by status. */
  readonly answers: Readonly<
    Record<number, { readonly text: string; readonly schema?: z.ZodType; readonly type?: string }>
  >;
  /** It answers with a stream: HEAD is then not answered. */
  readonly streams?: true;
  handle(call: Call<P, Q, B>): Promise<Answer>;
}

/** Lets the schemas type the handler, then forgets the types: routes of all shapes go into one list. */
export function route<P = Record<string, never>, Q = Record<string, never>, B = undefined>(
  spec: Route<P, Q, B>,
): Route {
  return spec as unknown as Route;
}
