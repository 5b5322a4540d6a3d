import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { convert, dimensionOf, isUnitId, type Quantity, quantity, unitsOf, valueIn } from '../quantity/index.ts';
import {
  type Calculation,
  type CalculationField,
  calculation,
  calculations,
  inputFields,
  outputFields,
  runCalculation,
} from './index.ts';

/** The example's figures as printed: equal to the last digit printed. Fields the example leaves out are not looked at. */
function expectPrinted(actual: unknown, printed: unknown, path: string): void {
  if (typeof printed === 'number') {
    const decimals = (String(printed).split('.')[1] ?? '').length;
    expect(typeof actual, path).toBe('number');
    expect(Math.abs((actual as number) - printed), `${path}: ${actual}`).toBeLessThanOrEqual(
      0.5 * 10 ** -decimals * (1 + 1e-9) + Math.abs(printed) * 1e-12,
    );
  } else if (printed !== null && typeof printed === 'object') {
    if (Array.isArray(printed)) expect((actual as unknown[]).length, path).toBe(printed.length);
    for (const [key, part] of Object.entries(printed))
      expectPrinted((actual as Record<string, unknown>)[key], part, `${path}.${key}`);
  } else {
    expect(actual, path).toBe(printed);
  }
}

const isQuantity = (value: unknown): value is Quantity =>
  value !== null &&
  typeof value === 'object' &&
  'unit' in value &&
  'value' in value &&
  typeof value.value === 'number' &&
  isUnitId(String(value.unit));

/** The same input with every quantity changed. */
function mapQuantities(value: unknown, change: (q: Quantity) => Quantity): unknown {
  if (isQuantity(value)) return change(value);
  if (Array.isArray(value)) return value.map((part) => mapQuantities(part, change));
  if (value !== null && typeof value === 'object') {
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, mapQuantities(part, change)]));
  }
  return value;
}

function quantitiesOf(value: unknown, path = ''): readonly (readonly [string, Quantity])[] {
  if (isQuantity(value)) return [[path, value]];
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, part]) => quantitiesOf(part, `${path}.${key}`));
}

const codesOf = (result: Result<unknown>) =>
  result.ok ? [] : result.problems.map((problem) => [problem.code, problem.where]);

function everyField(fields: readonly CalculationField[], look: (field: CalculationField) => void): void {
  for (const field of fields) {
    look(field);
    everyField(field.fields ?? [], look);
  }
}

