import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clockTwin, comesTo, walkNights, walkOdometer } from '../../test/support/outlook-twin.ts';
import { catalogOf, mi, Pen, partKind, upkeep } from '../../test/support/rig.ts';
import type { Clock } from '../catalog/index.ts';
import { addDays, addMonths, dateOf, dayNumber } from '../dates/index.ts';
import { addEntry, foldEntries, type RigState } from '../logbook/index.ts';
import { lookAhead, type OutlookModel } from './index.ts';
import { amountOn, reach } from './paths.ts';

const NOW = '2026-05-27';
const EPOCH = '2024-01-01';
const source = 'practice';
const PATHS = 32;

/** One invented use: odometer readings, trips finished, forgotten, under way, tentative and certain, in any mixture. */
interface Use {
  readonly readings: readonly { readonly day: number; readonly miles: number }[];
  readonly trips: readonly {
    readonly leave: number;
    readonly length: number;
    readonly miles: number;
    readonly chance: number;
    readonly done: boolean;
    readonly turned: number;
    readonly odometer: boolean;
  }[];
  readonly work: { readonly day: number; readonly odometer: boolean };
}

const days = dayNumber(NOW) - dayNumber(EPOCH);
const useArbitrary: fc.Arbitrary<Use> = fc.record({
  readings: fc.array(fc.record({ day: fc.integer({ min: 0, max: days }), miles: fc.integer({ min: 1, max: 900 }) }), {
    minLength: 1,
    maxLength: 6,
  }),
  trips: fc.array(
    fc.record({
      leave: fc.integer({ min: 0, max: days + 500 }),
      length: fc.integer({ min: 0, max: 25 }),
      miles: fc.integer({ min: 20, max: 2_000 }),
      chance: fc.constantFrom(1, 1, 0.7, 0.3),
      done: fc.boolean(),
      turned: fc.double({ min: 0.7, max: 1.6, noNaN: true }),
      odometer: fc.boolean(),
    }),
    { maxLength: 6 },
  ),
  work: fc.record({ day: fc.integer({ min: 0, max: days }), odometer: fc.boolean() }),
});

/** Miles of a trip that the logbook believes: beyond, it sets the trip aside, and the rig has one trip less. */
const believed = (miles: number, trip: { length: number }): number => Math.min(miles, 2_000 * (trip.length + 1));

/** The use as a logbook. Odometer readings rise with the days by what each says, and by the miles of finished trips. */
function logbookOf(use: Use, moreMiles = 0): { pen: Pen; work: { on: string; miles: number } } {
  const pen = new Pen();
  pen.write('fit', EPOCH, { part: 'hub', kind: 'hub', isNew: false });
  const trips = use.trips.map((trip, i) => ({ ...trip, i, back: trip.leave + trip.length }));
  for (const trip of trips) {
    pen.write('trip', addDays(EPOCH, Math.min(trip.leave, days)), {
      trip: `t${trip.i}`,
      name: `t${trip.i}`,
      leave: addDays(EPOCH, trip.leave),
      return: addDays(EPOCH, trip.back),
      miles: mi(believed(trip.miles + (trip.done && trip.back < days ? 0 : moreMiles), trip)),
      chance: trip.chance,
    });
  }
  const events = [
    ...use.readings.map((reading) => ({
      day: reading.day,
      add: reading.miles,
      write: 'reading' as const,
      trip: undefined,
    })),
    ...trips.flatMap((trip) =>
      trip.done && trip.back < days
        ? [
            {
              day: trip.back,
              add: believed(Math.round(trip.miles * trip.turned), trip),
              write: trip.odometer ? ('done' as const) : null,
              trip,
            },
          ]
        : [],
    ),
    { day: use.work.day, add: 0, write: use.work.odometer ? ('work' as const) : null, trip: undefined },
  ].sort((a, b) => a.day - b.day);
  let total = 10_000;
  for (const event of events) {
    total += event.add;
    const on = addDays(EPOCH, event.day);
    if (event.write === 'reading') {
      pen.write('reading', on, { vehicle: 'trailer', what: 'odometer', value: mi(total) });
      pen.write('reading', on, { vehicle: 'tow', what: 'odometer', value: mi(50_000 + total + 20 * event.day) });
    }
    if (event.trip)
      pen.write('trip-done', on, {
        trip: `t${event.trip.i}`,
        left: addDays(EPOCH, event.trip.leave),
        back: on,
        miles: mi(event.add),
        ...(event.write === 'done' ? { odometer: mi(total) } : {}),
      });
    if (event.day === use.work.day && event.add === 0 && !event.trip)
      pen.write('work', on, {
        done: [{ upkeep: 'service', part: 'hub', outcome: 'good' }],
        ...(event.write === 'work' ? { odometer: mi(total) } : {}),
      });
  }
  return { pen, work: { on: addDays(EPOCH, use.work.day), miles: total } };
}

