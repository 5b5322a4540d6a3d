/** The habits of every season: opening in spring, the trips with their mornings of leaving, the summer's small jobs, the lay-up. */
import { type Book, lb, miles, psi, q, seeded, type Writer } from './book.ts';
import { type Journey, journeys, passages, towOn, trailerOn } from './journeys.ts';
import * as programs from './programs.ts';
import { type Job, jobsOf } from './programs.ts';
import { stow, TOW_WHEELS, WHEELS } from './rig.ts';

/** The four Saturdays on which a year is opened. */
export const SPRING: Readonly<Record<number, readonly [string, string, string, string]>> = {
  2021: ['2021-04-03', '2021-04-10', '2021-04-17', '2021-04-24'],
  2022: ['2022-04-02', '2022-04-09', '2022-04-16', '2022-04-23'],
  2023: ['2023-04-08', '2023-04-15', '2023-04-22', '2023-04-29'],
  2024: ['2024-04-06', '2024-04-13', '2024-04-20', '2024-04-27'],
  2025: ['2025-04-05', '2025-04-12', '2025-04-13', '2025-04-19'],
  2026: ['2026-04-11', '2026-04-18', '2026-05-09', '2026-04-25'],
};

const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Pressures drawn around a middle, to the half psi that a gauge shows. */
function gauge(year: number, salt: number): (middle: number) => number {
  const random = seeded(year * 100 + salt);
  return (middle) => Math.round((middle + 2.2 * (random() - 0.5)) * 2) / 2;
}

interface Day {
  readonly minutes?: number;
  readonly cost?: number;
  readonly note?: string;
  /** Whose odometers stand in the entry; the trailer's where nothing is said. */
  readonly of?: 'tow' | 'both';
}

/** One day's work of a program. */
export function work(
  book: Book,
  by: Writer,
  on: string,
  jobs: readonly Job[],
  { of, ...rest }: Day = {},
  readings: Readings = {},
): void {
  const trailer = of === 'tow' ? {} : { odometer: miles(trailerOn(on)) };
  const tow = of === undefined ? {} : { odometerTow: miles(towOn(on)) };
  const done = jobsOf(jobs, Number(on.slice(0, 4))).map((job) => {
    const read = readings[job.upkeep];
    return read ? { ...job, readings: read() } : job;
  });
  book.write(by, on, { kind: 'work', body: { done, ...trailer, ...tow, ...rest } });
}

/** What is read in the course of an upkeep, drawn afresh for each part. */
type Readings = Readonly<Record<string, () => { what: string; value: { value: number; unit: string } }[]>>;

/** The four days of opening; `axles` are those whose hubs are repacked. */
export function opening(book: Book, year: number, axles: readonly (1 | 2)[]): void {
  const [water, hubs, roof, hitch] = SPRING[year]!;
  const random = seeded(year);
  const near = gauge(year, 1);
  work(
    book,
    'Nell',
    water,
    [...programs.gasAndWater, ...programs.alarms],
    { minutes: 255 + Math.round(60 * random()), cost: 25 },
    {
      'test-gas-leak-drop': () => [
        { what: 'leak-start', value: q(8, 'in. w.c.') },
        { what: 'leak-end', value: q(8, 'in. w.c.') },
        { what: 'leak-minutes', value: q(10, 'min') },
      ],
      'check-regulator': () => [
        { what: 'gas-pressure-flowing', value: q(tenth(10.9 + 0.3 * random()), 'in. w.c.') },
        { what: 'gas-pressure-lockup', value: q(tenth(12.4 + 0.4 * random()), 'in. w.c.') },
      ],
      'weigh-lp-cylinder': () => [{ what: 'gas-left', value: lb(Math.round(8 + 11 * random())) }],
      'sanitize-water': () => [{ what: 'chlorine', value: q(50, 'ppm') }],
    },
  );
  if (year >= 2024)
    work(book, 'Nell', water, programs.joints, {
      minutes: 6,
      note: 'Soap on every joint that was touched: no bubbles',
    });
  const wheelsOff = axles.flatMap((axle) => programs.hubs(axle));
  const rotated: Job[] = axles.length === 2 ? [['rotate-tires', programs.wheels, 2022]] : [];
  work(
    book,
    'Otis',
    hubs,
    [...wheelsOff, ...rotated, ...programs.runningGear, ['set-tire-pressure', programs.tires]],
    { minutes: 260 + 40 * axles.length, cost: 26 * axles.length },
    {
      'repack-bearings': () => [{ what: 'bearing-end-play', value: q(Math.round(2 + 3 * random()) / 1000, 'in') }],
      'inspect-linings': () => [
        {
          what: 'lining-thickness',
          value: q(Math.round(100 * (0.19 - 0.012 * (year - 2021) - 0.01 * random())) / 100, 'in'),
        },
      ],
      'inspect-tire': () => [
        { what: 'tread-depth', value: q(Math.round(2 * (8 - 0.6 * (year - 2021) - 0.4 * random())) / 64, 'in') },
      ],
      'set-tire-pressure': () => [{ what: 'pressure-cold', value: psi(near(64.5)) }],
    },
  );
  work(
    book,
    'Nell',
    roof,
    [...programs.roofAndBody, ...programs.kitchen],
    { minutes: 300, cost: 18 },
    {
      'sweep-moisture': () => [{ what: 'moisture-highest', value: q(11 + Math.round(3 * random()), '%') }],
    },
  );
  work(
    book,
    'Otis',
    hitch,
    [...programs.hitchAndWires, ...programs.towVehicle, ...programs.generator],
    { minutes: 285, cost: 21, of: 'both' },
    {
      'charge-breakaway-battery': () => [
        { what: 'voltage-rest', value: q(tenth(12.7 + 0.1 * random()), 'V') },
        { what: 'voltage-loaded', value: q(tenth(11.9 + 0.2 * random()), 'V') },
      ],
      'inspect-tow-brakes': () => [{ what: 'pad-thickness', value: q(tenth(9.5 - 0.7 * (year - 2021)), 'mm') }],
    },
  );
  if (year > 2021) stow(book, hitch);
}

