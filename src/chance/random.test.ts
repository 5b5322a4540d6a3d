import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { random, randomFromState, seedFrom, seedPart } from './random.ts';

describe('random', () => {
  it('repeats itself from the same seed and differs from others', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer(), (one, other) => {
        const first = random(one);
        const again = random(one);
        const values = Array.from({ length: 20 }, () => first.bits());
        expect(values.map(() => again.bits())).toEqual(values);
        const else_ = random(other);
        if ((one | 0) !== (other | 0)) expect(values.map(() => else_.bits())).not.toEqual(values);
      }),
    );
  });

  it('stays strictly inside (0, 1) and fills it evenly', () => {
    const stream = random(1);
    const counts = new Array<number>(16).fill(0);
    for (let i = 0; i < 16000; i++) {
      const u = stream.uniform();
      expect(u > 0 && u < 1).toBe(true);
      counts[Math.floor(u * 16)]!++;
    }
    // Chi-square with 15 degrees of freedom: 44.3 is passed once in 10,000 times.
    expect(counts.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)).toBeLessThan(44.3);
  });

  it('counts below its limit, every number in turn', () => {
    const stream = random(2);
    const seen = new Set(Array.from({ length: 300 }, () => stream.below(7)));
    expect([...seen].sort()).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  it('refuses the one state it cannot leave', () => {
    expect(() => randomFromState(0, 0, 0, 0)).toThrow(RangeError);
  });
});

describe('seeds', () => {
  it('tells names apart, also beyond ASCII', () => {
    expect(seedFrom('trip/1')).not.toBe(seedFrom('trip/2'));
    expect(seedFrom('ř')).not.toBe(seedFrom('Y'));
  });

  it('gives every part of a seed a seed of its own', () => {
    const seeds = new Set<number>();
    for (let seed = 0; seed < 50; seed++) for (let part = 0; part < 50; part++) seeds.add(seedPart(seed, part));
    expect(seeds.size).toBe(2500);
  });
});
