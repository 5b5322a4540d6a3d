import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { shippedCatalog } from '../../test/support/catalog.ts';
import { loadCatalogFolder } from '../store/index.ts';
import { figuresInText } from './traces.ts';
import type { Limit } from './types.ts';

/**
 * A shared limit stands once, in catalog/limits.json. This test looks for its number elsewhere: in the raw texts of the catalog (where
 * `{limit-id}` stands for it) and in the code of the rooms that judge by it. A number may mean another thing that happens to be as
 * great; such places are named below, each with what it means.
 */
const catalog = shippedCatalog();
const limits = [...catalog.limits.values()];
const root = new URL('../../', import.meta.url);

/** Texts of the catalog with a figure equal to a limit and another meaning, by item and figure. */
const OTHER_MEANINGS: Readonly<Record<string, string>> = {
  'gas/test-gas-leak-drop 14 inH2O': 'start of the state code’s test, beside the most at lock-up',
};

/** Words of the items in which a limit is at home: a number is suspect only beside them. */
const ABOUT: Readonly<Record<string, RegExp>> = {
  'tire-age': /tire|spare/,
  tread: /tire|tread/,
  'tire-cold': /tire/,
  'tongue-share': /tongue|weigh|sway/,
  retorque: /wheel|nuts|flat|hub|blowout|tire/,
  'hub-temperature': /hub|bearing/,
  'outlet-voltage': /shore|pedestal|surge|generator|120|gfci|power/,
  'water-inlet': /water|regulator/,
  'gas-': /gas|regulator|lp-/,
  'vehicle-outlet': /outlet|compressor/,
};
const aboutOf = (limit: Limit): RegExp | undefined =>
  Object.entries(ABOUT).find(([prefix]) => limit.id.startsWith(prefix))?.[1];

interface RawItem {
  readonly id: string;
  readonly [field: string]: unknown;
}

/** Texts of an item; `note`s quote what sources say, `range`s are theirs. */
const strings = (value: unknown): string[] => {
  if (typeof value === 'string') return [value];
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, one]) => (key === 'note' || key === 'range' ? [] : strings(one)));
};

/** Every item of the raw files but the limits themselves and the sources, whose titles quote what they print. */
function rawItems(): { file: string; section: string; item: RawItem }[] {
  return loadCatalogFolder(new URL('catalog/', root)).flatMap(({ name, text }) =>
    Object.entries((parse(text) ?? {}) as Record<string, unknown>)
      .filter(([section, list]) => Array.isArray(list) && ['upkeeps', 'mishaps', 'setups', 'parts'].includes(section))
      .flatMap(([section, list]) =>
        (list as RawItem[]).map((item) => ({ file: name.replace(/^.*\/|\.yaml$/g, ''), section, item })),
      ),
  );
}

const SAME = (limit: Limit, value: number, unit: string): boolean =>
  unit === limit.is.unit
    ? value === limit.is.value
    : unit === 'month' && limit.is.unit === 'year' && value === 12 * limit.is.value;

describe('a fact stands once', () => {
  it('in the texts of the catalog: none repeats a shared limit beside its subject', () => {
    const twice = rawItems().flatMap(({ file, item }) => {
      return figuresInText(strings(item).join('\n')).flatMap(({ value, unit }) =>
        limits
          .filter((limit) => SAME(limit, value, unit) && aboutOf(limit)?.test(item.id))
          .map((limit) => ({ where: `${file}/${item.id} ${value} ${unit}`, limit: limit.id }))
          .filter(({ where }) => OTHER_MEANINGS[where] === undefined),
      );
    });
    expect(twice).toEqual([]);
  });

  it('names only other meanings that are really there', () => {
    const found = new Set(
      rawItems().flatMap(({ file, item }) =>
        figuresInText(strings(item).join('\n')).map(({ value, unit }) => `${file}/${item.id} ${value} ${unit}`),
      ),
    );
    expect(Object.keys(OTHER_MEANINGS).filter((where) => !found.has(where))).toEqual([]);
  });

  it('as a constant: no room keeps one of its own where a shared limit is its like', () => {
    // A constant whose name speaks of a shared limit belongs in limits.json. Names, not numbers: a number alone means nothing.
    const own =
      /^\s*(?:export )?const (GAUGE_ERROR\w*|TONGUE_(?:SHARE|BAND)\w*|TIRE_AGE\w*|RESERVE\w*|DAYS_A_(?:MONTH|YEAR)|HUB_(?:HEAT|TEMP)\w*|VOLT\w*_(?:LEAST|MOST))\s*(?::(?! CalculationSource)[^=]+)?=\s*(?!.*limit)/;
    const rooms = ['tires', 'loads', 'power', 'sendoff', 'outlook', 'plan', 'desk', 'calculations', 'brakes', 'gas'];
    const found = rooms.flatMap((room) => {
      const folder = new URL(`src/${room}/`, root);
      return readdirSync(folder, { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts'))
        .flatMap((name) =>
          readFileSync(new URL(name, folder), 'utf8')
            .split('\n')
            .flatMap((line) => (own.test(line) ? [`src/${room}/${name}: ${line.trim()}`] : [])),
        );
    });
    expect(found).toEqual([]);
  });
});
