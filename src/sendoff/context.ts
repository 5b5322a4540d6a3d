import type { Catalog, Severity } from '../catalog/index.ts';
import type { PlainDate } from '../dates/index.ts';
import {
  type EntryOf,
  kitAboard,
  type PartState,
  partsOf,
  type RigState,
  settingOf,
  type TripState,
} from '../logbook/index.ts';
import { ALPHA_DEFAULT, type Outlook, type TripAhead } from '../outlook/index.ts';
import { formatQuantity, type Quantity, type System, valueIn } from '../quantity/index.ts';

/** Everything a check looks at: one rig, one trip, one moment. */
export interface Context {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly outlook: Outlook;
  readonly now: PlainDate;
  readonly trip: TripState;
  /** The trip as the usage model sees it. */
  readonly ahead: TripAhead;
  /** Day of leaving; today where the trip should have left already. */
  readonly leave: PlainDate;
  readonly return: PlainDate;
  readonly parts: readonly PartState[];
  readonly aboard: ReadonlyMap<string, EntryOf<'carry'>>;
  /** Miles this trip may run to (the high end of what is to be expected). */
  readonly milesMost: number;
  /** Trailer miles to be expected between now and leaving: earlier trips that are planned. */
  readonly milesBefore: number;
  /** Earlier trips that are planned between now and leaving. */
  readonly tripsBefore: readonly TripAhead[];
  /** Greatest accepted chance of running out before the return. */
  readonly alpha: (severity: Severity) => number;
  /** A quantity as the owner reads it. */
  readonly show: (q: Quantity, digits?: number) => string;
}

/** The later of two days. */
const later = (a: PlainDate, b: PlainDate): PlainDate => (a < b ? b : a);

/** Gathers what the checks share. */
export function contextOf(base: Pick<Context, 'state' | 'catalog' | 'outlook' | 'now' | 'trip' | 'ahead'>): Context {
  const { state, outlook, now, trip, ahead } = base;
  const { leave } = trip.plan.body;
  const tripsBefore = outlook.trips.filter(
    (other) => other.trip !== trip.id && other.leave >= now && other.leave < leave,
  );
  const system: System = settingOf(state, 'units') ?? 'us';
  return {
    ...base,
    leave: later(leave, now),
    return: trip.plan.body.return,
    parts: partsOf(state),
    aboard: kitAboard(state),
    milesMost: valueIn(ahead.miles.p90, 'mi'),
    milesBefore: tripsBefore.reduce((sum, other) => sum + valueIn(other.miles.p50, 'mi'), 0),
    tripsBefore,
    alpha: (severity) => settingOf(state, 'alpha', severity) ?? ALPHA_DEFAULT[severity],
    show: (q, digits) => formatQuantity(q, { system, ...(digits === undefined ? {} : { digits }) }),
  };
}

/** The part's name as a person says it: `Spare tire`, `Wheel bearings, greased, axle 2, left`. */
export function partName({ catalog }: Context, part: Pick<PartState, 'kind' | 'place' | 'id'>): string {
  const kind = catalog.partKinds.get(part.kind)?.name ?? part.id;
  return part.place === '' ? kind : `${kind}, ${part.place}`;
}
