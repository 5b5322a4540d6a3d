import fc from 'fast-check';
import type { Catalog, Clock } from '../../src/catalog/index.ts';
import { addDays, daysBetween } from '../../src/dates/index.ts';
import type { Logbook } from './logbook.ts';
import { departure, miles, months, smallCatalog } from './small-catalog.ts';
import { soundRig, threePasses, tripOf } from './sound-rig.ts';

const clock = (rest: object): Clock => ({ source: 'practice', ...rest }) as Clock;
const wheelOff = clock({
  kind: 'after',
  setups: ['wheel-off'],
  upkeeps: [],
  atMiles: [
    { value: 10, unit: 'mi' },
    { value: 50, unit: 'mi' },
  ],
  atDays: [],
});
const pressure = (staleDays: number): Clock =>
  clock({
    kind: 'limit',
    reading: 'pressure-cold',
    side: 'below',
    limitFact: 'pressureColdMin',
    driftPerMonth: -2.5,
    driftSpread: 1,
    readingError: 1,
    staleDays,
  });

/** One duty of each kind of clock, and one or more under every heading of a send-off. */
export const everyHeading: Catalog = smallCatalog({
  parts: [
    { id: 'lp-cylinder', group: 'LP gas' },
    { id: 'lp-system', group: 'LP gas', per: 'rig', expected: true },
    { id: 'coupler', group: 'hitch and coupling', per: 'rig', expected: true },
    { id: 'hub', per: 'wheel', expected: true },
    { id: 'tire', per: 'wheel', expected: true },
    { id: 'spare-tire', per: 'rig', expected: true },
  ],
  upkeeps: [
    { id: 'repack', part: 'hub', clocks: [miles(12000), months(12)], setups: ['wheel-off'] },
    { id: 'retorque', part: 'wheel-nuts', clocks: [wheelOff], place: 'anywhere', minutes: 12 },
    { id: 'check-nuts', part: 'wheel-nuts', clocks: [departure(7), miles(3000)], place: 'anywhere', minutes: 10 },
    { id: 'check-coupler', part: 'coupler', clocks: [departure(0)], minutes: 2, place: 'anywhere' },
    { id: 'oil-coupler', part: 'coupler', clocks: [months(3)], severity: 'damage' },
    { id: 'set-tire-pressure', part: 'tire', clocks: [pressure(1), departure(1)], place: 'anywhere', minutes: 4 },
    {
      id: 'set-spare-pressure',
      part: 'spare-tire',
      clocks: [pressure(30), departure(30)],
      place: 'anywhere',
      minutes: 4,
    },
    {
      id: 'renew-spare',
      part: 'spare-tire',
      clocks: [clock({ kind: 'age', from: 72, by: 120, countedFrom: 'made', label: 'governs' })],
    },
    {
      id: 'requalify',
      part: 'lp-cylinder',
      clocks: [clock({ kind: 'age', from: 144, by: 144, countedFrom: 'made', label: 'governs' })],
      place: 'shop',
      restores: false,
    },
    { id: 'leak-test', part: 'lp-system', clocks: [clock({ kind: 'season', before: 'first trip' })], restores: false },
    {
      id: 'test-alarm',
      part: 'lp-alarm',
      clocks: [clock({ kind: 'nights', every: 7 }), departure(3)],
      place: 'anywhere',
      minutes: 1,
    },
    { id: 'clean-filter', part: 'air-conditioner', clocks: [months(0.5)], severity: 'comfort', place: 'anywhere' },
    { id: 'look-over', part: 'frame', clocks: [miles(700)], minutes: 20 },
    {
      id: 'renew-insurance',
      part: 'insurance',
      clocks: [clock({ kind: 'age', countedFrom: 'made', label: 'required' })],
    },
    { id: 'crank-by-hand', part: 'tongue-jack', clocks: [months(12)], drill: true },
  ],
  setups: [{ id: 'wheel-off', minutes: 30 }],
  kit: ['crank'],
  mishaps: [{ id: 'jack-dead', parts: ['tongue-jack'], tools: ['crank'] }],
});

