import type { Clock } from '../../src/catalog/index.ts';
import { DAYS_A_MONTH, dayNumber } from '../../src/dates/index.ts';
import { foldEntries } from '../../src/logbook/index.ts';
import { lookAhead } from '../../src/outlook/index.ts';
import { catalogOf, mi, partKind, psi, upkeep } from '../../test/support/rig.ts';
import { Dice } from './chance.ts';
import { cameTo, LOOK_YEAR, on, START, type World, worldOf } from './world.ts';
import { shown, writtenUse } from './written.ts';

/** One stated spread, and what came true. */
export interface Statement {
  readonly season: number;
  readonly group: Group;
  /** Share of the stated chance that lay before the day on which it came true; by the stated 10 % date where that is at most 0.1. */
  readonly place: number;
}

/** One stated chance that an upkeep runs out before a return, for a trip that was made. */
export interface TripStatement {
  readonly season: number;
  readonly group: Group;
  readonly chance: number;
  readonly ranOut: boolean;
}

export const GROUPS = ['trailer miles', 'tow vehicle miles', 'nights', 'tire pressure'] as const;
export type Group = (typeof GROUPS)[number];

interface Counted {
  readonly id: string;
  readonly group: Group;
  readonly clock: Clock;
  readonly counter: 'trailer' | 'tow' | 'nights';
  readonly every: number;
}

const source = 'practice';
const ofMiles = (every: number, vehicle: 'trailer' | 'tow'): Counted => ({
  id: `${vehicle}-${every}`,
  group: vehicle === 'trailer' ? 'trailer miles' : 'tow vehicle miles',
  clock: { kind: 'miles', every: mi(every), source },
  counter: vehicle,
  every,
});
const ofNights = (every: number): Counted => ({
  id: `nights-${every}`,
  group: 'nights',
  clock: { kind: 'nights', every, source },
  counter: 'nights',
  every,
});
const COUNTED: readonly Counted[] = [
  ...[1_000, 2_500, 6_000, 12_000].map((every) => ofMiles(every, 'trailer')),
  ...[3_000, 7_500, 15_000].map((every) => ofMiles(every, 'tow')),
  ...[20, 60].map(ofNights),
];

const PRESSURE = { low: 65, full: 80, drift: -2.5, spread: 1, error: 1 };
const pressureClock: Clock = {
  kind: 'limit',
  reading: 'pressure-cold',
  side: 'below',
  limit: psi(PRESSURE.low),
  driftPerMonth: PRESSURE.drift,
  driftSpread: PRESSURE.spread,
  readingError: PRESSURE.error,
  staleDays: 30,
  source,
};
const TIRES = 3;

const kinds = [
  ...COUNTED.map(({ id, counter }) => partKind(id, { vehicle: counter === 'tow' ? 'tow' : 'trailer' })),
  partKind('tire'),
];
const catalog = catalogOf(kinds, [
  ...COUNTED.map(({ id, clock }) => upkeep(id, id, [clock])),
  upkeep('inflate', 'tire', [pressureClock]),
]);

/** One season: an owner's logbook up to a day, the outlook on that day, and what then came true. */
export function season(seed: number): { readonly statements: Statement[]; readonly trips: TripStatement[] } {
  const world = worldOf(seed);
  const dice = new Dice(seed, 3);
  const now = dayNumber(`${LOOK_YEAR}-01-01`) + Math.floor(dice.uniform(100, 200));
  const pen = writtenUse(world, now, seed);
  const truth = new Map<string, { moment: number; group: Group }>();
  for (const duty of COUNTED) {
    const work = lastWork(world, duty, now, dice.uniform(0.05, 0.95));
    if (!work) continue;
    pen.write('fit', on(START), { part: duty.id, kind: duty.id, isNew: false });
    pen.write('work', on(work.day), {
      done: [{ upkeep: duty.id, part: duty.id, outcome: 'good' }],
      odometer: shown(world, 'trailer', work.day + 1),
      odometerTow: shown(world, 'tow', work.day + 1),
    });
    truth.set(duty.id, { moment: work.runsOut, group: duty.group });
  }
  for (let i = 0; i < TIRES; i++)
    truth.set(`tire-${i}`, { moment: tire(pen, `tire-${i}`, now, dice), group: 'tire pressure' });
  return compare(seed, world, now, foldEntries(pen.entries), truth, dice);
}

