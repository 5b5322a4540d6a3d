import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { demoEntries } from '../../test/support/demo.ts';
import { mi, Pen, psi } from '../../test/support/rig.ts';
import { rangeOfFact, rangeOfReading } from '../catalog/index.ts';
import { convert, dimensionOf, parseQuantity, type Quantity, unitIds } from '../quantity/index.ts';
import { admit, EMPTY, type EntryKind, type EntryOf, foldEntries, judgeBy } from './index.ts';

const catalog = shippedCatalog();
const TODAY = '2026-06-12';
const runs = { seed: 20260612, numRuns: 300 };

const problems = <K extends EntryKind>(kind: K, body: EntryOf<K>['body']) =>
  admit(EMPTY, new Pen().write(kind, TODAY, body), { catalog, today: TODAY }).filter(
    ({ code }) => code === 'logbook.bounds',
  );
/** The fields that are refused. */
const refused = <K extends EntryKind>(kind: K, body: EntryOf<K>['body']): string[] =>
  problems(kind, body).map(({ where }) => where!.slice(`${kind} of ${TODAY}: `.length));

const reading = (what: string, value: unknown) => ({ part: 'spare', what, value }) as EntryOf<'reading'>['body'];
const fitting = (kind: string, facts: Record<string, unknown>) =>
  ({ part: 'x', kind, isNew: false, facts }) as EntryOf<'fit'>['body'];

describe('readings', () => {
  it.each([
    [psi(65), true],
    [psi(0), true],
    [{ value: 450, unit: 'kPa' }, true],
    [psi(-41), false],
    [psi(4.1e8), false],
    [psi(1e308), false],
    [{ value: 1e308, unit: 'kPa' }, false],
    [{ value: 60, unit: 'ft' }, false],
    [{ value: 60, unit: 'degF' }, false],
    [psi(650), false],
  ])('a cold pressure of %j: %s', (value, good) => {
    expect(refused('reading', reading('pressure-cold', value))).toEqual(good ? [] : ['value']);
    const work = {
      upkeep: 'set-tire-pressure',
      part: 'spare',
      outcome: 'good',
      readings: [{ what: 'pressure-cold', value }],
    };
    expect(refused('work', { done: [work] } as EntryOf<'work'>['body'])).toEqual(
      good ? [] : ['done.0.readings.0.value'],
    );
  });

  it('that the catalog does not know are held to what anything can be', () => {
    expect(refused('reading', reading('odd-thing', psi(120)))).toEqual([]);
    expect(refused('reading', reading('odd-thing', psi(-41)))).toEqual(['value']);
    expect(refused('reading', reading('odd-thing', psi(-10)))).toEqual([]);
    expect(refused('reading', reading('odd-thing', { value: -1, unit: 'lb' }))).toEqual(['value']);
    expect(refused('reading', reading('odd-thing', { value: -1, unit: 'in' }))).toEqual([]);
    expect(refused('reading', reading('odd-thing', { value: 1e300, unit: 'in' }))).toEqual(['value']);
  });

  it('names entry, field, what was read and what would have been right', () => {
    expect(problems('reading', reading('pressure-cold', { value: 60, unit: 'ft' }))).toEqual([
      {
        code: 'logbook.bounds',
        where: 'reading of 2026-06-12: value',
        what: '60 ft is length',
        expected: 'pressure of 0 to 150 psi, such as 65 psi',
      },
    ]);
    expect(problems('reading', reading('pressure-cold', { value: 4500, unit: 'kPa' }))[0]).toMatchObject({
      what: '4,500 kPa cannot be right',
      expected: '0 to 1,034 kPa, such as 448 kPa',
    });
  });
});

