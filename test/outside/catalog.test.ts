import { readFileSync } from 'node:fs';
import files from 'virtual:catalog-files';
import { describe, expect, it } from 'vitest';
import { type Catalog, loadCatalog, type Upkeep } from '../../src/catalog/index.ts';
import { unwrap } from '../../src/problem/index.ts';
import { parseQuantity, type Quantity, valueIn } from '../../src/quantity/index.ts';

const catalog = unwrap(loadCatalog(files));

/** Rows of a small CSV file with quoted cells, the head left out. */
function rows(name: string): string[][] {
  const text = readFileSync(new URL(`../data/${name}`, import.meta.url), 'utf8');
  return text
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^,]*))/g)].map(([, quoted, bare]) => quoted ?? bare ?? ''));
}

const months = (value: number | undefined): Quantity => ({ value: value ?? Number.NaN, unit: 'month' });

/** What the catalog gives at `clock.KIND.FIELD`, `range.KIND`, `figure.WHAT` or `limit.READING`: quantities, numbers or a text. */
function givenAt(upkeep: Upkeep, place: string): readonly Quantity[] | number | string {
  const [what, name, field] = [place.split('.')[0], place.split('.').slice(1, 2)[0]!, place.split('.')[2]];
  if (what === 'figure') {
    const figure = upkeep.figures?.find((one) => one.what === place.slice('figure.'.length));
    if (figure === undefined) throw new Error(`${upkeep.id} has no ${place}`);
    return [figure.is, figure.from, figure.to].filter((one) => one !== undefined);
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

/** The sources of each row stand beside its value in test/data/catalog-published.csv. */
describe('values of regulations, standards and handbooks', () => {
  const checks = rows('catalog-published.csv');

  it('are checked in number', () => {
    expect(checks.length).toBeGreaterThan(80);
  });

  it.each(checks)('%s %s is %s (%s)', (id, place, value) => {
    const given = givenAt(catalog.upkeeps.get(id!)!, place!);
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
    const share = valueIn(of('bleach'), 'mL') / valueIn(of('tank that takes it'), 'mL');
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
    const points = rows('tables/co-alarm.csv').filter(
      ([, , , kind, note]) => kind === 'alarm test point' && !note!.includes('30 days'),
    );
    expect(points.map(([ppm]) => ppm)).toEqual(['70', '150', '400']);
    for (const [ppm, silent, sounded] of points) {
      const figure = figureOf('test-co-alarm', `${ppm} ppm - must stay silent until, and must have sounded by`);
      expect([figure.from!.value, figure.to!.value]).toEqual([Number(silent), Number(sounded)]);
    }
  });

  it('wheel torque of 1/2 in studs on 14, 15 and 16 in wheels', () => {
    const figure = figureOf(
      'retorque-wheel-nuts',
      '1/2 in studs, 14 to 16 in wheels, if the handbook says nothing else',
    );
    const lippert = rows('tables/lug-torque.csv').filter(
      (row) => row.at(-1)!.startsWith('Lippert') && row[1] === '1/2',
    );
    const usual = lippert.filter(([wheel]) => /^1[456] in$/.test(wheel!));
    expect(usual).toHaveLength(3);
    for (const row of usual) expect(row[5]).toBe(`${figure.from!.value}-${figure.to!.value}`);
  });

  it('rested voltage of lead-acid batteries; the recharging limit lies between half and three quarters', () => {
    const volts = new Map(
      rows('tables/soc-voltage.csv').flatMap(([kind, soc, v]) =>
        kind!.startsWith('flooded') ? [[soc, Number(v)] as const] : [],
      ),
    );
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

/** What each source forbids stands in test/data/catalog-forbidden.csv. */
describe('what a source forbids', () => {
  it.each(rows('catalog-forbidden.csv'))('%s says so: %s', (id, must, mustNot) => {
    const upkeep = catalog.upkeeps.get(id!)!;
    const all = [
      ...upkeep.steps,
      ...upkeep.cautions,
      ...upkeep.consumables.map(({ what }) => what),
      ...(upkeep.figures ?? []).map(({ what }) => what),
    ];
    expect(all.join('\n')).toMatch(new RegExp(must!, 'i'));
    if (mustNot === '') return;
    for (const sentence of orders(upkeep)) expect(sentence).not.toMatch(new RegExp(mustNot!, 'i'));
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
