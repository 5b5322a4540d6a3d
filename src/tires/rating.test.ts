import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeOf, q, st } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { quantity } from '../quantity/index.ts';
import type { TireFamily } from './families.ts';
import { mostPlausible } from './plausible.ts';
import { type TireSpec, tireRating } from './rating.ts';
import { tireTables } from './tables/load-inflation.ts';
import { tireLoad } from './tire-load.ts';

const rated = (load: string, pressure: string) => ({ load: q(load), pressure: q(pressure) });
const at = (spec: TireSpec, pressure: string) => unwrap(tireLoad({ ...spec, pressure: q(pressure) })).load.value;
const lt = (size: string, more = {}): TireSpec => ({ size, family: 'LT', loadRange: 'E', fitment: 'dual', ...more });

describe('one tire of a pair', () => {
  it('carries what the maker’s rows for pairs say, not what the sidewall says of one alone', () => {
    // Toyo sizes sheet and Michelin chart: LT235/85R16 E at 80 psi 3,042 lb alone, 2,778 lb in a pair.
    expect(at(lt('LT235/85R16', { sidewall: rated('3,042 lb', '80 psi') }), '80 psi')).toBeCloseTo(2778, 6);
    const rows = [rated('2,205 lb', '50 psi'), rated('2,623 lb', '65 psi'), rated('3,042 lb', '80 psi')];
    expect(at(lt('LT235/85R16', { rows }), '80 psi')).toBeCloseTo(2778, 6);
    // Michelin chart, 1990, per pair 4,015, 4,765 and 5,556 lb.
    expect(at(lt('LT235/85R16', { rows }), '50 psi')).toBeCloseTo(4015 / 2, 6);
    expect(at(lt('LT235/85R16', { rows }), '65 psi')).toBeCloseTo(4765 / 2, 6);
    expect(unwrap(tireRating(lt('LT235/85R16', { rows }))).cautions.join()).toContain('one tire alone');
  });

  it('is taken as it stands where the figure is the DUAL one', () => {
    const dual = { sidewall: rated('2,778 lb', '80 psi'), ratedFor: 'dual' } as const;
    expect(at(lt('LT235/85R16', dual), '80 psi')).toBeCloseTo(2778, 6);
    expect(unwrap(tireRating(lt('LT235/85R16', dual))).cautions).toEqual([]);
    // The dual figure used for one tire alone is on the safe side.
    expect(at(lt('LT235/85R16', { ...dual, fitment: 'single' }), '80 psi')).toBeCloseTo(2778, 6);
  });

  it('takes no SINGLE figure for the DUAL one (Toyo sizes sheet: 3,042 and 2,778, 3,415 and 3,085, 3,750 and 3,415 lb)', () => {
    for (const [size, single] of [
      ['LT235/85R16', 3042],
      ['LT245/75R16', 3042],
      ['LT265/75R16', 3415],
      ['LT285/75R16', 3750],
      ['LT225/75R16', 2680],
    ] as const) {
      const sidewall = { load: quantity(single, 'lb'), pressure: q('80 psi') };
      expect(codeOf(tireRating(lt(size, { sidewall, ratedFor: 'dual' }))), size).toBe('tire.rating-implausible');
    }
  });

  it('of a size without rows carries no more than the least of the published pairs of its family', () => {
    // LT265/75R16 (Toyo): 3,085 of 3,415 lb, 90.3 %. 7.50-16LT (General Motors): 1,690 of 1,930 lb, 87.6 %.
    expect(at(lt('LT245/70R17', { sidewall: rated('3,000 lb', '80 psi') }), '80 psi')).toBeCloseTo(
      (3000 * 3085) / 3415,
      3,
    );
    const bias = {
      size: '8.75-16.5LT',
      family: 'LT-bias',
      loadRange: 'E',
      fitment: 'dual',
      sidewall: rated('2,680 lb', '75 psi'),
    } as const;
    expect(at(bias, '75 psi')).toBeCloseTo((2680 * 1690) / 1930, 3);
  });

  it('of an ST or a passenger size is asked for: nothing is published', () => {
    const dual = { ...st('D'), fitment: 'dual', sidewall: rated('2,540 lb', '65 psi') } as const;
    expect(codeOf(tireRating(dual))).toBe('tire.dual-unknown');
    expect(codeOf(tireRating({ ...dual, sidewall: rated('2,200 lb', '65 psi'), ratedFor: 'dual' }))).toBe('ok');
  });

  it('never carries more than a published row of a pair, whatever sidewall is entered for one alone', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...tireTables.filter((table) => table.fitment === 'dual')),
        fc.double({ min: 0.5, max: 1.09, noNaN: true }),
        (table, share) => {
          const single = tireTables.find((one) => one.size === table.size && one.fitment === 'single');
          const [psi, lb, loadRange] = (single ?? table).rows.at(-1)!;
          const sidewall = { load: quantity(Math.min(share, 1) * lb, 'lb'), pressure: quantity(psi, 'psi') };
          const rating = tireRating({ size: table.size, family: table.family, loadRange, fitment: 'dual', sidewall });
          const most = table.rows.find((row) => row[0] === psi)![1];
          expect(unwrap(rating).points.at(-1)!.lb).toBeLessThanOrEqual(most * (1 + 1e-9));
        },
      ),
    );
  });
});

