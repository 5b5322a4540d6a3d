import geodesic from 'geographiclib-geodesic';

/** A place on the WGS84 ellipsoid, in degrees. */
export interface Point {
  readonly lat: number;
  readonly lon: number;
  /** As its maker called it; empty where it has no name. */
  readonly name: string;
}

/**
 * Metres along the shortest line between two places on the WGS84 ellipsoid (Karney 2013, “Algorithms for geodesics”), good to a
 * few nanometres for any pair.
 *
 * @example metresBetween({ lat: 40.6, lon: -73.8 }, { lat: 51.6, lon: -0.5 }) // 5551759.400…
 */
export function metresBetween(a: Pick<Point, 'lat' | 'lon'>, b: Pick<Point, 'lat' | 'lon'>): number {
  return geodesic.Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon, geodesic.Geodesic.DISTANCE).s12!;
}

/** Metres along a line of points. */
export function metresAlong(points: readonly Point[]): number {
  return points.slice(1).reduce((sum, point, index) => sum + metresBetween(points[index]!, point), 0);
}

/** Why these are no latitude and longitude; null where they are. */
export function notOnEarth(lat: number, lon: number): string | null {
  if (!Number.isFinite(lat) || Math.abs(lat) > 90) return 'a latitude from -90 to 90 degrees';
  if (!Number.isFinite(lon) || Math.abs(lon) > 180) return 'a longitude from -180 to 180 degrees';
  return null;
}
