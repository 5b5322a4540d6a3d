import { z } from 'zod';
import {
  type Calculation,
  calculation,
  calculations,
  inputFields,
  inputJsonSchema,
  outputFields,
  outputJsonSchema,
  runCalculation,
} from '../../calculations/index.ts';
import { unwrap } from '../../problem/index.ts';
import { problemError } from '../problem-response.ts';
import { type Route, route } from '../route.ts';

const params = z.strictObject({ id: z.string().max(60) });
const source = z.object({ text: z.string(), kind: z.string(), tag: z.string().optional() });
const brief = z
  .looseObject({
    id: z.string(),
    title: z.string(),
    room: z.string(),
    summary: z.string(),
    formula: z.string(),
    range: z.string().meta({ description: 'Where it holds.' }),
    cautions: z.array(z.string()),
    sources: z.array(source),
    input: z.array(z.looseObject({})),
    output: z.array(z.looseObject({})),
    example: z.object({ input: z.looseObject({}), output: z.looseObject({}) }),
  })
  .meta({ id: 'Calculation' });

/** The register of calculations, and the running of one. */
export function calculationRoutes(): Route[] {
  return [
    route({
      method: 'GET',
      path: '/api/calculations',
      id: 'listCalculations',
      tag: 'Calculations',
      summary: 'Every calculation: what it answers, what it takes and gives, its sources and a worked example',
      access: 'signed-in',
      answers: { 200: { text: 'Calculations, room by room', schema: z.object({ calculations: z.array(brief) }) } },
      async handle() {
        return { json: { calculations: calculations.map(describe) } };
      },
    }),
    route({
      method: 'GET',
      path: '/api/calculations/{id}',
      id: 'readCalculation',
      tag: 'Calculations',
      summary: 'One calculation, with the JSON Schemas of its input and its answer',
      access: 'signed-in',
      params,
      answers: {
        200: {
          text: 'The calculation',
          schema: z.looseObject({ inputSchema: z.looseObject({}), outputSchema: z.looseObject({}) }),
        },
      },
      async handle({ params: { id } }) {
        const found = calculation(id);
        if (!found) throw problemError('request.not-found', 'There is no such calculation', { where: id });
        return {
          json: { ...describe(found), inputSchema: inputJsonSchema(found), outputSchema: outputJsonSchema(found) },
        };
      },
    }),
    route({
      method: 'POST',
      path: '/api/calculations/{id}',
      id: 'runCalculation',
      tag: 'Calculations',
      summary: 'Run a calculation: quantities as `"50 psi"` or `{value, unit}`',
      access: 'signed-in',
      params,
      body: z.record(z.string(), z.unknown()),
      answers: {
        200: { text: 'The answer, with its cautions', schema: z.looseObject({ cautions: z.array(z.string()) }) },
      },
      async handle({ params: { id }, body }) {
        if (!calculation(id)) throw problemError('request.not-found', 'There is no such calculation', { where: id });
        return { json: unwrap(runCalculation(id, body)) };
      },
    }),
  ];
}

function describe(one: Calculation) {
  const { id, title, room, summary, formula, range, cautions, sources, example } = one;
  return {
    id,
    title,
    room,
    summary,
    formula,
    range,
    cautions,
    sources,
    example,
    input: inputFields(one),
    output: outputFields(one),
  };
}
