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
    ).toBe('tire.wheel-lost');
  });
});
