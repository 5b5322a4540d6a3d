import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../test/support/catalog.ts';
import { demoEntries } from '../../../test/support/demo.ts';
import { admit, type Draft, EMPTY, type Entry, foldEntries, readEntry } from '../index.ts';
import { understand } from './understand.ts';

const catalog = shippedCatalog();
const state = foldEntries(demoEntries());
const today = '2026-06-22';
const about = { state, catalog, today, by: 'Nell' };

function drafts(text: string): readonly Draft[] {
  const read = understand(text, about);
  if (!read.ok) throw new Error(`${text}: ${JSON.stringify(read.problems)}`);
  return read.value.drafts;
}
const body = (text: string): unknown => {
  const all = drafts(text);
  expect(all).toHaveLength(1);
  return all[0]!.body;
};
const codes = (text: string, other: Partial<typeof about> = {}): string[] => {
  const read = understand(text, { ...about, ...other });
  return read.ok ? [`understood: ${read.value.understood}`] : read.problems.map((problem) => problem.code);
};
const problem = (text: string) => {
  const read = understand(text, about);
  if (read.ok) throw new Error(read.value.understood);
  return read.problems[0]!;
};
const psi = (value: number) => ({ value, unit: 'psi' });
const mi = (value: number) => ({ value, unit: 'mi' });
const bothOf = (upkeep: string, prefix: string) =>
  ['left', 'right'].map((side) => ({ upkeep, part: `${prefix}-${side}`, outcome: 'good' }));

describe('readings', () => {
  it('take a part, a figure and the air around it', () => {
    expect(body('spare 41 psi, 12 C')).toEqual({
      part: 'spare',
      what: 'pressure-cold',
      value: psi(41),
      temperature: { value: 12, unit: 'degC' },
    });
    expect(body('Spare is at 2,8 bar and 54 °F')).toMatchObject({
      value: { value: 2.8, unit: 'bar' },
      temperature: { value: 54, unit: 'degF' },
    });
    expect(body('axle 1 left 65.5 psi 18 C')).toMatchObject({ part: 'tire-axle-1-left', value: psi(65.5) });
    expect(body('axle 2 right 63 psi, 61 F, at 860 ft')).toMatchObject({
      part: 'tire-axle-2-right',
      elevation: { value: 860, unit: 'ft' },
    });
  });

  it('share one temperature among several', () => {
    const both = drafts('axle 1 left 65.5 psi, axle 1 right 65 psi, 18 C').map((draft) => draft.body);
    expect(both).toEqual([
      { part: 'tire-axle-1-left', what: 'pressure-cold', value: psi(65.5), temperature: { value: 18, unit: 'degC' } },
      { part: 'tire-axle-1-right', what: 'pressure-cold', value: psi(65), temperature: { value: 18, unit: 'degC' } },
    ]);
    expect(drafts('all tires 65 psi')).toHaveLength(4);
  });

  it('tell a hot hub from the air', () => {
    expect(body('hub axle 2 left 110 F')).toEqual({
      part: 'bearings-axle-2-left',
      what: 'hub-temperature',
      value: { value: 110, unit: 'degF' },
    });
  });

  it('go by the word where two things are read in one unit', () => {
    expect(body('house battery rest 12.6 V')).toMatchObject({ part: 'house-battery', what: 'voltage-rest' });
    expect(codes('house battery 12.6 V')).toEqual(['sentence.ambiguous']);
  });

  it('take fractions: tread is read in 32nds', () => {
    expect(body('tread axle 1 left 6/32 in')).toMatchObject({
      what: 'tread-depth',
      value: { value: 6 / 32, unit: 'in' },
    });
  });

  it.each([
    ['axle 1 65 psi', 'sentence.ambiguous'],
    ['battery 12.6 V', 'sentence.ambiguous'],
    ['spare 41', 'quantity.unit-missing'],
    ['spare 41 psi 39 psi', 'sentence.figure-many'],
    ['coupler 41 psi', 'sentence.ambiguous'],
    ['teapot 41 psi', 'sentence.words-unknown'],
    ['spare 41 psi 12 C 54 F', 'sentence.figure-many'],
  ])('do not guess at “%s”', (text, code) => expect(codes(text)).toEqual([code]));
});

describe('odometers', () => {
  it('are the trailer’s unless the tow vehicle is named', () => {
    expect(body('odometer 64,120.4')).toEqual({ vehicle: 'trailer', what: 'odometer', value: mi(64120.4) });
    expect(body('Biscuit odometer 29,200')).toMatchObject({ vehicle: 'tow', value: mi(29200) });
    expect(body('odometer 103,192 km')).toMatchObject({ value: { value: 103192, unit: 'km' } });
  });

  it.each([
    ['odometer', 'sentence.figure-missing'],
    ['odometer 41 psi', 'quantity.dimension-wrong'],
    ['odometer 64,120 64,121', 'sentence.figure-many'],
    ['marigold biscuit odometer 12', 'sentence.ambiguous'],
    ['neighbour odometer 12', 'sentence.words-unknown'],
  ])('do not guess at “%s”', (text, code) => expect(codes(text)).toEqual([code]));
});

