import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  add,
  convert,
  dimensionOf,
  parseQuantity,
  quantity,
  quantitySchema,
  readQuantity,
  subtract,
  unitIds,
  unitsOf,
} from './index.ts';

const runs = { seed: 20260501, numRuns: 500 };
const zeros = fc.constantFrom(0, -0, 5e-324, -5e-324, 1e-300, -1e-300);
const isMinusZero = (value: number): boolean => Object.is(value, -0);

it('no quantity is −0, made, read, converted, added or taken away', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...unitIds),
      fc.nat(),
      fc.oneof(zeros, fc.double({ noNaN: true, min: -1e6, max: 1e6 })),
      zeros,
      (unit, pick, a, b) => {
        const others = unitsOf(dimensionOf(unit));
        const other = others[pick % others.length]!;
        const made = quantity(a, unit);
        const values = [
          made,
          convert(made, other),
          convert({ value: -0, unit }, other),
          convert({ value: -0, unit }, unit),
        ];
        values.push(
          add(made, quantity(b, other)),
          subtract(made, made),
          subtract({ value: -0, unit }, quantity(0, other)),
        );
        expect(values.map(({ value }) => value).filter(isMinusZero)).toEqual([]);
      },
    ),
    runs,
  );
});

it.each(['-0 psi', '−0.0 psi', '-0/4 in', '-0 ft 0 in', '0 psi'])('“%s” is read as 0', (text) => {
  const read = parseQuantity(text);
  expect(read.ok && Object.is(read.value.value, 0)).toBe(true);
});

it('a value and a unit apart too', () => {
  expect(readQuantity(-0, 'psi')).toEqual({ ok: true, value: { value: 0, unit: 'psi' } });
  expect(quantitySchema().parse({ value: -0, unit: 'psi' })).toEqual({ value: 0, unit: 'psi' });
});
