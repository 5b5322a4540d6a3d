import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import {
  add,
  compare,
  convert,
  type Dimension,
  dimensionOf,
  formatQuantity,
  parseQuantity,
  preferredUnit,
  quantity,
  quantitySchema,
  subtract,
  type UnitId,
  unitIds,
  unitsOf,
  valueIn,
} from './index.ts';

const read = (text: string, expected?: Dimension) => {
  const result = parseQuantity(text, expected);
  return result.ok ? `${result.value.value} ${result.value.unit}` : result.problems[0]!.code;
};

describe('parseQuantity', () => {
  it.each<[string, Dimension | undefined, string]>([
    ['50 psi', undefined, '50 psi'],
    ['345 kPa', 'pressure', '345 kPa'],
    ['3.4 bar', 'pressure', '3.4 bar'],
    ['3,4 bar', 'pressure', '3.4 bar'],
    ['18,204.6 mi', 'length', '18204.6 mi'],
    ['18 204.6 mi', 'length', '18204.6 mi'],
    ['18\u202f204,6 km', 'length', '18204.6 km'],
    ['1.234,5 km', 'length', '1234.5 km'],
    ['1.234 km', 'length', '1.234 km'],
    ['1,234 km', 'length', '1234 km'],
    ['0,125 in', 'length', '0.125 in'],
    ['1,234,567 mi', 'length', '1234567 mi'],
    ['12 °C', 'temperature', '12 degC'],
    ['12C', 'temperature', '12 degC'],
    ['35 F', undefined, '35 degF'],
    ['−5 °F', 'temperature', '-5 degF'],
    ['+5 ℃', 'temperature', '5 degC'],
    ['10 F', 'temperature-difference', '10 deltaF'],
    ['110 lb-ft', 'torque', '110 lb-ft'],
    ['110 ft-lb', 'torque', '110 lb-ft'],
    ['110 ft·lbs', 'torque', '110 lb-ft'],
    ['450 in-lb', 'torque', '450 lb-in'],
    ['149 N·m', 'torque', '149 N-m'],
    ['149 Nm', 'torque', '149 N-m'],
    ['2,540 lb', 'mass', '2540 lb'],
    ['2,540 lb', 'force', '2540 lbf'],
    ['1/4 cup', 'volume', '0.25 cup'],
    ['¼ cup', 'volume', '0.25 cup'],
    ['1 1/2 in', 'length', '1.5 in'],
    ['7½ in', 'length', '7.5 in'],
    ['7-1/2 in', 'length', '7.5 in'],
    ['4/32 in', 'length', '0.125 in'],
    ['15"', 'length', '15 in'],
    ['12.6 V', undefined, '12.6 V'],
    ['11 in. w.c.', 'pressure', '11 inH2O'],
    ['11 in w.c.', 'pressure', '11 inH2O'],
    ['50 mg/L', 'concentration', '50 mg/L'],
    ['50 ppm', 'concentration', '50 ppm'],
    ['70 ppm', 'ratio', '70 ppmv'],
    ['30 %', 'ratio', '30 %'],
    ['$40', 'money', '40 USD'],
    ['$1,250.50', undefined, '1250.5 USD'],
    ['4 oz', 'volume', '4 floz'],
    ['4 oz', undefined, '4 oz'],
    ['30,000 BTU/h', 'power', '30000 BTU/h'],
    ['100 amp hours', 'electric-charge', '100 Ah'],
    ['3.2 Ω', 'electric-resistance', '3.2 ohm'],
    ['12 months', 'calendar', '12 month'],
    ['4', 'count', '4 each'],
    ['.5 in', 'length', '0.5 in'],
    ['1e3 mi', 'length', '1000 mi'],
    ['5 ft 6 in', 'length', '5.5 ft'],
    [`6' 3"`, undefined, '6.25 ft'],
    ['1 h 30 min', 'time', '1.5 h'],
    ['7 lb 4 oz', 'mass', '7.25 lb'],
    ['−5 ft 6 in', 'length', '-5.5 ft'],
  ])('reads %s as %s: %s', (text, expected, answer) => expect(read(text, expected)).toBe(answer));

  it.each<[string, Dimension | undefined, string]>([
    ['', 'pressure', 'quantity.number-missing'],
    ['psi', 'pressure', 'quantity.number-missing'],
    ['1/0 in', 'length', 'quantity.number-missing'],
    ['1,23,4 mi', 'length', 'quantity.number-missing'],
    ['50', 'pressure', 'quantity.unit-missing'],
    ['30', 'ratio', 'quantity.unit-missing'],
    ['50 pso', 'pressure', 'quantity.unit-unknown'],
    ['50 mi', 'pressure', 'quantity.dimension-wrong'],
    ['-500 °F', 'temperature', 'quantity.below-absolute-zero'],
    ['50 psi psi', 'pressure', 'quantity.unit-unknown'],
    ['50 psi 3 bar', 'pressure', 'quantity.unit-unknown'],
    ['5 ft 6 lb', 'length', 'quantity.dimension-wrong'],
  ])('refuses %j for %s with %s', (text, expected, code) => expect(read(text, expected)).toBe(code));

  it('lists near units and says which dimension was expected', () => {
    const near = parseQuantity('50 pso', 'pressure');
    expect(near.ok ? '' : near.problems[0]!.next).toContain('psi');
    const wrong = parseQuantity('50 mi', 'pressure');
    expect(wrong.ok ? '' : wrong.problems[0]!.expected).toContain('pressure');
  });
});

