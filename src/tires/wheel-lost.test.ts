import { describe, expect, it } from 'vitest';
import { codeOf, q } from '../../test/support/tires.ts';
import { unwrap } from '../problem/index.ts';
import { oneWheelLost } from './wheel-lost.ts';

describe('oneWheelLost', () => {
  it('never permits, and names the weakest', () => {
    const lost = unwrap(
      oneWheelLost({
        axleLoad: q('5,600 lb'),
        tireRating: q('2,540 lb'),
        axleRating: q('3,500 lb'),
        suspension: 'torsion',
      }),
    );
    expect(lost).toMatchObject({
      over: true,
      permitted: false,
      limitedBy: 'half the axle rating',
      sameSide: { high: q('2,800 lb') },
    });
    expect(lost.unloadTo).toEqual(q('3,500 lb'));
    const light = unwrap(
      oneWheelLost({
        axleLoad: q('3,000 lb'),
        tireRating: q('2,540 lb'),
        axleRating: q('3,500 lb'),
        suspension: 'leaf',
      }),
    );
    expect(light).toMatchObject({ over: false, permitted: false });
    expect(light.cautions.join()).toContain('Do not move it');
    expect(
      codeOf(
        oneWheelLost({
          axleLoad: q('3,000 lb'),
          tireRating: q('1 lb'),
          axleRating: q('1 lb'),
          suspension: 'leaf',
          sideShare: q('120 %'),
        }),
      ),
    ).toBe('quantity.out-of-range');
    expect(
      codeOf(oneWheelLost({ axleLoad: q('0 lb'), tireRating: q('1 lb'), axleRating: q('1 lb'), suspension: 'leaf' })),
    ).toBe('tire.wheel-lost');
  });

  it('holds the other side too: a wheel there may carry all of it where the frame twists (statics)', () => {
    const heavy = unwrap(
      oneWheelLost({
        axleLoad: q('4,000 lb'),
        tireRating: q('2,540 lb'),
        axleRating: q('4,000 lb'),
        sideShare: q('40 %'),
        suspension: 'torsion',
      }),
    );
    // The lost wheel's side carries 1,600 lb, the other 2,400: over half of a 4,000 lb axle.
    expect(heavy).toMatchObject({ over: true, sameSide: { high: q('1,600 lb') }, otherSide: { high: q('2,400 lb') } });
    expect(heavy.unloadTo.value).toBeCloseTo(2000 / 0.6, 6);
    expect(heavy.limits.map((limit) => Math.round(limit.margin.value))).toEqual([140, -400]);
    expect(heavy.cautions[0]).toContain('a wheel of the other side can carry 2,400 lb');
  });
});
