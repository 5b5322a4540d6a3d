import { describe, expect, it } from 'vitest';
import type { Catalog, Upkeep } from '../../src/catalog/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, valueIn } from '../../src/quantity/index.ts';
import { shippedCatalog } from '../support/catalog.ts';
import { table } from '../support/table.ts';

const catalog = shippedCatalog();

const months = (value: number | undefined): Quantity => ({ value: value ?? Number.NaN, unit: 'month' });

/** What the catalog gives at `clock.KIND.FIELD`, `range.KIND`, `figure.WHAT` or `limit.READING`: quantities, numbers or a text. */
function givenAt(upkeep: Upkeep, place: string): readonly Quantity[] | number | string {
  const [what, name, field] = [place.split('.')[0], place.split('.').slice(1, 2)[0]!, place.split('.')[2]];
  if (what === 'figure') {
    const figure = upkeep.figures?.find((one) => one.what === place.slice('figure.'.length));
    if (figure === undefined) throw new Error(`${upkeep.id} has no ${place}`);
    return [figure.is, figure.from, figure.to].filter((one) => one !== undefined);
  }
  // A shared limit counts for an upkeep whose texts name it, which the loader puts among its figures.
  if (what === 'shared') {
    const limit = catalog.limits.get(name)!;
    if (!upkeep.figures?.some((one) => one.what === limit.what)) throw new Error(`${upkeep.id} does not name ${name}`);
    return [limit.is];
  }
  if (what === 'limit') return upkeep.readings.find((one) => one.what === name)?.limit ?? '';
  const clock = upkeep.clocks.find(({ kind }) => kind === name);
  if (clock === undefined) throw new Error(`${upkeep.id} has no ${name} clock`);
  if (what === 'range') return `${clock.range?.[0]} to ${clock.range?.[1]}`;
  if (clock.kind === 'miles') return [clock.every];
  if (clock.kind === 'months' || clock.kind === 'nights' || clock.kind === 'hours') return clock.every;
  if (clock.kind === 'age') return [months(field === 'from' ? clock.from : clock.by)];
  if (clock.kind === 'after') return clock.atMiles;
  if (clock.kind === 'limit') return [clock.limit!];
  throw new Error(`${place} is no place`);
}

function published(text: string): Quantity[] {
  return text.split(/ to |(?<=mi) /).map((one) => unwrap(parseQuantity(one)));
}

/** The sources of each row stand beside its value in test/data/tables/catalog-published.csv. */
describe('values of regulations, standards and handbooks', () => {
  const checks = table('catalog-published');

  it('are checked in number', () => {
    expect(checks.length).toBeGreaterThan(80);
  });

  it.each(checks)('$upkeep $place is $published ($source)', ({ upkeep, place, published: value }) => {
    const given = givenAt(catalog.upkeeps.get(upkeep!)!, place!);
    if (typeof given === 'number') expect(given).toBe(Number(value));
    else if (typeof given === 'string') expect(given).toBe(value);
    else {
      const wanted = published(value!);
      expect(given).toHaveLength(wanted.length);
      wanted.forEach((quantity, index) => {
        expect(valueIn(given[index]!, quantity.unit)).toBeCloseTo(quantity.value, 6);
      });
    }
  });
});

describe('the dose of bleach', () => {
  // Household bleach is sold at 5.25 to 8.25 % (labels). CDC Vessel Sanitation Program manual 5.3.4.1.4: at least 50 mg/L.
  it.each([5.25, 6, 7.5, 8.25])('reaches 50 mg/L with bleach of %s per cent', (strength) => {
    const figures = catalog.upkeeps.get('sanitize-water')!.figures!;
    const of = (what: string) => figures.find((figure) => figure.what === what)!.is!;
    const share = valueIn(of('bleach'), 'mL') / valueIn(of('system volume that takes it'), 'mL');
    const milligramsPerLitre = share * (strength / 100) * 1e6;
    expect(milligramsPerLitre).toBeGreaterThanOrEqual(valueIn(of('chlorine to be held'), 'mg/L'));
    expect(milligramsPerLitre).toBeLessThan(100);
  });
});

const figureOf = (id: string, what: string) =>
  catalog.upkeeps.get(id)!.figures!.find((figure) => figure.what === what)!;

