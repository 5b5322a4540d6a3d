import type { Catalog, Hazard, HazardCaution, Mishap, SetUp, Upkeep } from './types.ts';

/** Every danger of doing an upkeep: its own (its part's where it names none) and those of its set-ups. */
export function hazardsOf(catalog: Pick<Catalog, 'partKinds' | 'setups'>, upkeep: Upkeep): ReadonlySet<Hazard> {
  return new Set([
    ...(upkeep.hazards ?? catalog.partKinds.get(upkeep.part)?.hazards ?? []),
    ...upkeep.setups.flatMap((id) => catalog.setups.get(id)?.hazards ?? []),
  ]);
}

/** Whether a caution speaks of a hazard, by the words of its entry. */
export function speaksOf({ speaks }: HazardCaution, caution: string): boolean {
  const said = ` ${caution.toLowerCase().replaceAll(/[^a-z0-9]+/g, ' ')} `;
  return speaks.some((words) => said.includes(` ${words.toLowerCase()} `));
}

/** Cautions of one thing, and after them the standing caution of each hazard that they do not speak of. */
function completed(
  catalog: Pick<Catalog, 'hazards'>,
  hazards: Iterable<Hazard>,
  own: readonly string[],
): readonly string[] {
  const wanted = new Set(hazards);
  const standing = [...catalog.hazards.values()].filter(
    (hazard) => wanted.has(hazard.id) && !own.some((caution) => speaksOf(hazard, caution)),
  );
  return [...own, ...standing.map(({ caution }) => caution)];
}

/** An upkeep whose cautions speak of every hazard of its work. */
export function cautionedUpkeep(catalog: Pick<Catalog, 'partKinds' | 'setups' | 'hazards'>, upkeep: Upkeep): Upkeep {
  return { ...upkeep, cautions: completed(catalog, hazardsOf(catalog, upkeep), upkeep.cautions) };
}

/** The catalog with the standing cautions added wherever a hazard is named and not spoken of. */
export function withStandingCautions(catalog: Catalog): Catalog {
  const cautioned = <T extends SetUp | Mishap>(items: ReadonlyMap<string, T>): Map<string, T> =>
    new Map(
      [...items].map(([id, item]) => [
        id,
        { ...item, cautions: completed(catalog, item.hazards ?? [], item.cautions) },
      ]),
    );
  const upkeeps = new Map([...catalog.upkeeps].map(([id, upkeep]) => [id, cautionedUpkeep(catalog, upkeep)]));
  return {
    ...catalog,
    setups: cautioned(catalog.setups),
    mishaps: cautioned(catalog.mishaps),
    upkeeps,
    upkeepsOf: new Map(
      [...catalog.upkeepsOf].map(([part, list]) => [part, list.map((upkeep) => upkeeps.get(upkeep.id)!)]),
    ),
  };
}
