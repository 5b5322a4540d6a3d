/** Season by season, and what happened once: renewals, drills, mistakes struck, a new instrument cluster, a disagreement. */
import { type Book, miles, psi, q, type Writer } from './book.ts';
import { CLUSTER, CLUSTER_WAS, journeyOf, journeys, towOn, trailerOn } from './journeys.ts';
import * as programs from './programs.ts';
import {
  followUps,
  make,
  opening,
  papers,
  planTrip,
  planTrips,
  SPRING,
  summerToWinter,
  weigh,
  work,
} from './seasons.ts';

/** One season, first to last; what is particular to it is written between. */
export function season(book: Book, year: number): void {
  planTrips(book, year === 2021 ? '2021-04-01' : `${year}-02-${String(5 + (year % 7)).padStart(2, '0')}`, year);
  if (year > 2021) papers(book, year);
  else
    book.write('Nell', '2021-05-10', {
      kind: 'paper',
      body: { part: 'registration', goodThrough: '2022-05-31', cost: 62 },
    });
  opening(book, year, [1, 2]);
  const home = trailerOn(SPRING[year]![1]);
  const made = journeys.filter((one) => one.leave.startsWith(String(year)) && one.driven !== undefined);
  made.forEach((journey, index) => {
    make(book, journey, index === 2 && year > 2022 ? 'gauge' : 'look');
    if (index > 0) return;
    if (year > 2021) followUps(book, journey.leave, home, programs.bearings);
    weigh(book, journey.back, 10 * (year - 2021));
  });
  summerToWinter(book, year);
}

/** Parts renewed over the years. The new one takes the old one's id, and every clock of it starts afresh. */
export function renewals(book: Book): void {
  const renewed = (by: Writer, on: string, part: string, kind: string, place: string, more: object): unknown =>
    book.write(by, on, { kind: 'fit', body: { part, kind, place, isNew: true, ...more } });
  renewed('Otis', '2022-04-02', 'lp-hoses', 'lp-hoses', 'tongue', { madeOn: '2022-01', cost: 34 });
  renewed('Otis', '2022-05-07', 'house-battery', 'house-battery', 'tongue box', {
    madeOn: '2022-04',
    facts: { capacity: q(100, 'Ah') },
    cost: 149,
  });
  renewed('Nell', '2023-04-08', 'co-alarm', 'co-alarm', 'bedroom', {
    madeOn: '2022-11',
    goodThrough: '2029-11',
    cost: 61,
  });
  renewed('Otis', '2023-06-10', 'spare', 'spare-tire', 'rear bumper', {
    madeOn: '2020-10-18',
    code: '4320',
    facts: {
      size: 'ST225/75R15',
      loadMax: { value: 2540, unit: 'lb' },
      pressureColdMin: psi(65),
      pressureColdMax: psi(65),
    },
    cost: 96,
    note: 'New, though it lay in a shop for two years. The old one was nine years old and cracked',
  });
  renewed('Nell', '2024-04-06', 'smoke-alarm', 'smoke-alarm', 'hall, ceiling', {
    madeOn: '2023-12',
    goodThrough: '2033-12',
    cost: 24,
  });
  renewed('Otis', '2024-04-27', 'breakaway-battery', 'breakaway-battery', 'tongue, left', {
    madeOn: '2024-01',
    cost: 28,
  });
  renewed('Nell', '2026-04-11', 'extinguisher', 'fire-extinguisher', 'by the door', { madeOn: '2025-11', cost: 32 });
  book.write('Otis', '2024-05-11', {
    kind: 'work',
    body: {
      done: ['cylinder-left', 'cylinder-right'].map((part) => ({
        upkeep: 'requalify-lp-cylinder',
        part,
        outcome: 'good',
        goodThrough: '2029-05',
      })),
      doneBy: 'Gas dealer in town',
      cost: 40,
      note: 'Stamped 05 24 E: external visual, good for five years',
    },
  });
}

