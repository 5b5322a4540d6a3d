import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { DEMO_TODAY, demoEntries } from '../../test/support/demo.ts';
import { openDesk } from '../desk/index.ts';
import { type Entry, foldEntries, judgeBy } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import type { Judgement, SendOff } from './index.ts';

/**
 * One bad figure in an otherwise good logbook, folded as it is: what came in another way, or long ago, was never asked whether it can be.
 */
const catalog = shippedCatalog();
const demo = demoEntries();
const RANK: Readonly<Record<Judgement, number>> = { clear: 0, limits: 1, hold: 2 };

/** Where each quantity of the demo logbook stands. */
const figures = demo.flatMap((entry, i) => {
  const walk = (value: unknown, path: readonly string[]): { i: number; path: readonly string[]; of: Quantity }[] => {
    if (typeof value !== 'object' || value === null) return [];
    if ('value' in value && 'unit' in value) return [{ i, path, of: value as Quantity }];
    return Object.entries(value).flatMap(([key, inner]) => walk(inner, [...path, key]));
  };
  return entry.kind === 'set' ? [] : walk(entry.body, []);
});

const HOSTILE: readonly ((of: Quantity) => Quantity)[] = [
  ({ value, unit }) => ({ value, unit: unit === 'psi' ? 'ft' : 'psi' }),
  ({ value, unit }) => ({ value: -Math.abs(value) - 1, unit }),
  ({ unit }) => ({ value: -4.1e8, unit }),
  ({ unit }) => ({ value: 1e308, unit }),
  ({ unit }) => ({ value: Number.POSITIVE_INFINITY, unit }),
  ({ unit }) => ({ value: Number.NaN, unit }),
  ({ value }) => ({ value, unit: 'cubit' as Quantity['unit'] }),
];

/** The demo logbook with one figure replaced, or (null) taken out: a fact alone, anything else with its entry. */
function demoWith({ i, path }: (typeof figures)[number], put: Quantity | null): Entry[] {
  const entry = demo[i]!;
  if (put === null && path[0] !== 'facts') return demo.filter((_, at) => at !== i);
  const copy = structuredClone(entry) as { body: Record<string, unknown> };
  const holder = path.slice(0, -1).reduce((inner, key) => inner[key] as Record<string, unknown>, copy.body);
  if (put === null) delete holder[path.at(-1)!];
  else holder[path.at(-1)!] = put;
  return demo.map((other, at) => (at === i ? (copy as unknown as Entry) : other));
}

const answer = (entries: readonly Entry[]) =>
  openDesk(foldEntries(entries), catalog, { now: DEMO_TODAY, paths: 16 }).sendoff('palouse-2026');

const naming = (result: SendOff, id: string) => result.findings.filter((finding) => finding.text.includes(id));

describe('a figure that cannot be', () => {
  it('stands nowhere in the demo logbook', () => {
    const judge = judgeBy(catalog);
    expect(demo.filter((entry) => judge(entry) !== undefined).map(({ id }) => id)).toEqual([]);
    expect(figures.length).toBeGreaterThan(1000);
  });

  it('never ends the answer, never makes it milder than without it, and is one finding that names its entry', () => {
    fc.assert(
      fc.property(fc.constantFrom(...figures), fc.constantFrom(...HOSTILE), (figure, hostile) => {
        const bad = hostile(figure.of);
        const { id, kind } = demo[figure.i]!;
        // Below zero a thermometer reads as well as above it.
        fc.pre(!(figure.of.unit === 'degF' && bad.value < 0 && bad.value > -459));
        const result = answer(demoWith(figure, bad));
        if (!result.ok) {
          expect(['enroll', 'trip', 'trip-done']).toContain(kind);
          expect(result.problems[0]!.what).toContain(id);
          return;
        }
        const named = naming(result.value, id);
        expect(named.map((finding) => finding.id)).toEqual([`rig/aside-${id.toLowerCase()}`]);
        expect(named[0]).toMatchObject({ kind: 'unproven', evidence: [id] });
        const without = answer(demoWith(figure, null));
        if (without.ok) expect(RANK[result.value.judgement]).toBeGreaterThanOrEqual(RANK[without.value.judgement]);
      }),
      { numRuns: 10, endOnFailure: true },
    );
  }, 120_000);

  it.each([
    ['a drum diameter in psi', 'drum-brake', 'drumDiameter', { value: 10, unit: 'psi' }],
    ['a least pressure in ft', 'tire', 'pressureColdMin', { value: 60, unit: 'ft' }],
    ['a load of 1e308 lb', 'tire', 'loadMax', { value: 1e308, unit: 'lb' }],
    ['a least pressure as words in ft', 'tire', 'pressureColdMin', '60 ft'],
  ] as const)('%s is set aside, and holds the trip until it is struck or rejected', (_, partKind, fact, value) => {
    const fit = demo.find((entry) => entry.kind === 'fit' && entry.body.kind === partKind && entry.body.facts)!;
    const bad = structuredClone(fit) as { id: string; body: { facts: Record<string, unknown> } };
    bad.body.facts[fact] = value;
    const entries = demo.map((entry) => (entry === fit ? (bad as unknown as Entry) : entry));
    const result = answer(entries);
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    const [finding, ...others] = naming(result.value, fit.id);
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ kind: 'unproven', severity: 'safety', counts: 'hold' });
    expect(finding!.text).toContain(`facts.${fact}`);
    const word = { ...demo[0]!, id: '01KSDC9BX0KBZQKJAX9M9P5ZZZ', on: DEMO_TODAY, at: `${DEMO_TODAY}T12:00:00Z` };
    const reject = {
      ...word,
      kind: 'set',
      body: { key: `quarantine/${fit.id.toLowerCase()}`, value: 'reject' },
    } as Entry;
    const rejected = answer([...entries, reject]);
    if (!rejected.ok) throw new Error(JSON.stringify(rejected.problems));
    expect(naming(rejected.value, fit.id)).toEqual([]);
  });
});
