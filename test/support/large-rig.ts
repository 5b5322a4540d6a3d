/**
 * An invented rig of a household that writes everything down: five hundred parts, each lamp, window and hinge with a name of its own, and
 * twenty thousand entries over twenty seasons. For what only shows in the large. No clock, no chance but a seed: always the same.
 */
import type { Catalog, PartKind, Upkeep } from '../../src/catalog/index.ts';
import { addDays } from '../../src/dates/index.ts';
import { ENTRY_VERSION, type Entry, type EntryKind, type EntryOf } from '../../src/logbook/index.ts';
import { idNumber } from './keeping.ts';
import { mi, psi } from './rig.ts';

export const LARGE = { rig: 'orchard', parts: 500, entries: 20_000, today: '2026-05-27' } as const;

const FIRST = 2006;
const LAST = 2026;
const WHEELS = [1, 2, 3].flatMap((axle) => [`axle ${axle}, left`, `axle ${axle}, right`]);
const AXLES = ['axle 1', 'axle 2', 'axle 3'];
const TOW_WHEELS = ['front left', 'front right', 'rear left', 'rear right'].map((at) => `${at} of Badger`);
const ROOMS = ['kitchen', 'bath', 'bedroom', 'bunk room', 'dinette', 'hall', 'left locker', 'right locker', 'roof'];

/** Kinds of which an ordinary rig has one, and this household lists each: how many. */
const MANY: Readonly<Record<string, number>> = {
  'locks-and-hinges': 84,
  'trailer-lights': 56,
  'dc-distribution': 48,
  'body-seals': 44,
  windows: 26,
  gfci: 12,
  'house-battery': 8,
  'escape-window': 8,
  'smoke-alarm': 6,
  'fire-extinguisher': 4,
  'lp-cylinder': 4,
  'slide-out': 4,
  'slide-seals': 4,
  'vent-fan': 4,
  'solar-panels': 6,
  'air-conditioner': 2,
  'co-alarm': 3,
  'entry-door': 2,
};
/** Kinds that exclude another kind of the list. */
const NOT_HERE = new Set(['sealed-hubs', 'torsion-axle', 'hydraulic-brakes', 'house-battery-lithium', 'recalls']);

interface Fitted {
  readonly id: string;
  readonly kind: PartKind;
  readonly place: string;
}

/** Small whole numbers in an order that repeats every time (a linear congruential generator, the constants of POSIX drand48's predecessor). */
function dice(seed: number): (sides: number) => number {
  let state = seed;
  return (sides) => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0;
    return (state >>> 16) % sides;
  };
}

/** The parts: every kind of the catalog, at each wheel or axle where it belongs there, then lamps, hinges and fuses until there are enough. */
function partsOfRig(catalog: Catalog, count: number): Fitted[] {
  const parts: Fitted[] = [];
  const kinds = [...catalog.partKinds.values()].filter(({ id }) => !NOT_HERE.has(id));
  for (const kind of kinds) {
    const wheels = kind.vehicle === 'tow' ? TOW_WHEELS : WHEELS;
    const places = kind.per === 'wheel' ? wheels : kind.per === 'axle' ? AXLES : placesFor(kind, MANY[kind.id] ?? 1);
    places.forEach((place, at) => {
      parts.push({ id: places.length === 1 ? kind.id : `${kind.id}-${at + 1}`, kind, place });
    });
  }
  const hinge = catalog.partKinds.get('locks-and-hinges')!;
  for (let n = MANY['locks-and-hinges']! + 1; parts.length < count; n++) {
    parts.push({ id: `${hinge.id}-${n}`, kind: hinge, place: `${ROOMS[n % ROOMS.length]}, hatch ${n}` });
  }
  return parts.slice(0, count);
}

function placesFor(kind: PartKind, count: number): string[] {
  if (count > 1) return Array.from({ length: count }, (_, n) => `${ROOMS[n % ROOMS.length]}, number ${n + 1}`);
  if (kind.vehicle === 'tow') return ['under the hood of Badger'];
  if (/LP|hitch|brakes/.test(kind.group)) return ['tongue'];
  return [kind.group === 'papers' ? '' : /roof/.test(kind.id) ? 'roof' : 'kitchen'];
}

/** Writes lines, each with an id in the order of writing. */
class Scribe {
  readonly entries: Entry[] = [];

  write<K extends EntryKind>(kind: K, on: string, body: EntryOf<K>['body']): Entry {
    const n = this.entries.length + 1;
    const by = n % 3 === 0 ? 'Iris' : 'Tom';
    const entry = {
      ...{ id: idNumber(n), rig: LARGE.rig, kind, on, at: `${on}T18:00:00Z`, by, v: ENTRY_VERSION, body },
    } as unknown as Entry;
    this.entries.push(entry);
    return entry;
  }
}

/** The whole logbook, `LARGE.entries` lines of it. */
export function largeLogbook(catalog: Catalog): readonly Entry[] {
  const scribe = new Scribe();
  const roll = dice(20_000);
  const parts = partsOfRig(catalog, LARGE.parts);
  moveIn(scribe, parts);
  const odometers = { trailer: 4_000, tow: 11_000 };
  for (let year = FIRST; year <= LAST; year++) season(scribe, roll, catalog, parts, odometers, year);
  comingTrips(scribe);
  // The rest: battery voltages, looked at every few days all these years.
  const batteries = parts.filter((part) => part.kind.id === 'house-battery');
  for (let n = 0; scribe.entries.length < LARGE.entries; n++) {
    const part = batteries[n % batteries.length]!.id;
    const value = { value: 12.4 + roll(5) / 10, unit: 'V' as const };
    scribe.write('reading', addDays(LARGE.today, -((n * 5) % 7300)), { part, what: 'voltage-rest', value });
  }
  if (scribe.entries.length !== LARGE.entries) throw new Error(`invariant: ${scribe.entries.length} entries`);
  return scribe.entries;
}