/** Plans of a season, written down on a winter evening. */
export function planTrips(book: Book, on: string, year: number, except: readonly string[] = []): void {
  for (const journey of journeys.filter((one) => one.leave.startsWith(String(year)) && !except.includes(one.id)))
    planTrip(book, on, journey);
}

export function planTrip(book: Book, on: string, journey: Journey, changed: object = {}): void {
  const { id, name, leave, back, planned, chance, highestF, lowestF, heightFt, stops } = journey;
  book.write('Nell', on, {
    kind: 'trip',
    body: {
      trip: id,
      name,
      leave,
      return: back,
      miles: miles(planned),
      chance: chance ?? 1,
      nights: nightsOf(journey),
      ...(highestF === undefined ? {} : { highest: q(highestF, 'degF') }),
      ...(lowestF === undefined ? {} : { lowest: q(lowestF, 'degF') }),
      ...(heightFt === undefined ? {} : { greatestHeight: q(heightFt, 'ft') }),
      ...(stops ? { stops: stops.map(([stop, mile]) => ({ name: stop, mile: miles(mile) })) } : {}),
      ...changed,
    },
  });
}

const nightsOf = (journey: Journey): number => (Date.parse(journey.back) - Date.parse(journey.leave)) / 86_400_000;

/** A trip that was made: the morning of leaving, sometimes a round with the gauge, and the figures on coming home. */
export function make(book: Book, journey: Journey, round: 'gauge' | 'look'): void {
  const passage = passages.get(journey.id)!;
  const year = Number(journey.leave.slice(0, 4));
  const near = gauge(year, journey.id.length);
  const warm = journey.leave.slice(5, 7) >= '06' && journey.leave.slice(5, 7) <= '08';
  if (round === 'gauge') {
    for (const wheel of WHEELS) {
      book.write('Otis', journey.leave, {
        kind: 'reading',
        body: {
          part: `tire-${wheel}`,
          what: 'pressure-cold',
          value: psi(near(64)),
          temperature: q(warm ? 64 : 51, 'degF'),
          elevation: q(860, 'ft'),
        },
      });
    }
  }
  const towPressures = TOW_WHEELS.map((part) => ({
    upkeep: 'set-tow-tire-pressure',
    part,
    outcome: 'good',
    readings: [{ what: 'pressure-cold', value: psi(near(46)) }],
  }));
  const pressures =
    round === 'look'
      ? programs.tires.map((part) => ({
          upkeep: 'set-tire-pressure',
          part,
          outcome: 'good',
          readings: [{ what: 'pressure-cold', value: psi(near(64.5)) }],
        }))
      : [];
  book.write(journey.id.length % 2 ? 'Nell' : 'Otis', journey.leave, {
    kind: 'work',
    body: {
      done: [...pressures, ...towPressures, ...jobsOf(programs.departure, year)],
      odometer: miles(passage.out),
      odometerTow: miles(passage.towOut),
      minutes: 55,
    },
  });
  book.write('Nell', journey.back, {
    kind: 'trip-done',
    body: {
      trip: journey.id,
      left: journey.leave,
      back: journey.back,
      miles: miles(journey.driven!),
      odometer: miles(passage.home),
      odometerTow: miles(passage.towHome),
      nights: nightsOf(journey),
      generatorHours: tenth(nightsOf(journey) * 0.6),
    },
  });
}

