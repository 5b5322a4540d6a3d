/** Set-ups as they are paid for: once a yard day, and once more for each wheel where the catalog says so. */

import type { Catalog, Upkeep } from '../catalog/index.ts';
import { partsOf, type RigState } from '../logbook/index.ts';

/** One thing paid for: `trailer-jacked`, or `wheel-off@axle 2, left`. Whoever needs the same key on one day shares it. */
export interface SetUpUnit {
  readonly key: string;
  /** Id of the set-up. */
  readonly setup: string;
  readonly minutes: number;
}

/** What the set-ups of one job on these wheels are paid by. */
export function setUpUnits(catalog: Catalog, setups: readonly string[], wheels: readonly string[]): SetUpUnit[] {
  return setups.flatMap((id) => {
    const setup = catalog.setups.get(id);
    const once = { key: id, setup: id, minutes: setup?.minutes ?? 0 };
    const { minutesEach } = setup ?? {};
    if (minutesEach === undefined) return [once];
    return [once, ...wheels.map((wheel) => ({ key: `${id}@${wheel}`, setup: id, minutes: minutesEach }))];
  });
}

/** A trailer whose wheels are not on record is taken to have two axles. Common practice, no source. */
const WHEELS_ASSUMED = ['axle 1, left', 'axle 1, right', 'axle 2, left', 'axle 2, right'];

/** The places of the trailer's wheels, each once. */
function wheelPlaces(state: RigState, catalog: Catalog): readonly string[] {
  const places = partsOf(state)
    .filter((part) => {
      const kind = catalog.partKinds.get(part.kind);
      return kind?.per === 'wheel' && (part.vehicle ?? kind.vehicle) === 'trailer';
    })
    .map(({ place }) => place)
    .filter((place) => place !== '');
  return places.length === 0 ? WHEELS_ASSUMED : [...new Set(places)];
}

/**
 * The wheels at which an upkeep of a part is done: the one it sits at, both of its axle, or all of the trailer for a part of the
 * whole rig (its wheel nuts, its frame). A drill is made at one wheel.
 */
export function wheelsAt(
  { kind, place }: { readonly kind: string; readonly place: string },
  state: RigState,
  catalog: Catalog,
  { drill }: Pick<Upkeep, 'drill'> = {},
): readonly string[] {
  const wheels = wheelsOfPart({ kind, place }, state, catalog);
  return drill === true ? wheels.slice(0, 1) : wheels;
}

function wheelsOfPart(
  { kind, place }: { readonly kind: string; readonly place: string },
  state: RigState,
  catalog: Catalog,
): readonly string[] {
  const per = catalog.partKinds.get(kind)?.per;
  if (place !== '' && per === 'wheel') return [place];
  if (place !== '' && per === 'axle') return [`${place}, left`, `${place}, right`];
  return wheelPlaces(state, catalog);
}