describe('every reading and every measured fact of the catalog', () => {
  const whats = [...catalog.upkeeps.values()].flatMap((one) => one.readings.map(({ what }) => what));
  const facts = [...catalog.partKinds.values()].flatMap((kind) =>
    Object.keys(kind.factUnits ?? {}).map((fact) => [kind.id, fact] as const),
  );
  type Written = {
    readonly range: NonNullable<ReturnType<typeof rangeOfReading>>;
    refused(value: unknown): string[];
    said(value: unknown): string;
  };
  const all: Written[] = [
    ...whats.map((what) => ({
      range: rangeOfReading(catalog, what)!,
      refused: (value: unknown) => refused('reading', reading(what, value)),
      said: (value: unknown) => problems('reading', reading(what, value))[0]!.expected!,
    })),
    ...facts.map(([kind, fact]) => ({
      range: rangeOfFact(catalog, kind, fact)!,
      refused: (value: unknown) => refused('fit', fitting(kind, { [fact]: value })),
      said: (value: unknown) => problems('fit', fitting(kind, { [fact]: value }))[0]!.expected!,
    })),
  ];

  it('takes its usual value, refuses another dimension and what is far outside, and says an example that works', () => {
    expect(all.length).toBeGreaterThan(50);
    for (const { range, refused, said } of all) {
      expect(refused(range.such)).toEqual([]);
      const { unit } = range.range;
      for (const value of [1e308, -1e308, range.range.most * 1.01 + 1, range.range.least - 1])
        expect(refused({ value, unit }), `${value} ${unit}`).toHaveLength(1);
      const other = unitIds.find((id) => dimensionOf(id) !== dimensionOf(unit))!;
      expect(refused({ value: range.such.value, unit: other })).toHaveLength(1);
      const example = said({ value: 1e308, unit }).split('such as ')[1]!;
      const read = parseQuantity(example, dimensionOf(unit));
      expect(read.ok && refused(read.value)).toEqual([]);
    }
  });

  it('in any unit alike', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...all),
        fc.nat(),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (one, pick, share) => {
          const { least, most, unit } = one.range.range;
          const units = unitIds.filter((id) => dimensionOf(id) === dimensionOf(unit));
          const inside: Quantity = { value: least + share * (most - least), unit };
          const beyond: Quantity = { value: most + share * (most - least) + 0.001, unit };
          expect(one.refused(convert(inside, units[pick % units.length]!))).toEqual([]);
          expect(one.refused(convert(beyond, units[pick % units.length]!))).toHaveLength(1);
        },
      ),
      runs,
    );
  });
});

describe('facts of parts', () => {
  it.each([
    ['drum-brake', { drumDiameter: { value: 10, unit: 'in' } }, []],
    ['drum-brake', { drumDiameter: '10 in' }, []],
    ['drum-brake', { drumDiameter: '254 mm' }, []],
    ['drum-brake', { drumDiameter: psi(60) }, ['facts.drumDiameter']],
    ['drum-brake', { drumDiameter: '60 psi' }, ['facts.drumDiameter']],
    ['drum-brake', { drumDiameter: 'ten' }, ['facts.drumDiameter']],
    ['drum-brake', { drumDiameter: 10 }, ['facts.drumDiameter']],
    ['drum-brake', { magnet: 'K71-104' }, []],
    ['tire', { pressureColdMin: '65 psi', size: 'ST205/75R14', speedSymbol: 'M' }, []],
    ['tire', { pressureColdMin: psi(0) }, ['facts.pressureColdMin']],
    ['tire', { loadMax: { value: 28_300, unit: 'lb' } }, ['facts.loadMax']],
    ['no-such-kind', { weight: { value: 1e308, unit: 'lb' } }, ['facts.weight']],
    ['no-such-kind', { weight: { value: 20, unit: 'lb' }, count: 4 }, []],
    ['no-such-kind', { count: 1e300 }, ['facts.count']],
  ])('of a %s: %j', (kind, facts, fields) => expect(refused('fit', fitting(kind, facts))).toEqual(fields));

  it('what is no measure is refused at the door, and harms nothing once it is there', () => {
    const pen = new Pen();
    const words = pen.write('fit', TODAY, fitting('drum-brake', { drumDiameter: 'ten' }));
    const wrong = pen.write('fit', TODAY, fitting('drum-brake', { drumDiameter: '60 psi' }));
    const judge = judgeBy(catalog);
    expect(judge(words)).toBeUndefined();
    expect(judge(wrong)).toMatchObject({ releasable: false });
  });
});

