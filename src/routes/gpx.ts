/** GPX 1.1 (topografix.com/GPX/1/1): tracks, routes and waypoints, as points. Elevations, times and extensions are passed over. */
import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { notOnEarth, type Point } from './geodesic.ts';

/** One line of points: a segment of a track, a route, or the waypoints in their order. */
export interface PointLine {
  readonly name: string;
  readonly points: readonly Point[];
}

type Node = Readonly<Record<string, unknown>>;

const LISTS = ['trk', 'trkseg', 'trkpt', 'rte', 'rtept', 'wpt'];
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '@',
  removeNSPrefix: true,
  parseTagValue: false,
  parseAttributeValue: false,
  isArray: (name) => LISTS.includes(name),
});

/**
 * The lines of a GPX file. Its tracks where it has any, else its routes, else its waypoints in the order of the file: the nearest
 * to what was or will be driven. Lines of fewer than two points say nothing of a distance and are passed over.
 *
 * Problems: `route.xml` (no XML, with line and column; or one with a document type of its own), `route.not-gpx`,
 * `route.gpx-version`, `route.point` (a point that is nowhere on earth), `route.empty`.
 */
export function readGpx(text: string): Result<PointLine[]> {
  const root = rootOf(text);
  if (!root.ok) return root;
  const problems: Problem[] = [];
  const points = (nodes: unknown, where: string): Point[] =>
    list(nodes).map((node, index) => {
      const [lat, lon] = [degrees(node['@lat']), degrees(node['@lon'])];
      const expected = notOnEarth(lat, lon);
      const written = `lat ${String(node['@lat'])}, lon ${String(node['@lon'])}`;
      if (expected)
        problems.push({
          code: 'route.point',
          what: `“${written}” is nowhere on earth`,
          where: `${where}, point ${index + 1}`,
          expected,
        });
      return { lat, lon, name: nameOf(node) };
    });
  const tracks = list(root.value.trk).flatMap((track, index) =>
    list(track.trkseg).map((segment) => {
      const name = nameOf(track) || `Track ${index + 1}`;
      return { name, points: points(segment.trkpt, name) };
    }),
  );
  const routes = list(root.value.rte).map((route, index) => {
    const name = nameOf(route) || `Route ${index + 1}`;
    return { name, points: points(route.rtept, name) };
  });
  const waypoints = [{ name: 'Waypoints', points: points(root.value.wpt, 'waypoints') }];
  const [first, ...more] = problems;
  if (first) return fail(first, ...more);
  for (const lines of [tracks, routes, waypoints]) {
    const told = lines.filter((line) => line.points.length > 1);
    if (told.length > 0) return ok(told);
  }
  return fail({
    code: 'route.empty',
    what: 'There is no track, no route and no pair of waypoints in it',
    expected: 'two points or more',
  });
}

function rootOf(text: string): Result<Node> {
  const next = 'Export the trip as GPX 1.1 from your map program.';
  if (/<!DOCTYPE/i.test(text.slice(0, 2000)))
    return fail({
      code: 'route.xml',
      what: 'The file declares a document type of its own',
      expected: 'GPX 1.1, which has none',
      next,
    });
  const valid = XMLValidator.validate(text);
  if (valid !== true) {
    const where = `line ${valid.err.line}, column ${valid.err.col}`;
    return fail({
      code: 'route.xml',
      what: `The file is not whole XML: ${valid.err.msg.replace(/\.$/, '')}`,
      where,
      next,
    });
  }
  const { '?xml': _, ...document } = parser.parse(text) as Node;
  const root = document.gpx;
  if (!isNode(root)) {
    const name = Object.keys(document)[0] ?? 'nothing';
    return fail({ code: 'route.not-gpx', what: `The file holds “${name}”`, expected: '“gpx”, version 1.1', next });
  }
  if (root['@version'] === '1.1') return ok(root);
  const version = String(root['@version'] ?? 'without a version');
  return fail({ code: 'route.gpx-version', what: `The file is GPX ${version}`, expected: 'GPX 1.1', next });
}

const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null;
const list = (value: unknown): Node[] => (Array.isArray(value) ? value.filter(isNode) : []);
const degrees = (written: unknown): number =>
  typeof written === 'string' && written.trim() !== '' ? Number(written) : Number.NaN;

function nameOf({ name }: Node): string {
  const text = isNode(name) ? name['#text'] : name;
  return typeof text === 'string' ? text.trim() : '';
}
