import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../test/support/catalog.ts';
import { find, judge as judgeOn } from '../../../test/support/judge.ts';
import type { Logbook } from '../../../test/support/logbook.ts';
import { soundRig, tripOf } from '../../../test/support/sound-rig.ts';
import { type OwnerSetting, withOverrides } from '../../catalog/index.ts';

/** Ages of tires as the shipped catalog has them, on a trip of 640 miles from 12 to 21 June 2026. */
const NOW = '2026-06-10';
const catalog = shippedCatalog();

const rig = (kind: string, body: Record<string, unknown>): Logbook =>
  soundRig()
    .add('fit', '2025-04-01', { part: 't', kind, isNew: false, ...body })
    .add('trip', '2026-05-01', tripOf('2026-06-12', '2026-06-21', '640 mi'));

const DUTY = { tire: 'renew-tire-by-age', 'spare-tire': 'renew-spare-by-age', 'tow-tire': 'renew-tow-tire-by-age' };

function aged(kind: keyof typeof DUTY, madeOn: string | undefined, size?: string, on = catalog) {
  const book = rig(kind, { ...(madeOn ? { madeOn } : {}), ...(size ? { facts: { size } } : {}) });
  return find(judgeOn(book, on, NOW, 'palouse', 64), `tires/${DUTY[kind]}@t`);
}

describe('special trailer (ST) tires: five to six years (trade habit, no published figure)', () => {
  it.each([
    ['2021-06-22', 'pass'],
    ['2021-06-21', 'limit'],
    ['2020-06-22', 'limit'],
    ['2020-06-21', 'stop'],
    ['2017-06-01', 'stop'],
  ])('made on %s: %s', (madeOn, kind) => {
    expect(aged('tire', madeOn, 'ST225/75R15').kind).toBe(kind);
    // A size that nobody read is taken as ST.
    expect(aged('tire', madeOn).kind).toBe(kind);
  });

  it('nine years old do not leave with limits, nor is a way to the next tire shop offered for 640 miles', () => {
    const stop = aged('tire', '2017-06-01', 'ST225/75R15');
    expect(stop).toMatchObject({ kind: 'stop', severity: 'safety', counts: 'hold' });
    expect(stop.goWithLimits).toBeUndefined();
    expect(stop.keepTo).toBeUndefined();
    expect(stop.text).toContain('its limit of age is 1 Jun 2023');
    expect(stop.takes?.entry).toEqual({ kind: 'fit', part: 't', partKind: 'tire' });
    expect(stop.sources).toContain('practice-tire-trailer');
  });

  it('between the two ages leave with numbers to keep to', () => {
    const limit = aged('tire', '2020-12-01', 'ST225/75R15');
    expect(limit).toMatchObject({ kind: 'limit', counts: 'limits' });
    expect(limit.keepTo).toMatch(/60 mph/);
    expect(limit.keepTo).toMatch(/100 miles/);
    expect(limit.text).toContain('the limit is 1 Dec 2026');
    expect(limit.takes).not.toBeNull();
  });
});

describe('other tires have ages and sources of their own', () => {
  it.each([
    // LT sizes on a trailer: six to ten years (NHTSA's advice; a tire maker's guide for RV tires).
    ['tire', 'LT225/75R16', '2020-06-22', 'pass', 'rv-tire-guide'],
    ['tire', 'LT225/75R16', '2020-06-21', 'limit', 'rv-tire-guide'],
    ['tire', '7.50-16LT', '2017-06-01', 'limit', 'rv-tire-guide'],
    ['tire', 'LT225/75R16', '2016-06-21', 'stop', 'rv-tire-guide'],
    // Jaguar owner information: six years, spare included. Honda owner's manual: out at ten, spare included.
    ['spare-tire', 'ST225/75R15', '2020-06-22', 'pass', 'car-tires-ten'],
    ['spare-tire', 'ST225/75R15', '2017-06-01', 'limit', 'car-tires-ten'],
    ['spare-tire', 'ST225/75R15', '2016-06-21', 'stop', 'car-tires-ten'],
    ['tow-tire', 'P265/70R17', '2020-06-22', 'pass', 'car-tires-ten'],
    ['tow-tire', 'P265/70R17', '2020-06-21', 'limit', 'car-tires-ten'],
    ['tow-tire', 'LT265/70R17', '2016-06-22', 'limit', 'car-tires-ten'],
    ['tow-tire', 'LT265/70R17', '2016-06-21', 'stop', 'car-tires-ten'],
  ] as const)('%s %s made on %s: %s', (kind, size, madeOn, verdict, source) => {
    const finding = aged(kind, madeOn, size);
    expect(finding.kind).toBe(verdict);
    expect(finding.sources).toContain(source);
    if (verdict === 'limit') expect(finding.keepTo).toMatch(/\d+ mph/);
    if (verdict === 'stop') expect(finding.goWithLimits).toBeUndefined();
  });

  it.each(['tire', 'spare-tire', 'tow-tire'] as const)('of unknown age is never fine: %s', (kind) => {
    expect(aged(kind, undefined, 'LT225/75R16')).toMatchObject({ kind: 'unproven', counts: 'hold' });
    const code = find(judgeOn(rig(kind, { code: '9999' }), catalog, NOW, 'palouse', 64), `tires/${DUTY[kind]}@t`);
    expect(code).toMatchObject({ kind: 'unproven', counts: 'hold' });
  });

  it('is as old as the older of code and date on record', () => {
    const both = (code: string, madeOn: string) =>
      find(judgeOn(rig('tire', { code, madeOn }), catalog, NOW, 'palouse', 64), 'tires/renew-tire-by-age@t').kind;
    expect(both('2524', '2024-06-20')).toBe('pass');
    expect(both('2517', '2024-06-20')).toBe('stop');
    expect(both('2524', '2017')).toBe('stop');
  });

  it('gives way to the owner’s handbook, whatever the size', () => {
    const seven: OwnerSetting = {
      key: 'override/tires',
      value: {
        upkeep: 'renew-tire-by-age',
        clock: 'age',
        from: 60,
        by: 84,
        source: 'Handbook of the trailer, page 75',
      },
    };
    const own = withOverrides(catalog, [seven]).catalog;
    expect(aged('tire', '2020-06-01', 'ST225/75R15', own).kind).toBe('limit');
    expect(aged('tire', '2019-06-01', 'ST225/75R15', own).kind).toBe('stop');
    expect(aged('tire', '2018-06-01', 'LT225/75R16', own).kind).toBe('stop');
    expect(aged('tire', '2020-06-01', 'LT225/75R16', own).kind).toBe('limit');
  });
});