/** Each part of the rig, with its kind. */
const PARTS: readonly (readonly [part: string, kind: string, place: string])[] = [
  ['hub-1', 'hub', 'axle 1, left'],
  ['hub-2', 'hub', 'axle 1, right'],
  ['nuts', 'wheel-nuts', ''],
  ['coupler', 'coupler', ''],
  ['tire-1', 'tire', 'axle 1, left'],
  ['tire-2', 'tire', 'axle 1, right'],
  ['tire-3', 'tire', 'axle 2, left'],
  ['tire-4', 'tire', 'axle 2, right'],
  ['spare', 'spare-tire', ''],
  ['cylinder', 'lp-cylinder', ''],
  ['gas', 'lp-system', ''],
  ['alarm', 'lp-alarm', ''],
  ['filter', 'air-conditioner', ''],
  ['frame', 'frame', ''],
  ['insurance', 'insurance', ''],
  ['jack', 'tongue-jack', ''],
];
export const JOBS: readonly (readonly [upkeep: string, part: string])[] = PARTS.flatMap(([part, kind]) =>
  (everyHeading.upkeepsOf.get(kind) ?? []).map((upkeep) => [upkeep.id, part] as const),
);
const tireFacts = {
  size: 'ST225/75R15 D',
  pressureColdMin: { value: 60, unit: 'psi' },
  pressureColdMax: { value: 65, unit: 'psi' },
  loadMax: { value: 2540, unit: 'lb' },
};

export const NOW = '2026-06-10';

/** How one rig came to stand as it does. */
export interface AnyRig {
  /** Days ago that each job was done, or null for never. */
  readonly done: readonly (number | null)[];
  readonly failed: number;
  readonly pressures: readonly { readonly psi: number; readonly daysAgo: number; readonly warm: boolean }[];
  readonly spareYears: number;
  readonly cylinderYears: number;
  readonly insuranceDays: number;
  readonly heavier: number;
  readonly weighedDaysAgo: number;
  readonly milesSince: number;
  readonly leaveIn: number;
  readonly days: number;
  readonly miles: number;
  readonly crank: boolean;
}

const mostlyFresh = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: 0, max: 40 }) },
  { weight: 2, arbitrary: fc.integer({ min: 41, max: 500 }) },
  { weight: 1, arbitrary: fc.constant(null) },
);

export const anyRig: fc.Arbitrary<AnyRig> = fc.record({
  done: fc.array(mostlyFresh, { minLength: JOBS.length, maxLength: JOBS.length }),
  failed: fc.integer({ min: -3 * JOBS.length, max: JOBS.length - 1 }),
  pressures: fc.array(
    fc.record({ psi: fc.integer({ min: 55, max: 70 }), daysAgo: fc.integer({ min: 0, max: 45 }), warm: fc.boolean() }),
    { minLength: 5, maxLength: 5 },
  ),
  spareYears: fc.integer({ min: 1, max: 11 }),
  cylinderYears: fc.integer({ min: 1, max: 13 }),
  insuranceDays: fc.integer({ min: -20, max: 300 }),
  heavier: fc.constantFrom(0, 0, 0, 300, 700),
  weighedDaysAgo: fc.integer({ min: 1, max: 500 }),
  milesSince: fc.integer({ min: 0, max: 3000 }),
  leaveIn: fc.integer({ min: -3, max: 30 }),
  days: fc.integer({ min: 0, max: 16 }),
  miles: fc.integer({ min: 5, max: 1500 }),
  crank: fc.boolean(),
});

/** Part of a rig that the laws vary one at a time. */
export interface Vary {
  readonly milesMore?: number;
  /** Everything good that was done or read, so many days earlier. */
  readonly olderBy?: number;
  /** The trailer's axles heavier by so many pounds. */
  readonly poundsMore?: number;
  /** Every cold pressure lower by so much, in psi; from at most the sidewall's 65. */
  readonly psiLess?: number;
  /** The same gauge figures read in warmer air, in °F: less air. Of readings that say their temperature. */
  readonly warmerBy?: number;
  /** Spare and cylinder made so many years earlier. */
  readonly yearsMore?: number;
  /** Evidence of health left out: the job of this number, a pressure, the weighing or the insurance after them. */
  readonly without?: number;
  /** A job of this number found wrong today. */
  readonly wrong?: number;
}

