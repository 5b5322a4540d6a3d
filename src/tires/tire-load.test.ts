import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeOf, q, st } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { convert, quantity, type UnitId, valueIn } from '../quantity/index.ts';
import { tireTables } from './tables/load-inflation.ts';
import { tireLoad } from './tire-load.ts';

describe('tireLoad', () => {
  it('reads rows, stays under them between, and never rises above the last', () => {
    const at = (pressure: string, loadRange = 'D') => {
      const { load, basis } = unwrap(tireLoad({ ...st(loadRange), pressure: q(pressure) }));
      return [Math.round(load.value), load.unit, basis];
    };
    expect(at('65 psi')).toEqual([2540, 'lb', 'table']);
    expect(at('50 psi')).toEqual([2150, 'lb', 'table']);
    expect(at('80 psi')).toEqual([2540, 'lb', 'table']);
    expect(at('80 psi', 'E')).toEqual([2830, 'lb', 'table']);
    expect(at('62 psi')[2]).toBe('between-rows');
    expect(at('12 psi')).toEqual([848, 'lb', 'below-table']);
    expect(at('448.159 kPa')[1]).toBe('kg');
  });

  it('rises with pressure and stays within the rows for every size', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...tireTables),
        fc.double({ min: 0.5, max: 1.4, noNaN: true }),
        fc.double({ min: 0, max: 0.2, noNaN: true }),
        (table, share, more) => {
          const top = table.rows.at(-1)!;
          const spec = { size: table.size, family: table.family, fitment: table.fitment, loadRange: top[2] };
          const low = share * table.rows[0]![0];
          const high = low * (1 + more);
          const a = unwrap(tireLoad({ ...spec, pressure: quantity(low, 'psi') })).load.value;
          const b = unwrap(tireLoad({ ...spec, pressure: quantity(high, 'psi') })).load.value;
          expect(a).toBeLessThanOrEqual(b * (1 + 1e-12));
          const cover = table.rows.find((row) => row[0] >= high) ?? top;
          expect(b).toBeLessThanOrEqual(cover[1] * (1 + 1e-12));
        },
      ),
    );
  });

  it('gives the same load whatever the unit of the pressure', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 90, noNaN: true }),
        fc.constantFrom<UnitId>('kPa', 'bar', 'Pa', 'inHg'),
        (psi, unit) => {
          const pressure = quantity(psi, 'psi');
          const a = unwrap(tireLoad({ ...st('E'), pressure })).load;
          const b = unwrap(tireLoad({ ...st('E'), pressure: convert(pressure, unit) })).load;
          expect(valueIn(b, 'lb')).toBeCloseTo(valueIn(a, 'lb'), 6);
        },
      ),
    );
  });

  it('lets the sidewall win and asks for it where two ratings are sold', () => {
    expect(codeOf(tireLoad({ size: 'ST235/85R16', family: 'ST', loadRange: 'G', pressure: q('110 psi') }))).toBe(
      'tire.two-ratings',
    );
    const sidewall = { load: q('4,080 lb'), pressure: q('110 psi') };
    expect(
      unwrap(tireLoad({ size: 'ST235/85R16', family: 'ST', loadRange: 'G', pressure: q('110 psi'), sidewall })).load
        .value,
    ).toBeCloseTo(4080, 9);
    const lower = unwrap(
      tireLoad({ ...st('D'), pressure: q('65 psi'), sidewall: { load: q('2,470 lb'), pressure: q('65 psi') } }),
    );
    expect(lower.load.value).toBeCloseTo(2470, 9);
    expect(lower.cautions.join()).toContain('sidewall');
    expect(
      codeOf(tireLoad({ ...st('D'), pressure: q('65 psi'), sidewall: { load: q('5,540 lb'), pressure: q('65 psi') } })),
    ).toBe('tire.rating-implausible');
  });

  it('keeps the families apart and divides passenger tires', () => {
    expect(codeOf(tireLoad({ ...st('D'), family: 'LT', pressure: q('65 psi') }))).toBe('tire.family-mismatch');
    expect(codeOf(tireLoad({ ...st('Q'), pressure: q('65 psi') }))).toBe('tire.load-range');
    expect(codeOf(tireLoad({ ...st('D'), pressure: q('3 psi') }))).toBe('tire.pressure-too-low');
    expect(codeOf(tireLoad({ size: 'ST999/75R15', family: 'ST', loadRange: 'D', pressure: q('50 psi') }))).toBe(
      'tire.size-unknown',
    );
    const p = {
      size: 'P225/75R15',
      family: 'P',
      loadRange: 'B',
      sidewall: { load: q('1,874 lb'), pressure: q('35 psi') },
      pressure: q('35 psi'),
    } as const;
    expect(unwrap(tireLoad(p)).load.value).toBeCloseTo(1703.6, 1);
    expect(unwrap(tireLoad({ ...p, vehicle: 'car' })).load.value).toBeCloseTo(1874, 9);
  });

  it('takes the rows of the maker’s own table', () => {
    const rows = [
      { pressure: q('50 psi'), load: q('2,000 lb') },
      { pressure: q('55 psi'), load: q('2,100 lb') },
    ];
    expect(unwrap(tireLoad({ ...st('D'), rows, pressure: q('55 psi') })).load.value).toBeCloseTo(2100, 9);
    expect(
      codeOf(
        tireLoad({
          ...st('D'),
          rows: [...rows, { pressure: q('60 psi'), load: q('1,900 lb') }],
          pressure: q('55 psi'),
        }),
      ),
    ).toBe('tire.rows-not-rising');
  });
});