describe.each(calculations.map((one) => [one.id, one] as const))('%s', (id, one: Calculation) => {
  it('runs its worked example to the last digit printed', () => {
    const answer = unwrap(runCalculation(id, one.example.input));
    expectPrinted(answer, one.example.output, id);
    expect(one.output.safeParse(answer).error).toBeUndefined();
  });

  it('says what it is, what every field means and where it comes from', () => {
    for (const text of [one.title, one.summary, one.formula, one.range]) expect(text).not.toBe('');
    expect(one.sources.length).toBeGreaterThan(0);
    everyField(inputFields(one), (field) => {
      if (field.name !== '') expect(field.text, `${id}.${field.name}`).not.toBe('');
    });
    expect(outputFields(one).map((field) => field.name)).toContain('cautions');
    expect(unwrap(runCalculation(id, one.example.input)).cautions.length).toBeGreaterThan(0);
  });

  it('gives the same answer in every unit', () => {
    const input = one.input.parse(one.example.input);
    const plain = quantitiesOf(unwrap(runCalculation(id, input)));
    fc.assert(
      fc.property(fc.infiniteStream(fc.nat(50)), (choices) => {
        const changed = mapQuantities(input, (q) => {
          const same = unitsOf(dimensionOf(q.unit));
          return convert(q, same[choices.next().value! % same.length]!);
        });
        const answer = quantitiesOf(unwrap(runCalculation(id, changed)));
        expect(answer.map(([path]) => path)).toEqual(plain.map(([path]) => path));
        for (const [i, [path, q]] of answer.entries()) {
          const value = valueIn(q, plain[i]![1].unit);
          expect(Math.abs(value - plain[i]![1].value), `${path} ${value}`).toBeLessThanOrEqual(
            1e-7 * (1 + Math.abs(value)),
          );
        }
      }),
      { numRuns: 30 },
    );
  });

  it('never throws, gives NaN or less than a vacuum, whatever the numbers', () => {
    const input = one.input.parse(one.example.input);
    const factor = fc.constantFrom(-1000, -1, -0.1, 0, 0.001, 0.3, 0.9, 1, 1.1, 3, 100, 1e6);
    fc.assert(
      fc.property(fc.infiniteStream(factor), (factors) => {
        const changed = mapQuantities(input, (q) => quantity(q.value * factors.next().value!, q.unit));
        const answer = runCalculation(id, changed);
        if (!answer.ok) return;
        for (const [path, q] of quantitiesOf(answer.value)) {
          expect(Number.isFinite(q.value), path).toBe(true);
          if (dimensionOf(q.unit) === 'pressure') expect(valueIn(q, 'kPa'), path).toBeGreaterThan(-109);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('the register', () => {
  it('holds each id once, and those the job needs', () => {
    const ids = calculations.map((one) => one.id);
    expect(new Set(ids).size).toBe(ids.length);
    const needed =
      'tire-pressure-at tire-load tire-pressure-for weigh-three-pass hitch-statics one-wheel-lost cylinder-content peukert wire-drop bleach-dose glycol soc-by-voltage brake-current leak-drop inflate';
    for (const id of needed.split(' ')) expect(calculation(id), id).toBeDefined();
  });

  it('names the field that is wrong, and why', () => {
    const load = { size: 'ST225/75R15', family: 'ST', loadRange: 'D', pressure: '65 psi' };
    const faults = (change: object) => codesOf(runCalculation('tire-load', { ...load, ...change }));
    expect(faults({ pressure: undefined })).toEqual([['calculation.field-missing', 'pressure']]);
    expect(faults({ pressure: '65 mi' })).toEqual([['quantity.dimension-wrong', 'pressure']]);
    expect(faults({ pressure: { value: 65, unit: 'pso' } })).toEqual([['quantity.unit-unknown', 'pressure']]);
    expect(faults({ pressure: 65 })).toEqual([['calculation.field-invalid', 'pressure']]);
    expect(faults({ family: 'XX' })).toEqual([['calculation.field-invalid', 'family']]);
    expect(faults({ presure: '65 psi' })).toEqual([['calculation.field-unknown', 'presure']]);
    expect(faults({ family: 'LT' })).toEqual([['tire.family-mismatch', 'family']]);
    expect(codesOf(runCalculation('tire-load', 'what'))).toEqual([['calculation.input', undefined]]);
    expect(codesOf(runCalculation('tire-lode', {}))).toEqual([['calculation.unknown', undefined]]);
    const near = runCalculation('tire-lode', {});
    expect(near.ok ? '' : near.problems[0]!.next).toContain('tire-load');
    expect(codesOf(runCalculation('tire-code', { text: '0109', today: '2026-02-30' }))).toEqual([
      ['date.impossible', 'today'],
    ]);
  });

  it('gives the physical reason for what cannot be', () => {
    const pressure = { gauge: '12 psi', temperature: '-500 °F', toTemperature: '70 °F' };
    expect(codesOf(runCalculation('tire-pressure-at', pressure))).toEqual([
      ['quantity.below-absolute-zero', 'temperature'],
    ]);
    expect(
      codesOf(runCalculation('tire-pressure-at', { ...pressure, temperature: '70 °F', gauge: '-20 psi' })),
    ).toEqual([['tire.gauge', 'gauge']]);
    const statics = {
      wheelbase: '145 in',
      overhang: '65 in',
      ballToAxles: '210 in',
      tongue: '800 lb',
      trailer: '700 lb',
    };
    expect(codesOf(runCalculation('hitch-statics', statics))).toEqual([['loads.tongue-impossible', 'tongue']]);
    expect(unwrap(runCalculation('tire-code', { text: '3127', today: '2026-11-25' }))).toMatchObject({ valid: false });
  });

  it('answers in the unit system of the question', () => {
    const metric = unwrap(
      runCalculation('tire-load', { size: 'ST225/75R15', family: 'ST', loadRange: 'D', pressure: '4,5 bar' }),
    );
    expect((metric.load as Quantity).unit).toBe('kg');
    const dose = unwrap(runCalculation('bleach-dose', { target: '50 mg/L', volume: '150 L', strength: '6 %' }));
    expect((dose.dose as Quantity).unit).toBe('mL');
  });
});