describe('a size that is not in the tables', () => {
  const unknown = (family: TireFamily, size: string, load: string, pressure: string, loadRange = 'E') =>
    codeOf(tireRating({ size, family, loadRange, sidewall: rated(load, pressure) }));

  it('takes no rating that no tire of its kind has', () => {
    // One zero too many: 2,830 lb (index 117) as 28,300.
    expect(unknown('ST', 'ST225/80R15', '28,300 lb', '80 psi')).toBe('tire.rating-implausible');
    expect(unknown('ST', 'ST225/80R15', '2,830 lb', '80 psi')).toBe('ok');
    expect(unknown('LT', 'LT245/70R17', '30,000 lb', '80 psi')).toBe('tire.rating-implausible');
    // Load index table: ST to index 132 (4,409 lb), LT to 130 (4,189 lb), P to 121 (3,197 lb).
    expect(unknown('ST', 'ST1', '4,409 lb', '110 psi', 'G')).toBe('ok');
    expect(unknown('ST', 'ST1', '4,410 lb', '110 psi', 'G')).toBe('tire.rating-implausible');
    expect(unknown('LT', 'LT1', '4,188 lb', '110 psi', 'G')).toBe('ok');
    expect(unknown('LT', 'LT1', '4,190 lb', '110 psi', 'G')).toBe('tire.rating-implausible');
    expect(unknown('P', 'P1', '3,196 lb', '50 psi', 'XL')).toBe('ok');
    expect(unknown('P', 'P1', '3,198 lb', '50 psi', 'XL')).toBe('tire.rating-implausible');
    expect(unknown('ST', 'ST1', '99 lb', '50 psi', 'C')).toBe('tire.rating-implausible');
  });

  it('is held against the association’s formula for how much tire it is', () => {
    // The passenger formula as published gives P225/75R15 1,881 lb at 35 psi; its sidewall says 1,874.
    expect(mostPlausible('P225/75R15', 'P', 35) / 1.2).toBeCloseTo(1884, -1);
    // Published rows of every size lie within a fifth of it, and each under its bound.
    for (const { size, family, fitment, rows } of tireTables)
      for (const [psi, lb] of rows) {
        const most = mostPlausible(size, family, psi);
        expect(lb, `${size} ${psi}`).toBeLessThanOrEqual(most);
        if (fitment === 'single' && family !== 'LT-bias') expect(lb, `${size} ${psi}`).toBeGreaterThan(0.75 * most);
      }
    // A 13 in trailer tire does not carry what a 16 in one does.
    expect(unknown('ST', 'ST165/80R13', '3,420 lb', '80 psi')).toBe('tire.rating-implausible');
    // ST145/80R13 E, 1,520 lb at 80 psi (from memory): the most any small tire stands above the formula.
    expect(unknown('ST', 'ST145/80R13', '1,520 lb', '80 psi')).toBe('ok');
    // Kilograms typed as pounds are too little, pounds typed as kilograms too much.
    expect(unknown('ST', 'ST205/80R14', '2,040 kg', '65 psi', 'D')).toBe('tire.rating-implausible');
    // A flotation size gives its outside diameter: 31x10.50R15LT C, 2,270 lb at 50 psi (from memory).
    expect(unknown('LT', '31x10.50R15LT', '2,270 lb', '50 psi', 'C')).toBe('ok');
    expect(unknown('LT', '31x10.50R15LT', '3,270 lb', '50 psi', 'C')).toBe('tire.rating-implausible');
  });

  it('is held to pressures that tires of its kind hold', () => {
    expect(unknown('ST', 'ST1', '2,000 lb', '126 psi', 'H')).toBe('tire.rating-implausible');
    expect(unknown('ST', 'ST1', '2,000 lb', '125 psi', 'H')).toBe('ok');
    expect(unknown('P', 'P1', '1,800 lb', '61 psi', 'XL')).toBe('tire.rating-implausible');
    expect(unknown('ST', 'ST1', '2,000 lb', '9 psi', 'B')).toBe('tire.rating-implausible');
    for (const absurd of ['1e308 psi', '1e-300 psi', '-50 psi', '0 psi'])
      expect(unknown('ST', 'ST1', '2,000 lb', absurd, 'D'), absurd).toBe('tire.rating-implausible');
    for (const absurd of ['1e308 lb', '1e-300 lb', '-50 lb', '0 lb'])
      expect(unknown('ST', 'ST1', absurd, '50 psi', 'D'), absurd).toBe('tire.rating-implausible');
  });

  it('is never offered back as one that is expected', () => {
    for (const [size, loadRange, fitment] of [
      ['ST225/75R15', 'A', 'single'],
      ['ST225/75R16', 'C', 'single'],
      ['ST225/75R15', 'D', 'dual'],
      ['ST999/75R15', 'D', 'single'],
    ] as const) {
      const asked = tireRating({ size, family: 'ST', loadRange, fitment });
      expect(codeOf(asked)).toBe('tire.size-unknown');
      expect(asked.ok ? '' : `${asked.problems[0]!.expected} ${asked.problems[0]!.next}`).not.toContain(size);
    }
    const begins = tireRating({ size: 'ST225/75R16', family: 'ST', loadRange: 'C' });
    expect(begins.ok ? '' : begins.problems[0]!.what).toContain('begin with load range E');
  });
});

