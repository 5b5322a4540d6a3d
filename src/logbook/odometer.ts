import { dayNumber } from '../dates/index.ts';
import { dimensionOf, type Quantity, valueIn } from '../quantity/index.ts';
import type { Entry } from './entry.ts';
import { chainOf, type RigState } from './fold.ts';

export type VehicleRole = 'trailer' | 'tow';

/** One moment at which the odometer is known. `total` counts on through replacements; `shown` is what the instrument showed. */
export interface OdometerPoint {
  readonly day: number;
  readonly shownMiles: number;
  readonly totalMiles: number;
  readonly entry: Entry;
}

/** All that is known of one odometer, in order of days. */
export interface OdometerTrack {
  readonly points: readonly OdometerPoint[];
  readonly newest: OdometerPoint | undefined;
}

/** What an entry says the odometer showed, in miles, for one vehicle; undefined where it says none, or one that is no distance. */
export function shownMiles(entry: Entry, role: VehicleRole): number | undefined {
  const read = (q: Quantity | undefined): number | undefined =>
    q === undefined || dimensionOf(q.unit) !== 'length' ? undefined : valueIn(q, 'mi');
  switch (entry.kind) {
    case 'reading':
      return entry.body.what === 'odometer' && (entry.body.vehicle ?? 'trailer') === role
        ? read(entry.body.value)
        : undefined;
    case 'work':
    case 'trip-done':
      return read(role === 'trailer' ? entry.body.odometer : entry.body.odometerTow);
    case 'fit':
    case 'remove':
      return role === 'trailer' ? read(entry.body.odometer) : undefined;
    case 'adjust':
      return entry.body.vehicle === role ? read(entry.body.now) : undefined;
    default:
      return undefined;
  }
}

const memo = new WeakMap<object, OdometerTrack>();
const NO_TRACK: OdometerTrack = { points: [], newest: undefined };

/** The track of one vehicle's odometer. */
export function odometerTrack(state: RigState, role: VehicleRole): OdometerTrack {
  const chain = chainOf(state, `odometer/${role}`, 'reading');
  if (chain.length === 0) return NO_TRACK;
  const known = memo.get(chain);
  if (known) return known;
  const points: OdometerPoint[] = [];
  let offset = 0;
  for (const entry of chain) {
    const shown = shownMiles(entry, role);
    if (shown === undefined) continue;
    if (entry.kind === 'adjust') offset += valueIn(entry.body.was, 'mi') - shown;
    const point = { day: dayNumber(entry.on), shownMiles: shown, totalMiles: shown + offset, entry };
    // Two readings of one day may be written down in either order; the odometer did not run backwards.
    let at = points.length;
    while (at > 0 && points[at - 1]!.day === point.day && points[at - 1]!.totalMiles > point.totalMiles) at--;
    points.splice(at, 0, point);
  }
  const track = { points, newest: points.at(-1) };
  memo.set(chain, track);
  return track;
}

/**
 * Total miles at an entry of this track, or, for an entry that gives no odometer, at the end of its day: the last point at or
 * before the day, or between two points in proportion to days (then `exact` is false). Undefined before the first point.
 */
export function totalMilesAt(
  track: OdometerTrack,
  day: number,
  entry?: Entry,
): { miles: number; exact: boolean; entry: Entry } | undefined {
  const { points } = track;
  if (entry) {
    const own = points.find((point) => point.entry.id === entry.id);
    if (own) return { miles: own.totalMiles, exact: true, entry: own.entry };
  }
  let last = -1;
  while (last + 1 < points.length && points[last + 1]!.day <= day) last++;
  const before = points[last];
  if (!before) return undefined;
  const after = points[last + 1];
  if (!after || before.day === day) return { miles: before.totalMiles, exact: before.day === day, entry: before.entry };
  const share = (day - before.day) / (after.day - before.day);
  return {
    miles: before.totalMiles + share * (after.totalMiles - before.totalMiles),
    exact: false,
    entry: before.entry,
  };
}

/** What the instrument will show at `totalMiles`, as it stands today. */
export function shownFromTotal(track: OdometerTrack, totalMiles: number): number {
  const newest = track.newest;
  return newest ? totalMiles - (newest.totalMiles - newest.shownMiles) : totalMiles;
}
