/**
 * What lives here: the way of a trip. Distances on the earth's ellipsoid, GPX 1.1 and plain lists of places or legs read, and the
 * miles they come to with what that rests on. Pure.
 */
export { metresBetween, type Point } from './geodesic.ts';
export {
  type Leg,
  ROAD_FACTOR,
  type Route,
  routeOfGpx,
  routeOfPlaces,
  routeText,
  tenths,
  thereAndBack,
} from './route.ts';
