import { ok, type Result } from '../problem/index.ts';
import { convert, formatQuantity, type Quantity, quantity, valueIn } from '../quantity/index.ts';
import { metresAlong, metresBetween, type Point } from './geodesic.ts';
import { type PointLine, readGpx } from './gpx.ts';
import { readPlaces } from './places.ts';

/**
 * What roads are longer than the straight lines between places: 1.20 on the average of the United States, with a standard deviation
 * of 0.17 (Ballou, Rahardja and Sakai 2002, “Selected country circuity factors for road travel distance estimation”, Transportation
 * Research A 36, 843–848; from memory). In mountains and round water it is more.
 */
export const ROAD_FACTOR = 1.2;
/** Points closer than this on the average are taken to follow the road. Our own choice, no source. */
const FOLLOWS_ROAD_METRES = 2000;
/** A line that ends within this of its start comes home. Our own choice, no source. */
const HOME_METRES = 3000;
/** So many named points and more are turns, not places. Our own choice, no source. */
const PLACES_MOST = 30;

export interface Leg {
  readonly from: string;
  readonly to: string;
  readonly distance: Quantity;
  /** Along points that follow the road; by straight lines and the road factor; as its owner gave it. */
  readonly how: 'along' | 'straight' | 'given';
}

/** A trip's way as a file tells it. */
export interface Route {
  readonly legs: readonly Leg[];
  /** The sum of the legs, in the unit asked for. */
  readonly distance: Quantity;
  /** Where legs end on the way, with the distance to there. */
  readonly stops: readonly { readonly name: string; readonly mile: Quantity }[];
  /** Whether it ends where it began. Where not, the way home is not in it. */
  readonly closed: boolean;
  /** What the figure rests on, in words. */
  readonly assumptions: readonly string[];
}

/** The way in a GPX file. Problems: those of `readGpx`. */
export function routeOfGpx(text: string, unit: 'mi' | 'km'): Result<Route> {
  const lines = readGpx(text);
  if (!lines.ok) return lines;
  const all = lines.value.flatMap(({ points }) => points);
  return ok(routeOf(lines.value.flatMap(legsOf), isNear(all[0]!, all.at(-1)!), unit));
}

/** The way in a list of places, or of legs. Problems: those of `readPlaces`. */
export function routeOfPlaces(text: string, unit: 'mi' | 'km'): Result<Route> {
  const read = readPlaces(text);
  if (!read.ok) return read;
  if (read.value.kind === 'legs') {
    const legs = read.value.legs.map((leg): Leg => ({ ...leg, how: 'given' }));
    return ok(routeOf(legs, legs[0]!.from.toLowerCase() === legs.at(-1)!.to.toLowerCase(), unit));
  }
  const { points } = read.value;
  const legs = points.slice(1).map((to, index) => straight(points[index]!, to));
  return ok(routeOf(legs, isNear(points[0]!, points.at(-1)!), unit));
}

const isNear = (a: Point, b: Point): boolean => metresBetween(a, b) < HOME_METRES;

const straight = (from: Point, to: Point): Leg => ({
  from: from.name,
  to: to.name,
  distance: quantity(metresBetween(from, to) * ROAD_FACTOR, 'm'),
  how: 'straight',
});

/** A line cut where its points have names, if they are few; whole where they are not. */
function legsOf({ name, points }: PointLine): Leg[] {
  const metres = metresAlong(points);
  const how = metres / (points.length - 1) <= FOLLOWS_ROAD_METRES ? 'along' : 'straight';
  const inner = points.flatMap((point, index) =>
    point.name !== '' && index > 0 && index < points.length - 1 ? [index] : [],
  );
  const cuts = [0, ...(inner.length > PLACES_MOST ? [] : inner), points.length - 1];
  return cuts.slice(1).map((to, index): Leg => {
    const piece = points.slice(cuts[index]!, to + 1);
    return {
      from: piece[0]!.name || `start of ${name}`,
      to: piece.at(-1)!.name || `end of ${name}`,
      distance: quantity(metresAlong(piece) * (how === 'straight' ? ROAD_FACTOR : 1), 'm'),
      how,
    };
  });
}

function routeOf(legs: readonly Leg[], closed: boolean, unit: 'mi' | 'km'): Route {
  const shown = legs.map((leg) => ({
    ...leg,
    distance: leg.how === 'given' ? leg.distance : convert(leg.distance, unit),
  }));
  let sum = 0;
  const ends = shown.map((leg) => {
    sum += valueIn(leg.distance, unit);
    return sum;
  });
  const distance = quantity(sum, unit);
  const has = (how: Leg['how']): boolean => legs.some((leg) => leg.how === how);
  return {
    legs: shown,
    distance,
    stops: shown.slice(0, -1).map(({ to }, index) => ({ name: to, mile: quantity(ends[index]!, unit) })),
    closed,
    assumptions: [
      ...(has('along')
        ? ['Points that follow each other closely are taken to follow the road; no factor is laid on them.']
        : []),
      ...(has('straight')
        ? [
            `Straight lines are made ${ROAD_FACTOR.toFixed(1)} times as long, as roads are on the average (1.20 ± 0.17 in the United States, Ballou and others 2002); in mountains and round water they are longer.`,
          ]
        : []),
      ...(has('given') ? ['Legs are as their owner gave them.'] : []),
      ...(closed
        ? []
        : [
            `It does not end where it began: ${formatQuantity(distance, { digits: 1 })} is one way, unless you come home on another.`,
          ]),
    ],
  };
}

/** The same way home: every leg again, the other way round. */
export function thereAndBack(route: Route): Route {
  const home = [...route.legs].reverse().map((leg): Leg => ({ ...leg, from: leg.to, to: leg.from }));
  return routeOf([...route.legs, ...home], true, route.distance.unit as 'mi' | 'km');
}

/** The legs and what the figure rests on, in words. */
export function routeText({ legs, assumptions }: Route): string {
  const told = legs.map(({ from, to, distance }) => `${from} to ${to} ${formatQuantity(distance, { digits: 1 })}`);
  const text = told.join('; ');
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}. ${assumptions.join(' ')}`;
}

/** Estimates are written down to a tenth. */
export const tenths = (value: number): number => Math.round(value * 10) / 10;
