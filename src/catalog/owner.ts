import * as z from 'zod/mini';
import { type Problem, problemText } from '../problem/index.ts';
import { problemsOfCycles } from './cycles.ts';
import { catalogOf, type Draft, draftOf, type Item } from './draft.ts';
import { cautionedUpkeep } from './hazards.ts';
import { changedUpkeep, type Override, overrideSchema } from './override.ts';
import { OwnerSources } from './owner-sources.ts';
import { problemsOfUpkeep } from './references.ts';
import { safetyProblemsOfUpkeep } from './safety.ts';
import { partKindSchema, upkeepSchema } from './schema.ts';
import type { Catalog, PartKind, Upkeep } from './types.ts';

/** One setting of the logbook that speaks of the catalog: its key, and its JSON value. */
export interface OwnerSetting {
  /** `override/…`, `own-upkeep/ID` or `own-part-kind/ID`. */
  readonly key: string;
  readonly value: unknown;
}

/** The catalog as the owner has it, and the settings that could not be taken, each with its reason. */
export interface OwnerCatalog {
  readonly catalog: Catalog;
  readonly problems: readonly Problem[];
}

/**
 * Lays the owner's own figures, upkeeps and kinds of part over the catalog. Their handbook outranks every default here.
 *
 * Three kinds of setting (see docs/catalog/README.md for each field):
 * - `override/…`: `{ upkeep, part?, clock, every? | from? | by? | limit? …, source }`, another figure for one clock; or
 *   `{ upkeep, part?, steps?, cautions?, minutes?, source }`, other steps (cautions are added, never taken away).
 * - `own-upkeep/ID`: an upkeep of the owner's own.
 * - `own-part-kind/ID`: a kind of part of the owner's own.
 *
 * A setting that does not hold is left out and told; the rest stands. Every changed value carries the owner's source, whose
 * entry in `catalog.sources` is marked `owner`. With `part`, the change is for that one part: ask `upkeepOfPart`.
 */
export function withOverrides(catalog: Catalog, settings: readonly OwnerSetting[]): OwnerCatalog {
  const draft = draftOf(catalog);
  const sources = new OwnerSources(draft);
  const problems: Problem[] = [];
  const refuse = (setting: OwnerSetting, more: readonly Problem[]) =>
    problems.push(...more.map((problem) => ({ ...problem, where: `setting ${setting.key}` })));
  const under = (prefix: string) => settings.filter(({ key }) => key.startsWith(`${prefix}/`));

  for (const setting of under('own-part-kind')) refuse(setting, addPartKind(draft, setting));
  for (const setting of under('own-upkeep')) refuse(setting, addUpkeep(draft, sources, setting));
  const read = under('override').flatMap((setting) => {
    const override = overrideSchema.safeParse(setting.value);
    if (override.success) return [{ setting, override: override.data as Override }];
    refuse(setting, shapeProblems('override', override.error));
    return [];
  });
  const apply = ({ setting, override }: (typeof read)[number], from: Upkeep | undefined) => {
    if (from === undefined) {
      const what = `\`${override.upkeep}\` is not a known upkeep`;
      refuse(setting, [{ code: 'catalog.reference-unknown', what, expected: 'the id of an upkeep of the catalog' }]);
      return undefined;
    }
    const changed = changedUpkeep(from, override, sources);
    if (!changed.ok) refuse(setting, changed.problems);
    return changed.ok ? changed.value : undefined;
  };

  for (const one of read.filter(({ override }) => override.part === undefined)) {
    const item = draft.upkeeps.get(one.override.upkeep);
    const changed = apply(one, item?.value);
    if (item !== undefined && changed !== undefined) draft.upkeeps.set(changed.id, { ...item, value: changed });
  }
  const partUpkeeps = new Map<string, Map<string, Upkeep>>();
  for (const one of read) {
    const { part, upkeep } = one.override;
    if (part === undefined) continue;
    const own = partUpkeeps.get(part) ?? new Map<string, Upkeep>();
    const changed = apply(one, own.get(upkeep) ?? draft.upkeeps.get(upkeep)?.value);
    if (changed !== undefined) partUpkeeps.set(part, own.set(upkeep, changed));
  }
  return { catalog: { ...catalogOf(draft), partUpkeeps }, problems };
}

