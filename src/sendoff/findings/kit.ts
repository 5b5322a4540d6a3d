import type { Mishap } from '../../catalog/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { isAboard, takesSimply, toolName } from '../takes.ts';
import { listed } from '../words.ts';

/** Minutes to fetch a thing and stow it. Our own estimate. */
const STOW_MINUTES = 5;

/**
 * Tools and spares for the mishaps this rig can have: those that a part on record can bring on. A mishap for which something is
 * missing is a limit. Where nothing was ever written down of what is aboard, all of it is unproven.
 */
export function kitFindings(context: Context): DraftFinding[] {
  const { catalog, aboard, parts } = context;
  if (catalog.mishaps.size === 0) return [];
  if (![...context.state.subjects.keys()].some((subject) => subject.startsWith('kit/'))) return [nothingKnown()];
  const kinds = new Set(parts.map((part) => part.kind));
  const possible = [...catalog.mishaps.values()].filter((mishap) => mishap.parts.some((kind) => kinds.has(kind)));
  return possible.flatMap((mishap) => {
    const needs = [...mishap.tools, ...mishap.spares];
    if (needs.length === 0) return [];
    const missing = needs.filter((need) => !served(context, mishap, need));
    const having = needs
      .flatMap((need) => [need, ...(mishap.alternatives?.[need] ?? [])])
      .flatMap((id) => aboard.get(id)?.id ?? []);
    return [coverage(context, mishap, missing, [...new Set(having)])];
  });
}

/** A need is served by the item, or by one that does as well. */
function served(context: Context, mishap: Mishap, need: string): boolean {
  return [need, ...(mishap.alternatives?.[need] ?? [])].some((id) => isAboard(context, id));
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
