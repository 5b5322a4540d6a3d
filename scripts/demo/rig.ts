/** The first days: the two vehicles, every part found on them, what is aboard, and the owners' own figures. */
import { type Book, lb, miles, psi, q, type Writer } from './book.ts';
import { START } from './journeys.ts';

export const WHEELS = ['axle-1-left', 'axle-1-right', 'axle-2-left', 'axle-2-right'] as const;
export const AXLES = ['axle-1', 'axle-2'] as const;
export const TOW_WHEELS = [
  'tow-tire-front-left',
  'tow-tire-front-right',
  'tow-tire-rear-left',
  'tow-tire-rear-right',
] as const;
export type Wheel = (typeof WHEELS)[number];

const placeOf = (wheel: Wheel): string => wheel.replace(/^axle-(\d)-/, 'axle $1, ');
const label = (value: number, origin: string) => ({ value: lb(value), origin });

export function enrol(book: Book): void {
  const certification = 'certification label';
  book.write('Nell', START.on, {
    kind: 'enroll',
    body: {
      vehicle: 'trailer',
      name: 'Marigold',
      year: 2014,
      axles: 2,
      suspension: 'leaf',
      brakes: 'electric',
      ratings: {
        gvwr: label(8200, certification),
        gawrAxle: label(4400, certification),
        coupler: label(10_000, 'stamp on the coupler'),
        chains: label(10_000, 'tag on the chains'),
      },
      dimensions: { ballToAxles: q(15.5, 'ft') },
      home: { place: 'Okanogan valley', elevation: q(860, 'ft') },
    },
  });
  book.write('Nell', START.on, {
    kind: 'enroll',
    body: {
      vehicle: 'tow',
      name: 'Biscuit',
      year: 2018,
      axles: 2,
      ratings: {
        gvwr: label(7200, certification),
        gcwr: label(15_300, 'handbook'),
        payload: label(1640, 'tire and loading placard'),
        gawrFront: label(3750, certification),
        gawrRear: label(4150, certification),
        receiver: label(10_000, 'receiver sticker'),
        receiverTongue: label(1000, 'receiver sticker'),
        ball: label(12_000, 'stamp on the ball'),
      },
      dimensions: { wheelbase: q(145, 'in'), overhang: q(65, 'in') },
    },
  });
  book.write('Nell', START.on, {
    kind: 'reading',
    body: { vehicle: 'trailer', what: 'odometer', value: miles(START.miles), note: 'Hub odometer, axle 1 left' },
  });
  book.write('Nell', START.on, {
    kind: 'reading',
    body: { vehicle: 'tow', what: 'odometer', value: miles(START.tow) },
  });
}

type Found = readonly [part: string, kind: string, place: string, more?: object];

const perWheel: readonly Found[] = WHEELS.flatMap((wheel): Found[] => [
  [
    `wheel-${wheel}`,
    'wheel',
    placeOf(wheel),
    { facts: { material: 'steel', loadMax: lb(2600), pressureMax: psi(65) } },
  ],
  [`bearings-${wheel}`, 'wheel-bearings', placeOf(wheel)],
  [`brake-${wheel}`, 'drum-brake', placeOf(wheel), { facts: { drumDiameter: q(10, 'in') } }],
]);

const perAxle: readonly Found[] = AXLES.flatMap((axle): Found[] => {
  const place = axle.replace('-', ' ');
  return [
    [axle, 'axle', place, { facts: { capacity: lb(4400) } }],
    [`springs-${axle}`, 'leaf-springs', place],
  ];
});

const towTires: readonly Found[] = TOW_WHEELS.map(
  (part): Found => [
    part,
    'tow-tire',
    part.replace(/^tow-tire-(\w+)-(\w+)$/, '$1 $2 of Biscuit'),
    { madeOn: '2020-11', facts: { pressureColdMin: psi(44), pressureColdMax: psi(51) } },
  ],
);

