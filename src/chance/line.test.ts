import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { leastSquares, theilSen } from './line.ts';

const points = fc
  .array(fc.tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: -1000, max: 1000 })), {
    minLength: 3,
    maxLength: 25,
  })
  .filter((pairs) => new Set(pairs.map(([x]) => x)).size > 1);

describe('leastSquares', () => {
  it('finds an exact line', () => {
    const line = unwrap(leastSquares([0, 1, 2], [1, 3, 5]));
    expect(line).toMatchObject({ intercept: 1, slope: 2, residualDeviation: 0, rSquared: 1, degrees: 1 });
  });

  it('leaves residuals that sum to nothing, alone and against x', () => {
    fc.assert(
      fc.property(points, (pairs) => {
        const line = unwrap(
          leastSquares(
            pairs.map(([x]) => x),
            pairs.map(([, y]) => y),
          ),
        );
        const residuals = pairs.map(([x, y]) => y - line.intercept - line.slope * x);
        expect(Math.abs(residuals.reduce((sum, r) => sum + r, 0))).toBeLessThan(1e-7);
        expect(Math.abs(residuals.reduce((sum, r, i) => sum + r * pairs[i]![0], 0))).toBeLessThan(1e-4);
        expect(line.rSquared).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('knows no scatter from two points', () => {
    const line = unwrap(leastSquares([0, 2], [1, 5]));
    expect(line.slope).toBe(2);
    expect(line.residualDeviation).toBeNaN();
    expect(line.slopeError).toBeNaN();
  });

  it('says what is wrong', () => {
    const same = leastSquares([2, 2, 2], [1, 2, 3]);
    expect(!same.ok && same.problems[0]!.code).toBe('chance.observations-too-few');
    const odd = leastSquares([1, 2], [1, Number.NaN]);
    expect(!odd.ok && odd.problems[0]).toMatchObject({ code: 'chance.observation-invalid', where: 'point 2' });
    expect(() => leastSquares([1], [])).toThrow(RangeError);
  });
});

describe('theilSen', () => {
  it('moves with the values as a line does', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: -50, max: 50 }), fc.integer({ min: -50, max: 50 }), (pairs, up, tilt) => {
        const x = pairs.map(([each]) => each);
        const plain = unwrap(
          theilSen(
            x,
            pairs.map(([, y]) => y),
          ),
        );
        const moved = unwrap(
          theilSen(
            x,
            pairs.map(([each, y]) => y + up + tilt * each),
          ),
        );
        expect(moved.slope).toBeCloseTo(plain.slope + tilt, 9);
      }),
    );
  });

  it('is not tilted by a wild reading in five', () => {
    const x = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
    const y = x.map((each) => 8 - 0.25 * each);
    y[3] = 80;
    y[8] = -40;
    expect(unwrap(theilSen(x, y)).slope).toBeCloseTo(-0.25, 12);
  });

  it('needs two different times', () => {
    expect(theilSen([1, 1], [2, 3]).ok).toBe(false);
  });
});