function lookAt(state: RigState, clocks: readonly Clock[], paths = PATHS, now = NOW): OutlookModel {
  return lookAhead(state, catalogOf([partKind('hub')], [upkeep('service', 'hub', clocks)]), { now, paths });
}

const clockArbitrary: fc.Arbitrary<Clock> = fc.oneof(
  fc.integer({ min: 50, max: 9_000 }).map((value): Clock => ({ kind: 'miles', every: mi(value), source })),
  fc.integer({ min: 1, max: 60 }).map((every): Clock => ({ kind: 'months', every, source })),
  fc.integer({ min: 1, max: 90 }).map((every): Clock => ({ kind: 'nights', every, source })),
  fc.integer({ min: 0, max: 9 }).map((withinDays): Clock => ({ kind: 'departure', withinDays, source })),
  fc.constant<Clock>({ kind: 'season', before: 'first trip', source }),
);

describe('paths against a walk day by day', () => {
  it('an odometer shows the same on every day, and comes to a figure at the same moment', () => {
    fc.assert(
      fc.property(
        useArbitrary,
        fc.integer({ min: 0, max: PATHS - 1 }),
        fc.integer({ min: 1, max: 15_000 }),
        fc.constantFrom<'trailer' | 'tow'>('trailer', 'tow'),
        (use, p, more, vehicle) => {
          const model = lookAt(logbookOf(use).pen.state(), [{ kind: 'months', every: 1, source }]);
          const paths = model.scene.odometers[vehicle]!;
          const walk = walkOdometer(model, vehicle, p);
          const out = new Float64Array(PATHS);
          for (let i = 0; i < walk.totals.length; i += 37)
            expect(amountOn(paths, walk.from + i, out)[p]).toBeCloseTo(walk.totals[i]!, 5);
          const target = walk.totals[0]! + more;
          reach(paths, target, out.fill(Infinity));
          const moment = comesTo(walk, target);
          if (Number.isFinite(moment)) expect(out[p]).toBeCloseTo(moment, 5);
          const each = new Float64Array(PATHS).fill(Infinity);
          reach(paths, new Float64Array(PATHS).fill(target), each);
          for (let q = 0; q < PATHS; q++) expect(each[q]).toBeCloseTo(out[q]!, 6);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('nights count on', () => {
    fc.assert(
      fc.property(useArbitrary, fc.integer({ min: 0, max: PATHS - 1 }), (use, p) => {
        const model = lookAt(logbookOf(use).pen.state(), [{ kind: 'months', every: 1, source }]);
        const paths = model.scene.counters.nights();
        const walk = walkNights(model, dayNumber(NOW), p);
        const out = new Float64Array(PATHS);
        const start = amountOn(paths, dayNumber(NOW), out)[p]!;
        const known = walk.totals[dayNumber(NOW) - walk.from]!;
        for (let i = 0; i < 900; i += 23)
          expect(amountOn(paths, dayNumber(NOW) + i, out)[p]! - start).toBeCloseTo(
            walk.totals[dayNumber(NOW) - walk.from + i]! - known,
            6,
          );
      }),
      { numRuns: 30 },
    );
  });
});

describe('clocks against their twins', () => {
  it('whichever runs out first, path by path, with the chances, dates and slack that follow', () => {
    fc.assert(
      fc.property(
        useArbitrary,
        fc.uniqueArray(clockArbitrary, { minLength: 1, maxLength: 4, selector: (c) => c.kind }),
        (use, clocks) => {
          const { pen, work } = logbookOf({ ...use, work: { ...use.work, odometer: true } });
          const state = pen.state();
          const model = lookAt(state, clocks);
          const [look] = model.looks;
          const miles = [...state.entries.values()].flatMap((entry) =>
            entry.kind === 'work' && entry.body.odometer ? [entry.body.odometer.value] : [],
          )[0]!;
          const twins = Array.from({ length: PATHS }, (_, p) =>
            Math.min(...clocks.map((clock) => clockTwin(model, clock, { on: work.on, miles }, p))),
          );
          twins.forEach((twin, p) => {
            if (Number.isFinite(twin) || look!.runsOut[p]! < dayNumber(NOW) + 1500)
              expect(look!.runsOut[p]).toBeCloseTo(twin, 5);
          });
          const { trips, made } = model.scene.draws;
          const ahead = trips.flatMap((trip, i) => (trip.back >= dayNumber(NOW) ? [{ trip, made: made[i]! }] : []));
          expect(look!.item.chanceByTrip.map((chance) => chance.trip)).toEqual(ahead.map(({ trip }) => trip.id));
          let slack = 0;
          let lasting = true;
          ahead.forEach((one, i) => {
            const going = twins.filter((_, p) => one.trip.chance === 1 || one.made[p] === 1);
            const out = going.filter((twin) => twin < one.trip.back + 1 - 1e-7).length;
            const chance = going.length ? out / going.length : 0;
            expect(look!.item.chanceByTrip[i]!.chance).toBeCloseTo(chance, 2);
            lasting &&= chance <= 0.05;
            if (lasting) slack++;
          });
          expect(look!.item.slackTrips).toBe(slack);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('had it been done on another day, it would run out as after that work', () => {
    fc.assert(
      fc.property(
        useArbitrary,
        fc.integer({ min: 100, max: 6_000 }),
        fc.integer({ min: 0, max: 300 }),
        (use, every, later) => {
          const { pen } = logbookOf(use);
          const model = lookAt(pen.state(), [
            { kind: 'miles', every: mi(every), source },
            { kind: 'months', every: 24, source },
          ]);
          const day = dayNumber(NOW) + later;
          const out = new Float64Array(PATHS);
          model.looks[0]!.runsOutAfter(day, out);
          for (const p of [0, 7, 31]) {
            const walk = walkOdometer(model, 'trailer', p);
            const counted = comesTo(walk, walk.totals[day - walk.from]! + every);
            expect(out[p]).toBeCloseTo(Math.min(counted, dayNumber(addMonths(dateOf(day), 24))), 5);
          }
        },
      ),
      { numRuns: 25 },
    );
  });
});

describe('laws of the outlook', () => {
  const clocks: Clock[] = [
    { kind: 'miles', every: mi(4_000), source },
    { kind: 'nights', every: 40, source },
    { kind: 'months', every: 30, source },
  ];

  it('more miles on the trips ahead never give a later date on any path, nor a smaller chance', () => {
    fc.assert(
      fc.property(useArbitrary, fc.integer({ min: 0, max: 900 }), (use, more) => {
        // Trips before the newest reading explain its miles: only those still to be driven may grow.
        const ahead = {
          ...use,
          trips: use.trips.filter((trip) => (trip.done && trip.leave + trip.length < days) || trip.leave > days),
        };
        const [fewer, farther] = [0, more].map((extra) => lookAt(logbookOf(ahead, extra).pen.state(), clocks));
        const [a, b] = [fewer!.looks[0]!, farther!.looks[0]!];
        for (let p = 0; p < PATHS; p++) expect(b.runsOut[p]!).toBeLessThanOrEqual(a.runsOut[p]! + 1e-9);
        for (const [i, { chance }] of a.item.chanceByTrip.entries())
          expect(b.item.chanceByTrip[i]!.chance).toBeGreaterThanOrEqual(chance);
        expect(b.item.slackTrips).toBeLessThanOrEqual(a.item.slackTrips);
      }),
      { numRuns: 60 },
    );
  });

  it('a tighter α never leaves more slack', () => {
    fc.assert(
      fc.property(
        useArbitrary,
        fc.double({ min: 0.01, max: 0.6, noNaN: true }),
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        (use, alpha, share) => {
          const slackAt = (value: number): number => {
            const { pen } = logbookOf(use);
            pen.write('set', NOW, { key: 'alpha/safety', value });
            return lookAt(pen.state(), clocks).looks[0]!.item.slackTrips;
          };
          expect(slackAt(alpha * share)).toBeLessThanOrEqual(slackAt(alpha));
        },
      ),
      { numRuns: 40 },
    );
  });

  it('striking any entry gives the outlook as it was without it, and looking in any order of entries the same one', () => {
    fc.assert(
      fc.property(useArbitrary, fc.nat(), fc.nat(), (use, which, turn) => {
        const { pen } = logbookOf(use);
        const entries = pen.entries;
        const extra = entries[which % entries.length]!;
        const without = entries.filter((entry) => entry !== extra);
        const strike = pen.write('strike', NOW, { entry: extra.id, reason: 'mistaken' });
        const told = (state: RigState) => lookAt(state, clocks).outlook;
        const expected = told(foldEntries(without));
        const whole = foldEntries([...without, extra]);
        told(whole);
        expect(told(addEntry(whole, strike))).toEqual(expected);
        const turned = [...entries.slice(turn % entries.length), ...entries.slice(0, turn % entries.length)];
        expect(told(turned.reduce(addEntry, foldEntries([])))).toEqual(expected);
      }),
      { numRuns: 40 },
    );
  });

  it('what a look kept from an earlier one is what a fresh look finds', () => {
    const still: Clock[] = [
      { kind: 'season', before: 'first trip', source },
      { kind: 'nights', every: 25, source },
      { kind: 'departure', withinDays: 2, source },
    ];
    const both = () => catalogOf([partKind('hub')], [upkeep('service', 'hub', clocks), upkeep('check', 'hub', still)]);
    fc.assert(
      fc.property(useArbitrary, (use) => {
        const { pen } = logbookOf(use);
        pen.write('work', NOW, { done: [{ upkeep: 'check', part: 'hub', outcome: 'good' }] });
        const catalog = both();
        let state = foldEntries([]);
        for (const entry of pen.entries) {
          state = addEntry(state, entry);
          const kept = lookAhead(state, catalog, { now: NOW, paths: PATHS });
          const fresh = lookAhead(state, both(), { now: NOW, paths: PATHS });
          expect(kept.outlook).toEqual(fresh.outlook);
          kept.looks.forEach((look, i) => {
            expect(look.runsOut).toEqual(fresh.looks[i]!.runsOut);
          });
        }
      }),
      { numRuns: 20 },
    );
  });

  it('the same seed gives the same answer, another seed another draw of the same thing', () => {
    const { pen } = logbookOf({
      readings: [{ day: 500, miles: 600 }],
      trips: [{ leave: days + 20, length: 9, miles: 900, chance: 1, done: false, turned: 1, odometer: false }],
      work: { day: 200, odometer: false },
    });
    pen.write('work', addDays(EPOCH, 520), {
      done: [{ upkeep: 'service', part: 'hub', outcome: 'good' }],
      odometer: mi(10_700),
    });
    const catalog = () =>
      catalogOf([partKind('hub')], [upkeep('service', 'hub', [{ kind: 'miles', every: mi(1_000), source }])]);
    const one = lookAhead(pen.state(), catalog(), { now: NOW, seed: 7 });
    const again = lookAhead(pen.state(), catalog(), { now: NOW, seed: 7 });
    const other = lookAhead(pen.state(), catalog(), { now: NOW, seed: 8 });
    expect(again.outlook).toEqual(one.outlook);
    expect([...again.looks[0]!.runsOut]).toEqual([...one.looks[0]!.runsOut]);
    expect([...other.looks[0]!.runsOut]).not.toEqual([...one.looks[0]!.runsOut]);
    expect(other.outlook.items[0]!.chanceByTrip[0]!.chance).toBeCloseTo(
      one.outlook.items[0]!.chanceByTrip[0]!.chance,
      1,
    );
  });
});
