import { describe, expect, it } from 'vitest';
import { codeOf, q, st } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { tireMargins } from './margins.ts';

describe('tireMargins', () => {
  const tire = (place: string, side: 'left' | 'right', more = {}) => ({
    ...st('D'),
    place,
    side,
    pressure: q('65 psi'),
    ...more,
  });
  const axle = (name: string, load: string, more = {}) => ({
    name,
    load: q(load),
    tires: [tire(`${name}, left`, 'left', more), tire(`${name}, right`, 'right')],
  });

  it('takes each tire, axle and side on its own', () => {
    const margins = unwrap(
      tireMargins({ axles: [axle('axle 1', '3,000 lb', { load: q('1,600 lb') }), axle('axle 2', '2,800 lb')] }),
    );
    expect(margins.tires.map((one) => Math.round(one.margin.value))).toEqual([940, 1140, 1140, 1140]);
    expect(margins.axles.map((one) => Math.round(one.margin.value))).toEqual([2080, 2280]);
    expect(margins.sides.map((one) => Math.round(one.load.value))).toEqual([3000, 2800]);
    expect(margins.limitedBy).toBe('axle 1, left');
    expect(margins.assumed).toHaveLength(2);
  });

  it('refuses mixed tires and loads that do not add up; names axles rated above their tires', () => {
    expect(codeOf(tireMargins({ axles: [axle('axle 1', '3,000 lb', { loadRange: 'E' })] }))).toBe('tire.mixed-axle');
    expect(codeOf(tireMargins({ axles: [axle('axle 1', '3,000 lb', { load: q('3,100 lb') })] }))).toBe(
      'tire.loads-do-not-add-up',
    );
    expect(codeOf(tireMargins({ axles: [] }))).toBe('tire.no-tires');
    const under = unwrap(tireMargins({ axles: [{ ...axle('axle 1', '3,000 lb'), rating: q('5,200 lb') }] }));
    expect(under.underRated).toEqual(['axle 1']);
    expect(
      unwrap(tireMargins({ axles: [{ ...axle('axle 1', '3,000 lb'), rating: q('5,080 lb') }] })).underRated,
    ).toEqual([]);
  });

  it('names every tire with less than a tenth left (common practice), and tires set unlike', () => {
    // ST225/75R15 D at 65 psi carries 2,540 lb (Goodyear Marathon chart): a tenth of it is 254 lb.
    const pair = (left: string, more = {}) =>
      unwrap(tireMargins({ axles: [axle('axle 1', '4,600 lb', { load: q(left), ...more })] }));
    expect(pair('2,286 lb').thin).toEqual(['axle 1, right']);
    expect(pair('2,314 lb').thin).toEqual(['axle 1, left']);
    expect(pair('2,600 lb').thin).toEqual(['axle 1, left']);
    expect(pair('2,600 lb').cautions[0]).toContain('Over: axle 1, left by 60 lb');
    expect(pair('2,314 lb').cautions[0]).toContain('a limit');
    expect(unwrap(tireMargins({ axles: [axle('axle 1', '4,500 lb')] })).thin).toEqual([]);
    expect(pair('2,300 lb', { pressure: q('62 psi') }).cautions.join()).toContain('differ in pressure');
    expect(pair('2,300 lb', { pressure: q('63 psi') }).cautions.join()).not.toContain('differ in pressure');
    expect(pair('2,300 lb', { pressure: q('70 psi') }).cautions.join()).toContain('above the highest cold pressure');
    expect(pair('2,300 lb', { pressure: q('10 psi') }).cautions.join()).toContain('No published row this low');
  });

  it('takes no load that no wheel or axle has', () => {
    const of = (more: object) => codeOf(tireMargins({ axles: [axle('axle 1', '3,000 lb', more)] }));
    expect(of({ load: q('-100 lb') })).toBe('quantity.out-of-range');
    expect(of({ load: q('0 lb') })).toBe('tire.load');
    expect(codeOf(tireMargins({ axles: [axle('axle 1', '30,000 lb')] }))).toBe('quantity.out-of-range');
    expect(codeOf(tireMargins({ axles: [{ ...axle('axle 1', '3,000 lb'), rating: q('1e308 lb') }] }))).toBe(
      'quantity.out-of-range',
    );
    expect(of({ pressure: q('1e308 psi') })).toBe('quantity.out-of-range');
    expect(of({ pressure: q('2 psi') })).toBe('tire.pressure-too-low');
  });
});
