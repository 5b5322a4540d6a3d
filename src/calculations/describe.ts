/** A calculation's fields in plain words, for help texts, forms and the API: made from its schema alone. */

import * as z from 'zod/mini';
import { type Dimension, dimensionText, type QuantityRange, unitSymbol, unitsOf } from '../quantity/index.ts';
import type { Calculation } from './calculation.ts';

export interface CalculationField {
  readonly name: string;
  readonly kind: 'quantity' | 'text' | 'number' | 'choice' | 'yes-no' | 'group' | 'list';
  /** What it means. */
  readonly text: string;
  readonly required: boolean;
  readonly dimension?: Dimension;
  /** What a quantity can be; outside is refused. */
  readonly range?: QuantityRange;
  /** How to write it: `a pressure, such as 50 psi`. */
  readonly expected?: string;
  /** Units a form offers, as symbols. */
  readonly units?: readonly string[];
  readonly choices?: readonly string[];
  /** Fields of a group, or of each thing of a list. */
  readonly fields?: readonly CalculationField[];
}

interface JsonSchema {
  readonly type?: string;
  readonly description?: string;
  readonly dimension?: Dimension;
  readonly range?: QuantityRange;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly items?: JsonSchema;
  readonly anyOf?: readonly JsonSchema[];
}

/** The input's JSON Schema (draft 2020-12). */
export function inputJsonSchema(calculation: Calculation): Record<string, unknown> {
  return z.toJSONSchema(calculation.input, { io: 'input', unrepresentable: 'any' }) as Record<string, unknown>;
}

/** The output's JSON Schema. */
export function outputJsonSchema(calculation: Calculation): Record<string, unknown> {
  return z.toJSONSchema(calculation.output, { io: 'output', unrepresentable: 'any' }) as Record<string, unknown>;
}

function fieldsOf(schema: JsonSchema): readonly CalculationField[] {
  return Object.entries(schema.properties ?? {}).map(([name, property]) =>
    fieldOf(name, property, schema.required?.includes(name) ?? false),
  );
}

/** A schema that may also be null, without the null. */
function notNull(schema: JsonSchema): JsonSchema {
  const [one] = (schema.anyOf ?? []).filter((part) => part.type !== 'null');
  if (schema.dimension !== undefined || one === undefined) return schema;
  const { description } = schema;
  return description === undefined ? one : { ...one, description };
}

function fieldOf(name: string, given: JsonSchema, required: boolean): CalculationField {
  const schema = notNull(given);
  const base = { name, text: schema.description ?? '', required };
  if (schema.dimension !== undefined) {
    const { dimension } = schema;
    return {
      ...base,
      kind: 'quantity',
      dimension,
      ...(schema.range === undefined ? {} : { range: schema.range }),
      expected: dimensionText(dimension),
      units: unitsOf(dimension).map((id) => unitSymbol(id) || id),
    };
  }
  if (schema.enum !== undefined) return { ...base, kind: 'choice', choices: schema.enum.map(String) };
  if (schema.type === 'array') {
    const one = fieldOf('', schema.items ?? {}, true);
    return { ...base, kind: 'list', fields: one.kind === 'group' ? (one.fields ?? []) : [one] };
  }
  if (schema.type === 'object') return { ...base, kind: 'group', fields: fieldsOf(schema) };
  if (schema.type === 'number' || schema.type === 'integer') return { ...base, kind: 'number' };
  if (schema.type === 'boolean') return { ...base, kind: 'yes-no' };
  return { ...base, kind: 'text' };
}

/** The fields to fill in, in order. */
export function inputFields(calculation: Calculation): readonly CalculationField[] {
  return fieldsOf(inputJsonSchema(calculation) as JsonSchema);
}

/** The fields of an answer, in order. */
export function outputFields(calculation: Calculation): readonly CalculationField[] {
  return fieldsOf(outputJsonSchema(calculation) as JsonSchema);
}