describe('work', () => {
  it('is an upkeep by its verb and its parts by their place', () => {
    expect(body('repacked axle 2 at 64,120')).toEqual({
      done: bothOf('repack-bearings', 'bearings-axle-2'),
      odometer: mi(64120),
    });
    expect(body('repacked axle 2 left at 64,120 mi')).toMatchObject({ done: [{ part: 'bearings-axle-2-left' }] });
    expect(body('tested breakaway')).toEqual({
      done: [{ upkeep: 'test-breakaway', part: 'breakaway-switch', outcome: 'good' }],
    });
    expect(body('torqued wheels at 64,130')).toMatchObject({
      done: [{ upkeep: 'retorque-wheel-nuts', part: 'wheel-nuts' }],
      odometer: mi(64130),
    });
  });

  it('takes readings, minutes and money along', () => {
    expect(body('set spare to 65 psi')).toEqual({
      done: [
        {
          upkeep: 'set-spare-pressure',
          part: 'spare',
          outcome: 'good',
          readings: [{ what: 'pressure-cold', value: psi(65) }],
        },
      ],
    });
    expect(body('adjusted brakes at 64,112.3, 1 h 20 min, $12')).toMatchObject({
      odometer: mi(64112.3),
      minutes: 80,
      cost: 12,
    });
    expect(body('repacked axle 2 left at 64,120, end play 0.003 in')).toMatchObject({
      done: [{ readings: [{ what: 'bearing-end-play', value: { value: 0.003, unit: 'in' } }] }],
    });
  });

  it('joins two deeds into one entry', () => {
    expect(body('adjusted brakes axle 2 and torqued wheels at 64,130')).toEqual({
      done: [
        ...bothOf('adjust-brakes', 'brake-axle-2'),
        { upkeep: 'retorque-wheel-nuts', part: 'wheel-nuts', outcome: 'good' },
      ],
      odometer: mi(64130),
    });
  });

  it('goes on the tow vehicle’s odometer where all of it was done there', () => {
    expect(body('changed engine oil at 29,200')).toEqual({
      done: [{ upkeep: 'change-tow-oil', part: 'engine', outcome: 'good' }],
      odometerTow: mi(29200),
    });
  });

  it('can fail', () => {
    expect(body('tested breakaway, it failed')).toMatchObject({ done: [{ outcome: 'failed' }] });
  });

  it('keeps a stamp', () => {
    expect(body('requalified left cylinder to 2031-05')).toMatchObject({
      done: [{ part: 'cylinder-left', goodThrough: '2031-05' }],
    });
  });

  it('keeps a remark after a dash', () => {
    expect(body('tested breakaway - pin was stiff')).toMatchObject({ note: 'pin was stiff' });
  });

  it.each([
    ['renewed tire axle 1 left', 'sentence.ambiguous'],
    ['changed oil', 'sentence.ambiguous'],
    ['requalified cylinder', 'sentence.ambiguous'],
    ['tested gas', 'sentence.ambiguous'],
    ['leak test good', 'sentence.ambiguous'],
    ['tested the flux capacitor', 'sentence.words-unknown'],
    ['tested generator', 'sentence.words-unknown'],
    ['tested breakaway 41 psi', 'sentence.figure-many'],
  ])('does not guess at “%s”', (text, code) => expect(codes(text)).toEqual([code]));

  it('lists what it could have been', () => {
    expect(problem('changed oil').expected).toContain('change-generator-oil');
    expect(problem('requalified cylinder').expected).toMatch(/tongue, left.*tongue, right/);
    expect(problem('tested generator').expected).toContain('change-generator-oil');
  });
});

describe('drills', () => {
  it('name who practised', () => {
    expect(body('practised jack by hand, 9 min')).toEqual({
      upkeep: 'practise-jack-by-hand',
      part: 'jack',
      who: 'Nell',
      outcome: 'good',
      minutes: 9,
    });
    const nobody = understand('practised jack by hand', { state, catalog, today });
    expect(nobody).toMatchObject({ ok: false, problems: [{ code: 'sentence.who-missing' }] });
  });
});

describe('trips', () => {
  it('end with their miles', () => {
    expect(body('back from palouse, 655 mi')).toEqual({
      trip: 'palouse-2026',
      left: '2026-06-12',
      back: today,
      miles: mi(655),
    });
    expect(body('back from the palouse yesterday, 655 mi, odometer 64,775.4, 9 nights')).toMatchObject({
      back: '2026-06-21',
      odometer: mi(64775.4),
      nights: 9,
    });
  });

  it.each([
    ['back from the moon, 12 mi', 'sentence.trip-unknown'],
    ['back from coast, 1200 mi', 'sentence.trip-unknown'],
    ['back from palouse', 'sentence.figure-missing'],
    ['back from palouse, 655 mi, 12 psi', 'sentence.figure-many'],
  ])('do not guess at “%s”', (text, code) => expect(codes(text)).toEqual([code]));
});

