import { type Catalog, type Severity, type Upkeep, upkeepsOfPart } from '../catalog/index.ts';
import { quantiles } from '../chance/index.ts';
import { dateOf } from '../dates/index.ts';
import { type PartState, partsOf, type RigState, soundState, type VehicleRole } from '../logbook/index.ts';
import type { Quantity } from '../quantity/index.ts';
import { type ClockOf, type Duty, lower, milesQuantity } from './clock-run.ts';
import { followUps } from './clocks/after.ts';
import { looksAtMissing } from './missing.ts';
import { type LookOptions, onPaths, type Scene, sceneOf } from './scene.ts';
import { isAtHome, type Standing, standingAt, standingOf, stillStands } from './standing.ts';
import { tellOdometer } from './tell.ts';
import type { Outlook, OutlookItem, TripAhead } from './types.ts';

/** One upkeep looked at: the item told to people, and what the plan computes with. */
export interface Look {
  readonly item: OutlookItem;
  readonly upkeep: Upkeep;
  readonly part: PartState | null;
  readonly role: VehicleRole;
  /** The moment it runs out, by path (day numbers). Shared between looks: read only. */
  readonly runsOut: Float64Array;
  /** The same without clocks that ask for it at each leaving: what work at home can do something about. Null: only those. */
  readonly runsOutAtHome: Float64Array | null;
  /** The same again, had it been done on `day`; into `out`. */
  runsOutAfter(day: number, out: Float64Array): void;
  /** Its shortest clock in days of usual use. */
  readonly intervalDays: number;
}

/** A duty of a part as it stands, and its look; no look where only other work gives birth to it. */
export interface DutyFound {
  readonly standing: Standing;
  readonly look: Look | null;
  /** The odometer to come that the look was told by. */
  readonly ahead: Scene['shown'][VehicleRole];
}

/** The outlook with what stands behind it. */
export interface OutlookModel {
  readonly outlook: Outlook;
  readonly looks: readonly Look[];
  readonly scene: Scene & { readonly state: RigState };
  readonly alpha: Readonly<Record<Severity, number>>;
}

/**
 * When each upkeep of the rig runs out, as far as can be told on the day `now`. Same inputs, same answer.
 *
 * What a look found is kept with the scene and the part that it rests on, so that the next look, with one more entry in the
 * logbook, does again only what that entry changes.
 */
export function lookAhead(given: RigState, catalog: Catalog, options: LookOptions): OutlookModel {
  const state = soundState(given, catalog);
  const scene = sceneOf(state, catalog, options);
  const looks: Look[] = [];
  for (const part of partsOf(state)) looksAtPart(scene, state, part, looks);
  looks.push(...looksAtMissing(scene, state));
  looks.sort((a, b) => byText(a.item.dates.p50 ?? NEVER, b.item.dates.p50 ?? NEVER) || byText(a.item.id, b.item.id));
  const outlook: Outlook = {
    now: options.now,
    odometer: { trailer: odometerNow(scene, 'trailer'), tow: odometerNow(scene, 'tow') },
    trips: tripsTold(scene),
    items: looks.map((look) => look.item),
  };
  return { outlook, looks, scene: { ...scene, state }, alpha: scene.alpha };
}

/** Sorts after every date. */
const NEVER = '~';
const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function odometerNow(scene: Scene, role: VehicleRole): Outlook['odometer']['trailer'] {
  const newest = scene.tracks[role].newest;
  return newest
    ? { shown: milesQuantity(scene, newest.shownMiles), on: newest.entry.on, entry: newest.entry.id }
    : null;
}

function tripsTold(scene: Scene): readonly TripAhead[] {
  scene.kept.tripsTold ??= scene.draws.trips
    .flatMap((trip, i) => (trip.back >= scene.nowDay ? [{ trip, i }] : []))
    .map(({ trip, i }) => {
      const [p10, p50, p90] = quantiles(scene.draws.ratio[i]!, [0.1, 0.5, 0.9]).map((ratio) =>
        milesQuantity(scene, Math.round(ratio * trip.plannedMiles)),
      ) as [Quantity, Quantity, Quantity];
      return {
        trip: trip.id,
        name: trip.name,
        leave: dateOf(trip.leave),
        return: dateOf(trip.back),
        chance: trip.chance,
        planned: milesQuantity(scene, trip.plannedMiles),
        miles: { p10, p50, p90 },
      };
    });
  return scene.kept.tripsTold;
}

