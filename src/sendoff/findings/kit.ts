import { kitGaps, type Mishap, mishapsOfParts, needsOf } from '../../catalog/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { kitIds, takesSimply, toolName } from '../takes.ts';
import { listed } from '../words.ts';

/** Minutes to fetch a thing and stow it. Our own estimate. */
const STOW_MINUTES = 5;

/**
 * Tools and spares for the mishaps this rig can have: those that a part on record can bring on. A mishap for which something is
 * missing is a limit. Where nothing was ever written down of what is aboard, all of it is unproven.
 */
export function kitFindings(context: Context): DraftFinding[] {
  const { catalog, parts } = context;
  if (catalog.mishaps.size === 0) return [];
  if (![...context.state.subjects.keys()].some((subject) => subject.startsWith('kit/'))) return [nothingKnown()];
  const aboard = [...kitIds(context)];
  const possible = mishapsOfParts(
    catalog,
    parts.map((part) => part.kind),
  );
  return possible.flatMap((mishap) => {
    const needs = needsOf(mishap);
    if (needs.length === 0) return [];
    const missing = kitGaps(catalog, [mishap], aboard).map((gap) => gap.item);
    const having = needs.flatMap((need) => need.anyOf).flatMap((id) => context.aboard.get(id)?.id ?? []);
    return [coverage(context, mishap, missing, [...new Set(having)])];
  });
}

function coverage(
  context: Context,
  mishap: Mishap,
  missing: readonly string[],
  evidence: readonly string[],
): DraftFinding {
  const common = {
    id: `kit/${mishap.id}`,
    group: 'kit' as const,
    severity: 'damage' as const,
    evidence,
    sources: [mishap.source],
  };
  if (missing.length === 0) {
    return { ...common, kind: 'pass', text: `${mishap.title}: all that it takes is aboard.`, takes: null };
  }
  const names = missing.map((id) => toolName(context, id));
  return {
    ...common,
    kind: 'limit',
    text: `${mishap.title}: not aboard: ${listed(names)}.`,
    takes: takesSimply(
      `Put aboard: ${listed(names)}`,
      STOW_MINUTES * missing.length,
      { kind: 'carry', items: missing },
      { parts: names, aboard: false },
    ),
    cautions: mishap.doNotTowIf.map((condition) => `Do not tow on if: ${condition}`),
  };
}

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