describe('papers', () => {
  it('are good through a day, or the end of a month', () => {
    expect(body('registration to 2027-05-31')).toEqual({ part: 'registration', goodThrough: '2027-05-31' });
    expect(body('insurance paid to 15 Mar 2027, $400')).toEqual({
      part: 'insurance',
      goodThrough: '2027-03-15',
      cost: 400,
    });
    expect(body('registration through 2028-02')).toEqual({ part: 'registration', goodThrough: '2028-02-29' });
  });

  it('are the trailer’s unless the tow vehicle is named', () => {
    expect(body('biscuit registration to 2028-02-28')).toMatchObject({ part: 'registration-tow' });
    const read = understand('registration to 2027-05-31', about);
    expect(read.ok && read.value.understood).toContain('of Marigold (the trailer)');
  });

  it('must be on record', () => expect(codes('inspection to 2027-05-31')).toEqual(['sentence.words-unknown']));
});

describe('kit', () => {
  it('comes aboard and leaves', () => {
    expect(body('bought a seal driver, front locker')).toEqual({
      item: 'seal-driver',
      aboard: true,
      where: 'front locker',
    });
    expect(body('put fuses in the kitchen drawer')).toEqual({ item: 'fuses', aboard: true, where: 'kitchen drawer' });
    expect(body('bought floor jack 60 lb, bed of Biscuit')).toEqual({
      item: 'jack-floor',
      aboard: true,
      where: 'bed of Biscuit',
      weight: { value: 60, unit: 'lb' },
    });
    expect(body('left the torque wrench at home')).toEqual({ item: 'torque-wrench', aboard: false });
  });

  it.each([
    ['bought a socket', 'sentence.ambiguous'],
    ['bought a teapot', 'sentence.item-unknown'],
    ['left the floor jack at home', 'sentence.item-unknown'],
  ])('does not guess at “%s”', (text, code) => expect(codes(text)).toEqual([code]));
});

describe('days', () => {
  it.each([
    ['tested breakaway', '2026-06-22'],
    ['yesterday tested breakaway', '2026-06-21'],
    ['tested breakaway 3 days ago', '2026-06-19'],
    ['on 2026-05-20 tested breakaway', '2026-05-20'],
    ['2026-05-20: tested breakaway', '2026-05-20'],
    ['tested breakaway on 20 May', '2026-05-20'],
    ['tested breakaway on Dec 3', '2025-12-03'],
    ['tested breakaway on May 20, 2024', '2024-05-20'],
    ['tested breakaway on saturday', '2026-06-20'],
    ['tested breakaway last monday', '2026-06-15'],
  ])('“%s” is of %s', (text, on) => expect(drafts(text)[0]!.on).toBe(on));

  it('are real, and one at a time', () => {
    expect(codes('on 2026-02-30 tested breakaway')).toEqual(['date.impossible']);
    expect(codes('yesterday on 2026-05-02 tested breakaway')).toEqual(['sentence.days']);
  });
});

it.each(['', '   '])('an empty sentence says so', (text) => expect(codes(text)).toEqual(['sentence.empty']));
it.each(['hello', 'spare soft', '65 psi', 'all fine'])('“%s” says nothing', (text) =>
  expect(codes(text)).toEqual(['sentence.nothing']),
);
it('an empty logbook knows no part', () =>
  expect(codes('spare 41 psi', { state: EMPTY })).toEqual(['sentence.words-unknown']));

it('says in words what will be written', () => {
  const read = understand('repacked axle 2 at 64,120', about);
  expect(read.ok && read.value.understood).toBe(
    'Done on Mon 22 Jun 2026, at 64,120.0 mi: Clean, inspect and repack the bearings: wheel bearings, greased at axle 2, left; wheel bearings, greased at axle 2, right.',
  );
});

it('whatever is understood is an entry that the logbook admits', () => {
  const texts = [
    'spare 41 psi, 12 C',
    'repacked axle 2 at 64,120.4',
    'odometer 64,775.4',
    'tested breakaway',
    'back from palouse, 655 mi, odometer 64,775.4',
    'registration to 2027-05-31',
    'bought a seal driver, front locker',
    'practised jack by hand',
  ];
  texts.flatMap(drafts).forEach((draft, index) => {
    const raw = {
      id: `01JZZZZZZZZZZZZZZZZZZZZZ${10 + index}`,
      rig: 'marigold',
      at: `${today}T18:00:00Z`,
      by: 'Nell',
      v: 1,
      ...draft,
    };
    const read = readEntry(raw, 'sentence');
    expect(read).toMatchObject({ ok: true });
    expect(admit(state, (read as { value: Entry }).value, { catalog, today })).toEqual([]);
  });
});
