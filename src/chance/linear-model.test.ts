import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { exactDot } from './exact-dot.ts';
import { linearModel } from './linear-model.ts';

describe('linearModel', () => {
  it('finds the coefficients of an exact model, intercept first', () => {
    const x = [
      [1, 2],
      [2, 1],
      [3, 5],
      [4, 3],
      [5, 9],
    ];
    const fit = unwrap(
      linearModel(
        x,
        x.map(([a, b]) => 7 + 2 * a! - 3 * b!),
      ),
    );
    expect(fit.coefficients.map((value) => Number(value.toFixed(12)))).toEqual([7, 2, -3]);
    expect(fit.degrees).toBe(2);
    expect(fit.rSquared).toBeCloseTo(1, 14);
  });

  it('does not care for the units of a column', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -99, max: 99 }), fc.integer({ min: -99, max: 99 })), {
          minLength: 5,
          maxLength: 12,
        }),
        fc.constantFrom(1e-9, 0.125, 1e9),
        (pairs, factor) => {
          const own = linearModel(
            pairs.map(([x]) => [x, x * x]),
            pairs.map(([, y]) => y),
          );
          const other = linearModel(
            pairs.map(([x]) => [x * factor, x * x]),
            pairs.map(([, y]) => y),
          );
          expect(other.ok).toBe(own.ok);
          if (!own.ok || !other.ok) return;
          const [plain, scaled] = [own.value.coefficients[1]!, other.value.coefficients[1]! * factor];
          expect(Math.abs(scaled - plain)).toBeLessThan(1e-9 * (1 + Math.abs(plain)));
        },
      ),
    );
  });

  it('says that columns which move together cannot be told apart', () => {
    const fit = linearModel(
      [1, 2, 3, 4, 5].map((each) => [each, 2 * each]),
      [1, 2, 3, 4, 6],
    );
    expect(!fit.ok && fit.problems[0]!.code).toBe('chance.columns-dependent');
    const flat = linearModel([[3], [3], [3]], [1, 2, 3]);
    expect(!flat.ok && flat.problems[0]!.code).toBe('chance.columns-dependent');
  });

  it('says that there are too few observations, or one that is not finite', () => {
    const few = linearModel([[1], [2]], [1, 2]);
    expect(!few.ok && few.problems[0]!.code).toBe('chance.observations-too-few');
    const odd = linearModel([[1], [2], [Infinity], [4]], [1, 2, 3, 4]);
    expect(!odd.ok && odd.problems[0]).toMatchObject({ code: 'chance.observation-invalid', where: 'observation 3' });
    expect(() => linearModel([[1], [2, 3]], [1, 2])).toThrow(RangeError);
    expect(() => linearModel([[1]], [])).toThrow(RangeError);
  });
});

describe('exactDot', () => {
  it('keeps what plain summation loses', () => {
    expect(exactDot(0, [1e16, 1, -1e16], [1, 1, 1])).toBe(1);
    expect(exactDot(1, [2 ** 27 + 1, -(2 ** 54)], [2 ** 27 + 1, 1])).toBe(2 ** 28 + 2);
    expect(exactDot(5, [3], [4], -1)).toBe(-7);
  });

  it('agrees with exact whole-number arithmetic', () => {
    const whole = fc.maxSafeInteger();
    fc.assert(
      fc.property(fc.array(fc.tuple(whole, whole), { maxLength: 12 }), (pairs) => {
        const exact = pairs.reduce((sum, [a, b]) => sum + BigInt(a) * BigInt(b), 0n);
        const size = pairs.reduce((sum, [a, b]) => sum + Math.abs(a * b), 0);
        const got = exactDot(
          0,
          pairs.map(([a]) => a),
          pairs.map(([, b]) => b),
        );
        expect(Math.abs(got - Number(exact))).toBeLessThanOrEqual(Math.abs(Number(exact)) * 2 ** -52 + size * 2 ** -98);
      }),
    );
  });
});
