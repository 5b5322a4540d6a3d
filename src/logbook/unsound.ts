import type { Catalog } from '../catalog/index.ts';
import {
  type Dimension,
  dimensionOf,
  formatQuantity,
  inRange,
  isUnitId,
  parseQuantity,
  plausibleRange,
  type Quantity,
  type QuantityRange,
  range,
  rangeText,
} from '../quantity/index.ts';
import type { OutOfBounds } from './bounds.ts';
import type { Entry } from './entry.ts';

/** What a field of this name measures, wherever it stands in an entry's body. */
const MEASURES: Readonly<Record<string, Dimension>> = {
  ...{ odometer: 'length', odometerTow: 'length', was: 'length', now: 'length', miles: 'length', mile: 'length' },
  ...{ elevation: 'length', greatestHeight: 'length', wheelbase: 'length', overhang: 'length', ballToAxles: 'length' },
  ...{ temperature: 'temperature', highest: 'temperature', lowest: 'temperature' },
  ...{ front: 'mass', rear: 'mass', axles: 'mass', tongue: 'mass', step: 'mass', weight: 'mass' },
};

/**
 * Narrower than the plausible. Air: the records of the United States are −80 and 134 °F (from memory). Height: the lowest road lies at
 * −1,400 ft, the highest at 19,000 (from memory).
 */
const WITHIN: Readonly<Record<string, QuantityRange>> = {
  ...{ temperature: range(-90, 180, 'degF'), highest: range(-90, 180, 'degF'), lowest: range(-90, 180, 'degF') },
  ...{ elevation: range(-1500, 20_000, 'ft'), greatestHeight: range(-1500, 20_000, 'ft') },
};

/** A quantity of an entry, and what it has to measure where that is known. */
interface Found {
  readonly path: string;
  readonly of: Quantity;
  readonly dimension: Dimension | undefined;
  /** Facts of a part and ratings are more than nothing; readings may be none, temperatures below it. */
  readonly least: 'more than 0' | '0 or more' | 'any';
}

/**
 * Quantities that nothing can be worked out of: not finite, of no unit, of a unit of another kind than is asked for, or beyond all
 * reading. The doors refuse them; an entry that came in another way, or long ago, may still hold one.
 *
 * @param catalog says in which units the facts and readings of its kinds of part are given
 */
export function* unsoundQuantities(entry: Entry, catalog: Catalog | undefined): Generator<OutOfBounds> {
  for (const found of quantitiesOf(entry, catalog)) {
    const bad = badOf(found);
    if (bad) yield { path: found.path, ...bad, never: true };
  }
}

function badOf({ path, of, dimension, least }: Found): Pick<OutOfBounds, 'what' | 'expected'> | undefined {
  const expected = dimension === undefined ? 'a quantity such as `65 psi`' : `a ${dimension}`;
  if (!isUnitId(of.unit)) return { what: `“${of.unit}” is no unit`, expected };
  if (!Number.isFinite(of.value)) return { what: `${of.value} ${of.unit} is no figure`, expected };
  if (dimension !== undefined && dimensionOf(of.unit) !== dimension)
    return { what: `${formatQuantity(of)} is no ${dimension}`, expected };
  const limits = WITHIN[path.split('.').at(-1)!] ?? plausibleRange(of.unit);
  if (!inRange(of, limits).ok)
    return { what: `${of.value.toPrecision(3)} ${of.unit} cannot be`, expected: rangeText(limits, of.unit) };
  if (least === 'any' || of.value > 0 || (of.value === 0 && least === '0 or more')) return undefined;
  return { what: `${formatQuantity(of)} is less than can be`, expected: least };
}

function quantitiesOf(entry: Entry, catalog: Catalog | undefined): Found[] {
  switch (entry.kind) {
    case 'fit':
      return [...walk({ ...entry.body, facts: undefined }), ...factsOf(entry.body, catalog)];
    case 'reading': {
      const { value, what, ...rest } = entry.body;
      return [...walk(rest), readingOf('value', what, value, catalog)];
    }
    case 'work': {
      const readings = entry.body.done.flatMap(({ readings: taken = [] }, i) =>
        taken.map(({ what, value }, j) => readingOf(`done.${i}.readings.${j}.value`, what, value, catalog)),
      );
      return [...walk({ ...entry.body, done: undefined }), ...readings];
    }
    case 'enroll':
      return [
        ...walk({ ...entry.body, ratings: undefined }),
        ...Object.entries(entry.body.ratings ?? {}).flatMap(([name, rating]): Found[] =>
          rating ? [{ path: `ratings.${name}.value`, of: rating.value, dimension: 'mass', least: 'more than 0' }] : [],
        ),
      ];
    case 'set':
      return [];
    default:
      return walk(entry.body);
  }
}

const isQuantity = (value: unknown): value is Quantity =>
  typeof value === 'object' && value !== null && 'value' in value && 'unit' in value;

/** Every quantity in a body, measured by the name of its field. Bounds of sign are those of each kind of entry. */
function walk(value: unknown, path: readonly string[] = []): Found[] {
  if (typeof value !== 'object' || value === null) return [];
  if (isQuantity(value))
    return [{ path: path.join('.'), of: value, dimension: MEASURES[path.at(-1) ?? ''], least: 'any' }];
  return Object.entries(value).flatMap(([key, inner]) => walk(inner, [...path, key]));
}

const dimensionOfText = (unit: string | undefined): Dimension | undefined => {
  if (unit === undefined) return undefined;
  if (isUnitId(unit)) return dimensionOf(unit);
  const read = parseQuantity(`1 ${unit}`);
  return read.ok ? dimensionOf(read.value.unit) : undefined;
};

/** Facts of a part: those that its kind measures, and whatever else is a quantity. */
function factsOf({ kind, facts = {} }: Extract<Entry, { kind: 'fit' }>['body'], catalog: Catalog | undefined): Found[] {
  const units = catalog?.partKinds.get(kind)?.factUnits ?? {};
  return Object.entries(facts).flatMap(([name, fact]): Found[] => {
    const dimension = dimensionOfText(units[name]);
    const read = typeof fact === 'string' && dimension !== undefined ? parseQuantity(fact) : undefined;
    const of = isQuantity(fact) ? fact : read?.ok ? read.value : undefined;
    return of ? [{ path: `facts.${name}`, of, dimension, least: dimension === undefined ? 'any' : 'more than 0' }] : [];
  });
}

const measured = new WeakMap<Catalog, ReadonlyMap<string, Dimension | undefined>>();

/** What each reading measures, by its name; undefined where upkeeps give it in units of several kinds. */
function readingDimensions(catalog: Catalog): ReadonlyMap<string, Dimension | undefined> {
  const known = measured.get(catalog);
  if (known) return known;
  const found = new Map<string, Dimension | undefined>([['odometer', 'length']]);
  for (const upkeep of catalog.upkeeps.values())
    for (const { what, unit } of upkeep.readings) {
      const dimension = dimensionOfText(unit);
      found.set(what, found.has(what) && found.get(what) !== dimension ? undefined : dimension);
    }
  measured.set(catalog, found);
  return found;
}

function readingOf(path: string, what: string, of: Quantity, catalog: Catalog | undefined): Found {
  const dimension = what === 'odometer' ? 'length' : catalog && readingDimensions(catalog).get(what);
  return { path, of, dimension, least: dimension === undefined || dimension === 'temperature' ? 'any' : '0 or more' };
}
