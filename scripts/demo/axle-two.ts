/** How axle 2 came to run out on the way to the Palouse: the summer of 2025 and the spring of 2026, up to 24 May. */
import { type Book, miles, psi, q } from './book.ts';
import { journeyOf, LAST, REPACK_AXLE_2, towOn, trailerOn } from './journeys.ts';
import * as programs from './programs.ts';
import { followUps, make, opening, papers, planTrip, planTrips, weigh, work } from './seasons.ts';

/** June 2025: grease on a wheel. Both hubs of axle 2 repacked, and a shorter interval from then on. */
export function weepingSeal(book: Book): void {
  book.write('Otis', REPACK_AXLE_2.on, {
    kind: 'work',
    body: {
      done: programs.hubs(2).flatMap(([upkeep, parts]) =>
        parts.map((part) => ({
          upkeep,
          part,
          outcome: 'good',
          ...(upkeep === 'inspect-linings' ? { readings: [{ what: 'lining-thickness', value: q(0.13, 'in') }] } : {}),
        })),
      ),
      odometer: miles(REPACK_AXLE_2.miles),
      minutes: 165,
      cost: 38,
      note: 'Seal of axle 2 right was weeping. A borrowed seal driver: we have none',
    },
  });
  followUps(book, '2025-07-04', REPACK_AXLE_2.miles, programs.onAxle('bearings', 2));
}

/** The spring of 2026, up to 24 May. Axle 2 was left for later: its seals had not come. */
export function springOf2026(book: Book): void {
  papers(book, 2026);
  planTrips(book, '2026-02-08', 2026, ['blues-2026', 'lakes-2026']);
  planTrip(book, '2026-03-15', journeyOf('blues-2026'));
  planTrip(book, '2026-03-15', journeyOf('lakes-2026'));
  book.write('Otis', '2026-02-15', {
    kind: 'reading',
    body: { part: 'house-battery', what: 'voltage-rest', value: q(12.6, 'V'), temperature: q(38, 'degF') },
  });
  opening(book, 2026, [1]);
  work(
    book,
    'Otis',
    '2026-04-18',
    [
      ['feel-bearings', programs.onAxle('bearings', 2)],
      ['measure-brake-current', programs.brakes],
      ['inspect-wheel', programs.onAxle('wheel', 2)],
    ],
    { minutes: 45, note: 'Axle 2 is quiet. Its seals have not come: repack later' },
  );
  work(book, 'Otis', '2026-04-25', programs.oil, { minutes: 50, cost: 61, of: 'tow' });
  make(book, journeyOf('shakedown-2026'), 'look');
  followUps(book, '2026-05-01', trailerOn('2026-04-18'), programs.onAxle('bearings', 1));
  weigh(book, '2026-05-03', 0);
  make(book, journeyOf('gorge-2026'), 'look');
  work(
    book,
    'Otis',
    LAST.on,
    [
      ['inspect-studs', ['wheel-nuts']],
      ['inspect-wheel', programs.onAxle('wheel', 1)],
    ],
    { minutes: 75, note: 'Wheels of axle 1 off; studs cleaned, torqued to 110 lb-ft' },
  );
  work(
    book,
    'Nell',
    LAST.on,
    [
      ['test-gfci', ['gfci']],
      ['top-up-battery', ['house-battery']],
      ['run-slides', ['slide']],
      ['look-over-extinguisher', ['extinguisher']],
      ['exercise-generator', ['generator']],
      ['keep-battery-charged', ['house-battery']],
      ['inspect-lp-cylinder', ['cylinder-left', 'cylinder-right']],
      ['check-handbooks-aboard', ['registration', 'registration-tow']],
      ['walk-round-in-storage', ['stored']],
      ['inspect-shore-cord', ['shore-cord']],
    ],
    { minutes: 60 },
  );
  book.write('Nell', LAST.on, {
    kind: 'reading',
    body: { part: 'house-battery', what: 'voltage-rest', value: q(12.7, 'V'), temperature: q(58, 'degF') },
  });
  const cold = { temperature: q(61, 'degF'), elevation: q(860, 'ft') };
  for (const [part, value] of [
    ['tire-axle-1-left', 65.5],
    ['tire-axle-1-right', 65],
    ['tire-axle-2-left', 64],
    ['tire-axle-2-right', 63.5],
    ['spare', 38],
  ] as const) {
    book.write('Otis', '2026-05-24', {
      kind: 'reading',
      body: { part, what: 'pressure-cold', value: psi(value), ...cold },
    });
  }
  book.write('Otis', '2026-05-24', {
    kind: 'reading',
    body: { vehicle: 'tow', what: 'odometer', value: miles(towOn('2026-05-24')) },
  });
}
