import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { asJsonLines } from '../../scripts/demo/book.ts';
import { CLUSTER } from '../../scripts/demo/journeys.ts';
import { DEMO_TODAY, makeDemo } from '../../scripts/demo/make.ts';
import { loadCatalog } from '../catalog/index.ts';
import {
  addEntry,
  admit,
  disagreements,
  EMPTY,
  type Entry,
  foldEntries,
  odometerTrack,
  partOf,
  partsOf,
  readEntries,
  tripsOf,
  workOf,
} from '../logbook/index.ts';
import { problemText, unwrap } from '../problem/index.ts';
import { loadCatalogFolder } from '../store/index.ts';

const text = readFileSync(new URL('../../demo/marigold.jsonl', import.meta.url), 'utf8');
const entries = unwrap(readEntries(text));
const catalog = unwrap(loadCatalog(loadCatalogFolder(new URL('../../catalog/', import.meta.url))));
const state = foldEntries(entries);
const of = <K extends Entry['kind']>(kind: K) => entries.filter((entry) => entry.kind === kind);

describe('the demo rig', () => {
  it('is what its generator makes', () => {
    expect(asJsonLines(makeDemo())).toBe(text);
  });

  it('is five seasons and about 400 entries, of every kind', () => {
    expect(entries.length).toBeGreaterThan(380);
    expect(entries.length).toBeLessThan(470);
    expect(new Set(entries.map((entry) => entry.kind)).size).toBe(15);
    expect(new Set(of('trip-done').map((entry) => entry.on.slice(0, 4)))).toEqual(
      new Set(['2021', '2022', '2023', '2024', '2025', '2026']),
    );
  });

  it('is admitted entry by entry, each on the day it was written', () => {
    const refused: string[] = [];
    let folded = EMPTY;
    for (const entry of entries) {
      const problems = admit(folded, entry, { catalog, today: entry.at.slice(0, 10) });
      refused.push(...problems.map(problemText));
      folded = addEntry(folded, entry);
    }
    expect(refused).toEqual([]);
  });

  it('was written before its today', () => {
    expect(entries.every((entry) => entry.at.slice(0, 10) <= DEMO_TODAY && entry.on <= DEMO_TODAY)).toBe(true);
  });

  it('has odometers that only go forward, but for one new instrument', () => {
    for (const role of ['trailer', 'tow'] as const) {
      const points = odometerTrack(state, role).points;
      points.slice(1).forEach((point, index) => {
        expect(point.totalMiles, `${role} on ${point.entry.on}`).toBeGreaterThanOrEqual(points[index]!.totalMiles);
      });
    }
    const falls = odometerTrack(state, 'tow').points.filter(
      (point, index, all) => index > 0 && point.shownMiles < all[index - 1]!.shownMiles,
    );
    expect(falls.map((point) => point.entry.on)).toEqual([CLUSTER.on]);
  });

  it('has trips whose miles the odometer bears out', () => {
    for (const { done, id } of tripsOf(state)) {
      if (!done) continue;
      const left = workOf(state).find((work) => work.on === done.body.left && work.body.odometerTow !== undefined)!;
      expect(done.body.odometer!.value - left.body.odometer!.value, id).toBeCloseTo(done.body.miles.value, 6);
    }
  });

  it('shows the figures that its story needs', () => {
    expect(odometerTrack(state, 'trailer').newest!.shownMiles).toBe(64_120.4);
    const repack = partOf(state, 'bearings-axle-2-left')!.work.get('repack-bearings')!.at(-1)!;
    expect(repack).toMatchObject({ on: '2025-06-28', entry: { body: { odometer: { value: 56_310, unit: 'mi' } } } });
    expect(partOf(state, 'spare')!.readings.get('pressure-cold')!.at(-1)!.value).toEqual({ value: 38, unit: 'psi' });
    expect(partOf(state, 'spare')!.facts.pressureColdMin).toEqual({ value: 65, unit: 'psi' });
    expect(partOf(state, 'lp-alarm')!.fit.body.madeOn).toBeUndefined();
    expect(partsOf(state).filter((part) => 'speedSymbol' in part.facts)).toEqual([]);
    const coming = tripsOf(state).filter((trip) => trip.plan.body.leave > DEMO_TODAY);
    expect(coming.map((trip) => trip.id)).toEqual([
      'palouse-2026',
      'coast-2026',
      'lakes-2026',
      'rockies-2026',
      'blues-2026',
      'harvest-2026',
    ]);
    expect(coming[0]!.plan.body).toMatchObject({
      leave: '2026-06-12',
      return: '2026-06-21',
      miles: { value: 640, unit: 'mi' },
    });
  });

  it('keeps its mistakes: two struck entries and one disagreement', () => {
    expect(state.struck.size).toBe(2);
    expect(disagreements(state).map(({ part, upkeep }) => [part, upkeep])).toEqual([
      ['brake-axle-2-right', 'adjust-brakes'],
    ]);
  });
});
