import { fail, ok, type Result } from '../problem/index.ts';
import { type CoverItem, leastCover } from './cover.ts';
import type { Catalog, KitItem, Mishap } from './types.ts';

/** One thing a mishap cannot be met without: any of these kit items serves. */
export interface KitNeed {
  readonly mishap: string;
  /** The usual item, first of `anyOf`. */
  readonly item: string;
  readonly anyOf: readonly string[];
}

/** What a kit is to have least of. */
export type KitMeasure = 'cost' | 'weight' | 'count';

/** A kit that meets every need of the chosen mishaps, and no other meets them with less of the measure. */
export interface KitCover {
  readonly measure: KitMeasure;
  /** Things to add to what is aboard, with the needs each one is there for. */
  readonly items: readonly { readonly item: KitItem; readonly serves: readonly KitNeed[] }[];
  readonly cost: number;
  readonly weightLb: number;
  readonly count: number;
}

/** Mishaps that a rig with these kinds of part can have, in catalog order. */
export function mishapsOfParts(catalog: Catalog, partKinds: Iterable<string>): Mishap[] {
  const aboard = new Set(partKinds);
  return [...catalog.mishaps.values()].filter((mishap) => mishap.parts.some((part) => aboard.has(part)));
}

/** Everything one mishap needs, tools first. */
export function needsOf(mishap: Mishap): KitNeed[] {
  return [...mishap.tools, ...mishap.spares].map((item) => ({
    mishap: mishap.id,
    item,
    anyOf: [item, ...(mishap.alternatives?.[item] ?? [])],
  }));
}

const measureOf = (item: KitItem, measure: KitMeasure) =>
  measure === 'cost' ? item.cost : measure === 'weight' ? item.weightLb : 1;

/**
 * The smallest kit that covers a set of mishaps: every need of every mishap served, with the least cost, weight or number of
 * things. Exact (weighted hitting set, by reduction and branch and bound). What is already aboard serves for nothing.
 *
 * @param options.measure what to have least of; cost and weight are the catalog's estimates
 * @param options.aboard kit item ids aboard; ids the catalog does not know serve nothing
 * @returns a Problem `catalog.reference-unknown` for a mishap that is not in the catalog
 */
export function coverKit(
  catalog: Catalog,
  mishapIds: readonly string[],
  options: { readonly measure: KitMeasure; readonly aboard?: readonly string[] },
): Result<KitCover> {
  const unknown = mishapIds.find((id) => !catalog.mishaps.has(id));
  if (unknown !== undefined) {
    const expected = 'the id of a mishap of the catalog';
    return fail({ code: 'catalog.reference-unknown', what: `\`${unknown}\` is not a known mishap`, expected });
  }
  const aboard = new Set(options.aboard ?? []);
  const needs = mishapIds.flatMap((id) => needsOf(catalog.mishaps.get(id)!));
  const open = needs.filter((need) => !need.anyOf.some((item) => aboard.has(item)));
  const candidates: CoverItem[] = [...catalog.kit.values()].map((item) => ({
    id: item.id,
    price: measureOf(item, options.measure),
  }));
  const chosen = new Set(
    leastCover(
      candidates,
      open.map((need) => need.anyOf),
    ),
  );
  const items = [...catalog.kit.values()]
    .filter((item) => chosen.has(item.id))
    .map((item) => ({ item, serves: open.filter((need) => need.anyOf.includes(item.id)) }));
  const sum = (of: (item: KitItem) => number) => items.reduce((total, { item }) => total + of(item), 0);
  return ok({
    measure: options.measure,
    items,
    cost: sum((item) => item.cost),
    weightLb: sum((item) => item.weightLb),
    count: items.length,
  });
}

/** A need that nothing aboard serves. */
export interface KitGap extends KitNeed {
  readonly kind: KitItem['kind'];
  /** Names of the things that would serve, the usual one first. */
  readonly names: readonly string[];
}

/** Needs of these mishaps that nothing aboard serves, in the order of the mishaps given. */
export function kitGaps(catalog: Catalog, mishaps: readonly Mishap[], aboard: readonly string[]): KitGap[] {
  const have = new Set(aboard);
  return mishaps
    .flatMap(needsOf)
    .filter((need) => !need.anyOf.some((item) => have.has(item)))
    .map((need) => ({
      ...need,
      kind: catalog.kit.get(need.item)!.kind,
      names: need.anyOf.map((item) => catalog.kit.get(item)!.name),
    }));
}

/** Why a thing is carried: the mishaps it is for and the upkeeps it serves. Both empty means it rides along for nothing. */
export interface KitReason {
  readonly item: string;
  readonly mishaps: readonly string[];
  readonly upkeeps: readonly string[];
}

/** The reason for each thing aboard, among the mishaps and upkeeps this rig can have. */
export function kitReasons(
  catalog: Catalog,
  mishaps: readonly Mishap[],
  upkeepIds: Iterable<string>,
  aboard: readonly string[],
): KitReason[] {
  const upkeeps = [...upkeepIds].flatMap((id) => catalog.upkeeps.get(id) ?? []);
  const uses = (id: string) => (upkeep: { tools: readonly string[]; setups: readonly string[] }) =>
    upkeep.tools.includes(id) || upkeep.setups.some((setup) => catalog.setups.get(setup)?.tools.includes(id));
  return aboard.map((item) => ({
    item,
    mishaps: mishaps.filter((mishap) => needsOf(mishap).some((need) => need.anyOf.includes(item))).map(({ id }) => id),
    upkeeps: upkeeps.filter(uses(item)).map(({ id }) => id),
  }));
}