describe('numbers of every kind of entry', () => {
  const lb = (value: number) => ({ value, unit: 'lb' as const });
  const F = (value: number) => ({ value, unit: 'degF' as const });
  const ft = (value: number) => ({ value, unit: 'ft' as const });
  const done = [{ upkeep: 'x', part: 'spare', outcome: 'good' as const }];
  const trip = { trip: 'coast', name: 'Coast', leave: '2026-07-03', return: '2026-07-12', miles: mi(640), chance: 1 };
  const made = { trip: 'coast', left: '2026-05-01', back: '2026-05-04', miles: mi(200) };
  const label = (value: number) => ({ value: lb(value), origin: 'label' });
  it.each([
    ['enroll', { vehicle: 'trailer', name: 'T', ratings: { gvwr: label(7000), receiver: label(80_000) } }, []],
    [
      'enroll',
      { vehicle: 'trailer', name: 'T', ratings: { gvwr: label(80_001), payload: label(-1) } },
      ['ratings.gvwr.value', 'ratings.payload.value'],
    ],
    [
      'enroll',
      { vehicle: 'tow', name: 'T', dimensions: { wheelbase: ft(12), overhang: ft(0), ballToAxles: ft(76) } },
      ['dimensions.overhang', 'dimensions.ballToAxles'],
    ],
    ['enroll', { vehicle: 'tow', name: 'T', home: { place: 'Home', elevation: ft(29_000) } }, ['home.elevation']],
    ['fit', { part: 'x', kind: 'tire', isNew: true, cost: 180, odometer: mi(64_000) }, []],
    ['fit', { part: 'x', kind: 'tire', isNew: true, cost: 1e7, odometer: mi(1_000_000) }, ['odometer', 'cost']],
    ['remove', { part: 'x', reason: 'worn', odometer: mi(-1) }, ['odometer']],
    ['reading', { vehicle: 'tow', what: 'odometer', value: mi(999_999) }, []],
    ['reading', { vehicle: 'tow', what: 'odometer', value: mi(999_999.9) }, ['value']],
    ['reading', { vehicle: 'tow', what: 'odometer', value: psi(65) }, ['value']],
    [
      'reading',
      { part: 'x', what: 'pressure-cold', value: psi(65), temperature: F(200), elevation: ft(-1600) },
      ['temperature', 'elevation'],
    ],
    ['reading', { part: 'x', what: 'pressure-cold', value: psi(65), temperature: F(-40), elevation: ft(12_000) }, []],
    ['work', { done, minutes: 20_160, cost: 0 }, []],
    ['work', { done, minutes: 20_161, cost: 1_000_001 }, ['minutes', 'cost']],
    ['trip', { ...trip, highest: F(110), lowest: F(-20), greatestHeight: ft(11_000), generatorHours: 20 }, []],
    [
      'trip',
      { ...trip, highest: F(1100), greatestHeight: ft(30_000), generatorHours: 10_001 },
      ['highest', 'greatestHeight', 'generatorHours'],
    ],
    ['trip', { ...trip, lowest: F(-140) }, ['lowest']],
    [
      'trip',
      {
        ...trip,
        stops: [
          { name: 'Ford', mile: mi(0) },
          { name: 'Pass', mile: mi(100_001) },
        ],
      },
      ['stops.1.mile'],
    ],
    [
      'trip-done',
      { ...made, generatorHours: 10_001, odometer: mi(64_000), odometerTow: mi(-1) },
      ['odometerTow', 'generatorHours'],
    ],
    ['weigh', { solo: { front: lb(3140), rear: lb(2900) }, tongue: lb(740), axles: lb(5600), step: lb(20) }, []],
    [
      'weigh',
      {
        hitchedSlack: { front: lb(0), rear: lb(1), axles: lb(90_000) },
        hitchedSet: { front: lb(1), rear: lb(-5), axles: lb(1) },
      },
      ['hitchedSlack.front', 'hitchedSlack.axles', 'hitchedSet.rear'],
    ],
    ['weigh', { tongue: lb(20_001), axles: lb(0), step: lb(0) }, ['tongue', 'axles', 'step']],
    ['carry', { item: 'jack', aboard: true, weight: lb(5000), cost: 3 }, []],
    ['carry', { item: 'jack', aboard: true, weight: lb(5001), cost: 2e6 }, ['weight', 'cost']],
    ['drill', { upkeep: 'x', part: 'spare', who: 'Nell', outcome: 'good', minutes: 30_000 }, ['minutes']],
    ['paper', { part: 'registration', goodThrough: '2027-05-31', cost: 62 }, []],
    ['paper', { part: 'registration', goodThrough: '9999-05-31', cost: 6.2e9 }, ['cost', 'goodThrough']],
    ['adjust', { what: 'odometer', vehicle: 'tow', was: mi(64_000), now: mi(1e9), reason: 'new' }, ['now']],
  ])('%s %#', (kind, body, fields) => {
    expect(refused(kind as EntryKind, body as never).sort()).toEqual([...fields].sort());
  });
});