/** After wheels were off: nuts at 10, 25 and 50 miles, hubs at 10 and 50. */
export function followUps(book: Book, on: string, since: number, bearings: readonly string[]): void {
  for (const after of [10, 25, 50]) {
    const hubs =
      after === 25
        ? []
        : bearings.map((part) => ({
            upkeep: 'check-hub-heat',
            part,
            outcome: 'good',
            readings: [{ what: 'hub-temperature', value: q(after === 10 ? 96 : 108, 'degF') }],
          }));
    book.write('Otis', on, {
      kind: 'work',
      body: {
        done: [{ upkeep: 'retorque-wheel-nuts', part: 'wheel-nuts', outcome: 'good' }, ...hubs],
        odometer: miles(tenth(since + after + 0.4)),
        minutes: 12,
      },
    });
  }
}

/** Scale tickets: the tow vehicle alone, hitched with slack bars, hitched with the bars set. */
export function weigh(book: Book, on: string, heavier: number): void {
  book.write('Nell', on, {
    kind: 'weigh',
    body: {
      solo: { front: lb(3140), rear: lb(2850) },
      hitchedSlack: { front: lb(2800), rear: lb(4050), axles: lb(5720 + heavier) },
      hitchedSet: { front: lb(3010), rear: lb(3760), axles: lb(5800 + heavier) },
      step: lb(20),
      place: 'Platform scale by the grain elevator',
      cargo: 'Water full, both cylinders full, kit and food for ten days',
    },
  });
  book.write('Nell', on, {
    kind: 'work',
    body: { done: [{ upkeep: 'weigh-rig', part: 'weights', outcome: 'good' }], cost: 14 },
  });
}

export function papers(book: Book, year: number): void {
  book.write('Nell', `${year}-03-12`, {
    kind: 'paper',
    body: { part: 'insurance', goodThrough: `${year + 1}-03-15`, cost: 340 + 12 * (year - 2021) },
  });
  book.write('Nell', `${year}-05-10`, {
    kind: 'paper',
    body: { part: 'registration', goodThrough: `${year + 1}-05-31`, cost: 62 },
  });
}

/** Days at home in summer and in September. */
const AT_HOME: Readonly<Record<number, readonly [summer: string, september: string]>> = {
  2021: ['2021-08-05', '2021-09-14'],
  2022: ['2022-07-30', '2022-09-17'],
  2023: ['2023-08-05', '2023-09-14'],
  2024: ['2024-08-03', '2024-09-21'],
  2025: ['2025-08-02', '2025-09-14'],
};

/** Summer at home, lay-up in October, and a look in winter. */
export function summerToWinter(book: Book, year: number): void {
  const [summer, september] = AT_HOME[year]!;
  const shut = `${year}-10-${year === 2025 ? '29' : '14'}`;
  const random = seeded(year * 7);
  work(book, 'Otis', summer, [...programs.oil, ...programs.summer], { minutes: 120, cost: 58, of: 'both' });
  if (year >= 2022 && year < 2025)
    work(
      book,
      'Otis',
      september,
      [
        ['adjust-brakes', programs.brakes],
        ['feel-bearings', programs.bearings],
      ],
      { minutes: 95 },
    );
  book.write('Otis', september, {
    kind: 'reading',
    body: {
      part: 'spare',
      what: 'pressure-cold',
      value: psi(Math.round(56 + 3 * random())),
      temperature: q(66, 'degF'),
      elevation: q(860, 'ft'),
    },
  });
  work(book, 'Otis', shut, [...programs.layUp, ...programs.oil], { minutes: 310, cost: 80, of: 'both' });
  book.write('Otis', shut, {
    kind: 'reading',
    body: { part: 'anode', what: 'anode-left', value: q(40 + 5 * Math.round(6 * random()), '%') },
  });
  work(
    book,
    'Nell',
    `${year}-12-12`,
    [
      ['walk-round-in-storage', ['stored']],
      ['charge-house-battery', ['house-battery']],
      ['keep-battery-charged', ['house-battery']],
    ],
    { minutes: 25 },
    {
      'charge-house-battery': () => [{ what: 'voltage-rest', value: q(tenth(12.55 + 0.15 * random()), 'V') }],
      'walk-round-in-storage': () => [{ what: 'humidity', value: q(48 + Math.round(8 * random()), '%') }],
    },
  );
}