describe('conversion', () => {
  // NIST Special Publication 811 (2008), appendix B.8, exact values.
  it.each<[UnitId, UnitId, number]>([
    ['in', 'mm', 25.4],
    ['ft', 'm', 0.3048],
    ['mi', 'km', 1.609344],
    ['lb', 'kg', 0.45359237],
    ['oz', 'g', 28.349523125],
    ['gal', 'L', 3.785411784],
    ['cup', 'mL', 236.5882365],
    ['kgf', 'N', 9.80665],
    ['lbf', 'N', 4.4482216152605],
    ['atm', 'kPa', 101.325],
    ['BTU', 'J', 1055.05585262],
    ['mph', 'm/s', 0.44704],
    ['mph', 'km/h', 1.609344],
    ['ft3', 'm3', 0.028316846592],
    ['kWh', 'MJ', 3.6],
  ])('one %s is exactly %s × %d', (from, to, factor) => expect(valueIn(quantity(1, from), to)).toBe(factor));

  // The same publication, values rounded there to seven digits.
  it.each<[UnitId, UnitId, number]>([
    ['psi', 'kPa', 6.894757],
    ['lb-ft', 'N-m', 1.355818],
    ['lb-in', 'N-m', 0.1129848],
    ['BTU/h', 'W', 0.2930711],
    ['hp', 'W', 745.6999],
    ['inHg', 'kPa', 3.386389],
    ['inH2O', 'Pa', 249.0889],
    ['lb/gal', 'kg/m3', 119.8264],
    ['ft3/min', 'L/min', 28.31685],
  ])('one %s is %s × %d to seven digits', (from, to, factor) =>
    expect(Number(valueIn(quantity(1, from), to).toPrecision(7))).toBeCloseTo(
      factor,
      3 - Math.floor(Math.log10(factor)) + 3,
    ),
  );

  it('keeps the fixed points of the temperature scales exactly', () => {
    expect(valueIn(quantity(212, 'degF'), 'degC')).toBe(100);
    expect(valueIn(quantity(32, 'degF'), 'degC')).toBe(0);
    expect(valueIn(quantity(-40, 'degC'), 'degF')).toBe(-40);
    expect(valueIn(quantity(20, 'degC'), 'K')).toBe(293.15);
    expect(valueIn(quantity(-459.67, 'degF'), 'K')).toBeCloseTo(0, 12);
    expect(valueIn(quantity(18, 'deltaF'), 'deltaK')).toBe(10);
  });

  it('comes back to where it started', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...unitIds),
        fc.nat(30),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        (unit, k, value) => {
          const same = unitsOf(dimensionOf(unit));
          const there = convert(quantity(value, unit), same[k % same.length]!);
          const scale = dimensionOf(unit) === 'temperature' ? Math.abs(value) + 1000 : Math.abs(value);
          expect(Math.abs(valueIn(there, unit) - value)).toBeLessThanOrEqual(scale * 1e-15 + 1e-300);
        },
      ),
    );
  });

  it('is never −0, wherever it comes from', () => {
    const written = ['-0 psi', '-0.0 mi', '-0/4 in', '-0,0 psi'].map((text) => unwrap(parseQuantity(text)));
    const made = [
      quantity(-0, 'mi'),
      quantity(Math.round(-0.04), 'mi'),
      convert({ value: -0, unit: 'mi' }, 'km'),
      convert({ value: -0, unit: 'mi' }, 'mi'),
      add({ value: -0, unit: 'mi' }, { value: -0, unit: 'mi' }),
      subtract({ value: -0, unit: 'mi' }, quantity(0, 'mi')),
      quantitySchema('pressure').parse({ value: -0, unit: 'psi' }),
    ];
    for (const one of [...written, ...made]) expect(Object.is(one.value, 0), JSON.stringify(one)).toBe(true);
  });

  it('adds tenths without drift', () => {
    let total = quantity(18204.6, 'mi');
    for (let i = 0; i < 1000; i++) total = add(total, quantity(0.1, 'mi'));
    expect(total.value).toBe(18304.6);
    expect(subtract(quantity(0.3, 'mi'), quantity(0.1, 'mi'))).toEqual({ value: 0.2, unit: 'mi' });
    expect(add(quantity(1, 'ft'), quantity(6, 'in'))).toEqual({ value: 1.5, unit: 'ft' });
  });

  it('compares across units and throws across dimensions', () => {
    expect(compare(quantity(50, 'psi'), quantity(344, 'kPa'))).toBe(1);
    expect(compare(quantity(1, 'gal'), quantity(231, 'gal'))).toBe(-1);
    expect(compare(quantity(16, 'cup'), quantity(1, 'gal'))).toBe(0);
    expect(() => valueIn(quantity(1, 'psi'), 'mi')).toThrow('invariant');
    expect(() => quantity(Number.NaN, 'psi')).toThrow('invariant');
  });
});