function moveIn(scribe: Scribe, parts: readonly Fitted[]): void {
  const on = `${FIRST}-03-04`;
  const label = (value: number) => ({ value: { value, unit: 'lb' as const }, origin: 'certification label' });
  scribe.write('enroll', on, {
    ...{ vehicle: 'trailer', name: 'Orchard', year: 2005, axles: 3, suspension: 'leaf', brakes: 'electric' },
    ratings: { gvwr: label(14_400), gawrAxle: label(5200), coupler: label(15_000) },
  });
  scribe.write('enroll', on, { vehicle: 'tow', name: 'Badger', year: 2005, axles: 2 });
  scribe.write('set', on, { key: 'first-freeze', value: '10-12' });
  for (const { id, kind, place } of parts) {
    const tires = kind.id.includes('tire') && kind.id !== 'tire-pressure-sensors';
    scribe.write('fit', on, {
      ...{ part: id, kind: kind.id, isNew: true, madeOn: `${FIRST - 1}-11` },
      ...(place === '' ? {} : { place }),
      ...(tires ? { facts: { pressureColdMin: psi(65), pressureColdMax: psi(80) } } : {}),
    });
  }
}

/** One season: the yearly round of work, trips, and pressures and voltages on the days of travel. */
function season(
  scribe: Scribe,
  roll: (sides: number) => number,
  catalog: Catalog,
  parts: readonly Fitted[],
  odometers: { trailer: number; tow: number },
  year: number,
): void {
  for (const upkeep of catalog.upkeeps.values()) workOf(scribe, roll, upkeep, parts, odometers, year);
  const tires = parts.filter(({ kind }) => kind.id === 'tire' || kind.id === 'spare-tire');
  if (year === LAST) return;
  for (let n = 0; n < 9; n++) {
    const leave = addDays(`${year}-04-12`, n * 20);
    const back = addDays(leave, 7);
    const trip = `trip-${year}-${n + 1}`;
    const miles = 300 + roll(700);
    scribe.write('trip', addDays(leave, -40), tripTo(trip, NAMES[n]!, leave, back, miles));
    for (const [day, tire] of [0, 1, 2, 3, 4, 5, 6, 7].flatMap((day) => tires.map((one) => [day, one.id] as const))) {
      const temperature = { value: 45 + roll(40), unit: 'degF' as const };
      const body = { part: tire, what: 'pressure-cold', value: psi(66 + roll(9)), temperature };
      scribe.write('reading', addDays(leave, day), body);
    }
    odometers.trailer += miles;
    odometers.tow += miles + 600;
    const shown = { odometer: mi(odometers.trailer), odometerTow: mi(odometers.tow) };
    const home = scribe.write('trip-done', back, { trip, left: leave, back, miles: mi(miles), ...shown });
    // Once a season a line is written twice by mistake, and one of the two struck.
    if (n === 4) {
      const twice = scribe.write('reading', back, { part: tires[0]!.id, what: 'pressure-cold', value: psi(70) });
      scribe.write('strike', back, { entry: twice.id, reason: `Read twice on the day of ${home.on}` });
    }
  }
}

const NAMES = 'Lakes,Sagebrush,Coast,Two Rivers,High Desert,Old Mill,Harvest,Larches,First Frost'.split(',');
const tripTo = (trip: string, name: string, leave: string, back: string, miles: number, chance = 1) => ({
  ...{ trip, name, leave, return: back, miles: mi(miles), chance, nights: 7 },
});

/** The parts of one upkeep are done over a few spring days, some of them later, a few left for another year. */
function workOf(
  scribe: Scribe,
  roll: (sides: number) => number,
  upkeep: Upkeep,
  parts: readonly Fitted[],
  odometers: { trailer: number; tow: number },
  year: number,
): void {
  const of = parts.filter(({ kind }) => kind.id === upkeep.part);
  const share = 12;
  for (let at = 0; at < of.length; at += share) {
    if (roll(9) === 0) continue;
    const day = addDays(`${year}-03-06`, roll(34));
    const done = of.slice(at, at + share).map(({ id }) => ({
      ...{ upkeep: upkeep.id, part: id, outcome: roll(60) === 0 ? ('failed' as const) : ('good' as const) },
      readings: upkeep.readings.map(plausible),
    }));
    if (upkeep.drill) {
      for (const { part, outcome } of done) {
        scribe.write('drill', day, { upkeep: upkeep.id, part, who: 'Iris', outcome });
      }
      continue;
    }
    const note = roll(5) === 0 ? { note: `Round ${year - FIRST + 1}: nothing that would not keep` } : {};
    scribe.write('work', day, { done, minutes: 10 + roll(90), odometer: mi(odometers.trailer), ...note });
  }
}

/** A reading on the good side of most limits. */
function plausible({ what, unit }: Upkeep['readings'][number]) {
  const value: Record<string, number> = { psi: 70, V: 12.7, in: 0.2, '%': 80, h: 100, mm: 8, A: 3 };
  return { what, value: { value: value[unit] ?? 10, unit: unit as 'psi' } };
}

function comingTrips(scribe: Scribe): void {
  for (let n = 0; n < 12; n++) {
    const leave = addDays('2026-06-12', n * 21);
    const back = addDays(leave, 5 + (n % 4));
    const name = `${NAMES[n % NAMES.length]}, again`;
    scribe.write(
      'trip',
      '2026-05-20',
      tripTo(`ahead-${n + 1}`, name, leave, back, 260 + n * 55, n % 5 === 4 ? 0.5 : 1),
    );
  }
}
