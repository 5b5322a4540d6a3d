import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { limitIn, limitOf, limitSource, loadCatalog } from './index.ts';

const catalog = shippedCatalog();

describe('shared limits', () => {
  /** Figures as printed in the named sources; each was written down from there, not from our file. */
  it.each([
    // Honda owner's manual, tire service life: ten years, the spare included.
    ['tire-age-spare-end', 'year', 10],
    // Jaguar owner information 2018: six years, the spare included.
    ['tire-age-spare-advised', 'year', 6],
    // Common practice, no source: ST tires at five to six years.
    ['tire-age-trailer-end', 'month', 72],
    // Nissan, Lincoln, GM 2015 and Jeep handbooks: 10 to 15 % on the tongue.
    ['tongue-share-least', '%', 10],
    ['tongue-share-most', '%', 15],
    // Lippert Components axle manual: 10, 25 and 50 miles.
    ['retorque-first', 'mi', 10],
    ['retorque-second', 'mi', 25],
    ['retorque-third', 'mi', 50],
    // ANSI C84.1 (from memory): 108 V least at the outlet, range A; 127 V most, range B.
    ['outlet-voltage-least', 'V', 108],
    ['outlet-voltage-most', 'V', 127],
    // Washington WAC 296-150C-1460 tests at 10 to 14 in. w.c.; RV gas technicians set 11 and refuse more than 14.
    ['gas-flow-pressure', 'inH2O', 11],
    ['gas-lockup-most', 'inH2O', 14],
    // TRA table ST-M1 as quoted in Goodyear PSB 2011-13.
    ['tire-speed-unmarked', 'mph', 65],
    // US travel trailer maker's handbook 2021: off at 2/32 in.
    ['tread-least', 'in', 0.0625],
  ] as const)('%s is the published figure', (id, unit, value) => {
    expect(limitIn(id, unit)).toBeCloseTo(value, 10);
  });

  it('reads the same to code as to the catalog, source and all', () => {
    expect(catalog.limits.size).toBeGreaterThan(20);
    for (const limit of catalog.limits.values()) {
      const id = limit.id as Parameters<typeof limitOf>[0];
      expect(limitOf(id), id).toEqual(limit.is);
      expect(limitSource(id).title, id).toBe(catalog.sources.get(limit.source)!.title);
    }
  });

  it('keeps the advised age below the end, and least below most', () => {
    for (const { id, is } of catalog.limits.values()) {
      const other = catalog.limits.get(id.replace(/-advised$/, '-end').replace(/-least$/, '-most'));
      if (other !== undefined && other.id !== id) expect(is.value, id).toBeLessThan(other.is.value);
    }
  });

  it('refuses a text that names a limit nobody gives', () => {
    const text = 'kit:\n  - { id: anvil, name: "Anvil of {anvil-weight}", kind: tool, weightLb: 1, cost: 1 }\n';
    const limits = { name: 'limits.json', text: '{ "limits": {} }' };
    const read = loadCatalog([limits, { name: 'kit.yaml', text }]);
    expect(read).toMatchObject({ ok: false, problems: [{ code: 'catalog.reference-unknown', where: 'kit.yaml:2' }] });
  });
});