/** Work that comes round every few years. */
export function rarer(book: Book): void {
  for (const on of ['2022-04-23', '2024-04-27', '2026-04-25']) {
    book.write('Otis', on, {
      kind: 'work',
      body: {
        done: [
          { upkeep: 'rate-chains', part: 'chains', outcome: 'good' },
          {
            upkeep: 'set-wd-hitch',
            part: 'hitch',
            outcome: 'good',
            readings: [
              { what: 'front-height-solo', value: q(36.25, 'in') },
              { what: 'front-height-slack', value: q(37.5, 'in') },
              { what: 'front-height-set', value: q(36.75, 'in') },
            ],
          },
        ],
        minutes: 60,
      },
    });
  }
  for (const on of ['2022-04-16', '2024-04-20', '2026-05-09'])
    work(book, 'Nell', on, [['reseal-roof', ['roof']]], { minutes: 110, cost: 31 });
  for (const on of ['2023-04-22', '2025-04-13'])
    work(
      book,
      'Nell',
      on,
      [
        ['reseal-body', ['body-seals']],
        ['clean-air-conditioner-coils', ['air-conditioner']],
        ['check-panel', ['panel']],
      ],
      { minutes: 140, cost: 19, note: 'The panel by a licensed electrician' },
    );
  for (const on of ['2021-04-03', '2022-04-02', '2024-04-06', '2026-04-11'])
    work(
      book,
      'Otis',
      on,
      [['renew-anode', ['anode']]],
      { minutes: 25, cost: 17 },
      { 'renew-anode': () => [{ what: 'anode-left', value: q(100, '%') }] },
    );
  work(
    book,
    'Otis',
    '2022-04-23',
    [
      ['change-transmission-fluid', ['transmission']],
      ['change-differential-oil', ['differential']],
      ['renew-tow-brake-fluid', ['tow-brakes']],
    ],
    { cost: 412, minutes: 0, of: 'tow', note: 'Done by the workshop in town' },
  );
  work(book, 'Otis', '2024-09-28', [['change-transmission-fluid', ['transmission']]], {
    cost: 236,
    minutes: 0,
    of: 'tow',
    note: 'Done by the workshop in town',
  });
  for (const on of ['2024-04-27', '2026-04-25'])
    work(book, 'Otis', on, [['renew-generator-fuel-line', ['generator']]], { minutes: 30, cost: 9 });
  work(book, 'Nell', '2024-04-06', [['renew-water-hose', ['water-hose']]], { minutes: 5, cost: 29 });
  work(
    book,
    'Otis',
    '2025-04-19',
    [
      ['renew-tow-coolant', ['cooling']],
      ['renew-tow-brake-fluid', ['tow-brakes']],
    ],
    { cost: 188, minutes: 0, of: 'tow', note: 'Done by the workshop in town' },
  );
  for (const on of ['2025-04-19', '2026-04-25'])
    book.write('Nell', on, {
      kind: 'work',
      body: { done: [{ upkeep: 'look-up-recalls', part: 'recalls', outcome: 'good' }], note: 'None open' },
    });
}

/** Drills: who, when, how it went. */
export function drills(book: Book): void {
  const drill = (
    on: string,
    who: Writer,
    upkeep: string,
    part: string,
    minutes: number,
    outcome: 'good' | 'failed' = 'good',
    note?: string,
  ): unknown =>
    book.write(who, on, { kind: 'drill', body: { upkeep, part, who, outcome, minutes, ...(note ? { note } : {}) } });
  drill('2021-05-01', 'Otis', 'practise-jack-by-hand', 'jack', 25, 'failed', 'No crank aboard that fits; bought one');
  drill('2021-05-29', 'Otis', 'practise-jack-by-hand', 'jack', 14);
  drill('2022-04-23', 'Nell', 'practise-shutting-gas', 'lp-system', 3);
  drill('2022-06-04', 'Nell', 'practise-wheel-change', 'wheel-nuts', 48);
  drill('2023-04-29', 'Otis', 'practise-slide-override', 'slide', 22);
  drill('2024-05-04', 'Nell', 'practise-jack-by-hand', 'jack', 12);
  drill('2025-04-14', 'Nell', 'practise-jack-by-hand', 'jack', 10, 'good', '210 turns for 10 in');
  drill('2025-05-17', 'Nell', 'practise-dead-battery', 'dc-distribution', 20);
  drill('2025-05-17', 'Otis', 'practise-uncoupling', 'coupler', 15);
  drill('2025-05-17', 'Otis', 'practise-wheel-change', 'wheel-nuts', 31);
  for (const [upkeep, part, minutes] of [
    ['practise-jack-by-hand', 'jack', 9],
    ['practise-shutting-gas', 'lp-system', 2],
    ['practise-escape', 'escape-window', 4],
    ['practise-power-shutdown', 'panel', 3],
    ['practise-lowering-spare', 'spare', 11],
    ['practise-brake-gain', 'controller', 8],
    ['practise-slide-override', 'slide', 18],
    ['practise-breakaway', 'breakaway-switch', 6],
    ['practise-light-faults', 'lights', 14],
    ['practise-water-shutdown', 'fresh-water', 3],
    ['practise-awning-by-hand', 'awning', 12],
  ] as const)
    drill('2026-04-25', upkeep.length % 2 ? 'Nell' : 'Otis', upkeep, part, minutes);
}

