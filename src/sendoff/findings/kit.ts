import { type KitItem, type KitNeed, kitGaps, mishapsOfParts, needsOf } from '../../catalog/index.ts';
import { chainOf } from '../../logbook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { kitIds, takesSimply, toolName } from '../takes.ts';
import { capital, counted, listed, lower } from '../words.ts';

/** Minutes to fetch a thing and stow it. Our own estimate. */
const STOW_MINUTES = 5;

const KINDS = ['tool', 'spare'] as const satisfies readonly KitItem['kind'][];

/**
 * Tools and spares for the mishaps this rig can have: those that a part on record can bring on. What is missing of a kind is one
 * limit with its list, since one buys and stows in one go. Where nothing was ever written down of what is aboard, all of it is
 * unproven.
 */
export function kitFindings(context: Context): DraftFinding[] {
  const { catalog, parts } = context;
  if (catalog.mishaps.size === 0) return [];
  if (![...context.state.subjects.keys()].some((subject) => subject.startsWith('kit/'))) return [nothingKnown()];
  const possible = mishapsOfParts(
    catalog,
    parts.map((part) => part.kind),
  );
  const gaps = kitGaps(catalog, possible, [...kitIds(context)]);
  return KINDS.flatMap((kind) => {
    const needs = possible.flatMap(needsOf).filter((need) => catalog.kit.get(need.item)?.kind === kind);
    return needs.length === 0
      ? []
      : [
          coverage(
            context,
            kind,
            needs,
            gaps.filter((gap) => gap.kind === kind),
          ),
        ];
  });
}

function coverage(
  context: Context,
  kind: KitItem['kind'],
  needs: readonly KitNeed[],
  gaps: readonly KitNeed[],
): DraftFinding {
  const { catalog, state } = context;
  const mishapOf = (id: string) => catalog.mishaps.get(id)!;
  const common = {
    id: `kit/${kind}s`,
    group: 'kit' as const,
    severity: 'damage' as const,
    sources: unique(needs.map((need) => mishapOf(need.mishap).source)),
  };
  const items = unique(needs.map((need) => need.item));
  const mishaps = unique(gaps.map((gap) => gap.mishap));
  if (gaps.length === 0) {
    const evidence = unique(needs.flatMap((need) => need.anyOf).flatMap((id) => context.aboard.get(id)?.id ?? []));
    const text = `${capital(counted(items.length, kind))} that mishaps of this rig take: all aboard.`;
    return { ...common, evidence, kind: 'pass', text, takes: null };
  }
  const missing = unique(gaps.map((gap) => gap.item));
  const ashore = unique(gaps.flatMap((gap) => gap.anyOf)).flatMap((id) => {
    const last = chainOf(state, `kit/${id}`, 'carry').at(-1);
    return last ? [last.id] : [];
  });
  const names = missing.map((id) => toolName(context, id));
  const forWhat = missing.map((id) => {
    const titles = gaps.filter((gap) => gap.item === id).map((gap) => lower(mishapOf(gap.mishap).title));
    return `${toolName(context, id)} (${unique(titles).join('; ')})`;
  });
  return {
    ...common,
    evidence: ashore,
    kind: 'limit',
    text: `${capital(counted(missing.length, kind))} not aboard, for ${counted(mishaps.length, 'mishap')}: ${listed(names)}.`,
    takes: takesSimply(
      `Put aboard: ${listed(names)}`,
      STOW_MINUTES * missing.length,
      { kind: 'carry', items: missing },
      { parts: forWhat, aboard: false },
    ),
    // What was lent or lost after the owner's word on the rest needs a word of its own.
    ...(ashore.length > 0 ? { failedBy: [...ashore].sort().at(-1)! } : {}),
  };
}

const unique = <T>(items: readonly T[]): readonly T[] => [...new Set(items)];

function nothingKnown(): DraftFinding {
  return {
    id: 'kit/unknown',
    group: 'kit',
    kind: 'unproven',
    severity: 'damage',
    text: 'Tools and spares: nothing is on record of what is aboard.',
    takes: takesSimply('Go through lockers and tow vehicle, and write down the tools and spares', 30, {
      kind: 'carry',
      items: [],
    }),
    evidence: [],
    sources: ['practice'],
  };
}
