import { expect, it } from 'vitest';
import { shippedCatalog } from '../../../../test/support/catalog.ts';
import { demoDesk } from '../../../../test/support/demo.ts';
import { unwrap } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { handbookUpkeeps, handbookView } from './handbook.ts';
import { type OverrideAsk, overrideOf } from './override.ts';
import { type OwnFormId, ownFields, ownSetting } from './own-forms.ts';

const desk = demoDesk();
const keeper = {
  ...{ state: desk.state, shipped: shippedCatalog(), catalog: desk.catalog, today: desk.now, desk: () => desk },
} as unknown as Keeper;
const asked = (more: Partial<OverrideAsk>): OverrideAsk => ({
  ...{ upkeep: 'repack-bearings', figure: 'miles', part: '', value: '6,000', unit: 'mi', source: 'Axle handbook' },
  ...more,
});

it('lists the upkeeps of parts on the rig with what holds without the owner’s word, and what they said', () => {
  const upkeeps = handbookUpkeeps(keeper);
  const { own, problems } = handbookView(keeper);
  expect(problems).toEqual([]);
  expect(own.map(({ key }) => key)).toEqual(['override/repack-bearings']);
  const bearings = upkeeps.find(({ id }) => id === 'repack-bearings')!;
  // The trade's interval stands there, not the demo owner's 8,000 mi.
  expect(bearings.figures.find(({ id }) => id === 'miles')).toMatchObject({
    usual: 'every 12,000 mi',
    units: [{ value: 'mi' }, { value: 'km' }],
  });
  expect(bearings.parts.length).toBeGreaterThan(1);
  for (const upkeep of upkeeps) for (const figure of upkeep.figures) expect(figure.units.length).toBeGreaterThan(0);
});

it('takes the place of the figure that stands already, whatever its key', () => {
  expect(unwrap(overrideOf(keeper, asked({})))).toMatchObject({
    key: 'override/repack-bearings',
    value: { upkeep: 'repack-bearings', clock: 'miles', every: '6,000 mi', source: 'Axle handbook' },
  });
  const one = handbookUpkeeps(keeper).find(({ id }) => id === 'repack-bearings')!.parts[0]!.value;
  expect(unwrap(overrideOf(keeper, asked({ part: one }))).key).toBe(`override/repack-bearings/miles/${one}`);
});

it('asks about a figure far from every source, in the unit it was given in', () => {
  expect(unwrap(overrideOf(keeper, asked({}))).notes).toEqual([]);
  expect(unwrap(overrideOf(keeper, asked({ value: '60000' }))).notes?.[0]).toMatch(/more than/);
  // 12,000 km are 7,456 mi: within what sources say; 1,200 km are not.
  expect(unwrap(overrideOf(keeper, asked({ value: '19312', unit: 'km' }))).notes).toEqual([]);
  expect(unwrap(overrideOf(keeper, asked({ value: '1200', unit: 'km' }))).notes?.[0]).toMatch(/less than/);
});

it('keeps years as months, and a limit with its unit', () => {
  expect(unwrap(overrideOf(keeper, asked({ figure: 'months', value: '2', unit: 'years' }))).value).toMatchObject({
    clock: 'months',
    every: 24,
  });
  const limited = handbookUpkeeps(keeper).find(({ figures }) => figures.some(({ id }) => id === 'limit'))!;
  const { units } = limited.figures.find(({ id }) => id === 'limit')!;
  const made = overrideOf(keeper, asked({ upkeep: limited.id, figure: 'limit', value: '3', unit: units[0]!.value }));
  expect(unwrap(made).value).toMatchObject({ clock: 'limit', limit: `3 ${units[0]!.value}` });
});

it.each<[string, Partial<OverrideAsk>, string]>([
  ['no number', { value: 'often' }, 'handbook.figure'],
  ['nothing', { value: ' ' }, 'handbook.figure'],
  ['zero', { value: '0' }, 'handbook.figure'],
  ['less than nothing', { value: '-3' }, 'handbook.figure'],
  ['two figures where one belongs', { value: '6000 8000' }, 'handbook.figure'],
  ['no source', { source: '  ' }, 'handbook.source'],
  ['an unknown upkeep', { upkeep: 'polish' }, 'handbook.figure'],
  ['a figure it has not', { figure: 'limit' }, 'handbook.figure'],
])('refuses %s', (_name, more, code) => {
  expect(overrideOf(keeper, asked(more))).toMatchObject({ ok: false, problems: [{ code }] });
});

