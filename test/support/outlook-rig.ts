import type { Clock } from '../../src/catalog/index.ts';
import { lookAhead, type OutlookItem, type OutlookModel } from '../../src/outlook/index.ts';
import { catalogOf, mi, Pen, partKind, upkeep } from './rig.ts';

/** One part, one upkeep, and a logbook to write in: the smallest thing an outlook can be taken of. */

export const source = 'practice';
export const milesEvery = (value: number): Clock => ({ kind: 'miles', every: mi(value), source });
export const monthsEvery = (every: number): Clock => ({ kind: 'months', every, source });
export const bearings = partKind('bearings');

export function started(): Pen {
  const pen = new Pen();
  pen.write('enroll', '2024-01-05', { vehicle: 'trailer', name: 'Test trailer' });
  pen.write('fit', '2024-01-05', {
    part: 'bearings-axle-1-left',
    kind: 'bearings',
    place: 'axle 1, left',
    isNew: false,
  });
  return pen;
}

export function look(
  pen: Pen,
  clocks: readonly Clock[],
  now = '2026-05-27',
  more: Parameters<typeof upkeep>[3] = {},
): OutlookModel {
  return lookAhead(pen.state(), catalogOf([bearings], [upkeep('repack', 'bearings', clocks, more)]), { now });
}

export const repacked = (pen: Pen, on: string, odometer?: number, outcome: 'good' | 'failed' = 'good') =>
  pen.write('work', on, {
    done: [{ upkeep: 'repack', part: 'bearings-axle-1-left', outcome }],
    ...(odometer === undefined ? {} : { odometer: mi(odometer) }),
  });
export const only = (model: OutlookModel): OutlookItem => model.outlook.items[0]!;
export const trip = (pen: Pen, id: string, leave: string, back: string, miles: number, chance = 1) =>
  pen.write('trip', '2026-05-01', { trip: id, name: id, leave, return: back, miles: mi(miles), chance });
