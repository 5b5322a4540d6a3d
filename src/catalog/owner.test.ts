import files from 'virtual:catalog-files';
import { describe, expect, it } from 'vitest';
import { unwrap } from '../problem/index.ts';
import { type Clock, catalogCheck, loadCatalog, upkeepOfPart, upkeepsOfPart, withOverrides } from './index.ts';

const catalog = unwrap(loadCatalog(files));

const override = (key: string, value: Record<string, unknown>) => ({ key: `override/${key}`, value });
const clock = (upkeep: { clocks: readonly Clock[] } | undefined, kind: Clock['kind']) =>
  upkeep?.clocks.find((one) => one.kind === kind);

describe('withOverrides', () => {
  it('leaves the catalog as it is without any', () => {
    const { catalog: same, problems } = withOverrides(catalog, []);
    expect(problems).toEqual([]);
    expect([...same.upkeeps]).toEqual([...catalog.upkeeps]);
    expect([...same.sources]).toEqual([...catalog.sources]);
  });

  it('lays another interval over the default, as the owner’s, and touches nothing else', () => {
    const { catalog: own, problems } = withOverrides(catalog, [
      override('repack-bearings/miles', {
        upkeep: 'repack-bearings',
        clock: 'miles',
        every: '6,000 mi',
        source: 'Axle handbook, page 14',
      }),
    ]);
    expect(problems).toEqual([]);
    const changed = own.upkeeps.get('repack-bearings')!;
    expect(clock(changed, 'miles')).toMatchObject({ every: { value: 6000, unit: 'mi' }, source: 'owner' });
    expect(own.sources.get('owner')).toMatchObject({ kind: 'handbook', title: 'Axle handbook, page 14', owner: true });
    expect(changed.owner).toEqual({ source: 'owner', changed: ['clock miles'] });
    expect(clock(changed, 'months')).toEqual(clock(catalog.upkeeps.get('repack-bearings'), 'months'));
    expect(own.upkeepsOf.get('wheel-bearings')).toContain(changed);
    expect(clock(catalog.upkeeps.get('repack-bearings'), 'miles')).toMatchObject({ every: { value: 12000 } });
  });

  it('speaks of one part only, when it names one', () => {
    const { catalog: own } = withOverrides(catalog, [
      override('charge/all', {
        upkeep: 'charge-house-battery',
        clock: 'limit',
        limit: '12.3 V',
        source: 'Battery sheet',
      }),
      override('charge/battery-2', {
        upkeep: 'charge-house-battery',
        part: 'battery-2',
        clock: 'limit',
        limit: '12.5 V',
        source: 'Other sheet',
      }),
      override('charge/battery-2/minutes', {
        upkeep: 'charge-house-battery',
        part: 'battery-2',
        minutes: 25,
        source: 'Other sheet',
      }),
    ]);
    expect(clock(upkeepOfPart(own, 'charge-house-battery', 'battery-1'), 'limit')).toMatchObject({
      limit: { value: 12.3, unit: 'V' },
    });
    const second = upkeepsOfPart(own, 'house-battery', 'battery-2').find(({ id }) => id === 'charge-house-battery')!;
    expect(clock(second, 'limit')).toMatchObject({ limit: { value: 12.5, unit: 'V' }, source: 'owner-2' });
    expect(second.minutes).toBe(25);
    expect(second.owner!.changed).toEqual(['clock limit', 'clock limit', 'minutes']);
    expect(upkeepOfPart(own, 'no-such', 'battery-2')).toBeUndefined();
  });

  it('puts a figure in place of a fact of the part', () => {
    const { catalog: own } = withOverrides(catalog, [
      override('p', { upkeep: 'set-tire-pressure', clock: 'limit', limit: '60 psi', source: 'Load table' }),
    ]);
    const limit = clock(own.upkeeps.get('set-tire-pressure'), 'limit');
    expect(limit).toMatchObject({ limit: { value: 60, unit: 'psi' } });
    expect(limit).not.toHaveProperty('limitFact');
  });

  it('adds a kind of clock that was not there, and takes one off', () => {
    const { catalog: own, problems } = withOverrides(catalog, [
      override('a', { upkeep: 'oil-locks', clock: 'nights', every: 30, source: 'Mine', sourceKind: 'common practice' }),
      override('b', { upkeep: 'adjust-brakes', clock: 'miles', off: true, source: 'Self-adjusting, brake handbook' }),
    ]);
    expect(problems).toEqual([]);
    expect(clock(own.upkeeps.get('oil-locks'), 'nights')).toMatchObject({ every: 30 });
    expect(own.upkeeps.get('adjust-brakes')!.clocks.map(({ kind }) => kind)).toEqual(['months', 'after']);
  });

  it('adds cautions and never takes the catalog’s away', () => {
    const before = catalog.upkeeps.get('adjust-brakes')!;
    const { catalog: own } = withOverrides(catalog, [
      override('s', { upkeep: 'adjust-brakes', steps: ['My way.'], cautions: ['Mind the left one.'], source: 'Mine' }),
    ]);
    const after = own.upkeeps.get('adjust-brakes')!;
    expect(after.steps).toEqual(['My way.']);
    expect(after.cautions).toEqual([...before.cautions, 'Mind the left one.']);
  });

  it.each([
    [
      'an unknown upkeep',
      { upkeep: 'polish-chrome', clock: 'months', every: 1, source: 'x' },
      'catalog.reference-unknown',
    ],
    ['no source', { upkeep: 'oil-locks', clock: 'months', every: 1 }, 'catalog.value-wrong'],
    ['nothing to change', { upkeep: 'oil-locks', source: 'x' }, 'catalog.override-refused'],
    ['a figure without its clock', { upkeep: 'oil-locks', every: 3, source: 'x' }, 'catalog.override-refused'],
    ['a clock without its figure', { upkeep: 'oil-locks', clock: 'months', source: 'x' }, 'catalog.override-refused'],
    [
      'a field of another clock',
      { upkeep: 'oil-locks', clock: 'months', withinDays: 3, source: 'x' },
      'catalog.override-refused',
    ],
    [
      'miles without a unit',
      { upkeep: 'repack-bearings', clock: 'miles', every: 6000, source: 'x' },
      'catalog.value-wrong',
    ],
    [
      'miles in psi',
      { upkeep: 'repack-bearings', clock: 'miles', every: '6000 psi', source: 'x' },
      'catalog.unit-wrong',
    ],
    [
      'a limit in another dimension',
      { upkeep: 'set-tire-pressure', clock: 'limit', limit: '60 V', source: 'x' },
      'catalog.override-refused',
    ],
    [
      'the last clock off',
      { upkeep: 'oil-locks', clock: 'months', off: true, source: 'x' },
      'catalog.override-refused',
    ],
    [
      'off what is not there',
      { upkeep: 'oil-locks', clock: 'miles', off: true, source: 'x' },
      'catalog.override-refused',
    ],
    [
      'a new follow-up',
      { upkeep: 'oil-locks', clock: 'after', atMiles: ['10 mi'], source: 'x' },
      'catalog.override-refused',
    ],
    [
      'an unknown field',
      { upkeep: 'oil-locks', clock: 'months', every: 3, color: 'red', source: 'x' },
      'catalog.value-wrong',
    ],
  ])('refuses %s, says where, and keeps the rest', (_, value, code) => {
    const good = override('good', { upkeep: 'wash-body', clock: 'months', every: 6, source: 'Mine' });
    const { catalog: own, problems } = withOverrides(catalog, [override('bad', value), good]);
    expect(problems.map((problem) => problem.code)).toEqual([code]);
    expect(problems[0]!.where).toBe('setting override/bad');
    expect(clock(own.upkeeps.get('wash-body'), 'months')).toMatchObject({ every: 6 });
    expect(clock(own.upkeeps.get('oil-locks'), 'months')).toEqual(clock(catalog.upkeeps.get('oil-locks'), 'months'));
  });

  it('takes upkeeps and kinds of part of the owner’s own', () => {
    const { catalog: own, problems } = withOverrides(catalog, [
      {
        key: 'own-upkeep/oil-bicycle-rack',
        value: {
          title: 'Oil the bicycle rack',
          part: 'bicycle-rack',
          severity: 'comfort',
          minutes: 10,
          failureCost: 50,
          clocks: [{ kind: 'months', every: 12 }],
          source: 'Rack sheet',
          sourceKind: 'handbook',
        },
      },
      { key: 'own-part-kind/bicycle-rack', value: { name: 'Bicycle rack' } },
    ]);
    expect(problems).toEqual([]);
    expect(own.partKinds.get('bicycle-rack')).toMatchObject({ name: 'Bicycle rack', group: 'own parts', per: 'each' });
    const upkeep = own.upkeeps.get('oil-bicycle-rack')!;
    expect(upkeep.clocks[0]).toMatchObject({ every: 12, source: 'owner' });
    expect(upkeep.owner).toEqual({ source: 'owner', changed: ['all'] });
    expect(own.upkeepsOf.get('bicycle-rack')).toEqual([upkeep]);
  });

  it.each([
    ['a taken id', 'own-upkeep/oil-locks', {}, 'catalog.id-duplicate'],
    ['an unknown part', 'own-upkeep/mine', { part: 'rocket' }, 'catalog.reference-unknown'],
    ['no minutes', 'own-upkeep/mine', { minutes: undefined }, 'catalog.value-wrong'],
    ['brake work without a caution', 'own-upkeep/mine', { part: 'drum-brake' }, 'catalog.caution-missing'],
    ['a wrong unit', 'own-upkeep/mine', { clocks: [{ kind: 'miles', every: '5 kg' }] }, 'catalog.unit-wrong'],
    [
      'a circle',
      'own-upkeep/mine',
      { clocks: [{ kind: 'after', upkeeps: ['mine'], atMiles: ['5 mi'] }] },
      'catalog.reference-unknown',
    ],
  ])('refuses an own upkeep with %s', (_, key, change, code) => {
    const value = {
      title: 'Mine',
      part: 'windows',
      severity: 'comfort',
      minutes: 5,
      failureCost: 10,
      clocks: [{ kind: 'months', every: 6 }],
      source: 'Mine',
      ...change,
    };
    const { catalog: own, problems } = withOverrides(catalog, [{ key, value }]);
    expect(problems.map((problem) => problem.code)).toContain(code);
    expect(own.upkeeps.size).toBe(catalog.upkeeps.size);
  });

  it('shows an interval outside the sources’ range to the check, and takes it all the same', () => {
    const { catalog: own } = withOverrides(catalog, [
      override('r', {
        upkeep: 'repack-bearings',
        clock: 'months',
        every: 36,
        source: 'Somebody said so',
        sourceKind: 'common practice',
      }),
    ]);
    expect(clock(own.upkeeps.get('repack-bearings'), 'months')).toMatchObject({ every: 36 });
    expect(catalogCheck(own).map(({ code }) => code)).toContain('catalog.range-outside');
  });
});