describe('figures read off a sidewall or a maker’s table', () => {
  it('hold the load range to its pressure', () => {
    // Load range D holds 65 psi, E 80 (published): an 80 psi sidewall is not of a D tire.
    const d = (pressure: string) => codeOf(tireRating({ ...st('D'), sidewall: rated('2,540 lb', pressure) }));
    expect(d('80 psi')).toBe('tire.rating-implausible');
    expect(d('65 psi')).toBe('ok');
    expect(d('450 kPa')).toBe('ok');
    expect(d('4.5 bar')).toBe('ok');
    // 450 psi for 450 kPa, 65 kPa for 65 psi.
    expect(d('450 psi')).toBe('tire.rating-implausible');
    expect(d('65 kPa')).toBe('tire.rating-implausible');
    // Small and old sizes have pressures of their own: 4.80-12 B holds 60 psi (from memory).
    expect(
      codeOf(tireRating({ size: '4.80-12', family: 'ST', loadRange: 'B', sidewall: rated('780 lb', '60 psi') })),
    ).toBe('ok');
  });

  it('end a maker’s table where the load range ends', () => {
    // Goodyear Marathon chart, through all load ranges of ST225/75R15.
    const rows = [rated('1,760 lb', '35 psi'), rated('2,150 lb', '50 psi'), rated('2,540 lb', '65 psi')];
    expect(at({ ...st('C'), rows }, '65 psi')).toBeCloseTo(2150, 6);
    expect(at({ ...st('D'), rows }, '65 psi')).toBeCloseTo(2540, 6);
    expect(unwrap(tireRating({ ...st('C'), rows })).psiMax).toBeCloseTo(50, 9);
  });

  it('lie near the published rows of their size, above the rows and below the first', () => {
    const sidewall = (loadRange: string, load: string, pressure: string) =>
      codeOf(tireRating({ ...st(loadRange), sidewall: rated(load, pressure) }));
    // 2,540 lb at 65 psi is published; 8 % more is the widest that two makers of one size differ by.
    expect(sidewall('D', '2,743 lb', '65 psi')).toBe('ok');
    expect(sidewall('D', '2,800 lb', '65 psi')).toBe('tire.rating-implausible');
    expect(sidewall('E', '2,830 lb', '80 psi')).toBe('ok');
    expect(sidewall('E', '3,200 lb', '80 psi')).toBe('tire.rating-implausible');
    const low = lt('LT235/85R16', { fitment: 'single', sidewall: rated('2,600 lb', '40 psi') });
    expect(codeOf(tireRating(low))).toBe('tire.rating-implausible');
    const rows = [rated('1,760 lb', '35 psi'), rated('2,400 lb', '50 psi')];
    expect(codeOf(tireRating({ ...st('D'), rows }))).toBe('tire.rating-implausible');
  });

  it('of a weaker tire weaken every row below', () => {
    // ST225/75R15: 1,760 lb at 35 psi, 2,150 at 50, 2,540 at 65 (published). A sidewall of 90 % of the top.
    const weak = { ...st('D'), sidewall: rated('2,286 lb', '65 psi') };
    expect(at(weak, '65 psi')).toBeCloseTo(2286, 6);
    expect(at(weak, '50 psi')).toBeCloseTo(0.9 * 2150, 6);
    expect(at(weak, '35 psi')).toBeCloseTo(0.9 * 1760, 6);
    expect(unwrap(tireRating(weak)).cautions.join()).toContain('the sidewall holds');
    expect(unwrap(tireRating({ ...st('D'), sidewall: rated('2,540 lb', '65 psi') })).cautions).toEqual([]);
    // A stronger one adds nothing below its own pressure.
    expect(at({ ...st('D'), sidewall: rated('2,600 lb', '65 psi') }, '50 psi')).toBeCloseTo(2150, 6);
  });

  it('rise, and no faster than the pressure does', () => {
    const rows = (...loads: string[]) =>
      codeOf(tireRating({ ...st('D'), rows: loads.map((load, i) => rated(load, `${35 + 5 * i} psi`)) }));
    expect(rows('1,760 lb', '1,880 lb', '2,020 lb')).toBe('ok');
    expect(rows('1,760 lb', '1,880 lb', '1,870 lb')).toBe('tire.rows-not-rising');
    expect(rows('1,460 lb', '1,880 lb', '2,020 lb')).toBe('tire.rows-too-steep');
    const twice = [rated('1,760 lb', '35 psi'), rated('1,760 lb', '35 psi')];
    expect(codeOf(tireRating({ ...st('D'), rows: twice }))).toBe('tire.rows-not-rising');
  });
});

