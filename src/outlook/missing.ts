import type { Catalog, PartKind, Upkeep } from '../catalog/index.ts';
import { partsOf, type RigState, settingOf } from '../logbook/index.ts';

/** Whether a usual rig has one, so that a logbook without it says nothing good. `each`: as many as there are, perhaps none. */
const expected = (kind: PartKind): boolean => kind.per !== 'each';

/**
 * Upkeeps of kinds of part that a usual rig has and this logbook does not know. The owner who has none says so
 * (`fact/absent-KIND`), which is evidence too.
 */
export function missingParts(state: RigState, catalog: Catalog): { readonly kind: string; readonly upkeep: Upkeep }[] {
  const known = new Set(partsOf(state).map((part) => part.kind));
  const missing: { kind: string; upkeep: Upkeep }[] = [];
  for (const kind of catalog.partKinds.values()) {
    if (!expected(kind) || known.has(kind.id) || settingOf(state, 'fact', `absent-${kind.id}`) !== undefined) continue;
    for (const upkeep of catalog.upkeepsOf.get(kind.id) ?? []) missing.push({ kind: kind.id, upkeep });
  }
  return missing;
}