const found: readonly Found[] = [
  ...perWheel,
  ...perAxle,
  ...towTires,
  ['wheel-nuts', 'wheel-nuts', 'all wheels', { facts: { torque: q(110, 'lb-ft'), socket: '13/16 in' } }],
  [
    'spare',
    'spare-tire',
    'rear bumper',
    {
      madeOn: '2014-03',
      code: '1014',
      facts: { size: 'ST225/75R15', loadMax: lb(2540), pressureColdMin: psi(65) },
    },
  ],
  ['frame', 'frame', 'whole trailer'],
  ['stabilizers', 'stabilizers', 'four corners'],
  ['brake-wiring', 'brake-wiring', 'underside'],
  ['breakaway-switch', 'breakaway-switch', 'tongue'],
  ['breakaway-battery', 'breakaway-battery', 'tongue, left', { madeOn: '2019-05' }],
  [
    'jack',
    'tongue-jack',
    'tongue',
    {
      facts: {
        fuse: '30 A, in the battery box',
        override: '3/4 in shaft under the rubber plug on top',
        manualDrive: 'Plug in the top',
        key: 'None needed',
        crank: '3/4 in hex socket, no cross pin',
      },
    },
  ],
  ['coupler', 'coupler', 'tongue'],
  ['chains', 'safety-chains', 'tongue', { facts: { breakingStrength: lb(10_000) } }],
  ['lights', 'trailer-lights', 'all round'],
  ['connector', 'seven-way-connector', 'tongue'],
  ['cylinder-left', 'lp-cylinder', 'tongue, left', { madeOn: '2012-05', facts: { size: lb(20), emptyWeight: lb(17) } }],
  [
    'cylinder-right',
    'lp-cylinder',
    'tongue, right',
    { madeOn: '2012-05', facts: { size: lb(20), emptyWeight: lb(17.2) } },
  ],
  ['lp-system', 'lp-system', 'whole trailer'],
  ['regulator', 'lp-regulator', 'tongue', { madeOn: '2014-02' }],
  ['lp-hoses', 'lp-hoses', 'tongue', { madeOn: '2014-02' }],
  ['lp-alarm', 'lp-alarm', 'kitchen, by the floor', { note: 'Screwed down; nobody has looked at its back yet' }],
  ['co-alarm', 'co-alarm', 'bedroom', { madeOn: '2016-11' }],
  ['smoke-alarm', 'smoke-alarm', 'hall, ceiling', { madeOn: '2014-01' }],
  ['extinguisher', 'fire-extinguisher', 'by the door', { madeOn: '2014-03' }],
  ['escape-window', 'escape-window', 'bedroom'],
  ['emergency-kit', 'emergency-kit', 'by the door'],
  ['chocks', 'chocks', 'front locker, left', { goodThrough: '2029-12' }],
  ['house-battery', 'house-battery', 'tongue box', { madeOn: '2016-04', facts: { capacity: q(100, 'Ah') } }],
  ['converter', 'converter', 'under the bed'],
  ['dc-distribution', 'dc-distribution', 'under the bed'],
  ['shore-cord', 'shore-cord', 'rear locker'],
  ['gfci', 'gfci', 'bathroom'],
  ['panel', 'ac-panel', 'under the bed'],
  ['fresh-water', 'fresh-water-system', 'under the dinette', { facts: { tank: q(42, 'gal') } }],
  ['water-hose', 'water-hose', 'rear locker'],
  ['pump', 'water-pump', 'under the dinette'],
  ['water-heater', 'water-heater', 'right side'],
  ['anode', 'water-heater-anode', 'right side'],
  ['waste', 'waste-system', 'underside'],
  ['toilet', 'toilet', 'bathroom'],
  ['furnace', 'furnace', 'under the wardrobe'],
  ['refrigerator', 'refrigerator-absorption', 'kitchen'],
  ['air-conditioner', 'air-conditioner', 'roof'],
  ['cooktop', 'cooktop', 'kitchen'],
  ['roof', 'roof', 'roof', { facts: { membrane: 'rubber', sealant: 'self-leveling' } }],
  ['body', 'body', 'whole trailer'],
  ['body-seals', 'body-seals', 'all round'],
  ['windows', 'windows', 'all round'],
  ['locks', 'locks-and-hinges', 'all round'],
  ['steps', 'entry-steps', 'right side'],
  ['door', 'entry-door', 'right side'],
  ['slide', 'slide-out', 'left side', { facts: { override: '3/4 in hex behind the bed', breaker: '30 A' } }],
  ['slide-seals', 'slide-seals', 'left side'],
  ['awning', 'awning', 'right side'],
  ['registration', 'registration', 'glove box of Biscuit', { vehicle: 'trailer', goodThrough: '2021-05-31' }],
  ['registration-tow', 'registration', 'glove box of Biscuit', { vehicle: 'tow', goodThrough: '2027-02-28' }],
  ['insurance', 'insurance', 'glove box of Biscuit', { vehicle: 'trailer', goodThrough: '2022-03-15' }],
  ['weights', 'rig-weights', 'whole rig'],
  ['recalls', 'recalls', 'whole rig'],
  ['stored', 'stored-rig', 'driveway'],
  ['generator', 'generator', 'bed of Biscuit', { madeOn: '2018' }],
  ['controller', 'brake-controller', 'dash of Biscuit', { facts: { gain: '6.5' } }],
  ['ball', 'hitch-ball', 'receiver of Biscuit', { facts: { diameter: q(2.3125, 'in'), nutTorque: q(430, 'lb-ft') } }],
  [
    'hitch',
    'weight-distribution-hitch',
    'receiver of Biscuit',
    { facts: { barRating: lb(1000), setting: 'seventh link' } },
  ],
  ['sway-bar', 'sway-friction-bar', 'receiver of Biscuit'],
  ['receiver', 'tow-receiver', 'Biscuit'],
  ['engine', 'tow-engine', 'Biscuit'],
  ['transmission', 'tow-transmission', 'Biscuit'],
  ['cooling', 'tow-cooling', 'Biscuit'],
  ['differential', 'tow-differential', 'Biscuit'],
  ['tow-brakes', 'tow-brakes', 'Biscuit'],
  ['mirrors', 'tow-mirrors', 'Biscuit'],
  ['tow-battery', 'tow-battery', 'Biscuit'],
  [
    'tow-wheel-nuts',
    'tow-wheel-nuts',
    'all wheels of Biscuit',
    { facts: { torque: q(135, 'lb-ft'), socket: '21 mm' } },
  ],
  ['vents', 'vent-fan', 'roof'],
  ['antenna', 'antenna', 'roof'],
  ['tow-wiring', 'tow-wiring', 'Biscuit'],
];

