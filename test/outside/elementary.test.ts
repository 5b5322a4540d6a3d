import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { random } from '../../src/chance/index.ts';
import { cosines, exp, expm1, log, log1p, power } from '../../src/elementary/index.ts';

/** mathjs 15 with 64 decimal digits: what each answer is held against. */
const exact = create(all!, { number: 'BigNumber', precision: 64 });

/** The exponent of the last place of a double. */
function lastPlace(x: number): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, x);
  return Math.max(1, (view.getUint16(0) >>> 4) & 0x7ff) - 1075;
}

const twoTo = (k: number) => exact.pow(exact.bignumber(2), exact.bignumber(k));

/** A double as it is, not as it is shortest written. */
function whole(x: number) {
  const place = lastPlace(x);
  const steps = -Math.trunc(place / 2);
  return exact.multiply(exact.bignumber(BigInt(x * 2 ** steps * 2 ** (-place - steps)).toString()), twoTo(place));
}

/** Units in the last place by which `got` is off. */
function off(got: number, expression: string, x: number, y = 0): number {
  const want = exact.evaluate(expression, { x: whole(x), y: whole(y) });
  return Number(exact.divide(exact.abs(exact.subtract(whole(got), want) as never), twoTo(lastPlace(Number(want)))));
}

const stream = random(7);
const drawn = (from: number, to: number, count = 300): number[] =>
  Array.from({ length: count }, () => from + (to - from) * stream.uniform());
const most = (xs: readonly number[], of: (x: number) => number): number => Math.max(...xs.map(of));

describe('elementary functions against 64 digits', () => {
  it('exp within one unit in the last place', () => {
    const xs = [
      ...drawn(-1, 1),
      ...drawn(-40, 40),
      ...drawn(-700, 709),
      0.34657359027997264,
      -0.34657359027997264,
      1e-300,
    ];
    expect(most(xs, (x) => off(exp(x), 'exp(x)', x))).toBeLessThan(1);
  });

  it('log within one', () => {
    const xs = [
      ...drawn(0, 1),
      ...drawn(0.99, 1.01),
      ...drawn(0, 1e6),
      1e-300,
      5e-324,
      1.7e308,
      Math.SQRT2,
      Math.SQRT1_2,
    ];
    expect(most(xs, (x) => off(log(x), 'log(x)', x))).toBeLessThan(1);
  });

  it('expm1 and log1p within two, near nothing too', () => {
    const near = drawn(-16, 0).flatMap((digits) => [10 ** digits, -(10 ** digits) / 2]);
    expect(most([...near, ...drawn(-30, 30)], (x) => off(expm1(x), 'expm1(x)', x))).toBeLessThan(2);
    expect(most([...near, ...drawn(-0.999, 20), 1e9], (x) => off(log1p(x), 'log1p(x)', x))).toBeLessThan(2);
  });

  it('power, and cosines of a circle', () => {
    expect(most(drawn(0.3, 1.1), (x) => off(power(x, 5.2559), 'x^y', x, 5.2559))).toBeLessThan(12);
    expect([power(3, 4), power(-2, 3), power(0, 0), power(0, 2)]).toEqual([81, -8, 1, 0]);
    for (const n of [8, 224, 384])
      cosines(n).forEach((cosine, i) => {
        expect(
          Math.abs(
            cosine - Number(exact.evaluate('cos(2 * pi * x / y)', { x: exact.bignumber(i), y: exact.bignumber(n) })),
          ),
        ).toBeLessThan(2.3e-16);
      });
  });
});
