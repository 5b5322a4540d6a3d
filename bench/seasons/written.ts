import { dateOf } from '../../src/dates/index.ts';
import { mi, Pen } from '../../test/support/rig.ts';
import { Dice } from './chance.ts';
import { on, plannedOn, START, type Trip, type World } from './world.ts';

/** What the owner has written down of the use of their rig by the evening before `now`: trips, and odometers now and then. */
export function writtenUse(world: World, now: number, seed: number): Pen {
  const pen = new Pen();
  const dice = new Dice(seed, 2);
  pen.write('enroll', on(START), { vehicle: 'trailer', name: 'Trailer' });
  pen.write('enroll', on(START), { vehicle: 'tow', name: 'Tow vehicle' });
  readOdometers(pen, world, START);
  for (const trip of world.trips) {
    if (trip.back >= now || !trip.made) continue;
    writePlan(pen, trip);
    finish(pen, world, trip, dice.is(0.8));
  }
  for (const trip of plannedOn(world, now)) writePlan(pen, trip);
  readOdometers(pen, world, now - dice.uniform(0, 20));
  return pen;
}

/** At any time of the day. */
export function readOdometers(pen: Pen, world: World, moment: number): void {
  for (const vehicle of ['trailer', 'tow'] as const)
    pen.write('reading', on(Math.floor(moment)), { vehicle, what: 'odometer', value: shown(world, vehicle, moment) });
}

/** An odometer at a moment, to the mile. */
export function shown(world: World, vehicle: 'trailer' | 'tow', moment: number) {
  const day = Math.floor(moment) - START;
  const [a, b] = [world[vehicle][day]!, world[vehicle][day + 1]!];
  return mi(Math.round(a + (moment - START - day) * (b - a)));
}

/** A trip written down when it is planned, or given up on the day it would have left. */
export function writePlan(pen: Pen, trip: Trip, cancelled = false): void {
  pen.write('trip', on(cancelled ? trip.leave : trip.written), {
    trip: trip.id,
    name: trip.id,
    leave: dateOf(trip.leave),
    return: dateOf(trip.back),
    miles: mi(trip.planned),
    chance: trip.chance,
    ...(cancelled ? { cancelled } : {}),
  });
}

export function finish(pen: Pen, world: World, trip: Trip, readsOdometer: boolean): void {
  pen.write('trip-done', on(trip.back), {
    trip: trip.id,
    left: on(trip.leave),
    back: on(trip.back),
    miles: mi(Math.round(trip.actual)),
    ...(readsOdometer
      ? { odometer: shown(world, 'trailer', trip.back + 1), odometerTow: shown(world, 'tow', trip.back + 1) }
      : {}),
  });
}
