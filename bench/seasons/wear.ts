import { addMonths, dayNumber } from '../../src/dates/index.ts';
import { Dice } from './chance.ts';
import { DUTIES, SETUP_MINUTES, type StudyDuty } from './duties.ts';
import { on, START, type World } from './world.ts';

export const HOURLY_VALUE = 25;
export const DAY_COST = 25;
const HOURS_A_DAY = 6;

/** How the rig stands: when each duty was last done, and how long past its end it will hold this time. */
export class Rig {
  readonly done = new Map<string, number>();
  readonly #holds = new Map<string, number>();
  readonly #steepness: ReadonlyMap<string, number>;
  /** A stream of each duty's own, so that its n-th renewal holds as long past its end whatever the habit. */
  readonly #luck: ReadonlyMap<string, Dice>;
  readonly #world: World;

  /** The same seed begins every habit with the same rig in the same state, on `day`. */
  constructor(world: World, seed: number, day: number) {
    this.#world = world;
    const dice = new Dice(seed, 5);
    this.#luck = new Map(DUTIES.map((duty, i) => [duty.id, new Dice(seed, 100 + i)]));
    // What really happens past the end is not what the catalog says: half as steep or twice, as it comes.
    this.#steepness = new Map(DUTIES.map((duty) => [duty.id, duty.failure.steepness * Math.exp(dice.normal(0, 0.5))]));
    for (const duty of DUTIES) {
      const share = dice.uniform(0, 0.95);
      let last = day;
      while (last > START + 2 && this.used(duty, last, day) < share) last--;
      this.do(duty, last);
    }
  }

  do(duty: StudyDuty, day: number): void {
    this.done.set(duty.id, day);
    this.#holds.set(duty.id, this.#luck.get(duty.id)!.exponential(1));
  }

  /** Share of a duty's life used from one evening to another: of the clock that is furthest on. */
  used(duty: StudyDuty, from: number, until: number): number {
    const world = this.#world;
    const counted = (totals: Float64Array): number => totals[until + 1 - START]! - totals[from + 1 - START]!;
    const shares = [
      duty.miles === undefined ? 0 : counted(world[duty.vehicle]) / duty.miles,
      duty.nights === undefined ? 0 : counted(world.nights) / duty.nights,
    ];
    if (duty.months !== undefined) shares.push((until - from) / (dayNumber(addMonths(on(from), duty.months)) - from));
    return Math.max(...shares);
  }

  usedBy(duty: StudyDuty, day: number): number {
    return this.used(duty, this.done.get(duty.id)!, day);
  }

  /** Whether it fails by the evening of a day on the road: the further past its end, the likelier. */
  failsOn(duty: StudyDuty, day: number): boolean {
    const over = Math.max(0, this.usedBy(duty, day) - 1);
    return this.#steepness.get(duty.id)! * over > this.#holds.get(duty.id)!;
  }
}

/** What one habit cost and brought. */
export interface Tally {
  parts: number;
  minutes: number;
  yardDays: number;
  failureMoney: number;
  /** Failures of safety and damage duties on the road; and of those, safety ones. */
  roadside: number;
  roadsideSafety: number;
  /** Worth of the life left in the work at the end, against the beginning's. */
  carriedOver: number;
}

export const emptyTally = (): Tally => ({
  ...{ parts: 0, minutes: 0, yardDays: 0, failureMoney: 0, roadside: 0, roadsideSafety: 0, carriedOver: 0 },
});

export const totalOf = (tally: Tally): number =>
  tally.parts +
  (tally.minutes / 60) * HOURLY_VALUE +
  tally.yardDays * DAY_COST +
  tally.failureMoney -
  tally.carriedOver;

/** Work done in one go, over as many days of six hours as it takes; each set-up once a day on which it is needed. */
export function workAtHome(rig: Rig, tally: Tally, duties: readonly StudyDuty[], day: number): void {
  const sorted = [...duties].sort((a, b) => (a.setup ?? '').localeCompare(b.setup ?? ''));
  let left = 0;
  let standing = new Set<string>();
  for (const duty of sorted) {
    const setup = duty.setup !== null && !standing.has(duty.setup) ? SETUP_MINUTES[duty.setup]! : 0;
    let needed = duty.minutes + setup;
    if (needed > left) {
      tally.yardDays++;
      left = HOURS_A_DAY * 60;
      standing = new Set();
      needed = duty.minutes + (duty.setup === null ? 0 : SETUP_MINUTES[duty.setup]!);
    }
    left -= needed;
    if (duty.setup !== null) standing.add(duty.setup);
    tally.minutes += needed;
    tally.parts += duty.parts;
    rig.do(duty, day);
  }
}

/** A day on the road: what fails is mended there, at its price, and is as new. */
export function roadDay(rig: Rig, tally: Tally, day: number): StudyDuty[] {
  const failed = DUTIES.filter((duty) => rig.failsOn(duty, day));
  for (const duty of failed) {
    tally.failureMoney += duty.failure.cost;
    if (duty.severity !== 'comfort') tally.roadside++;
    if (duty.severity === 'safety') tally.roadsideSafety++;
    rig.do(duty, day);
  }
  return failed;
}

/** Money in the work of all duties not used up on a day. */
export function worthLeft(rig: Rig, day: number): number {
  return DUTIES.reduce((sum, duty) => {
    const work = duty.parts + (duty.minutes / 60) * HOURLY_VALUE;
    return sum + work * Math.max(0, 1 - rig.usedBy(duty, day));
  }, 0);
}