/** The upkeep as it stands for one part: the owner's for that part, else the owner's for all, else the catalog's. */
export function upkeepOfPart(catalog: Catalog, upkeepId: string, partId: string): Upkeep | undefined {
  return catalog.partUpkeeps?.get(partId)?.get(upkeepId) ?? catalog.upkeeps.get(upkeepId);
}

/** All upkeeps of a part of this kind, as they stand for it, in catalog order. */
export function upkeepsOfPart(catalog: Catalog, partKind: string, partId: string): Upkeep[] {
  return (catalog.upkeepsOf.get(partKind) ?? []).map((upkeep) => upkeepOfPart(catalog, upkeep.id, partId)!);
}

function shapeProblems(what: string, error: z.core.$ZodError): Problem[] {
  return error.issues.map((issue) => {
    const inner = issue.code === 'custom' ? (issue.params?.problem as Problem | undefined) : undefined;
    const field = issue.path.join('.') || 'the value';
    return {
      code: inner === undefined ? 'catalog.value-wrong' : 'catalog.unit-wrong',
      what: `${what}: ${field}: ${inner === undefined ? issue.message : problemText(inner)}`,
      expected: 'the fields of docs/catalog/README.md',
    };
  });
}

const taken = (noun: string, id: string): Problem => ({
  code: 'catalog.id-duplicate',
  what: `The catalog has a ${noun} \`${id}\` already`,
  expected: 'an id of your own; to change what stands, use an override',
});

const ownPartKind = z.looseObject({ name: z.string().check(z.minLength(1)), source: z.optional(z.string()) });

function addPartKind(draft: Draft, setting: OwnerSetting): Problem[] {
  const id = setting.key.slice('own-part-kind/'.length);
  const loose = ownPartKind.safeParse(setting.value);
  if (!loose.success) return shapeProblems('own kind of part', loose.error);
  const { source: _source, ...fields } = loose.data;
  const read = partKindSchema.safeParse({ group: 'own parts', per: 'each', ...fields, id });
  if (!read.success) return shapeProblems('own kind of part', read.error);
  if (draft.parts.has(id)) return [taken('kind of part', id)];
  draft.parts.set(id, { value: read.data as PartKind, where: () => setting.key });
  return [];
}

const ownUpkeep = z.looseObject({
  title: z.string().check(z.minLength(1)),
  part: z.string(),
  source: z.string().check(z.trim(), z.minLength(1, 'say where it comes from')),
  sourceKind: z._default(z.enum(['handbook', 'common practice']), 'common practice'),
  clocks: z.array(z.looseObject({ kind: z.string() })).check(z.minLength(1)),
  minutes: z.number(),
  failureCost: z.number(),
});

function addUpkeep(draft: Draft, sources: OwnerSources, setting: OwnerSetting): Problem[] {
  const id = setting.key.slice('own-upkeep/'.length);
  const loose = ownUpkeep.safeParse(setting.value);
  if (!loose.success) return shapeProblems('own upkeep', loose.error);
  if (draft.upkeeps.has(id)) return [taken('upkeep', id)];
  const { source, sourceKind, failureCost, clocks, ...fields } = loose.data;
  const sourceId = sources.add(source, sourceKind);
  const consequence = 'As the owner reckons';
  const read = upkeepSchema.safeParse({
    why: 'A duty of the owner’s own.',
    restores: true,
    skill: 'owner',
    place: 'home',
    steps: [fields.title],
    look: 'Do it once and log it.',
    failure: { cost: failureCost, steepness: 1, consequence },
    ...fields,
    id,
    clocks: clocks.map((clock) => ({ ...clock, source: sourceId })),
  });
  if (!read.success) return shapeProblems('own upkeep', read.error);
  const made: Upkeep = { ...(read.data as Upkeep), owner: { source: sourceId, changed: ['all'] } };
  const item: Item<Upkeep> = { value: made, where: () => setting.key };
  const problems = [...problemsOfUpkeep(draft, item), ...safetyProblemsOfUpkeep(catalogOf(draft), item)];
  if (problems.length > 0) return problems;
  draft.upkeeps.set(id, { ...item, value: cautionedUpkeep(catalogOf(draft), made) });
  const circular = problemsOfCycles(draft);
  if (circular.length > 0) draft.upkeeps.delete(id);
  return circular;
}
