import { describe, expect, it } from 'vitest';
import { type Result, unwrap } from '../problem/index.ts';
import { metresBetween } from './geodesic.ts';
import { ROAD_FACTOR, type Route, routeOfGpx, routeOfPlaces, routeText, thereAndBack } from './route.ts';

const gpx = (inside: string, version = '1.1') =>
  `<?xml version="1.0"?><gpx version="${version}" creator="x" xmlns="http://www.topografix.com/GPX/1/1">${inside}</gpx>`;
const points = (tag: string, ...of: readonly (readonly [lat: number, lon: number, name?: string])[]) =>
  of
    .map(([lat, lon, name]) => `<${tag} lat="${lat}" lon="${lon}">${name ? `<name>${name}</name>` : ''}</${tag}>`)
    .join('');
const codes = (read: Result<Route>) => (read.ok ? [] : read.problems.map(({ code }) => code));
const MILE = 1609.344;

describe('a GPX file', () => {
  it('with a sparse route: straight lines between its places, made longer as roads are', () => {
    const text = gpx(
      `<rte><name>Out</name>${points('rtept', [48.4, -119.5, 'Home'], [47.8, -120], [47.6, -120.6, 'Lakeside'], [47.1, -120.6, 'Pass'])}</rte>`,
    );
    const { legs, distance, stops, closed, assumptions } = unwrap(routeOfGpx(text, 'mi'));
    const [a, b, c, d] = [
      [48.4, -119.5],
      [47.8, -120],
      [47.6, -120.6],
      [47.1, -120.6],
    ].map(([lat, lon]) => ({ lat: lat!, lon: lon! }));
    const first = ((metresBetween(a!, b!) + metresBetween(b!, c!)) * ROAD_FACTOR) / MILE;
    const whole = first + (metresBetween(c!, d!) * ROAD_FACTOR) / MILE;
    expect(legs.map(({ from, to, how }) => [from, to, how])).toEqual([
      ['Home', 'Lakeside', 'straight'],
      ['Lakeside', 'Pass', 'straight'],
    ]);
    expect(distance.value).toBeCloseTo(whole, 9);
    expect(stops).toEqual([{ name: 'Lakeside', mile: { value: expect.closeTo(first, 9), unit: 'mi' } }]);
    expect(closed).toBe(false);
    expect(assumptions.join(' ')).toMatch(/1\.2 times.*Ballou.*one way/s);
  });

  it('with several tracks: a leg a segment, nothing between them; and a track outranks routes and waypoints', () => {
    const seg = (lon: number) => `<trkseg>${points('trkpt', [0, lon], [0, lon + 0.01])}</trkseg>`;
    const text = gpx(
      `${points('wpt', [1, 1], [2, 2])}<trk><name>Day 1</name>${seg(10)}${seg(10.5)}</trk><trk>${seg(10.004)}</trk>`,
    );
    const { legs, closed } = unwrap(routeOfGpx(text, 'km'));
    expect(legs.map(({ from }) => from)).toEqual(['start of Day 1', 'start of Day 1', 'start of Track 2']);
    expect(legs.map(({ distance }) => distance.value)).toEqual(Array(3).fill(expect.closeTo(1.1132, 4)));
    expect(closed).toBe(true);
  });

  it('with many named points is one leg: they are turns', () => {
    const turns = Array.from({ length: 60 }, (_, i) => [0, 10 + i / 100, `Turn ${i}`] as const);
    expect(unwrap(routeOfGpx(gpx(`<rte>${points('rtept', ...turns)}</rte>`), 'km')).legs).toHaveLength(1);
  });

  it.each([
    ['not xml at all', 'route.xml'],
    ['<gpx version="1.1"><rte>', 'route.xml'],
    ['<!DOCTYPE gpx [<!ENTITY a "b">]><gpx version="1.1"/>', 'route.xml'],
    ['<kml xmlns="http://www.opengis.net/kml/2.2"><Document/></kml>', 'route.not-gpx'],
    [gpx('', '1.0'), 'route.gpx-version'],
    [gpx(''), 'route.empty'],
    [gpx(points('wpt', [1, 1])), 'route.empty'],
    [gpx(points('wpt', [91, 1], [1, 1])), 'route.point'],
    [gpx('<wpt lat="" lon="1"/><wpt lat="1"/>'), 'route.point'],
  ])('is refused: %s', (text, code) => expect(codes(routeOfGpx(text, 'mi'))[0]).toBe(code));
});

describe('a plain list', () => {
  it('of places: straight lines made longer; it closes where it ends at home', () => {
    const text = '# our round\nHome, 48.4, -119.5\n\nLakeside;47.6;-120.6\nPass\t47.1\t-120.6\nHome, 48.4, -119.5\n';
    const route = unwrap(routeOfPlaces(text, 'mi'));
    expect(route.legs.map(({ from, to }) => `${from}>${to}`)).toEqual(['Home>Lakeside', 'Lakeside>Pass', 'Pass>Home']);
    expect(route.closed).toBe(true);
    expect(route.stops.map(({ name }) => name)).toEqual(['Lakeside', 'Pass']);
  });

  it('of legs: as they are given, in either unit', () => {
    const text = 'Home–Lakeside 142 mi\nLakeside to Pass, 100 km\nPass - Home 1,020.5 mi\n';
    const route = unwrap(routeOfPlaces(text, 'mi'));
    expect(route.distance).toEqual({ value: expect.closeTo(142 + 100 / 1.609344 + 1020.5, 9), unit: 'mi' });
    expect(route.legs[1]!.distance).toEqual({ value: 100, unit: 'km' });
    expect(route.assumptions).toEqual(['Legs are as their owner gave them.']);
  });

  it('one way, and back again', () => {
    const back = thereAndBack(unwrap(routeOfPlaces('Home–Lakeside 142 mi\nLakeside–Pass 30 mi\n', 'mi')));
    expect(back.distance).toEqual({ value: 344, unit: 'mi' });
    expect(routeText(back)).toBe(
      'Home to Lakeside 142.0 mi; Lakeside to Pass 30.0 mi; Pass to Lakeside 30.0 mi; Lakeside to Home 142.0 mi. Legs are as their owner gave them.',
    );
  });

  it.each([
    ['', ['route.empty']],
    ['Home, 48.4, -119.5', ['route.empty']],
    ['Home, 98.4, -119.5\nLakeside, 47.6, 200', ['route.point', 'route.point']],
    ['Home\nLakeside', ['route.line', 'route.line']],
    ['Home–Lakeside 142 lb', ['route.leg-distance']],
    ['Home–Lakeside 0 mi', ['route.leg-distance']],
    ['Home–Lakeside 142 mi\nPass–Home 100 mi', ['route.leg-apart']],
    ['Home–Lakeside 142 mi\nPass, 47.6, -120', ['route.mixed']],
  ])('is refused: %j', (text, expected) => expect(codes(routeOfPlaces(text, 'mi'))).toEqual(expected));

  it('says the line', () => {
    expect(routeOfPlaces('Home, 48.4, -119.5\nhm', 'mi')).toMatchObject({ problems: [{ where: 'line 2' }] });
  });
});
