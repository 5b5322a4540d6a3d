import { dateOf, dayNumber, yearOf } from '../../src/dates/index.ts';
import { addEntry, type Entry, foldEntries, type RigState } from '../../src/logbook/index.ts';
import { lookAhead } from '../../src/outlook/index.ts';
import { makePlan } from '../../src/plan/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import type { Pen } from '../../test/support/rig.ts';
import { Dice } from './chance.ts';
import { DUTIES, STUDY_CATALOG, type StudyDuty } from './duties.ts';
import { emptyTally, Rig, roadDay, type Tally, workAtHome, worthLeft } from './wear.ts';
import { LOOK_YEAR, on, START, type Trip, type World, worldOf } from './world.ts';
import { finish, shown, writePlan, writtenUse } from './written.ts';

export const HABITS = [
  'Rigworthy’s plan',
  'fixed spring service',
  'when it falls due',
  'everything every year',
] as const;
export type Habit = (typeof HABITS)[number];

const FROM = dayNumber(`${LOOK_YEAR}-01-15`);
export const YEARS = 2;
const UNTIL = dayNumber(`${LOOK_YEAR + YEARS}-01-14`);

/** What each habit makes of the same rig, the same owner and the same two years of trips. */
export function seasonsOf(seed: number): Record<Habit, Tally> {
  const world = worldOf(seed);
  const trips = world.trips.filter((trip) => trip.made && trip.leave > FROM + 7 && trip.back < UNTIL);
  const run = (act: (rig: Rig, tally: Tally) => Actor): Tally => {
    const rig = new Rig(world, seed, FROM);
    const tally = emptyTally();
    const before = worthLeft(rig, FROM);
    const actor = act(rig, tally);
    for (const [i, trip] of trips.entries()) {
      const homeFrom = (trips[i - 1]?.back ?? FROM) + 1;
      actor.beforeTrip(trip, homeFrom, timeOfYear(trips, i));
      for (let day = trip.leave; day <= trip.back; day++) {
        for (const duty of roadDay(rig, tally, day)) actor.failed?.(duty, day);
      }
      actor.afterTrip?.(trip);
    }
    actor.beforeTrip(undefined, (trips.at(-1)?.back ?? FROM) + 1, null);
    tally.carriedOver = worthLeft(rig, UNTIL) - before;
    return tally;
  };
  return {
    'Rigworthy’s plan': run((rig, tally) => new Planner(world, seed, rig, tally)),
    'fixed spring service': run((rig, tally) => onServiceDays(rig, tally, (duty, day) => isSpringJob(rig, duty, day))),
    'when it falls due': run((rig, tally) => ({
      beforeTrip: (trip) => {
        if (!trip) return;
        const day = trip.leave - 1;
        workAtHome(
          rig,
          tally,
          DUTIES.filter((duty) => rig.usedBy(duty, day) >= 1),
          day,
        );
      },
    })),
    'everything every year': run((rig, tally) => onServiceDays(rig, tally, () => true)),
  };
}

/** Whether a trip is the first of its year, or begins the second half of the year's trips. */
type Season = 'spring' | 'midsummer';

function timeOfYear(trips: readonly Trip[], i: number): Season | null {
  const year = (trip: Trip): number => yearOf(dateOf(trip.leave));
  const ofYear = trips.filter((trip) => year(trip) === year(trips[i]!));
  const place = ofYear.indexOf(trips[i]!);
  if (place === 0) return 'spring';
  return place === Math.ceil(ofYear.length / 2) ? 'midsummer' : null;
}

interface Actor {
  /** At home from a day until a trip leaves; without a trip: until the end. */
  beforeTrip(trip: Trip | undefined, homeFrom: number, season: Season | null): void;
  afterTrip?(trip: Trip): void;
  failed?(duty: StudyDuty, day: number): void;
}

/** What `spring` says on the eve of the first trip of each year; what does not last a year, again halfway through its trips. */
function onServiceDays(rig: Rig, tally: Tally, spring: (duty: StudyDuty, day: number) => boolean): Actor {
  return {
    beforeTrip: (trip, _homeFrom, season) => {
      if (!trip || season === null) return;
      const day = trip.leave - 1;
      const wanted = (duty: StudyDuty): boolean =>
        season === 'spring' ? spring(duty, day) : usedInAYear(rig, duty, day) > 1;
      workAtHome(rig, tally, DUTIES.filter(wanted), day);
    },
  };
}

