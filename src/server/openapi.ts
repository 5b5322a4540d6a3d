import { z } from 'zod';
import type { Route, Tag } from './route.ts';
import { entry, problemDetailsSchema } from './schemas.ts';

type Json = Record<string, unknown>;

const TAGS: Readonly<Record<Tag, string>> = {
  Rigs: 'Which rigs there are and how they stand.',
  Logbook: 'Entries, in and out. The only truth: what was written is never changed.',
  'Photos and papers': 'Files kept with entries, by their content.',
  Answers: 'What follows from the logbook: when each upkeep runs out, what to do on which day, whether one may go.',
  Copies: 'What an owner can take home.',
  Calculations: 'One calculation at a time, from figures given with the question.',
  People: 'Accounts, devices, and who may see and write what.',
  About: 'About this server.',
};

/** The API document (OpenAPI 3.1), made of the same schemas by which requests are judged. */
export function openApiDocument(routes: readonly Route[], version: string): Json {
  const schemas: Json = {};
  const paths: Record<string, Json> = {};
  schemaOf(entry, 'input', schemas);
  for (const spec of routes) {
    paths[spec.path] ??= {};
    paths[spec.path]![spec.method.toLowerCase()] = operation(spec, schemas);
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Rigworthy',
      version,
      summary: 'The logbook of a towed travel trailer and its tow vehicle, and what follows from it.',
      license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
    },
    servers: [{ url: '/' }],
    tags: [...new Set(routes.map(({ tag }) => tag))].map((name) => ({ name, description: TAGS[name] })),
    paths,
    components: {
      schemas,
      responses: {
        Problem: {
          description: 'What is wrong, where, what was expected and what to do',
          content: { 'application/problem+json': { schema: schemaOf(problemDetailsSchema, 'output', schemas) } },
        },
      },
      securitySchemes: {
        session: {
          type: 'apiKey',
          in: 'cookie',
          name: 'session',
          description: 'Not needed at the owner’s own machine.',
        },
      },
    },
  };
}

function operation(spec: Route, schemas: Json): Json {
  const answers = Object.entries(spec.answers).map(([status, { text, schema, type }]) => {
    const content = schema
      ? { 'application/json': { schema: schemaOf(schema, 'output', schemas) } }
      : type && { [type]: { schema: { type: 'string', format: 'binary' } } };
    return [status, { description: text, ...(content ? { content } : {}) }];
  });
  return {
    operationId: spec.id,
    summary: spec.summary,
    tags: [spec.tag],
    security: spec.access === 'open' ? [] : [{ session: [] }],
    ...(spec.access === 'open' || spec.access === 'signed-in' ? {} : { 'x-role': spec.access }),
    parameters: [...parameters(spec.params, 'path', schemas), ...parameters(spec.query, 'query', schemas)],
    ...(spec.body === undefined ? {} : { requestBody: { required: true, content: bodyContent(spec.body, schemas) } }),
    responses: { ...Object.fromEntries(answers), '4XX': { $ref: '#/components/responses/Problem' } },
  };
}

function bodyContent(body: z.ZodType | 'file', schemas: Json): Json {
  return body === 'file'
    ? { 'application/octet-stream': { schema: { type: 'string', format: 'binary' } } }
    : { 'application/json': { schema: schemaOf(body, 'input', schemas) } };
}

function parameters(schema: z.ZodType | undefined, place: 'path' | 'query', schemas: Json): Json[] {
  if (!schema) return [];
  const object = schemaOf(schema, 'input', schemas) as { properties?: Record<string, Json>; required?: string[] };
  return Object.entries(object.properties ?? {}).map(([name, { description, ...rest }]) => ({
    name,
    in: place,
    required: place === 'path' || (object.required ?? []).includes(name),
    ...(description ? { description } : {}),
    schema: rest,
  }));
}

/** A schema as JSON Schema; those with a name go to `components` and are referred to. */
function schemaOf(schema: z.core.$ZodType, io: 'input' | 'output', schemas: Json): Json {
  const made = z.toJSONSchema(schema, { io, unrepresentable: 'any', target: 'draft-2020-12' }) as Json & {
    $defs?: Json;
  };
  const { $schema, $defs, id, ...rest } = made;
  for (const [name, definition] of Object.entries($defs ?? {})) {
    const { id: _, ...inner } = definition as Json;
    schemas[name] ??= redirected(inner);
  }
  const own = redirected(rest) as Json;
  if (typeof id !== 'string') return own;
  schemas[id] ??= own;
  return { $ref: `#/components/schemas/${id}` };
}

/** References to where the definitions went; our own keyword by the name of an extension. */
function redirected(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(redirected);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => redirectedPair(key, inner)));
}

function redirectedPair(key: string, inner: unknown): [string, unknown] {
  if (typeof inner !== 'string') return [key, redirected(inner)];
  if (key === 'dimension') return ['x-dimension', inner];
  return [key, key === '$ref' ? inner.replace('#/$defs/', '#/components/schemas/') : inner];
}
