import type { Catalog, Clock, KitItem, Mishap, PartKind, SetUp, Source, Upkeep } from '../../src/catalog/index.ts';

/** A catalog of a few made-up duties, so that a test says all that it rests on. */
export function smallCatalog(given: {
  readonly parts?: readonly (Partial<PartKind> & { readonly id: string })[];
  readonly upkeeps?: readonly (Partial<Upkeep> & { readonly id: string; readonly part: string })[];
  readonly setups?: readonly (Partial<SetUp> & { readonly id: string })[];
  readonly kit?: readonly string[];
  readonly mishaps?: readonly (Partial<Mishap> & { readonly id: string })[];
}): Catalog {
  const source: Source = { id: 'practice', kind: 'common practice', title: 'Common practice', seen: 'memory' };
  const upkeeps = (given.upkeeps ?? []).map(upkeepOf);
  const kinds = new Map((given.parts ?? []).map((part) => [part.id, partKindOf(part)]));
  for (const { part } of upkeeps) if (!kinds.has(part)) kinds.set(part, partKindOf({ id: part }));
  const upkeepsOf = new Map<string, Upkeep[]>();
  for (const upkeep of upkeeps) upkeepsOf.set(upkeep.part, [...(upkeepsOf.get(upkeep.part) ?? []), upkeep]);
  return {
    sources: new Map([[source.id, source]]),
    partKinds: kinds,
    setups: new Map((given.setups ?? []).map((setup) => [setup.id, setUpOf(setup)])),
    upkeeps: new Map(upkeeps.map((upkeep) => [upkeep.id, upkeep])),
    upkeepsOf,
    mishaps: new Map((given.mishaps ?? []).map((mishap) => [mishap.id, mishapOf(mishap)])),
    kit: new Map((given.kit ?? []).map((id) => [id, kitItemOf(id)])),
    rigFacts: new Map(),
    limits: new Map(),
    hazards: new Map(),
  };
}

/** Every twelve months. */
export const months = (every: number): Clock => ({ kind: 'months', every, source: 'practice' });
export const miles = (every: number): Clock => ({
  kind: 'miles',
  every: { value: every, unit: 'mi' },
  source: 'practice',
});
export const departure = (withinDays: number): Clock => ({ kind: 'departure', withinDays, source: 'practice' });

const spoken = (id: string): string => (id.charAt(0).toUpperCase() + id.slice(1)).replaceAll('-', ' ');

const partKindOf = (part: Partial<PartKind> & { readonly id: string }): PartKind => ({
  name: spoken(part.id),
  group: 'running gear',
  vehicle: 'trailer',
  per: 'each',
  identify: [`Look at the ${part.id}.`],
  facts: {},
  ...part,
});

const upkeepOf = (upkeep: Partial<Upkeep> & { readonly id: string; readonly part: string }): Upkeep => ({
  title: spoken(upkeep.id),
  why: 'It wears.',
  severity: 'safety',
  clocks: [months(12)],
  restores: true,
  covers: [],
  setups: [],
  goesAfter: [],
  minutes: 30,
  skill: 'owner',
  place: 'home',
  failure: { cost: 300, steepness: 1, consequence: 'It fails' },
  tools: [],
  consumables: [],
  steps: ['Do it.'],
  cautions: [],
  readings: [],
  look: `Look at the ${upkeep.part}.`,
  ...upkeep,
});

const setUpOf = (setup: Partial<SetUp> & { readonly id: string }): SetUp => ({
  title: spoken(setup.id),
  minutes: 20,
  tools: [],
  steps: [],
  cautions: [],
  ...setup,
});

const kitItemOf = (id: string): KitItem => ({ id, name: spoken(id), kind: 'tool', weightLb: 1, cost: 10 });

const mishapOf = (mishap: Partial<Mishap> & { readonly id: string }): Mishap => ({
  title: spoken(mishap.id),
  parts: [],
  signs: [],
  firstMinute: [],
  steps: [],
  tools: [],
  spares: [],
  doNotTowIf: [],
  call: [],
  cautions: [],
  preventedBy: [],
  source: 'practice',
  ...mishap,
});