export function fitFound(book: Book): void {
  for (const [part, kind, place, more] of found) {
    book.write('Nell', START.on, { kind: 'fit', body: { part, kind, place, isNew: false, ...more } });
  }
}

/** Four new tires before the first season; the spare stayed. */
export function fitTires(book: Book, on: string): void {
  for (const wheel of WHEELS) {
    book.write('Otis', on, {
      kind: 'fit',
      body: {
        part: `tire-${wheel}`,
        kind: 'tire',
        place: placeOf(wheel),
        isNew: true,
        madeOn: '2021-02-14',
        code: '0721',
        facts: { size: 'ST225/75R15', loadMax: lb(2540), pressureColdMin: psi(60), pressureColdMax: psi(65) },
        odometer: miles(START.miles),
        cost: 118,
        note: 'No speed symbol after the load index',
      },
    });
  }
}

const FRONT = 'front locker, left';
const RED = 'front locker, left, red roll';
const BED = 'bed of Biscuit';
const KITCHEN = 'kitchen drawer';

/** Item, place, weight in pounds, vehicle, and the year it came aboard. No seal driver: whoever needs one finds out. */
const kit: readonly (readonly [
  item: string,
  where: string,
  weight: number,
  vehicle: 'trailer' | 'tow',
  year: number,
])[] = [
  ['jack-bottle', FRONT, 14, 'trailer', 2021],
  ['wheel-chocks', FRONT, 8, 'trailer', 2021],
  ['blocks-wood', FRONT, 14, 'trailer', 2021],
  ['breaker-bar', BED, 4, 'tow', 2021],
  ['socket-wheel-nut', BED, 1, 'tow', 2021],
  ['torque-wrench', BED, 4, 'tow', 2021],
  ['tire-gauge', 'glove box of Biscuit', 0.5, 'tow', 2021],
  ['crank-jack', RED, 2, 'trailer', 2021],
  ['hex-keys', RED, 0.5, 'trailer', 2021],
  ['spare-wheel', 'rear bumper', 55, 'trailer', 2021],
  ['headlamp', 'by the door', 1, 'trailer', 2021],
  ['fuses', KITCHEN, 0.5, 'trailer', 2021],
  ['first-aid-kit', 'by the door', 2, 'trailer', 2021],
  ['extinguisher', 'by the door', 5, 'trailer', 2021],
  ['papers-folder', 'glove box of Biscuit', 2, 'tow', 2021],
  ['triangles', BED, 5, 'tow', 2021],
  ['multimeter', RED, 1, 'trailer', 2021],
  ['pliers', RED, 2, 'trailer', 2021],
  ['screwdrivers', RED, 2, 'trailer', 2021],
  ['lap-sealant', FRONT, 1, 'trailer', 2021],
  ['compressor', BED, 8, 'tow', 2022],
  ['leak-solution', KITCHEN, 0.5, 'trailer', 2022],
  ['vest', 'glove box of Biscuit', 0.5, 'tow', 2022],
  ['seven-way-tester', RED, 0.5, 'trailer', 2022],
  ['bearing-grease', FRONT, 1, 'trailer', 2022],
  ['jack-stands', FRONT, 13, 'trailer', 2022],
  ['crank-slide', RED, 2, 'trailer', 2023],
  ['brake-spoon', RED, 0.5, 'trailer', 2023],
  ['thermometer-infrared', 'glove box of Biscuit', 0.5, 'tow', 2023],
  ['manometer', RED, 1, 'trailer', 2023],
  ['bearing-set', FRONT, 3, 'trailer', 2024],
  ['wire-repair', RED, 2, 'trailer', 2024],
  ['gloves-work', RED, 0.3, 'trailer', 2021],
  ['wrench-set', RED, 6, 'trailer', 2021],
  ['wrench-adjustable', RED, 2, 'trailer', 2021],
  ['hammer', RED, 2.5, 'trailer', 2021],
  ['bucket', 'shower', 2, 'trailer', 2021],
  ['drinking-water', BED, 17, 'tow', 2021],
  ['valve-core-tool', 'glove box of Biscuit', 0.1, 'tow', 2022],
  ['valve-parts', 'glove box of Biscuit', 0.1, 'tow', 2022],
  ['tire-plug-kit', BED, 1, 'tow', 2022],
  ['spray-bottle', KITCHEN, 0.3, 'trailer', 2022],
  ['goggles', RED, 0.2, 'trailer', 2022],
  ['wire-brush', RED, 0.5, 'trailer', 2023],
  ['contact-cleaner', RED, 1, 'trailer', 2023],
  ['contact-brush', RED, 0.2, 'trailer', 2023],
  ['penetrating-oil', RED, 1, 'trailer', 2023],
  ['bulbs', KITCHEN, 0.5, 'trailer', 2024],
  ['hitch-pins', BED, 1, 'tow', 2024],
  ['alarm-spare-cells', KITCHEN, 0.3, 'trailer', 2024],
  ['jump-pack', BED, 3, 'tow', 2024],
  ['breakaway-pin', KITCHEN, 0.3, 'trailer', 2025],
  ['straps-ratchet', BED, 3, 'tow', 2025],
  ['pipe-couplers', KITCHEN, 1, 'trailer', 2025],
  ['thread-tape', KITCHEN, 0.3, 'trailer', 2025],
  ['drill-cordless', BED, 4, 'tow', 2025],
  ['wheel-nuts-spare', BED, 1, 'tow', 2025],
];