/** The careful owner's spring list: what will not last another year as years have gone, whatever it says today. */
const isSpringJob = (rig: Rig, duty: StudyDuty, day: number): boolean =>
  rig.usedBy(duty, day) + usedInAYear(rig, duty, day) > 1;

/** Lives of a duty that a year has used, of the last three. */
const usedInAYear = (rig: Rig, duty: StudyDuty, day: number): number =>
  rig.used(duty, Math.max(START, day - 365 * 3), day) / Math.min(3, (day - START) / 365);

/** Plans after each trip and when the year begins, works as planned until the next trip, and writes everything down. */
class Planner implements Actor {
  readonly #world: World;
  readonly #rig: Rig;
  readonly #tally: Tally;
  readonly #pen: Pen;
  readonly #dice: Dice;
  #state: RigState;
  readonly #written = new Set<string>();

  constructor(world: World, seed: number, rig: Rig, tally: Tally) {
    this.#world = world;
    this.#rig = rig;
    this.#tally = tally;
    this.#dice = new Dice(seed, 6);
    this.#pen = writtenUse(world, FROM, seed);
    for (const duty of DUTIES) {
      this.#pen.write('fit', on(START), { part: duty.id, kind: duty.id, isNew: false });
      this.#work([duty], rig.done.get(duty.id)!);
    }
    this.#state = foldEntries(this.#pen.entries);
    for (const trip of world.trips) if (trip.written < FROM) this.#written.add(trip.id);
  }

  /** Plans are made on the day of coming home, and again on each day on which a trip was written down since. */
  beforeTrip(trip: Trip | undefined, homeFrom: number): void {
    const end = trip ? trip.leave : UNTIL;
    const news = this.#world.trips.filter((one) => one.written > homeFrom && one.written < end && one.leave < UNTIL);
    const moments = [homeFrom, ...new Set(news.map((one) => one.written + 1))]
      .filter((day) => day < end)
      .sort((a, b) => a - b);
    for (const [i, day] of moments.entries()) this.#planAndWork(day, Math.min(end, moments[i + 1] ?? end));
  }

  #planAndWork(now: number, until: number): void {
    this.#note((pen) => {
      for (const trip of this.#world.trips) {
        if (trip.written >= now || trip.back < now || this.#written.has(trip.id)) continue;
        this.#written.add(trip.id);
        writePlan(pen, trip);
      }
      for (const trip of this.#world.trips)
        if (!trip.made && trip.leave < now && trip.leave > FROM) writePlan(pen, trip, true);
    });
    const model = lookAhead(this.#state, STUDY_CATALOG, { now: on(now), paths: 256 });
    const { plan } = unwrap(makePlan(model, { gapTarget: 0.01, workLimit: 4_000 }));
    for (const { date, jobs } of plan.days) {
      const day = dayNumber(date);
      if (day < now || day >= until) continue;
      const duties = jobs.map((job) => DUTIES.find((duty) => duty.id === job.part)!);
      workAtHome(this.#rig, this.#tally, duties, day);
      this.#note(() => this.#work(duties, day));
    }
  }

  afterTrip(trip: Trip): void {
    this.#note((pen) => finish(pen, this.#world, trip, this.#dice.is(0.8)));
  }

  failed(duty: StudyDuty, day: number): void {
    this.#note(() => this.#work([duty], day));
  }

  #work(duties: readonly StudyDuty[], day: number): void {
    this.#pen.write('work', on(day), {
      done: duties.map((duty) => ({ upkeep: duty.id, part: duty.id, outcome: 'good' as const })),
      odometer: shown(this.#world, 'trailer', day + 1),
      odometerTow: shown(this.#world, 'tow', day + 1),
    });
  }

  #note(write: (pen: Pen) => void): void {
    const before = this.#pen.entries.length;
    write(this.#pen);
    const added: readonly Entry[] = this.#pen.entries.slice(before);
    this.#state = added.reduce(addEntry, this.#state);
  }
}
