import type { Problem } from '../problem/index.ts';
import { catalogOf, type Draft, type Item } from './draft.ts';
import type { Catalog, Hazard, Upkeep } from './types.ts';

/** Every danger of doing an upkeep: its own, its part's, its set-ups'. */
export function hazardsOf(catalog: Pick<Catalog, 'partKinds' | 'setups'>, upkeep: Upkeep): ReadonlySet<Hazard> {
  return new Set([
    ...(upkeep.hazards ?? []),
    ...(catalog.partKinds.get(upkeep.part)?.hazards ?? []),
    ...upkeep.setups.flatMap((id) => catalog.setups.get(id)?.hazards ?? []),
  ]);
}

const LICENSED = /licen[sc]ed|certified|qualified|registered/i;

const CAUTIONS = '`cautions` that say how this work hurts people and how not to be hurt';

/** What one upkeep leaves unsaid: a danger without a caution, licensed work that does not say so. */
export function safetyProblemsOfUpkeep(catalog: Pick<Catalog, 'partKinds' | 'setups'>, item: Item<Upkeep>): Problem[] {
  const upkeep = item.value;
  const problems: Problem[] = [];
  const hazards = hazardsOf(catalog, upkeep);
  if (hazards.size > 0 && upkeep.cautions.length === 0) {
    const what = `upkeep \`${upkeep.id}\`: work with ${[...hazards].join(', ')} and not one caution`;
    problems.push({ code: 'catalog.caution-missing', what, where: item.where('cautions'), expected: CAUTIONS });
  }
  if (upkeep.skill === 'licensed' && !upkeep.cautions.some((caution) => LICENSED.test(caution))) {
    problems.push({
      code: 'catalog.licensed-unsaid',
      what: `upkeep \`${upkeep.id}\`: for licensed hands, but no caution says so`,
      where: item.where('cautions'),
      expected: 'a caution that names whose licence the work needs',
    });
  }
  return problems;
}

/** No dangerous work without a caution beside it; work for licensed hands says so where the steps are read. */
export function problemsOfSafety(draft: Draft): Problem[] {
  const catalog = catalogOf(draft);
  const stated = [
    ...[...draft.setups.values()].map((item) => ({ item, noun: 'set-up' })),
    ...[...draft.mishaps.values()].map((item) => ({ item, noun: 'mishap' })),
  ];
  return [
    ...[...draft.upkeeps.values()].flatMap((item) => safetyProblemsOfUpkeep(catalog, item)),
    ...stated
      .filter(({ item }) => (item.value.hazards ?? []).length > 0 && item.value.cautions.length === 0)
      .map(({ item, noun }) => ({
        code: 'catalog.caution-missing',
        what: `${noun} \`${item.value.id}\`: ${item.value.hazards!.join(', ')} and not one caution`,
        where: item.where('cautions'),
        expected: CAUTIONS,
      })),
  ];
}