/** What came aboard that year. */
export function stow(book: Book, on: string): void {
  const year = Number(on.slice(0, 4));
  for (const [item, where, weight, vehicle] of kit.filter((one) => one[4] === year)) {
    book.write('Otis', on, { kind: 'carry', body: { item, aboard: true, where, weight: lb(weight), vehicle } });
  }
}

/** The owners' own figures. */
export function settle(book: Book, on: string): void {
  const set = (by: Writer, key: string, value: unknown, note?: string): unknown =>
    book.write(by, on, { kind: 'set', body: { key, value, ...(note ? { note } : {}) } });
  set('Nell', 'units', 'us');
  set('Nell', 'free-days', { weekdays: [6, 0], hours: 8 });
  set('Nell', 'hourly-value', 22);
  set('Nell', 'day-cost', 30);
  set('Nell', 'appetite', 'fewest afternoons');
  set('Otis', 'first-freeze', '10-12', 'The earliest we have seen in the yard');
  set(
    'Otis',
    'fact/jacking-point',
    'Frame rail, a hand behind the rear spring hanger; never the axle tube',
    'Maker’s handbook, page 61',
  );
  set('Otis', 'fact/tongue-share', '10 to 15 %', 'Handbook of Biscuit, page 233, and Marigold’s, page 12');
  set('Otis', 'fact/absent-inspection', 'none', 'Our state asks for none');
  set('Otis', 'fact/absent-tow-spare', 'none', 'Biscuit came with a sealant kit; the roadside cover tows both');
  set('Otis', 'fact/wheel-nut-torque', 110, 'Maker’s handbook, page 58: lb-ft, in three rounds');
}