const TIRES = ['tire-1', 'tire-2', 'tire-3', 'tire-4', 'spare'];
/** How many pieces of evidence `Vary.without` can leave out. */
export const EVIDENCE = JOBS.length + TIRES.length + 2;

/** The logbook of such a rig. */
export function logbookOf(rig: AnyRig, vary: Vary = {}): Logbook {
  const older = vary.olderBy ?? 0;
  const ago = (days: number): string => addDays(NOW, -days - older);
  const start = '2014-06-01';
  let book = soundRig().add('strike', start, { entry: soundRig().last.id, reason: 'Weighed again' });
  book = PARTS.reduce((logbook, [part, kind, place]) => {
    const years = kind === 'spare-tire' ? rig.spareYears : kind === 'lp-cylinder' ? rig.cylinderYears : 0;
    const madeYears = years > 0 ? years + (vary.yearsMore ?? 0) : 0;
    return logbook.add('fit', start, {
      part,
      kind,
      isNew: false,
      ...(place === '' ? {} : { place }),
      ...(madeYears > 0 ? { madeOn: `${2026 - madeYears}-03-01` } : {}),
      ...(kind.endsWith('tire') ? { facts: tireFacts } : {}),
    });
  }, book);
  book = book.add('reading', '2024-01-01', { what: 'odometer', vehicle: 'trailer', value: '60000 mi' });
  rig.done.forEach((daysAgo, i) => {
    const [upkeep, part] = JOBS[i]!;
    const duty = everyHeading.upkeeps.get(upkeep)!;
    if (daysAgo === null || i === vary.without || duty.clocks.some((one) => one.kind === 'age')) return;
    if (duty.clocks.some((one) => one.kind === 'limit')) return;
    if (duty.drill) book = book.add('drill', ago(daysAgo), { upkeep, part, who: 'Ben', outcome: 'good' });
    else book = book.add('work', ago(daysAgo), { done: [{ upkeep, part, outcome: 'good' }] });
  });
  const failed = JOBS[rig.failed];
  if (failed && !everyHeading.upkeeps.get(failed[0])!.drill) {
    book = book.add('work', NOW, { done: [{ upkeep: failed[0], part: failed[1], outcome: 'failed' }] });
  }
  const wrong = JOBS[vary.wrong ?? -1];
  if (wrong && !everyHeading.upkeeps.get(wrong[0])!.drill)
    book = book.add('work', NOW, { done: [{ upkeep: wrong[0], part: wrong[1], outcome: 'failed' }] });
  TIRES.forEach((part, i) => {
    if (vary.without === JOBS.length + i) return;
    const { psi: read, daysAgo, warm } = rig.pressures[i]!;
    const psi = vary.psiLess === undefined ? read : Math.min(read, 65) - vary.psiLess;
    const temperature = warm ? { temperature: `${80 + (vary.warmerBy ?? 0)} degF` } : {};
    const body = { part, what: 'pressure-cold', value: `${psi} psi`, ...temperature };
    book = book.add('reading', ago(daysAgo), body);
  });
  if (vary.without !== EVIDENCE - 1)
    book = book.add('paper', ago(30), { part: 'insurance', goodThrough: addDays(NOW, rig.insuranceDays) });
  if (vary.without !== EVIDENCE - 2)
    book = book.add('weigh', ago(rig.weighedDaysAgo), threePasses(rig.heavier + (vary.poundsMore ?? 0)));
  book = book.add('reading', NOW, { what: 'odometer', vehicle: 'trailer', value: `${60000 + rig.milesSince} mi` });
  if (rig.crank) book = book.add('carry', NOW, { item: 'crank', aboard: true });
  const leave = addDays(NOW, rig.leaveIn);
  const back = addDays(leave, Math.max(rig.days, -rig.leaveIn));
  // Nobody drives more than 2,000 miles a day.
  const miles = Math.min(rig.miles + (vary.milesMore ?? 0), 2000 * (daysBetween(leave, back) + 1));
  return book.add('trip', NOW, tripOf(leave, back, `${miles} mi`));
}
