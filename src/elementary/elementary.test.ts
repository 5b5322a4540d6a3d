import { describe, expect, it } from 'vitest';
import { cosines, exp, expm1, log, log1p } from './index.ts';

describe('elementary functions', () => {
  it('at the ends and outside', () => {
    expect([exp(0), exp(-Infinity), exp(Infinity), exp(710), exp(-746), exp(Number.NaN)]).toEqual([
      1,
      0,
      Infinity,
      Infinity,
      0,
      Number.NaN,
    ]);
    expect(exp(-745)).toBe(5e-324);
    expect([log(0), log(1), log(Infinity), log(-1), log(Number.NaN)]).toEqual([
      -Infinity,
      0,
      Infinity,
      Number.NaN,
      Number.NaN,
    ]);
    expect([expm1(0), expm1(-Infinity), expm1(Infinity), expm1(-1e-320)]).toEqual([0, -1, Infinity, -1e-320]);
    expect([log1p(0), log1p(-1), log1p(-2), log1p(Infinity), log1p(1e-320)]).toEqual([
      0,
      -Infinity,
      Number.NaN,
      Infinity,
      1e-320,
    ]);
    expect(() => cosines(10)).toThrow(RangeError);
  });
});
