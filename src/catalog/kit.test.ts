import files from 'virtual:catalog-files';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { leastCover } from './cover.ts';
import { coverKit, kitGaps, kitReasons, loadCatalog, mishapsOfParts, needsOf } from './index.ts';

const catalog = unwrap(loadCatalog(files));

/** The obvious way: every subset. */
function leastByTrial(prices: readonly number[], needs: readonly (readonly number[])[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (let subset = 0; subset < 1 << prices.length; subset++) {
    if (!needs.every((need) => need.some((item) => subset & (1 << item)))) continue;
    const price = prices.reduce((sum, one, item) => sum + (subset & (1 << item) ? one : 0), 0);
    best = Math.min(best, price);
  }
  return best;
}

describe('leastCover', () => {
  it('is as cheap as the cheapest of all subsets', () => {
    const instance = fc.integer({ min: 1, max: 11 }).chain((n) =>
      fc.tuple(
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: n, maxLength: n }),
        fc.array(fc.uniqueArray(fc.integer({ min: 0, max: n - 1 }), { minLength: 1, maxLength: 4 }), {
          maxLength: 12,
        }),
      ),
    );
    fc.assert(
      fc.property(instance, ([prices, needs]) => {
        const name = (item: number) => String.fromCharCode(97 + item);
        const chosen = leastCover(
          prices.map((price, item) => ({ id: name(item), price })),
          needs.map((need) => need.map(name)),
        );
        expect(new Set(chosen).size).toBe(chosen.length);
        for (const need of needs) expect(need.some((item) => chosen.includes(name(item)))).toBe(true);
        const price = chosen.reduce((sum, id) => sum + prices[id.charCodeAt(0) - 97]!, 0);
        expect(price).toBe(leastByTrial(prices, needs));
      }),
      { numRuns: 400 },
    );
  });

  it('beats the greedy cover where greed goes wrong', () => {
    // Greed takes `wide` (four needs for 5) and then still pays 2 and 2; the two narrow ones do all for 6.
    const items = [
      { id: 'wide', price: 5 },
      { id: 'left', price: 3 },
      { id: 'right', price: 3 },
    ];
    const needs = [['wide', 'left'], ['wide', 'left'], ['wide', 'right'], ['wide', 'right'], ['left'], ['right']];
    expect(leastCover(items, needs)).toEqual(['left', 'right']);
  });

  it('throws where a need can be served by nothing', () => {
    expect(() => leastCover([{ id: 'a', price: 1 }], [['b']])).toThrow();
  });
});

describe('coverKit', () => {
  const all = [...catalog.mishaps.keys()];

  it('serves every need of every mishap, and no thing in it can be left out', () => {
    for (const measure of ['cost', 'weight', 'count'] as const) {
      const cover = unwrap(coverKit(catalog, all, { measure }));
      const ids = cover.items.map(({ item }) => item.id);
      expect(kitGaps(catalog, [...catalog.mishaps.values()], ids)).toEqual([]);
      for (const id of ids) {
        const without = ids.filter((one) => one !== id);
        expect(kitGaps(catalog, [...catalog.mishaps.values()], without).length, id).toBeGreaterThan(0);
      }
      for (const { serves } of cover.items) expect(serves.length).toBeGreaterThan(0);
      expect(cover.count).toBe(ids.length);
    }
  });

  it('takes the one wrench that serves two needs', () => {
    const cover = unwrap(coverKit(catalog, ['flat-tire'], { measure: 'count' }));
    const ids = cover.items.map(({ item }) => item.id);
    expect(ids).toContain('cross-wrench');
    expect(ids).not.toContain('breaker-bar');
    expect(ids).not.toContain('socket-wheel-nut');
  });

  it('lets a mishap that names one tool only decide for the others', () => {
    const cover = unwrap(coverKit(catalog, ['flat-tire', 'jack-dead', 'spring-broken'], { measure: 'cost' }));
    const ids = cover.items.map(({ item }) => item.id);
    expect(ids).toContain('jack-bottle');
    expect(ids).not.toContain('wheel-ramp');
    expect(ids).not.toContain('crank-jack');
  });

  it('asks for nothing that is aboard', () => {
    const cover = unwrap(coverKit(catalog, all, { measure: 'cost', aboard: [...catalog.kit.keys()] }));
    expect(cover).toMatchObject({ items: [], cost: 0, weightLb: 0, count: 0 });
  });

  it('refuses a mishap it does not know', () => {
    expect(coverKit(catalog, ['meteor'], { measure: 'cost' })).toMatchObject({
      ok: false,
      problems: [{ code: 'catalog.reference-unknown' }],
    });
  });
});

describe('kit', () => {
  it('names each gap with all that would close it', () => {
    const jackDead = catalog.mishaps.get('jack-dead')!;
    const gap = kitGaps(catalog, [jackDead], ['multimeter', 'fuses']).find(({ item }) => item === 'crank-jack');
    expect(gap).toMatchObject({ mishap: 'jack-dead', kind: 'tool', anyOf: ['crank-jack', 'jack-bottle'] });
    expect(gap!.names).toHaveLength(2);
    expect(kitGaps(catalog, [jackDead], ['jack-bottle']).map(({ item }) => item)).not.toContain('crank-jack');
  });

  it('gives the reason for each thing carried, and none for ballast', () => {
    const mishaps = [...catalog.mishaps.values()];
    const reasons = kitReasons(catalog, mishaps, catalog.upkeeps.keys(), ['torque-wrench', 'bowling-ball']);
    expect(reasons[0]!.mishaps).toContain('flat-tire');
    expect(reasons[0]!.upkeeps).toContain('retorque-wheel-nuts');
    expect(reasons[0]!.upkeeps, 'through its set-up').toContain('rotate-tires');
    expect(reasons[1]).toEqual({ item: 'bowling-ball', mishaps: [], upkeeps: [] });
  });

  it('asks a rig only for mishaps its parts can bring', () => {
    const ids = mishapsOfParts(catalog, ['tire', 'coupler']).map(({ id }) => id);
    expect(ids).toContain('flat-tire');
    expect(ids).not.toContain('slide-stuck');
    expect(needsOf(catalog.mishaps.get('flat-tire')!).every((need) => need.anyOf[0] === need.item)).toBe(true);
  });
});
