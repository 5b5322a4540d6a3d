import { settingOf } from '../../logbook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply } from '../takes.ts';
import type { FindingGroup } from '../types.ts';
import { lower } from '../words.ts';

/** Minutes to find a thing and read its label. Our own estimate. */
const LOOK_MINUTES = 5;

/** One of these kinds of part must be on record; the first is asked for. */
export interface Expected {
  readonly group: FindingGroup;
  readonly kinds: readonly [string, ...string[]];
  readonly severity: 'safety' | 'damage';
  /** A rig without this kind of part needs none. */
  readonly with?: string;
}

/** True where the owner wrote down that the rig has none (`fact/absent-KIND`). */
export function isAbsent({ state }: Pick<Context, 'state'>, kind: string): boolean {
  return settingOf(state, 'fact', `absent-${kind}`) !== undefined;
}

/**
 * Things of which a rig may have one or several, so that the outlook asks after none: without any on record and without the owner's
 * word that there is none, nobody knows.
 */
export function expectedFindings(context: Context, expected: readonly Expected[]): DraftFinding[] {
  return expected.flatMap(({ group, kinds, severity, with: companion }) => {
    const [kind] = kinds;
    const known = context.catalog.partKinds.get(kind);
    const there = context.parts.some((part) => kinds.includes(part.kind));
    if (!known || there || isAbsent(context, kind)) return [];
    if (companion !== undefined && isAbsent(context, companion)) return [];
    const look = lookFor(context, kind);
    return [
      {
        id: `${group}/unknown-${kind}`,
        group,
        kind: 'unproven' as const,
        severity,
        text: `${known.name}: none on record, and nothing says that there is none. ${look}`,
        takes: takesSimply(`Look for the ${lower(known.name)}: ${look}`, LOOK_MINUTES, {
          kind: 'fit',
          part: null,
          partKind: kind,
        }),
        evidence: [],
        sources: [
          ...new Set(
            (context.catalog.upkeepsOf.get(kind) ?? []).flatMap((upkeep) => upkeep.clocks.map((clock) => clock.source)),
          ),
        ],
      },
    ];
  });
}

/** What to look at on a kind of part: its date first, where it has one. */
export function lookFor({ catalog }: Pick<Context, 'catalog'>, kind: string): string {
  const upkeeps = catalog.upkeepsOf.get(kind) ?? [];
  const dated = upkeeps.find((upkeep) => upkeep.clocks.some((clock) => clock.kind === 'age'));
  return (dated ?? upkeeps[0])?.look ?? 'Look for it.';
}