describe('formatQuantity', () => {
  it('groups, rounds and converts for display only', () => {
    expect(formatQuantity(quantity(18204.6, 'mi'))).toBe('18,204.6 mi');
    expect(formatQuantity(quantity(50, 'psi'), { system: 'metric' })).toBe('345 kPa');
    expect(formatQuantity(quantity(53.6, 'degF'), { system: 'metric' })).toBe('12 °C');
    expect(formatQuantity(quantity(-5, 'degC'))).toBe('−5 °C');
    expect(formatQuantity(quantity(-0.2, 'degC'))).toBe('0 °C');
    expect(formatQuantity(quantity(110, 'lb-ft'), { unit: 'N-m' })).toBe('149 N·m');
    expect(formatQuantity(quantity(12.65, 'V'), { digits: 1 })).toBe('12.7 V');
    expect(formatQuantity(quantity(40, 'USD'))).toBe('$40');
    expect(formatQuantity(quantity(-1250.5, 'USD'))).toBe('−$1,250.50');
    expect(formatQuantity(quantity(4, 'each'))).toBe('4');
    expect(formatQuantity(quantity(12, 'psi'), { digits: 1 })).toBe('12.0 psi');
  });

  it('keeps the size of the unit it was read in', () => {
    expect(preferredUnit('length', 'metric', 'in')).toBe('mm');
    expect(preferredUnit('length', 'metric')).toBe('km');
    expect(preferredUnit('pressure', 'us', 'mbar')).toBe('inH2O');
    expect(preferredUnit('electric-charge', 'us', 'Ah')).toBe('Ah');
    for (const unit of unitIds) {
      for (const system of ['us', 'metric'] as const) {
        expect(dimensionOf(preferredUnit(dimensionOf(unit), system, unit))).toBe(dimensionOf(unit));
      }
    }
  });

  it('can be read back, whatever the unit', () => {
    for (const unit of unitIds) {
      if (unit === 'ratio') continue;
      expect(read(formatQuantity(quantity(1234.5, unit), { digits: 1 }), dimensionOf(unit))).toBe(`1234.5 ${unit}`);
    }
  });
});

describe('quantitySchema', () => {
  it('reads a text or a value with a unit', () => {
    const schema = quantitySchema('pressure');
    expect(schema.parse('50 psi')).toEqual({ value: 50, unit: 'psi' });
    expect(schema.parse({ value: 3.4, unit: 'BAR' })).toEqual({ value: 3.4, unit: 'bar' });
    const wrong = schema.safeParse('50 mi');
    expect(wrong.error?.issues[0]?.message).toContain('pressure');
    expect(schema.safeParse(50).error?.issues[0]?.message).toContain('a pressure, such as');
    expect(schema.safeParse({ value: Number.NaN, unit: 'psi' }).success).toBe(false);
  });
});
