/** Running a calculation from unknown JSON: every fault is a Problem that names its field. */

import type * as z from 'zod/mini';
import { fail, type Problem, type Result } from '../problem/index.ts';
import type { AnswerExtras, Calculation } from './calculation.ts';
import { nearest } from './near.ts';

/** The value at a path of unknown JSON, or undefined. */
function at(json: unknown, path: readonly PropertyKey[]): unknown {
  let value = json;
  for (const key of path) {
    if (value === null || typeof value !== 'object') return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

function asProblem(value: unknown): Problem | null {
  if (value === null || typeof value !== 'object') return null;
  return 'code' in value && 'what' in value && typeof value.code === 'string' && typeof value.what === 'string'
    ? (value as Problem)
    : null;
}

/** zod's message as what was expected: `one of ST, LT, P`, `text`, `a number`. */
function strip(message: string): string {
  return message
    .replace(/^(Invalid input|Invalid option): /i, '')
    .replace(/^expected /, '')
    .replace(/, received .*$/, '')
    .replaceAll('"|"', ', ')
    .replaceAll('"', '')
    .replace(/^string$/, 'text')
    .replace(/^(number|boolean)$/, 'a $1')
    .replace(/^(object|array)$/, 'an $1');
}

/** One zod issue as a Problem. */
function issueProblem(issue: z.core.$ZodIssue, json: unknown, fields: readonly string[]): Problem {
  const where = issue.path.map(String).join('.');
  const place = where === '' ? {} : { where };
  const own = issue.code === 'custom' ? asProblem(issue.params?.problem) : null;
  if (own !== null) return { ...own, where: where === '' ? (own.where ?? '') : where };
  if (issue.code === 'unrecognized_keys') {
    const near = issue.keys.flatMap((key) => nearest(key, fields));
    return {
      code: 'calculation.field-unknown',
      what: `There is no field ${issue.keys.map((key) => `\`${key}\``).join(', ')}.`,
      where: [where, issue.keys[0]].filter((part) => part !== '').join('.'),
      expected: `only fields it knows${fields.length > 0 ? `: ${fields.join(', ')}` : ''}`,
      ...(near.length > 0 ? { next: `Did you mean ${near.join(', ')}?` } : {}),
    };
  }
  if (at(json, issue.path) === undefined && issue.path.length > 0) {
    return {
      code: 'calculation.field-missing',
      what: `\`${where}\` is missing.`,
      ...place,
      expected: strip(issue.message),
    };
  }
  if (issue.path.length === 0) {
    return {
      code: 'calculation.input',
      what: 'The input is not an object of named fields.',
      expected: `a JSON object${fields.length > 0 ? ` with ${fields.join(', ')}` : ''}`,
    };
  }
  return {
    code: 'calculation.field-invalid',
    what: `\`${where}\` cannot be ${JSON.stringify(at(json, issue.path))}.`,
    ...place,
    expected: strip(issue.message),
  };
}

/** The names of the fields of an object schema. */
export function fieldNames(schema: z.ZodMiniType): readonly string[] {
  return 'shape' in schema ? Object.keys(schema.shape as object) : [];
}

/**
 * Reads the input and runs.
 *
 * @returns the answer, or Problems: `calculation.input`, `calculation.field-missing`, `calculation.field-unknown`,
 * `calculation.field-invalid`, `quantity.…`, `date.…`, and those of the room
 */
export function runWith(calculation: Calculation, json: unknown): Result<AnswerExtras & Record<string, unknown>> {
  const read = calculation.input.safeParse(json);
  if (read.success) return calculation.run(read.data) as Result<AnswerExtras & Record<string, unknown>>;
  const fields = fieldNames(calculation.input);
  const [first, ...more] = read.error.issues.map((issue) =>
    issueProblem(issue, json, issue.path.length === 0 ? fields : []),
  );
  return fail(first!, ...more);
}
