/** What a calculation of the register is, and how one is made. */

import * as z from 'zod/mini';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  type Dimension,
  formatQuantity,
  isUnitId,
  PLAUSIBLE,
  type Quantity,
  type QuantityRange,
  quantitySchema,
} from '../quantity/index.ts';
import type { Envelope } from './envelope.ts';

/** What kind of authority a figure or a formula rests on. */
export type CalculationSourceKind = 'regulation' | 'standard' | 'handbook' | 'physics' | 'common practice';

export interface CalculationSource {
  readonly text: string;
  readonly kind: CalculationSourceKind;
  /** Known from memory, the document itself not seen. */
  readonly tag?: 'memory';
}

/** The rooms a calculation can come from. */
export type CalculationRoom = 'codes' | 'tires' | 'loads' | 'gas' | 'power' | 'water' | 'brakes';

/** What every answer may carry besides its own fields. */
export interface AnswerExtras {
  /** What sets the answer: the weakest link, the tightest limit. */
  readonly limitedBy?: string | undefined;
  /** Always shown with the answer. */
  readonly cautions: readonly string[];
  /** What was not given and therefore assumed. */
  readonly assumed?: readonly string[] | undefined;
  /** Least and most of a figure, where its inputs have a doubt. */
  readonly uncertainty?: unknown;
}

/**
 * One calculation. `input` reads what a person or a program wrote (quantities as `"50 psi"` or `{value, unit}`); `run` takes
 * what `input` gives. Answers come in the unit system of the question.
 */
export interface Calculation<I = unknown, O = unknown> {
  readonly id: string;
  readonly title: string;
  readonly room: CalculationRoom;
  /** One sentence: what it answers. */
  readonly summary: string;
  readonly input: z.ZodMiniType<I>;
  readonly output: z.ZodMiniType<O>;
  readonly cautions: readonly string[];
  readonly sources: readonly CalculationSource[];
  readonly formula: string;
  /** Where it holds. */
  readonly range: string;
  /** What it promises at its edges. */
  readonly envelope?: Envelope;
  /** A worked example, which is a test: figures as printed, to the last digit printed. */
  readonly example: {
    readonly input: Readonly<Record<string, unknown>>;
    readonly output: Readonly<Record<string, unknown>>;
  };
  run(input: I): Result<O & AnswerExtras>;
}

/** Makes one: static cautions before those of the answer, none twice. */
export function define<S extends z.ZodMiniType, T extends z.ZodMiniType>(
  parts: Omit<Calculation, 'input' | 'output' | 'run'> & {
    readonly input: S;
    readonly output: T;
    readonly run: (input: z.output<S>) => Result<object>;
  },
): Calculation {
  return {
    ...parts,
    run(input: unknown) {
      const answer = parts.run(input as z.output<S>);
      if (!answer.ok) return answer;
      const own = 'cautions' in answer.value ? (answer.value.cautions as readonly string[]) : [];
      const cautions = [...new Set([...parts.cautions, ...own])];
      assertFinite(answer.value, parts.id);
      return ok({ ...answer.value, cautions } as AnswerExtras);
    },
  };
}

/** No NaN and no infinity ever leaves a calculation: that would be our mistake, not the asker's. */
function assertFinite(value: unknown, where: string): void {
  if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`invariant: ${where} is ${value}`);
  if (value !== null && typeof value === 'object') {
    for (const [key, part] of Object.entries(value)) assertFinite(part, `${where}.${key}`);
  }
}

/**
 * An input field that is a quantity.
 *
 * @param range what the field can hold; outside is bad input. Without it, what is plausible for the dimension.
 */
export function q(dimension: Dimension, text: string, range: QuantityRange = PLAUSIBLE[dimension]) {
  return quantitySchema(dimension, range).check(z.meta({ dimension, range }), z.describe(text));
}

/** An output field that is a quantity. */
export function out(dimension: Dimension, text: string) {
  return z
    .strictObject({ value: z.number(), unit: z.string().check(z.refine(isUnitId)) })
    .check(z.meta({ dimension }), z.describe(text));
}

/** Least and most of a figure. */
export function bounds(dimension: Dimension, text: string) {
  return z.strictObject({ low: out(dimension, 'at least'), high: out(dimension, 'at most') }).check(z.describe(text));
}

/** An answer's own fields and what every answer may carry. */
export function answer<T extends z.core.$ZodShape>(fields: T) {
  return z.strictObject({
    ...fields,
    limitedBy: z.optional(z.string().check(z.describe('what sets the answer'))),
    cautions: z.array(z.string()).check(z.describe('always shown with the answer')),
    assumed: z.optional(z.array(z.string()).check(z.describe('what was not given and therefore assumed'))),
    sourcesUsed: z.optional(z.array(z.string()).check(z.describe('the published tables this answer rests on'))),
  });
}

const EXAMPLE_DIGITS = 6;

/** A quantity as a short text for a page: `67.47 psi`. */
export function quantityText(quantity: Quantity): string {
  const digits = Math.abs(quantity.value) >= 1000 ? 0 : Math.abs(quantity.value) >= 1 ? 2 : EXAMPLE_DIGITS;
  return formatQuantity(quantity, { digits })
    .replace(/(\.\d*?)0+(?= |$)/, '$1')
    .replace(/\.(?= |$)/, '');
}

/** The problem of an id that is not in the register. */
export function unknownCalculation<T>(id: string, near: readonly string[]): Result<T> {
  const problem: Problem = {
    code: 'calculation.unknown',
    what: `There is no calculation \`${id}\`.`,
    expected: 'an id of the register',
    next: near.length === 0 ? 'List them first.' : `Did you mean ${near.join(', ')}?`,
  };
  return fail(problem);
}
