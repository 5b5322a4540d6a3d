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
    expect(need('1,800 lb').pressureLeast).toEqual(q('40 psi'));
    expect(need('900 lb')).toMatchObject({ basis: 'lowest-row', pressure: q('15 psi') });
    expect(need('1000 kg').pressure.unit).toBe('kPa');
    expect(codeOf(tirePressureFor({ ...st('D'), load: q('2,541 lb') }))).toBe('tire.overload');
    expect(codeOf(tirePressureFor({ ...st('D'), load: q('0 lb') }))).toBe('tire.load');
  });

  it('keeps a tenth of the rating in reserve (common practice), and says where it cannot', () => {
    // Goodyear Marathon chart, ST225/75R15: 45 psi 2,020 lb, 50 psi 2,150, 55 psi 2,270, 65 psi 2,540 (load range D).
    const need = (load: string) => unwrap(tirePressureFor({ ...st('D'), load: q(load) }));
    expect(need('2,020 lb')).toMatchObject({
      pressure: q('55 psi'),
      pressureLeast: q('45 psi'),
      loadAtPressure: q('2,270 lb'),
      reserveKept: true,
    });
    expect(need('2,043 lb')).toMatchObject({ pressure: q('55 psi'), reserveKept: true });
    expect(need('2,044 lb').pressure).toEqual(q('60 psi'));
    expect(need('2,286 lb')).toMatchObject({ pressure: q('65 psi'), reserveKept: true });
    const thin = need('2,287 lb');
    expect(thin).toMatchObject({ pressure: q('65 psi'), reserveKept: false, limitedBy: 'load range D' });
    expect(thin.cautions.join()).toContain('Less than 10 %');
    expect(need('2,540 lb')).toMatchObject({ pressure: q('65 psi'), margin: q('0 lb'), reserveKept: false });
  });

  it('never goes under the vehicle’s label, and says where the label is not known (49 CFR 571.110 S4.3, from memory: a label gives the cold pressure)', () => {
    const light = { ...st('D'), load: q('600 lb') };
    const labelled = unwrap(tirePressureFor({ ...light, labelPressure: q('65 psi') }));
    expect(labelled).toMatchObject({
      pressure: q('65 psi'),
      pressureLeast: q('65 psi'),
      basis: 'label',
      floor: 'label',
    });
    expect(labelled.limitedBy).toBe('the label');
    expect(labelled.assumed.join()).not.toContain('labelPressure');
    // A label in kilopascals: 450 kPa is printed beside 65 psi, and is 0.3 psi more.
    expect(unwrap(tirePressureFor({ ...light, labelPressure: q('450 kPa') })).pressure).toEqual(q('65 psi'));
    const unknown = unwrap(tirePressureFor(light));
    expect(unknown).toMatchObject({ pressure: q('15 psi'), basis: 'lowest-row', floor: 'table' });
    expect(unknown.assumed.join()).toContain('labelPressure: not given');
    expect(unknown.cautions.join()).toContain('not a permission');
    // A label under the table's first row does not lower it.
    expect(unwrap(tirePressureFor({ ...light, labelPressure: q('10 psi') })).pressure).toEqual(q('15 psi'));
    // A label above what the load needs is the floor; one below it is not a ceiling.
    expect(unwrap(tirePressureFor({ ...st('D'), load: q('2,020 lb'), labelPressure: q('50 psi') })).pressure).toEqual(
      q('55 psi'),
    );
    expect(codeOf(tirePressureFor({ ...light, labelPressure: q('80 psi') }))).toBe('tire.label-above-max');
    expect(codeOf(tirePressureFor({ ...light, labelPressure: q('0 psi') }))).toBe('tire.label');
  });

  it('never goes above sidewall or wheel', () => {
    const load = q('2,000 lb');
    const wheel = (pressure: string, more = {}) =>
      tirePressureFor({ ...st('D'), load, wheel: { pressure: q(pressure), ...more } });
    expect(unwrap(wheel('65 psi', { load: q('2,540 lb') })).assumed.join()).not.toContain('wheel');
    const held = unwrap(wheel('50 psi'));
    expect(held).toMatchObject({ pressure: q('50 psi'), pressureMax: q('50 psi'), limitedBy: 'the wheel' });
    expect(held.reserveKept).toBe(false);
    expect(codeOf(wheel('40 psi'))).toBe('tire.overload');
    expect(codeOf(wheel('10 psi'))).toBe('tire.wheel');
    expect(codeOf(wheel('65 psi', { load: q('1,999 lb') }))).toBe('tire.overload');
    expect(codeOf(wheel('0 psi'))).toBe('tire.wheel');
    // Between rows a wheel's maximum is not a row: the law, less 1 %, under the next row (2,150 lb at 50 psi).
    const odd = unwrap(wheel('48 psi'));
    expect(odd.pressure).toEqual(q('48 psi'));
    expect(odd.loadAtPressure.value).toBeLessThan(2150);
    expect(odd.loadAtPressure.value).toBeGreaterThanOrEqual(2020);
    const sidewall = { load: q('2,150 lb'), pressure: q('50 psi') };
    expect(unwrap(tirePressureFor({ ...st('C'), load, sidewall })).pressureMax).toEqual(q('50 psi'));
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