/** The tables and where each comes from: test/data/tables/README.md. */
describe('published tables', () => {
  it('UL 2034 test points of carbon monoxide alarms', () => {
    const points = table('co-alarm').filter((row) => row.kind === 'alarm test point' && !row.note!.includes('30 days'));
    expect(points.map(({ ppm }) => ppm)).toEqual(['70', '150', '400']);
    for (const { ppm, must_not_alarm_before_min: silent, must_alarm_by_min: sounded } of points) {
      const figure = figureOf('test-co-alarm', `${ppm} ppm - must stay silent until, and must have sounded by`);
      expect([figure.from!.value, figure.to!.value]).toEqual([Number(silent), Number(sounded)]);
    }
  });

  it('wheel torque of 1/2 in studs on 14, 15 and 16 in wheels', () => {
    const figure = figureOf(
      'retorque-wheel-nuts',
      '1/2 in studs, 14 to 16 in wheels, if the handbook says nothing else',
    );
    const lippert = table('lug-torque').filter((row) => row.source!.startsWith('Lippert') && row.stud === '1/2');
    const usual = lippert.filter((row) => /^1[456] in$/.test(row.wheel_or_axle!));
    expect(usual).toHaveLength(3);
    for (const row of usual) expect(row.final).toBe(`${figure.from!.value}-${figure.to!.value}`);
  });

  it('rested voltage of lead-acid batteries; the recharging limit lies between half and three quarters', () => {
    const flooded = table('soc-voltage').filter((row) => row.chemistry!.startsWith('flooded'));
    const volts = new Map(flooded.map((row) => [row.soc_percent, Number(row.rest_volts)]));
    expect(figureOf('charge-house-battery', 'full').is!.value).toBe(volts.get('100'));
    expect(figureOf('charge-house-battery', 'three quarters').is!.value).toBe(volts.get('75'));
    expect(figureOf('charge-house-battery', 'half').is!.value).toBe(volts.get('50'));
    const clock = catalog.upkeeps.get('charge-house-battery')!.clocks[0]!;
    expect(clock.kind === 'limit' && clock.limit!.value).toBeLessThan(volts.get('75')!);
    expect(clock.kind === 'limit' && clock.limit!.value).toBeGreaterThan(volts.get('50')!);
  });
});

/** Sentences of an upkeep that tell the owner to do something, those that forbid it left out. */
function orders(upkeep: Upkeep): string[] {
  const forbids = /\b(never|not|no|nobody|nothing)\b/i;
  return [...upkeep.steps, ...upkeep.cautions]
    .flatMap((text) => text.split(/(?<=[.;!?])\s+/))
    .filter((sentence) => !forbids.test(sentence));
}

/** What each source forbids stands in test/data/tables/catalog-forbidden.csv. */
describe('what a source forbids', () => {
  it.each(table('catalog-forbidden'))('$upkeep says so: $says', ({ upkeep: id, says, never }) => {
    const upkeep = catalog.upkeeps.get(id!)!;
    const all = [
      ...upkeep.steps,
      ...upkeep.cautions,
      ...upkeep.consumables.map(({ what }) => what),
      ...(upkeep.figures ?? []).map(({ what }) => what),
    ];
    expect(all.join('\n')).toMatch(new RegExp(says!, 'i'));
    if (never === '') return;
    for (const sentence of orders(upkeep)) expect(sentence).not.toMatch(new RegExp(never!, 'i'));
  });
});

describe('licensed hands', () => {
  // Common practice and most state codes: requalifying cylinders, setting regulators, fixed 120 V work and pressure vessels.
  const reserved = [
    'requalify-lp-cylinder',
    'check-regulator',
    'renew-lp-regulator',
    'check-panel',
    'service-extinguisher',
    'hydrotest-extinguisher',
  ];

  it.each(reserved)('%s is for them, and says so where it is read', (id) => {
    const upkeep = catalog.upkeeps.get(id)!;
    expect(upkeep.skill).toBe('licensed');
    expect(upkeep.place).toBe('shop');
    expect(upkeep.cautions.join(' ')).toMatch(/licensed|certified|registered/);
  });
});

describe('a regulation or a standard', () => {
  const firm = (one: Catalog) =>
    [...one.sources.values()].filter(({ kind }) => kind === 'regulation' || kind === 'standard');

  it('is cited with the number it is looked up by', () => {
    for (const { id, title } of firm(catalog)) if (id !== 'state-law') expect(title, id).toMatch(/\d/);
  });
});
