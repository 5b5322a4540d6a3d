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
});
