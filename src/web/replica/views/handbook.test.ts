import { expect, it } from 'vitest';
import { shippedCatalog } from '../../../../test/support/catalog.ts';
import { demoDesk } from '../../../../test/support/demo.ts';
import { unwrap } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { handbookView, type OverrideAsk, overrideOf } from './handbook.ts';
import { ownUpkeepOf } from './own-upkeep.ts';

const desk = demoDesk();
const keeper = { state: desk.state, catalog: shippedCatalog(), today: desk.now, desk: () => desk } as unknown as Keeper;
const asked = (more: Partial<OverrideAsk>): OverrideAsk => ({
  ...{ upkeep: 'repack-bearings', figure: 'miles', part: '', value: '6,000', unit: 'mi', source: 'Axle handbook' },
  ...more,
});

it('lists the upkeeps of parts on the rig with what holds without the owner’s word, and what they said', () => {
  const { upkeeps, own, problems } = handbookView(keeper);
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
  const one = handbookView(keeper).upkeeps.find(({ id }) => id === 'repack-bearings')!.parts[0]!.value;
  expect(unwrap(overrideOf(keeper, asked({ part: one }))).key).toBe(`override/repack-bearings/miles/${one}`);
});

it('asks about a figure far from every source, in the unit it was given in', () => {
  expect(unwrap(overrideOf(keeper, asked({}))).odd).toBe('');
  expect(unwrap(overrideOf(keeper, asked({ value: '60000' }))).odd).toMatch(/more than/);
  // 12,000 km are 7,456 mi: within what sources say; 1,200 km are not.
  expect(unwrap(overrideOf(keeper, asked({ value: '19312', unit: 'km' }))).odd).toBe('');
  expect(unwrap(overrideOf(keeper, asked({ value: '1200', unit: 'km' }))).odd).toMatch(/less than/);
});

it('keeps years as months, and a limit with its unit', () => {
  expect(unwrap(overrideOf(keeper, asked({ figure: 'months', value: '2', unit: 'years' }))).value).toMatchObject({
    clock: 'months',
    every: 24,
  });
  const limited = handbookView(keeper).upkeeps.find(({ figures }) => figures.some(({ id }) => id === 'limit'))!;
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

it('takes an upkeep of the owner’s own, and says each field that does not fit', () => {
  const ask = {
    title: 'Oil the arms',
    part: 'spare-tire',
    every: '6',
    unit: 'months',
    severity: 'damage',
    minutes: '10',
    failureCost: '40',
    source: 'Mine',
  };
  expect(unwrap(ownUpkeepOf(keeper, ask))).toEqual({
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
  const refused = ownUpkeepOf(keeper, {
    ...ask,
    title: '',
    every: 'x',
    minutes: '0',
    failureCost: '-1',
    source: '',
    unit: 'psi',
  });
  expect(refused.ok ? [] : refused.problems.map(({ where }) => where)).toEqual([
    'title',
    'every',
    'minutes',
    'failureCost',
    'source',
    'unit',
  ]);
  // What the catalog has against it is said too.
  expect(ownUpkeepOf(keeper, { ...ask, part: 'no-such-kind' })).toMatchObject({ ok: false });
});
