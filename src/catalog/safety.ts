import type { Problem } from '../problem/index.ts';
import type { Draft } from './draft.ts';
import type { Hazard, Upkeep } from './types.ts';

/** Every danger of doing an upkeep: its own, its part's, its set-ups'. */
export function hazardsOf(draft: Pick<Draft, 'parts' | 'setups'>, upkeep: Upkeep): ReadonlySet<Hazard> {
  return new Set([
    ...(upkeep.hazards ?? []),
    ...(draft.parts.get(upkeep.part)?.value.hazards ?? []),
    ...upkeep.setups.flatMap((id) => draft.setups.get(id)?.value.hazards ?? []),
  ]);
}

const LICENSED = /licen[sc]ed|certified|qualified|registered/i;

/** No dangerous work without a caution beside it; work for licensed hands says so where the steps are read. */
export function problemsOfSafety(draft: Draft): Problem[] {
  const problems: Problem[] = [];
  for (const item of draft.upkeeps.values()) {
    const upkeep = item.value;
    const hazards = hazardsOf(draft, upkeep);
    if (hazards.size > 0 && upkeep.cautions.length === 0) {
      problems.push({
        code: 'catalog.caution-missing',
        what: `upkeep \`${upkeep.id}\`: work with ${[...hazards].join(', ')} and not one caution`,
        where: item.where('cautions'),
        expected: '`cautions` that say how this work hurts people and how not to be hurt',
      });
    }
    if (upkeep.skill === 'licensed' && !upkeep.cautions.some((caution) => LICENSED.test(caution))) {
      problems.push({
        code: 'catalog.licensed-unsaid',
        what: `upkeep \`${upkeep.id}\`: for licensed hands, but no caution says so`,
        where: item.where('cautions'),
        expected: 'a caution that names whose licence the work needs',
      });
    }
  }
  for (const [section, noun] of [
    ['setups', 'set-up'],
    ['mishaps', 'mishap'],
  ] as const) {
    for (const item of draft[section].values()) {
      const hazards = item.value.hazards ?? [];
      if (hazards.length === 0 || item.value.cautions.length > 0) continue;
      problems.push({
        code: 'catalog.caution-missing',
        what: `${noun} \`${item.value.id}\`: ${hazards.join(', ')} and not one caution`,
        where: item.where('cautions'),
        expected: '`cautions` that say how this work hurts people and how not to be hurt',
      });
    }
  }
  return problems;
}
