/**
 * Every law of every envelope, over the whole range of its input and with all other inputs varied: a worse input never gives a
 * milder answer.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayNumber, type PlainDate } from '../dates/index.ts';
import { dimensionOf, isUnitId, PLAUSIBLE, type Quantity, type QuantityRange, valueIn } from '../quantity/index.ts';
import {
  type Calculation,
  type CalculationField,
  calculations,
  inputFields,
  type Law,
  runCalculation,
} from './index.ts';

const isQuantity = (value: unknown): value is Quantity =>
  value !== null && typeof value === 'object' && 'unit' in value && 'value' in value && isUnitId(String(value.unit));

/** Every leaf, quantities whole, with its path; `*` for each place of a list. */
function* leaves(value: unknown, path: readonly string[] = []): Generator<readonly [string, unknown]> {
  if (value === null || typeof value !== 'object' || isQuantity(value)) yield [path.join('.'), value];
  else
    for (const [key, part] of Object.entries(value)) yield* leaves(part, [...path, Array.isArray(value) ? '*' : key]);
}

/** The same input with some leaves changed. */
function changed(
  value: unknown,
  change: (path: string, leaf: unknown) => unknown,
  path: readonly string[] = [],
): unknown {
  if (value === null || typeof value !== 'object' || isQuantity(value)) return change(path.join('.'), value);
  if (Array.isArray(value)) return value.map((part) => changed(part, change, [...path, '*']));
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, changed(part, change, [...path, key])]));
}

function fieldAt(fields: readonly CalculationField[], path: string): CalculationField | undefined {
  let here: CalculationField | undefined;
  let among = fields;
  for (const key of path.split('.')) {
    if (key === '*') continue;
    here = among.find((field) => field.name === key);
    among = here?.fields ?? [];
  }
  return here;
}

/** Where in the law's input a share between 0 (mildest) and 1 (worst) lies: even, or by powers of ten. */
function valueAt(law: Law, base: unknown, limits: QuantityRange, share: number, even: boolean): unknown {
  if (typeof law.worse !== 'string')
    return law.worse[Math.min(law.worse.length - 1, Math.floor(share * law.worse.length))];
  const up = law.worse === 'more' ? share : 1 - share;
  if (typeof base === 'number') return Math.round(base * 4 * up * 100) / 100;
  const { unit } = base as Quantity;
  const [least, most] = [limits.least, limits.most].map((end) => valueIn({ value: end, unit: limits.unit }, unit)) as [
    number,
    number,
  ];
  const now = (base as Quantity).value;
  const low = Math.max(least, even || least < 0 ? now - 3 * Math.abs(now) : now / 1000);
  const high = Math.min(most, even || now <= 0 ? now + 3 * Math.abs(now) + 1 : now * 1000);
  if (low >= high) return base;
  const value = even || low <= 0 ? low + up * (high - low) : low * (high / low) ** up;
  return { value, unit };
}

/** Every value of the answer at a path. */
const outputsAt = (answer: unknown, path: string) =>
  [...leaves(answer)].filter(([at]) => at === path).map(([, leaf]) => leaf);

/** How severe a value of the answer is, to compare. */
function severity(law: Law, value: unknown): number {
  if (typeof law.severer !== 'string') {
    const at = law.severer.indexOf(value as never);
    if (at < 0) throw new Error(`${law.output} answers ${JSON.stringify(value)}, which the law does not know`);
    return at;
  }
  if (value === null || value === undefined) return law.none === 'mildest' ? -Infinity : Infinity;
  if (typeof value === 'string') return (law.severer === 'greater' ? 1 : -1) * dayNumber(value as PlainDate);
  const figure = isQuantity(value) ? valueIn(value, PLAUSIBLE[dimensionOf(value.unit)].unit) : Number(value);
  return law.severer === 'greater' ? figure : -figure;
}

/** Evenly from 0 to 1; `fc.double` would hardly leave the neighborhood of 0. */
const share = fc.integer({ min: 0, max: 10_000 }).map((parts) => parts / 10_000);

const withLaws = calculations.flatMap((one) =>
  (one.envelope?.laws ?? []).map((law) => [one.id, law.input, law.output, one, law] as const),
);

describe.each(withLaws)('%s: worse %s, never a milder %s', (id, _input, _output, one: Calculation, law: Law) => {
  const base = one.input.parse(one.example.input);
  const field = fieldAt(inputFields(one), law.input);

  it('holds over the whole range', () => {
    expect(field, `${id} has an input ${law.input}`).toBeDefined();
    const limits = field!.range ?? PLAUSIBLE[field!.dimension ?? 'count'];
    let compared = 0;
    fc.assert(
      fc.property(
        fc.infiniteStream(fc.double({ min: 0.3, max: 3, noNaN: true })),
        share,
        share,
        fc.boolean(),
        fc.boolean(),
        (factors, one, other, even, vary) => {
          const around = changed(base, (_, leaf) => {
            const factor = factors.next().value!;
            return vary && isQuantity(leaf) ? { ...leaf, value: leaf.value * factor } : leaf;
          });
          const [mild, severe] = [Math.min(one, other), Math.max(one, other)].map((share) =>
            runCalculation(
              id,
              changed(around, (path, leaf) => (path === law.input ? valueAt(law, leaf, limits, share, even) : leaf)),
            ),
          );
          if (!mild!.ok || !severe!.ok) return;
          const [before, after] = [outputsAt(mild!.value, law.output), outputsAt(severe!.value, law.output)];
          if (before.length !== after.length || before.length === 0) return;
          compared++;
          for (const [i, value] of after.entries()) {
            const [less, more] = [severity(law, before[i]), severity(law, value)];
            const slack = Number.isFinite(less) ? 1e-9 * Math.max(1, Math.abs(less)) : 0;
            expect(more >= less - slack, `${JSON.stringify(before[i])} became ${JSON.stringify(value)}`).toBe(true);
          }
        },
      ),
      { numRuns: 150 },
    );
    // A law that never met two answers has not been tested.
    expect(compared).toBeGreaterThan(10);
  });
});

describe('envelopes', () => {
  const declared = calculations.flatMap((one) => (one.envelope === undefined ? [] : [[one.id, one.envelope] as const]));

  it.each(declared)('%s says each of its edges', (_, { minimum, floor, reserve, ceiling, rounding }) => {
    for (const text of [minimum, floor, reserve, ceiling, rounding]) expect(text.length).toBeGreaterThan(3);
  });
});
