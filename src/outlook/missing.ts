import type { Catalog, PartKind, Upkeep } from '../catalog/index.ts';
import { partsOf, type RigState, settingOf } from '../logbook/index.ts';
import type { Look } from './look.ts';
import { onPaths, type Scene } from './scene.ts';
import { tell, tellOdometer } from './tell.ts';
import type { ClockOutlook } from './types.ts';

/** A kind of part that a usual rig has and the logbook does not know, and what would serve as well. */
interface MissingKind {
  readonly kind: PartKind;
  /** Names of the kinds of which one is expected. */
  readonly names: readonly string[];
}

/**
 * What a usual rig has and this logbook does not know: kinds of part expected on every rig, and of kinds that stand for each other
 * the first where none is on record. The owner who has none says so (`fact/absent-KIND`), which is evidence too.
 */
export function missingKinds(state: RigState, catalog: Catalog): MissingKind[] {
  const known = new Set(partsOf(state).map((part) => part.kind));
  const groups = new Map<string, PartKind[]>();
  for (const kind of catalog.partKinds.values()) {
    if (kind.expected === undefined) continue;
    const group = kind.expected === true ? `kind ${kind.id}` : `one of ${kind.expected}`;
    groups.set(group, [...(groups.get(group) ?? []), kind]);
  }
  return [...groups.values()].flatMap((kinds) => {
    if (kinds.some((kind) => known.has(kind.id))) return [];
    const possible = kinds.filter((kind) => settingOf(state, 'fact', `absent-${kind.id}`) === undefined);
    return possible.length ? [{ kind: possible[0]!, names: possible.map((kind) => kind.name) }] : [];
  });
}

/** The upkeeps of those kinds, each taken as run out. */
export function looksAtMissing(scene: Scene, state: RigState): Look[] {
  return missingKinds(state, scene.catalog).flatMap((missing) =>
    (scene.catalog.upkeepsOf.get(missing.kind.id) ?? []).map((upkeep) => lookAtMissing(scene, missing, upkeep)),
  );
}

/** An upkeep of a kind of part of which none is on record, though a rig has one: taken as run out, with what is missing. */
function lookAtMissing(scene: Scene, { kind, names }: MissingKind, upkeep: Upkeep): Look {
  const none = names.map((name) => name.charAt(0).toLowerCase() + name.slice(1)).join(' or ');
  const key = `${upkeep.id}@?${kind.id} ${none}`;
  const known = scene.found.missing.get(key);
  if (known) return known;
  const look = lookAtNone(scene, kind, `no ${none} on record`, upkeep);
  scene.found.missing.set(key, look);
  return look;
}

function lookAtNone(scene: Scene, kind: PartKind, missing: string, upkeep: Upkeep): Look {
  const runsOut = onPaths(scene, scene.nowDay);
  const sources = [...new Set(upkeep.clocks.map((clock) => clock.source))];
  const first = upkeep.clocks[0]!;
  const clock: ClockOutlook = {
    kind: first.kind,
    text: `Not on record: ${missing}. ${upkeep.look}`,
    missing,
    evidence: [],
    sources,
  };
  return {
    item: {
      id: `${upkeep.id}@?${kind.id}`,
      upkeep: upkeep.id,
      part: null,
      kind: kind.id,
      title: upkeep.title,
      place: '',
      severity: upkeep.severity,
      state: 'unproven',
      clock: first.kind,
      clocks: [clock],
      left: null,
      ...tell(scene, scene.nowDay, upkeep.severity),
      odometer: tellOdometer(scene, kind.vehicle, scene.nowDay),
      why: `Unproven: ${missing}. ${upkeep.look}`,
      evidence: [],
      sources,
    },
    upkeep,
    part: null,
    role: kind.vehicle,
    runsOut,
    runsOutAtHome: runsOut,
    runsOutAfter: (_day, out) => void out.fill(Infinity),
    intervalDays: 365,
  };
}