/** Two mistakes, struck and written again; one odometer replaced; one weekend called off; one hold overruled; one disagreement. */
export function mishaps(book: Book): void {
  const wrong = book.write('Otis', '2022-06-05', {
    kind: 'reading',
    body: { part: 'tire-axle-1-right', what: 'pressure-cold', value: psi(6.5), temperature: q(58, 'degF') },
  });
  book.write('Otis', '2022-06-05', {
    kind: 'strike',
    body: { entry: wrong.at, reason: 'The decimal point is a slip of the thumb: it was 65' },
  });
  book.write('Otis', '2022-06-05', {
    kind: 'reading',
    body: { part: 'tire-axle-1-right', what: 'pressure-cold', value: psi(65), temperature: q(58, 'degF') },
  });

  const twice = book.write('Nell', '2024-07-30', {
    kind: 'work',
    body: {
      done: [{ upkeep: 'adjust-brakes', part: 'brake-axle-1-left', outcome: 'good' }],
      odometer: miles(trailerOn('2024-07-30')),
      note: 'Left front',
    },
  });
  book.write('Nell', '2024-07-31', {
    kind: 'strike',
    body: { entry: twice.at, reason: 'It was axle 2 that I did; the left front only looked like it from under there' },
  });
  book.write(
    'Nell',
    '2024-07-30',
    {
      kind: 'work',
      body: {
        done: [{ upkeep: 'adjust-brakes', part: 'brake-axle-2-left', outcome: 'good' }],
        odometer: miles(trailerOn('2024-07-30')),
        note: 'Axle 2 left',
      },
    },
    '2024-07-31',
  );

  book.write('Otis', CLUSTER.on, {
    kind: 'adjust',
    body: {
      what: 'odometer',
      vehicle: 'tow',
      was: miles(CLUSTER_WAS),
      now: miles(CLUSTER.now),
      reason: 'Instrument cluster replaced by the workshop; the new one started at 12 mi',
    },
  });
  book.write('Otis', '2024-02-10', {
    kind: 'reading',
    body: { vehicle: 'tow', what: 'odometer', value: miles(towOn('2024-02-10')) },
  });

  book.write('Otis', '2022-05-14', {
    kind: 'remove',
    body: {
      part: 'sway-bar',
      reason: 'The weight distribution hitch holds sway by itself; two devices work against each other',
      odometer: miles(trailerOn('2022-05-14')),
    },
  });

  const called = journeyOf('harvest-2024');
  planTrip(book, called.cancelled!, called, { cancelled: true });
  book.write('Nell', '2023-09-21', {
    kind: 'waive',
    body: {
      trip: 'harvest-2023',
      finding: 'upkeep/renew-lp-alarm@lp-alarm',
      reason: 'Cylinders stay shut all weekend; we cook on the fire and sleep warm',
    },
  });

  for (const [by, outcome, note] of [
    ['Nell', 'good', 'All four turn free'],
    ['Otis', 'failed', 'Axle 2 right drags when it is hot'],
  ] as const) {
    book.write(by, '2025-09-13', {
      kind: 'work',
      body: {
        done: [{ upkeep: 'adjust-brakes', part: 'brake-axle-2-right', outcome }],
        odometer: miles(trailerOn('2025-09-13')),
        note,
      },
    });
  }
  book.write('Otis', '2025-09-18', {
    kind: 'work',
    body: {
      done: programs.brakes.map((part) => ({ upkeep: 'adjust-brakes', part, outcome: 'good' })),
      odometer: miles(trailerOn('2025-09-18')),
      minutes: 80,
      note: 'Backed off axle 2 right by two clicks; cool after ten miles',
    },
  });
}

/** The spare is pumped up every spring but the last. */
export function spare(book: Book): void {
  for (const on of ['2021-04-10', '2022-04-09', '2023-06-10', '2024-04-13', '2025-04-12']) {
    book.write('Otis', on, {
      kind: 'work',
      body: {
        done: [
          {
            upkeep: 'set-spare-pressure',
            part: 'spare',
            outcome: 'good',
            readings: [{ what: 'pressure-cold', value: psi(65) }],
          },
        ],
      },
    });
  }
}

/** The handbook of the axles is stricter on unpaved roads than the usual interval. */
export function ownFigures(book: Book): void {
  book.write('Otis', '2025-07-01', {
    kind: 'set',
    body: {
      key: 'override/repack-bearings',
      value: {
        upkeep: 'repack-bearings',
        clock: 'miles',
        every: { value: 8000, unit: 'mi' },
        source: 'Handbook of our axles, page 14: unpaved roads',
      },
      note: 'After the weeping seal',
    },
  });
  book.write('Nell', '2026-03-15', {
    kind: 'set',
    body: { key: 'day/2026-06-06', value: { hours: 0 }, note: 'A wedding' },
  });
}
