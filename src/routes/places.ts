/** A plain list: places with their coordinates, or legs with the miles that their owner gives them. */
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { parseQuantity, type Quantity } from '../quantity/index.ts';
import { notOnEarth, type Point } from './geodesic.ts';

/** A leg as its owner measured it. */
export interface GivenLeg {
  readonly from: string;
  readonly to: string;
  readonly distance: Quantity;
}

export type PlaceList =
  | { readonly kind: 'places'; readonly points: readonly Point[] }
  | { readonly kind: 'legs'; readonly legs: readonly GivenLeg[] };

/** `Lakeside, 47.84, -120.02`; tabs and semicolons separate too. */
const PLACE = /^(.*\S)\s*[,;\t]\s*([+-]?\d+(?:\.\d+)?)°?\s*[,;\t\s]\s*([+-]?\d+(?:\.\d+)?)°?$/;
/** `Home–Lakeside 142 mi`, `Home to Lakeside, 142 mi`. */
const LEG = /^(.+?)\s*(?:[–—→]|\s-\s|->|\sto\s)\s*(.+?)[\s,;]+(\d[\d.,]*\s*[a-z]+)$/i;

/**
 * A list, one place or one leg a line; blank lines and lines that begin with `#` are passed over.
 *
 * Problems, by line: `route.line` (neither), `route.point`, `route.leg-distance`, `route.leg-apart` (a leg that begins elsewhere
 * than the one before it ended), `route.mixed`, `route.empty`.
 */
export function readPlaces(text: string): Result<PlaceList> {
  const points: Point[] = [];
  const legs: GivenLeg[] = [];
  const problems: Problem[] = [];
  for (const [index, written] of text
    .replace(/^\uFEFF/, '')
    .split(/\r?\n/)
    .entries()) {
    const line = written.trim();
    if (line === '' || line.startsWith('#')) continue;
    const where = `line ${index + 1}`;
    const read = lineOf(line, where);
    if (!read.ok) problems.push(...read.problems);
    else if ('lat' in read.value) points.push(read.value);
    else {
      const before = legs.at(-1);
      if (before && before.to.toLowerCase() !== read.value.from.toLowerCase()) {
        const what = `The leg begins at “${read.value.from}”, and the one before it ended at “${before.to}”`;
        problems.push({ code: 'route.leg-apart', what, where, expected: 'legs that follow each other' });
      }
      legs.push(read.value);
    }
  }
  const [first, ...more] = problems;
  if (first) return fail(first, ...more);
  const expected = 'two places or more as “name, latitude, longitude”, or legs as “Home–Lakeside 142 mi”';
  if (points.length > 0 && legs.length > 0)
    return fail({ code: 'route.mixed', what: 'The list holds both places and legs', expected });
  if (legs.length > 0) return ok({ kind: 'legs', legs });
  if (points.length > 1) return ok({ kind: 'places', points });
  return fail({
    code: 'route.empty',
    what: `The list holds ${points.length === 0 ? 'nothing' : 'one place'}`,
    expected,
  });
}

function lineOf(line: string, where: string): Result<Point | GivenLeg> {
  const [, name, lat, lon] = PLACE.exec(line) ?? [];
  if (name !== undefined) {
    const point = { name, lat: Number(lat), lon: Number(lon) };
    const expected = notOnEarth(point.lat, point.lon);
    return expected ? fail({ code: 'route.point', what: `“${line}” is nowhere on earth`, where, expected }) : ok(point);
  }
  const [, from, to, distance] = LEG.exec(line) ?? [];
  if (from === undefined) {
    const expected = '“Lakeside, 47.84, -120.02”, or “Home–Lakeside 142 mi”';
    return fail({ code: 'route.line', what: `“${line}” is neither a place nor a leg`, where, expected });
  }
  const read = parseQuantity(distance!, 'length');
  if (read.ok && read.value.value > 0) return ok({ from, to: to!, distance: read.value });
  return fail({
    code: 'route.leg-distance',
    what: `“${distance}” is no distance`,
    where,
    expected: 'miles or kilometers',
  });
}
