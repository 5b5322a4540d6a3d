import type { Problem } from '../problem/index.ts';
import { catalogOf, type Draft, type Item } from './draft.ts';
import { HAZARDS } from './hazard-names.ts';
import { hazardsOf } from './hazards.ts';
import type { Catalog, Upkeep } from './types.ts';

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

const named = (hazards: readonly string[]): string => hazards.map((hazard) => `\`${hazard}\``).join(', ');

/** Things that neither name their hazards nor say that there are none, and hazards without their standing caution. */
function unsaid(draft: Draft): Problem[] {
  const stated = [
    ...[...draft.upkeeps.values()].map((item) => ({ item, noun: 'upkeep' })),
    ...[...draft.setups.values()].map((item) => ({ item, noun: 'set-up' })),
    ...[...draft.mishaps.values()].map((item) => ({ item, noun: 'mishap' })),
  ];
  const missing = stated.filter(({ item }) => item.value.hazards === undefined);
  const used = new Set(stated.flatMap(({ item }) => item.value.hazards ?? []));
  return [
    ...missing.map(({ item, noun }) => ({
      code: 'catalog.hazards-unsaid',
      what: `${noun} \`${item.value.id}\` says nothing of its hazards`,
      where: item.where('hazards'),
      expected: `\`hazards: none\`, or a list of ${named(HAZARDS)}`,
    })),
    ...[...used]
      .filter((hazard) => !draft.hazards.has(hazard))
      .map((hazard) => ({
        code: 'catalog.reference-unknown',
        what: `The hazard \`${hazard}\` has no standing caution`,
        where: 'hazards.yaml',
        expected: 'an entry under `hazards`',
      })),
  ];
}

/** No dangerous work without a caution beside it; work for licensed hands says so where the steps are read. */
export function problemsOfSafety(draft: Draft): Problem[] {
  const catalog = catalogOf(draft);
  const stated = [
    ...[...draft.setups.values()].map((item) => ({ item, noun: 'set-up' })),
    ...[...draft.mishaps.values()].map((item) => ({ item, noun: 'mishap' })),
  ];
  return [
    ...unsaid(draft),
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