function compare(
  seed: number,
  world: World,
  now: number,
  state: ReturnType<typeof foldEntries>,
  truth: ReadonlyMap<string, { readonly moment: number; readonly group: Group }>,
  dice: Dice,
) {
  const model = lookAhead(state, catalog, { now: on(now), seed });
  const statements: Statement[] = [];
  const trips: TripStatement[] = [];
  for (const look of model.looks) {
    const came = truth.get(look.item.part ?? '');
    if (!came || look.item.state !== 'runs') continue;
    const { moment, group } = came;
    statements.push({ season: seed, group, place: placeOf(look.runsOut, moment, dice) });
    for (const { trip, chance } of look.item.chanceByTrip) {
      const taken = world.trips.find((one) => one.id === trip)!;
      if (taken.made) trips.push({ season: seed, group, chance, ranOut: moment < taken.back + 1 });
    }
  }
  return { statements, trips };
}

/**
 * The place of what came true in the stated spread, to the day as dates are stated. Where many paths share that day, it stands at
 * random within their share (the randomised probability integral transform: Czado, Gneiting, Held, "Predictive model assessment for
 * count data", Biometrics 65, 2009), so that a spread that is right gives places evenly from 0 to 1.
 */
function placeOf(runsOut: Float64Array, moment: number, dice: Dice): number {
  let before = 0;
  let same = 0;
  for (const day of runsOut) {
    if (Math.floor(day) < Math.floor(moment)) before++;
    else if (Math.floor(day) === Math.floor(moment) || day === moment) same++;
  }
  return (before + dice.uniform() * same) / runsOut.length;
}

/** The day in the past on which it was last done, so that `share` of its interval is used by now; none where that is before the record. */
function lastWork(world: World, { counter, every }: Counted, now: number, share: number) {
  const totals = world[counter];
  const day = Math.floor(cameTo(totals, totals[now - START]! - share * every));
  if (day <= START + 1) return undefined;
  // Work is done at home, not on a trip.
  const at = world.trips.find((trip) => trip.made && day >= trip.leave && day <= trip.back)?.leave ?? day;
  return { day: at - 1, runsOut: cameTo(totals, totals[at - START]! + every) };
}

/** A tire that loses air evenly, set right some time ago and read a few times since, on cold mornings and warm ones. */
function tire(pen: ReturnType<typeof writtenUse>, part: string, now: number, dice: Dice): number {
  const drift = dice.normal(PRESSURE.drift, PRESSURE.spread);
  const filled = now - Math.floor(dice.uniform(5, 120));
  pen.write('fit', on(START), { part, kind: 'tire', isNew: false });
  const at = (day: number): number => PRESSURE.full + (drift * (day - filled)) / DAYS_A_MONTH;
  const read = (day: number) => {
    const fahrenheit = Math.round(dice.normal(55, 14));
    const kelvin = ((fahrenheit - 32) * 5) / 9 + 273.15;
    const gauge = (at(day) + 14.696) * (kelvin / 293.15) - 14.696 + dice.normal(0, PRESSURE.error);
    return { value: psi(Math.round(gauge * 2) / 2), temperature: { value: fahrenheit, unit: 'degF' as const } };
  };
  pen.write('work', on(filled), { done: [{ upkeep: 'inflate', part, outcome: 'good' }] });
  let last = filled;
  for (let day = filled; day < now; day += Math.ceil(dice.exponential(25))) {
    pen.write('reading', on(day), { part, what: 'pressure-cold', ...read(day) });
    last = day;
  }
  if (drift >= 0) return Infinity;
  const moment = filled + ((PRESSURE.low - PRESSURE.full) / drift) * DAYS_A_MONTH;
  // Already low at the last reading, though the gauge did not show it: it has run out, and that is when the outlook can know.
  return Math.max(moment, last);
}
