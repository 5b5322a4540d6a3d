import { describe, expect, it } from 'vitest';
import { unwrap } from '../../src/problem/index.ts';
import { metresBetween, routeOfGpx } from '../../src/routes/index.ts';

const at = (lat: number, lon: number) => ({ lat, lon });

describe('distances on WGS84', () => {
  /** GeographicLib, tests/geodtest: cases 1, 2, 3 and two more of its twenty, to ten nanometres (lat1, lon1, lat2, lon2, s12 in metres). */
  it.each([
    [35.60777, -139.44815, -11.17491, -69.95921, 8935244.56048183],
    [55.52454, 106.05087, 77.03196, 197.18234 - 360, 4105086.17139244],
    [-21.97856, 142.59065, 41.84138, 98.56635, 8394328.894657671],
    [-50.56724, -16.30485, -33.56571, -94.97412, 6455670.51186687],
    [-41.22777, 122.32875, -7.57291, 130.37946, 3812686.035106021],
  ])('%d, %d to %d, %d: GeodTest', (lat1, lon1, lat2, lon2, metres) => {
    expect(metresBetween(at(lat1, lon1), at(lat2, lon2))).toBeCloseTo(metres, 6);
  });

  /** The example of GeodSolve’s manual: JFK to LHR. From memory. */
  it('JFK to LHR: 5,551,759.400 m', () =>
    expect(metresBetween(at(40.6, -73.8), at(51.6, -0.5))).toBeCloseTo(5551759.4, 3));

  /** GDA technical manual, Vincenty’s formulae on GRS80, which is WGS84 to within a tenth of a millimetre there. From memory. */
  it('Flinders Peak to Buninyong: 54,972.271 m', () => {
    const degrees = (d: number, m: number, s: number): number => d + m / 60 + s / 3600;
    const flinders = at(-degrees(37, 57, 3.7203), degrees(144, 25, 29.5244));
    const buninyong = at(-degrees(37, 39, 10.1561), degrees(143, 55, 35.3839));
    expect(metresBetween(flinders, buninyong)).toBeCloseTo(54_972.271, 3);
  });

  /** NIMA TR8350.2: a = 6,378,137 m; the quarter of a meridian is 10,001,965.729 m. */
  it('a degree of the equator and a quarter of a meridian, from the ellipsoid’s own figures', () => {
    expect(metresBetween(at(0, 10), at(0, 11))).toBeCloseTo((6_378_137 * Math.PI) / 180, 4);
    expect(metresBetween(at(0, 10), at(90, 10))).toBeCloseTo(10_001_965.729, 3);
  });
});

/** Elements and attributes as the GPX 1.1 schema (topografix.com/GPX/1/1/gpx.xsd) has them: metadata, wpt, rte, trk, extensions. */
it('reads a GPX 1.1 document whole, and measures its track: a degree of the equator in steps of a hundredth', () => {
  const steps = Array.from({ length: 101 }, (_, i) => `<trkpt lat="0" lon="${10 + i / 100}"><ele>12.5</ele></trkpt>`);
  const text = `<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="test"
  xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
  xsi:schemaLocation="http://www.topografix.com/GPX/1/1 http://www.topografix.com/GPX/1/1/gpx.xsd">
  <metadata><name>Line &amp; all</name><time>2026-05-01T08:00:00Z</time><bounds minlat="0" minlon="10" maxlat="0" maxlon="11"/></metadata>
  <wpt lat="1" lon="10"><name>Elsewhere</name></wpt>
  <rte><name>Plan</name><rtept lat="2" lon="10"/><rtept lat="3" lon="10"/></rte>
  <trk><name>There &amp; on</name><trkseg>${steps.join('')}</trkseg></trk>
  <extensions><x:note xmlns:x="urn:x">kept out</x:note></extensions>
</gpx>`;
  const route = unwrap(routeOfGpx(text, 'km'));
  expect(route.legs).toMatchObject([{ from: 'start of There & on', to: 'end of There & on', how: 'along' }]);
  expect(route.distance.value).toBeCloseTo((6378.137 * Math.PI) / 180, 6);
});