describe('names', () => {
  it('are read however they are written', () => {
    const load = (size: string, more: Partial<TireSpec> = {}) =>
      at({ size, family: 'ST', loadRange: 'D', ...more }, '65 psi');
    for (const size of [
      'st 225/75 r15',
      '225/75R15',
      'ST225/75R15 LRD',
      'ST225/75R15 117/112N',
      'ST225/75R15 LOAD RANGE D',
    ])
      expect(load(size), size).toBeCloseTo(2540, 9);
    for (const loadRange of ['d', ' D ', 'LR D', 'Load Range D'])
      expect(load('ST225/75R15', { loadRange }), loadRange).toBeCloseTo(2540, 9);
    expect(at({ size: '7.50-16LT bias', family: 'LT-bias', loadRange: 'E' }, '75 psi')).toBeCloseTo(2780, 9);
  });

  it('that contradict each other are asked about', () => {
    expect(codeOf(tireRating({ ...st('D'), size: 'ST225/75R15 LRE' }))).toBe('tire.load-range');
    for (const loadRange of ['', 'I', 'K', 'DD', '8', 'SL'])
      expect(codeOf(tireRating(st(loadRange))), loadRange).toBe('tire.load-range');
    for (const [size, family, code] of [
      ['31x10.50R15LT', 'LT-bias', 'tire.family-mismatch'],
      ['31x10.50-15LT', 'LT', 'tire.family-mismatch'],
      ['31x10.50R15LT', 'ST', 'tire.family-mismatch'],
      ['P225/75R15', 'ST', 'tire.family-mismatch'],
      ['LT225/75R16', 'P', 'tire.family-mismatch'],
      ['LT215/85-16', 'LT-bias', 'tire.size-unknown'],
      ['LT215/85R16', 'LT-bias', 'tire.family-mismatch'],
    ] as const)
      expect(codeOf(tireRating({ size, family, loadRange: 'E' })), `${size} ${family}`).toBe(code);
  });

  it('of ranges without a usual pressure need the sidewall', () => {
    expect(codeOf(tireRating(st('H')))).toBe('tire.size-unknown');
    const p = { size: 'P225/75R15', family: 'P', loadRange: 'SL', sidewall: rated('1,874 lb', '35 psi') } as const;
    // 49 CFR 571.120 S5.1.2: divided by 1.10 on a trailer.
    expect(at(p, '35 psi')).toBeCloseTo(1874 / 1.1, 6);
    expect(at({ ...p, vehicle: 'car' }, '35 psi')).toBeCloseTo(1874, 6);
    expect(at({ ...p, vehicle: 'truck' }, '35 psi')).toBeCloseTo(1874 / 1.1, 6);
  });
});
