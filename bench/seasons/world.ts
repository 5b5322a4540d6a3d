import { addDays, dayNumber } from '../../src/dates/index.ts';
import { Dice } from './chance.ts';

/*
 * A known world to try the outlook in: one owner, their trips and their miles, day by day. It is not the outlook's model run
 * backwards: trips come at random within a season and are as long as they are, miles of a trip fall unevenly on its days, hops are
 * single drives. The outlook sees only what this owner writes down.
 */

export const FIRST_YEAR = 2023;
/** The year in which the outlook is taken. */
export const LOOK_YEAR = 2026;
const LAST_YEAR = 2033;
export const START = dayNumber(`${FIRST_YEAR}-01-01`);

export interface Trip {
  readonly id: string;
  readonly leave: number;
  readonly back: number;
  readonly planned: number;
  readonly actual: number;
  readonly chance: number;
  readonly made: boolean;
  /** Day on which it is first written down. */
  readonly written: number;
}

/** One owner's habits, none of which the outlook is told. */
export interface Owner {
  /** Trips run to this many times their plan, in logs, give or take. */
  readonly ratioMean: number;
  readonly ratioSpread: number;
  readonly tripsAYear: number;
  readonly tripMiles: number;
  readonly seasonFrom: number;
  readonly seasonDays: number;
  readonly hopsTrailer: number;
  readonly hopsTow: number;
  /** Whether the whole season is planned ahead, or only the next three trips. */
  readonly plansAll: boolean;
}

export interface World {
  readonly owner: Owner;
  readonly trips: readonly Trip[];
  /** Total at the beginning of each day from START on. */
  readonly trailer: Float64Array;
  readonly tow: Float64Array;
  readonly nights: Float64Array;
}

export function worldOf(seed: number): World {
  const dice = new Dice(seed, 1);
  const owner: Owner = {
    ratioMean: dice.normal(Math.log(1.08), 0.07),
    ratioSpread: 0.12 * Math.exp(dice.normal(0, 0.3)),
    tripsAYear: dice.uniform(4, 10),
    tripMiles: dice.uniform(450, 1_100),
    seasonFrom: Math.round(dice.uniform(85, 130)),
    seasonDays: Math.round(dice.uniform(150, 220)),
    hopsTrailer: dice.exponential(0.3),
    hopsTow: dice.uniform(10, 45),
    plansAll: dice.is(0.7),
  };
  const trips: Trip[] = [];
  for (let year = FIRST_YEAR; year <= LAST_YEAR; year++)
    trips.push(...planned(owner, year, tripsOfYear(owner, year, dice), dice));
  return { owner, trips, ...milesOf(owner, trips, dice) };
}

/** When each trip of a year is written down: most on one winter day or when it is among the next three, some on a whim. */
function planned(owner: Owner, year: number, trips: readonly Unplanned[], dice: Dice): Trip[] {
  const winter = dayNumber(`${year}-01-01`) + Math.round(dice.uniform(20, 80));
  return trips.map((trip, i) => {
    const ahead = owner.plansAll ? winter : (trips[i - 3]?.back ?? winter);
    const whim = trip.leave - Math.round(dice.uniform(3, 20));
    return { ...trip, written: dice.is(0.15) ? whim : Math.min(ahead, trip.leave - 3) };
  });
}

type Unplanned = Omit<Trip, 'written'>;

function tripsOfYear(owner: Owner, year: number, dice: Dice): Unplanned[] {
  const trips: Unplanned[] = [];
  const yearFactor = Math.exp(dice.normal(0, 0.2));
  const from = dayNumber(`${year}-01-01`) + owner.seasonFrom;
  const gap = owner.seasonDays / (owner.tripsAYear * yearFactor);
  let free = from;
  for (let day = from + dice.exponential(gap); day < from + owner.seasonDays; day += dice.exponential(gap)) {
    if (day < free) continue;
    const planned = Math.round((owner.tripMiles * Math.exp(dice.normal(0, 0.45))) / 10) * 10;
    const leave = Math.floor(day);
    const back = leave + 1 + Math.round(planned / dice.uniform(90, 180));
    const chance = dice.is(0.8) ? 1 : dice.is(0.5) ? 0.7 : 0.4;
    const actual = planned * Math.exp(dice.normal(owner.ratioMean, owner.ratioSpread));
    trips.push({ id: `t-${year}-${trips.length}`, leave, back, planned, actual, chance, made: dice.is(chance) });
    free = back + 3;
  }
  return trips;
}

function milesOf(owner: Owner, trips: readonly Trip[], dice: Dice): Pick<World, 'trailer' | 'tow' | 'nights'> {
  const length = dayNumber(`${LAST_YEAR}-12-31`) - START + 60;
  const towed = new Float64Array(length);
  const away = new Uint8Array(length);
  const slept = new Float64Array(length);
  for (const trip of trips) {
    if (!trip.made) continue;
    // Long days and rest days: most of the miles are driven on some of the days.
    const weights = Array.from({ length: trip.back - trip.leave + 1 }, () => dice.exponential(1) ** 1.5);
    const sum = weights.reduce((total, weight) => total + weight, 0);
    weights.forEach((weight, i) => {
      towed[trip.leave + i - START] = (trip.actual * weight) / sum;
      away[trip.leave + i - START] = 1;
      if (trip.leave + i < trip.back) slept[trip.leave + i - START] = 1;
    });
  }
  const hops = (perDay: number, length_: number): number => {
    let miles = 0;
    for (let n = dice.poisson(perDay / length_); n > 0; n--) miles += dice.exponential(length_);
    return miles;
  };
  const sums = { trailer: new Float64Array(length), tow: new Float64Array(length), nights: new Float64Array(length) };
  sums.trailer[0] = 20_000;
  sums.tow[0] = 60_000;
  for (let d = 0; d + 1 < length; d++) {
    sums.trailer[d + 1] = sums.trailer[d]! + towed[d]! + (away[d] ? 0 : hops(owner.hopsTrailer, 6));
    sums.tow[d + 1] = sums.tow[d]! + towed[d]! + hops(owner.hopsTow, 15);
    sums.nights[d + 1] = sums.nights[d]! + slept[d]!;
  }
  return sums;
}

/** The moment at which a total comes to `target`; Infinity where the world ends first. */
export function cameTo(totals: Float64Array, target: number): number {
  const after = totals.findIndex((total) => total >= target);
  if (after < 0) return Infinity;
  if (after === 0) return START;
  const [a, b] = [totals[after - 1]!, totals[after]!];
  return START + after - 1 + (target - a) / (b - a);
}

/** Trips that the owner has written down by a day and that are not over: also one under way, if it was made. */
export function plannedOn({ trips }: World, day: number): Trip[] {
  return trips.filter((trip) => trip.back >= day && trip.written < day && (trip.leave >= day || trip.made));
}

export const on = (day: number): string => addDays('1970-01-01', day);
