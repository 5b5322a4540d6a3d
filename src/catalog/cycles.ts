import type { Problem } from '../problem/index.ts';
import type { Draft } from './draft.ts';
import type { Upkeep } from './types.ts';

type Edges = ReadonlyMap<string, readonly string[]>;

/** One cycle through each knot of a graph, as ids in order, the first repeated at the end. */
export function cyclesIn(edges: Edges): string[][] {
  const state = new Map<string, 'open' | 'done'>();
  const found: string[][] = [];
  const visit = (id: string, trail: string[]) => {
    if (state.get(id) === 'done') return;
    if (state.get(id) === 'open') {
      found.push([...trail.slice(trail.indexOf(id)), id]);
      return;
    }
    state.set(id, 'open');
    for (const next of edges.get(id) ?? []) visit(next, [...trail, id]);
    state.set(id, 'done');
  };
  for (const id of edges.keys()) visit(id, []);
  return found;
}

/** Which upkeeps are born of doing another: by name, or by a set-up it uses. */
function followUps(upkeeps: readonly Upkeep[]): Edges {
  const edges = new Map<string, string[]>(upkeeps.map((upkeep) => [upkeep.id, []]));
  for (const born of upkeeps) {
    for (const clock of born.clocks) {
      if (clock.kind !== 'after') continue;
      for (const done of upkeeps) {
        const fires = clock.upkeeps.includes(done.id) || done.setups.some((setup) => clock.setups.includes(setup));
        if (fires) edges.get(done.id)!.push(born.id);
      }
    }
  }
  return edges;
}

/** Follow-ups, covers, working order and set-ups must lead somewhere, not round in a circle. */
export function problemsOfCycles(draft: Draft): Problem[] {
  const upkeeps = [...draft.upkeeps.values()].map((item) => item.value);
  const setups = [...draft.setups.values()].map((item) => item.value);
  const graphs: [string, string, Edges, (id: string) => string | undefined][] = [
    [
      'follow-up',
      'work that brings no further round of itself',
      followUps(upkeeps),
      (id) => whereOf(draft, id, 'clocks'),
    ],
    [
      '`covers`',
      'the greater work to cover the lesser only',
      new Map(upkeeps.map((u) => [u.id, u.covers])),
      (id) => whereOf(draft, id, 'covers'),
    ],
    [
      '`goesAfter`',
      'an order that can be worked',
      new Map(upkeeps.map((u) => [u.id, u.goesAfter])),
      (id) => whereOf(draft, id, 'goesAfter'),
    ],
    [
      '`presumes`',
      'set-ups that stand on others',
      new Map(setups.map((s) => [s.id, s.presumes ?? []])),
      (id) => draft.setups.get(id)?.where('presumes'),
    ],
  ];
  return graphs.flatMap(([name, expected, edges, where]) =>
    cyclesIn(edges).map((cycle) => {
      const at = where(cycle[0]!);
      return {
        code: 'catalog.circular',
        what: `Circular ${name}: ${cycle.join(' → ')}`,
        ...(at === undefined ? {} : { where: at }),
        expected,
      };
    }),
  );
}

const whereOf = (draft: Draft, id: string, field: string) => draft.upkeeps.get(id)?.where(field);
