import type { OdometerTrack } from '../logbook/index.ts';

/** What an odometer's readings say of the past. Total miles count on through replacements, shown miles are the instrument's. */

/** What the instrument showed, or will show, at `totalMiles`: the one on the vehicle at that time. */
export function shownAt({ points, newest }: OdometerTrack, totalMiles: number): number {
  const point = points.findLast((known) => known.totalMiles <= totalMiles) ?? points[0] ?? newest;
  return point ? totalMiles - (point.totalMiles - point.shownMiles) : totalMiles;
}

/** Total miles at the moment `day`, in proportion between two readings; the first or the newest reading beyond them. */
export function totalOn({ points }: OdometerTrack, day: number): number | undefined {
  const after = points.findIndex((point) => point.day > day);
  if (after < 0) return points.at(-1)?.totalMiles;
  if (after === 0) return points[0]!.totalMiles;
  const [a, b] = [points[after - 1]!, points[after]!];
  return a.totalMiles + ((day - a.day) / (b.day - a.day)) * (b.totalMiles - a.totalMiles);
}

/** The moment at which the odometer passed `totalMiles`, in proportion between two readings; undefined where it has not yet. */
export function dayPassed({ points, newest }: OdometerTrack, totalMiles: number): number | undefined {
  if (!newest || newest.totalMiles < totalMiles) return undefined;
  const after = points.findIndex((point) => point.totalMiles >= totalMiles);
  if (after <= 0) return points[0]!.day;
  const [a, b] = [points[after - 1]!, points[after]!];
  return a.day + ((totalMiles - a.totalMiles) / (b.totalMiles - a.totalMiles)) * (b.day - a.day);
}