describe('numbers of settings', () => {
  const override = { upkeep: 'repack-bearings', source: 'me' };
  const own = (clock: object) => ({
    title: 'Oil',
    part: 'tire',
    clocks: [clock],
    minutes: 10,
    failureCost: 5,
    source: 'me',
  });
  it.each([
    ['fact/wheel-nut-torque', 110, []],
    ['fact/wheel-nut-torque', '149 N·m', []],
    ['fact/wheel-nut-torque', '110 on aluminum, 100 on steel', []],
    ['fact/wheel-nut-torque', 1e6, ['value']],
    ['fact/wheel-nut-torque', '110 psi', ['value']],
    ['fact/wheel-nut-torque', -5, ['value']],
    ['hourly-value', 30, []],
    ['hourly-value', 1e300, ['value']],
    ['override/repack-bearings', { ...override, clock: 'miles', every: { value: 6000, unit: 'mi' } }, []],
    ['override/repack-bearings', { ...override, clock: 'miles', every: '6,000 mi' }, []],
    ['override/repack-bearings', { ...override, clock: 'miles', every: '1e300 mi' }, ['value.every', 'value.every']],
    ['override/repack-bearings', { ...override, clock: 'miles', every: { value: 0.5, unit: 'mi' } }, ['value.every']],
    ['override/repack-bearings', { ...override, clock: 'months', every: 12 }, []],
    ['override/repack-bearings', { ...override, clock: 'months', every: 1e-300 }, ['value.every']],
    ['override/repack-bearings', { ...override, clock: 'months', every: 1201 }, ['value.every']],
    ['override/repack-bearings', { ...override, clock: 'age', from: 0.01, by: 72 }, ['value.from']],
    ['override/repack-bearings', { ...override, clock: 'departure', withinDays: 3651 }, ['value.withinDays']],
    ['override/repack-bearings', { ...override, clock: 'after', atMiles: ['50 mi', '500,000 mi'] }, ['value.atMiles']],
    [
      'override/repack-bearings',
      { ...override, clock: 'limit', limit: { value: 1e308, unit: 'psi' } },
      ['value.limit'],
    ],
    ['override/repack-bearings', { ...override, clock: 'constructor', every: 3 }, []],
    ['own-upkeep/oil', own({ kind: 'months', every: 6 }), []],
    ['own-upkeep/oil', own({ kind: 'months', every: 1e-9 }), ['value.clocks.0.every']],
    ['own-upkeep/oil', own({ kind: 'nights', every: 0.2 }), ['value.clocks.0.every']],
    ['own-upkeep/oil', { ...own({ kind: 'months', every: 6 }), minutes: 1e300 }, ['value.minutes']],
  ])('%s %j', (key, value, fields) => expect(refused('set', { key, value } as never)).toEqual(fields));

  it.each(['constructor', 'constructor/x', 'tostring', 'hasownproperty', 'valueof'])('“%s” is no setting', (key) => {
    const codes = admit(EMPTY, new Pen().write('set', TODAY, { key, value: {} }), { catalog, today: TODAY });
    expect(codes.map(({ code }) => code)).toEqual(['logbook.setting-unknown']);
  });
});

it('what owners write passes: five seasons of the demo, at the door and in the fold', () => {
  const entries = demoEntries();
  const found = entries.flatMap((entry) => admit(EMPTY, entry, { catalog, today: '2026-12-31' }));
  expect(found.filter(({ code }) => code === 'logbook.bounds')).toEqual([]);
  expect(foldEntries(entries, undefined, judgeBy(catalog)).aside.size).toBe(0);
});
