import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeOf, q, st } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { quantity } from '../quantity/index.ts';
import { tireTables } from './tables/load-inflation.ts';
import { tireLoad, tirePressureFor } from './tire-load.ts';

describe('tirePressureFor', () => {
  it('is the row that carries the load, and refuses an overload', () => {
    const need = (load: string) => unwrap(tirePressureFor({ ...st('D'), load: q(load) }));
    expect(need('1,800 lb').pressure).toEqual(q('40 psi'));
    expect(need('900 lb')).toMatchObject({ basis: 'lowest-row', pressure: q('15 psi') });
    expect(need('1000 kg').pressure.unit).toBe('kPa');
    expect(codeOf(tirePressureFor({ ...st('D'), load: q('2,541 lb') }))).toBe('tire.overload');
    expect(codeOf(tirePressureFor({ ...st('D'), load: q('0 lb') }))).toBe('tire.load');
  });

  it('never names a pressure that does not carry the load', () => {
    fc.assert(
      fc.property(fc.constantFrom(...tireTables), fc.double({ min: 0.2, max: 1, noNaN: true }), (table, share) => {
        const top = table.rows.at(-1)!;
        const spec = { size: table.size, family: table.family, fitment: table.fitment, loadRange: top[2] };
        const found = unwrap(tirePressureFor({ ...spec, load: quantity(share * top[1], 'lb') }));
        expect(found.margin.value).toBeGreaterThanOrEqual(-1e-6);
        expect(unwrap(tireLoad({ ...spec, pressure: found.pressure })).load.value).toBeCloseTo(
          found.loadAtPressure.value,
          6,
        );
      }),
    );
  });
});