function looksAtPart(scene: Scene, state: RigState, part: PartState, looks: Look[]): void {
  const duties = dutiesAt(scene, part);
  for (const { look } of duties.values()) if (look) looks.push(look);
  // Follow-ups are born of work on other parts too: they are looked for afresh.
  for (const { standing } of duties.values())
    for (const clock of standing.duty.upkeep.clocks)
      if (clock.kind === 'after') looks.push(...followUpsAt(scene, state, standing.duty, clock));
}

/** By upkeep. */
function dutiesAt(scene: Scene, part: PartState): ReadonlyMap<string, DutyFound> {
  const known = scene.found.duties.get(part);
  if (known) return known;
  const before = scene.kept.duties.get(part);
  const duties = new Map<string, DutyFound>();
  for (const upkeep of upkeepsOfPart(scene.catalog, part.kind, part.id))
    duties.set(upkeep.id, dutyAt(scene, part, upkeep, before?.get(upkeep.id)));
  scene.found.duties.set(part, duties);
  scene.kept.duties.set(part, duties);
  return duties;
}

function dutyAt(scene: Scene, part: PartState, upkeep: Upkeep, before: DutyFound | undefined): DutyFound {
  const stands = before !== undefined && stillStands(scene, before.standing);
  if (stands && before.ahead === scene.shown[before.standing.duty.role]) return before;
  const standing = stands ? before.standing : standingAt(scene, part, upkeep);
  const look = standing.runs.length ? new DutyLook(scene, standing) : null;
  return { standing, look, ahead: scene.shown[standing.duty.role] };
}

function followUpsAt(scene: Scene, state: RigState, duty: Duty, clock: ClockOf<'after'>): Look[] {
  return followUps(scene, state, duty, clock).map(({ born, at, unit, run }) => {
    const standing = standingOf(scene, duty, [run], `${duty.id}+${at}${unit}`);
    const odometer = run.outlook.dueAtOdometer;
    const follows = unit === 'mi' && odometer ? { follows: { entry: born.id, atMiles: at, odometer } } : {};
    return new DutyLook(scene, { ...standing, item: { ...standing.item, ...follows } });
  });
}

/** The look at a duty that stands so: most moments are one day, and are written down for every path only when the plan asks. */
class DutyLook implements Look {
  readonly item: OutlookItem;
  readonly intervalDays: number;
  readonly #scene: Scene;
  readonly #standing: Standing;

  constructor(scene: Scene, standing: Standing) {
    const { runs, item, duty, runsOut } = standing;
    const atHome = runs.filter(isAtHome);
    this.#scene = scene;
    this.#standing = standing;
    this.item = { ...item, odometer: tellOdometer(scene, duty.role, runsOut) };
    this.intervalDays = Math.max(1, Math.min(...(atHome.length ? atHome : runs).map((run) => run.days)));
  }

  get upkeep(): Upkeep {
    return this.#standing.duty.upkeep;
  }

  get part(): PartState {
    return this.#standing.duty.part;
  }

  get role(): VehicleRole {
    return this.#standing.duty.role;
  }

  get runsOut(): Float64Array {
    return onPaths(this.#scene, this.#standing.runsOut);
  }

  get runsOutAtHome(): Float64Array | null {
    const { runsOutAtHome } = this.#standing;
    return runsOutAtHome === null ? null : onPaths(this.#scene, runsOutAtHome);
  }

  runsOutAfter(day: number, out: Float64Array): void {
    out.fill(Infinity);
    for (const run of this.#standing.runs) if (isAtHome(run)) lower(out, run.runsOutAfter(day));
  }
}