/** What a form of an own figure makes of what is filled in; where its problems are. */
const filled = (id: OwnFormId, values: Readonly<Record<string, string>>) => {
  const made = ownSetting(keeper, id, values);
  return made.ok ? made.value : made.problems.map(({ where }) => where);
};

const OWN = {
  ...{ title: 'Oil the arms', part: 'spare-tire', every: '6', 'every#unit': 'months', severity: 'damage' },
  ...{ minutes: '10', failureCost: '40', source: 'Mine' },
};

it('takes an upkeep of the owner’s own, and says each field that does not fit', () => {
  expect(filled('ownUpkeep', OWN)).toEqual({
    key: 'own-upkeep/oil-the-arms',
    value: {
      title: 'Oil the arms',
      part: 'spare-tire',
      clocks: [{ kind: 'months', every: 6 }],
      severity: 'damage',
      minutes: 10,
      failureCost: 40,
      source: 'Mine',
    },
  });
  const nothing = { title: '', every: 'x', 'every#unit': 'psi', minutes: '0', failureCost: '-1', source: '' };
  expect(filled('ownUpkeep', { ...OWN, ...nothing })).toEqual([
    ...['title', 'every', 'minutes', 'failureCost', 'source', 'every'],
  ]);
  // What the catalog has against it is said too.
  expect(ownSetting(keeper, 'ownUpkeep', { ...OWN, part: 'no-such-kind' })).toMatchObject({ ok: false });
});

it('takes a kind of part that is in no list of ours, and none that is', () => {
  const rack = {
    name: ' Bicycle rack ',
    vehicle: 'trailer',
    per: 'each',
    identify: 'Its rating\n\n Rust at the welds ',
  };
  expect(filled('ownPartKind', rack)).toEqual({
    key: 'own-part-kind/bicycle-rack',
    value: { name: 'Bicycle rack', vehicle: 'trailer', per: 'each', identify: ['Its rating', 'Rust at the welds'] },
  });
  expect(filled('ownPartKind', { ...rack, name: ' ' })).toEqual(['name']);
  expect(ownSetting(keeper, 'ownPartKind', { ...rack, name: 'Spare tire' })).toMatchObject({
    ok: false,
    problems: [{ code: 'catalog.id-duplicate' }],
  });
  expect(ownSetting(keeper, 'ownPartKind', { ...rack, per: 'dozen' })).toMatchObject({ ok: false });
});

it('asks about an upkeep’s figures only when it is chosen, and about their units when one of them is', () => {
  const paths = (chosen: Readonly<Record<string, string>>) =>
    ownFields(keeper, 'override', chosen).map(({ path }) => path);
  expect(paths({})).toEqual(['upkeep']);
  expect(paths({ upkeep: 'repack-bearings' })).toEqual(['upkeep', 'figure', 'value', 'part', 'source']);
  const units = (figure: string) =>
    ownFields(keeper, 'override', { upkeep: 'repack-bearings', figure })
      .find(({ path }) => path === 'value')!
      .units!.map(({ value }) => value);
  expect(units('miles')).toEqual(['mi', 'km']);
  expect(units('minutes')).toEqual(['min']);
});

it('takes the week as usual hours and the days that differ, and says which day does not fit', () => {
  expect(filled('week', { 'hours-3': '1.5', 'hours-6': '8', 'hours-0': '8' })).toEqual({
    key: 'free-days',
    value: { weekdays: [3, 6, 0], hours: 8, hoursOn: { 3: 1.5 } },
  });
  expect(filled('week', { 'hours-3': 'abc', 'hours-5': '25' })).toEqual(['hours-3', 'hours-5']);
  expect(filled('singleDay', { date: desk.now, hours: '0' })).toEqual({ key: `day/${desk.now}`, value: { hours: 0 } });
  expect(filled('singleDay', { date: '2020-01-01', hours: '' })).toEqual(['date', 'hours']);
});

it('takes a speed within what trailer tires are made for, in its unit', () => {
  expect(filled('speed', { speed: '100', 'speed#unit': 'km/h' })).toEqual({
    key: 'speed-max',
    value: { value: 100, unit: 'km/h' },
  });
  expect(filled('speed', { speed: '100', 'speed#unit': 'mph' })).toEqual(['speed']);
});

it('keeps two of one name apart only where they are two', () => {
  expect(filled('call', { name: 'Tow & Go', number: '+1 555 0100' })).toEqual({
    key: 'call/tow-go',
    value: { name: 'Tow & Go', number: '+1 555 0100' },
  });
  expect(filled('call', { name: '', number: 'none' })).toEqual(['name', 'number']);
});
