/** Figures that cannot be, in every field of every calculation and in every unit: bad input with its field named, never a crash. */

import { describe, expect, it } from 'vitest';
import { isUnitId, type Quantity, unitsOf } from '../quantity/index.ts';
import { type Calculation, type CalculationField, calculations, inputFields, runCalculation } from './index.ts';

const HUGE = [1e308, -1e308, Number.MAX_SAFE_INTEGER * 1e6, Number.NaN, Number.POSITIVE_INFINITY];
const TINY = [0, -0, 5e-324, -5e-324, 1e-30];

type Path = readonly (string | number)[];

/** The same input with one leaf put in its place; lists get it in their first row. */
function withLeaf(value: unknown, [key, ...rest]: Path, leaf: unknown): unknown {
  if (key === undefined) return leaf;
  if (Array.isArray(value)) return [withLeaf(value[0] ?? {}, [key, ...rest].slice(1), leaf), ...value.slice(1)];
  const group = (value ?? {}) as Readonly<Record<string, unknown>>;
  return { ...group, [key]: withLeaf(group[key], rest, leaf) };
}

function* leafFields(
  fields: readonly CalculationField[],
  path: Path = [],
): Generator<readonly [Path, CalculationField]> {
  for (const field of fields) {
    const here = field.name === '' ? path : [...path, field.name];
    if (field.kind === 'group') yield* leafFields(field.fields ?? [], here);
    else if (field.kind === 'list') yield* leafFields(field.fields ?? [], [...here, 0]);
    else yield [here, field];
  }
}

/** Everything to be put in a field. */
function* leavesFor(field: CalculationField, values: readonly number[]): Generator<unknown> {
  if (field.kind === 'number') yield* values;
  if (field.kind !== 'quantity') return;
  for (const unit of unitsOf(field.dimension!)) for (const value of values) yield { value, unit };
}

const finite = (value: unknown): boolean =>
  typeof value === 'number'
    ? Number.isFinite(value) && !Object.is(value, -0)
    : value === null || typeof value !== 'object' || Object.values(value).every(finite);

const isQuantity = (value: unknown): value is Quantity =>
  value !== null && typeof value === 'object' && 'unit' in value && isUnitId(String(value.unit));

const MINE = new Set(['codes', 'gas', 'power', 'water', 'brakes']);

describe.each(calculations.filter((one) => MINE.has(one.room)).map((one) => [one.id, one] as const))(
  '%s',
  (id, one: Calculation) => {
    const fields = [...leafFields(inputFields(one))];
    const tried = (values: readonly number[]) =>
      fields.flatMap(([path, field]) =>
        [...leavesFor(field, values)].map((leaf) => {
          const input = withLeaf(one.example.input, path, leaf);
          return { path, leaf, answer: runCalculation(id, input) };
        }),
      );

    it('refuses what is huge, endless or no number, and names the field', () => {
      for (const { path, leaf, answer } of tried(HUGE)) {
        const told = `${path.join('.')} ${JSON.stringify(leaf)} ${isQuantity(leaf) ? leaf.value : leaf}`;
        expect(answer.ok, told).toBe(false);
        if (answer.ok) continue;
        for (const problem of answer.problems) {
          expect(problem.where, told).toContain(String(path[0]));
          expect(problem.expected, told).toBeTruthy();
        }
      }
    });

    it('answers what is tiny or zero with figures, or refuses it with the field named', () => {
      for (const { path, leaf, answer } of tried(TINY)) {
        const told = `${path.join('.')} ${JSON.stringify(leaf)}`;
        if (answer.ok) expect(finite(answer.value), `${told} ${JSON.stringify(answer.value)}`).toBe(true);
        else expect(answer.problems[0]!.where, told).toBeTruthy();
      }
    });
  },
);
