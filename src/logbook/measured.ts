/** Readings, facts of parts and of the rig, and the numbers of settings, against what they can plausibly be. */
import { type Catalog, rangeOfFact, rangeOfReading, rangeOfRigFact } from '../catalog/index.ts';
import {
  type Dimension,
  dimensionOf,
  formatQuantity,
  inRange,
  isUnitId,
  PLAUSIBLE,
  parseQuantity,
  plausibleRange,
  type Quantity,
  type QuantityRange,
  quantity,
  range,
  rangeText,
} from '../quantity/index.ts';
import type { Entry, EntryOf } from './entry.ts';
import { type FieldRange, fieldsOf } from './fields.ts';

/** What no rig can have done or weighed: the field of the entry's body, what is wrong with it, and what would have been right. */
export interface OutOfBounds {
  readonly path: string;
  readonly what: string;
  readonly expected: string;
  /** True where it would harm what is worked out of it: no owner may let it count. */
  readonly never?: true;
  /** True where it says nothing that could be used, and so harms nothing once it is there: refused at a door, never set aside. */
  readonly unread?: true;
}

/** Dimensions of which there is nothing below zero. Of gauge pressure there is: down to the perfect vacuum, −14.7 psi at sea level. */
const NEVER_NEGATIVE: ReadonlySet<Dimension> = new Set([
  'area',
  'volume',
  'mass',
  'torque',
  'time',
  'calendar',
  'speed',
  'flow',
  'mass-rate',
  'energy',
  'density',
  'electric-charge',
  'electric-resistance',
  'concentration',
  'count',
]);
const VACUUM_PSI = -14.7;

/** The range of a quantity of which no more is known than its unit. */
function rangeByUnit(unit: Quantity['unit']): QuantityRange {
  const widest = plausibleRange(unit);
  const dimension = dimensionOf(unit);
  if (dimension === 'pressure') return range(VACUUM_PSI, widest.most, widest.unit);
  return NEVER_NEGATIVE.has(dimension) ? range(0, widest.most, widest.unit) : widest;
}

const shown = (q: Quantity): string =>
  Math.abs(q.value) < 1e9 ? formatQuantity(q) : `${q.value.toExponential(2)} ${q.unit}`;
const named = (unit: Quantity['unit']): string => dimensionOf(unit).replaceAll('-', ' ');

/** What is wrong with a quantity against a range, or nothing. In another dimension, or beyond all that can be, it is never let count. */
export function outside(path: string, q: Quantity, { range: of, such }: Partial<FieldRange>): OutOfBounds[] {
  const limits = of ?? rangeByUnit(q.unit);
  const usual = (as: Quantity['unit']): string =>
    such === undefined ? '' : `, such as ${formatQuantity(such, { unit: as })}`;
  if (dimensionOf(q.unit) !== dimensionOf(limits.unit)) {
    const expected = `${named(limits.unit)} of ${rangeText(limits)}${usual(limits.unit)}`;
    return [{ path, what: `${shown(q)} is ${named(q.unit)}`, expected, never: true }];
  }
  if (inRange(q, limits).ok) return [];
  const never = inRange(q, PLAUSIBLE[dimensionOf(q.unit)]).ok ? {} : ({ never: true } as const);
  const expected = `${rangeText(limits, q.unit)}${usual(q.unit)}`;
  return [{ path, what: `${shown(q)} cannot be right`, expected, ...never }];
}

/** Everything an entry measures that cannot be. */
export function* measured(entry: Entry, catalog: Catalog | undefined): Generator<OutOfBounds> {
  for (const { path, value, ...is } of fieldsOf(entry)) yield* outside(path, value, is);
  if (entry.kind === 'reading' && entry.body.what !== 'odometer')
    yield* outside('value', entry.body.value, readingRange(catalog, entry.body.what));
  if (entry.kind === 'work')
    for (const [at, { readings = [] }] of entry.body.done.entries())
      for (const [of, { what, value }] of readings.entries())
        yield* outside(`done.${at}.readings.${of}.value`, value, readingRange(catalog, what));
  if (entry.kind === 'fit') yield* facts(entry.body, catalog);
  if (entry.kind === 'set') yield* settingNumbers(entry.body, catalog);
}

const readingRange = (catalog: Catalog | undefined, what: string): Partial<FieldRange> =>
  (catalog && rangeOfReading(catalog, what)) ?? {};

function* facts(
  { kind, facts: given = {} }: EntryOf<'fit'>['body'],
  catalog: Catalog | undefined,
): Generator<OutOfBounds> {
  for (const [fact, value] of Object.entries(given)) {
    const path = `facts.${fact}`;
    const is = catalog && rangeOfFact(catalog, kind, fact);
    const q = typeof value === 'object' ? value : typeof value === 'string' ? readText(value) : undefined;
    if (q) yield* outside(path, q, is ?? {});
    else if (is)
      yield {
        path,
        what: `“${String(value).slice(0, 40)}” is no measure of ${named(is.range.unit)} with its unit`,
        expected: `${rangeText(is.range)}, such as ${formatQuantity(is.such)}`,
        unread: true,
      };
    else if (typeof value === 'number') yield* tooLarge(path, value);
  }
}

/** A text as the quantity it says: `65 psi`; undefined where it says none. */
const readText = (text: string): Quantity | undefined => {
  const read = parseQuantity(text);
  return read.ok ? read.value : undefined;
};

/** Beyond what any figure without a unit can be, counts and shares and money alike. */
const BARE_MOST = 10_000_000;

function* tooLarge(path: string, value: number): Generator<OutOfBounds> {
  if (Math.abs(value) > BARE_MOST)
    yield { path, what: `${value} cannot be right`, expected: `at most ${BARE_MOST}`, never: true };
}

/** Clocks of the owner's own: shorter than these nobody keeps, and what is reckoned from them would never end. */
const CLOCKS: Readonly<Record<string, Readonly<Record<string, FieldRange>>>> = {
  miles: { every: { range: range(1, 1_000_000, 'mi'), such: quantity(6000, 'mi') } },
  months: { every: { range: range(0.1, 1200, 'month'), such: quantity(12, 'month') } },
  nights: { every: { range: range(1, 10_000, 'each'), such: quantity(30, 'each') } },
  hours: { every: { range: range(0.1, 100_000, 'h'), such: quantity(100, 'h') } },
  age: {
    from: { range: range(0.1, 1200, 'month'), such: quantity(60, 'month') },
    by: { range: range(0.1, 1200, 'month'), such: quantity(72, 'month') },
  },
  departure: { withinDays: { range: range(0, 3650, 'd'), such: quantity(7, 'd') } },
  after: {
    atDays: { range: range(0, 3650, 'd'), such: quantity(30, 'd') },
    atMiles: { range: range(0, 100_000, 'mi'), such: quantity(50, 'mi') },
  },
};

function* settingNumbers({ key, value }: EntryOf<'set'>['body'], catalog: Catalog | undefined): Generator<OutOfBounds> {
  const [kind, about = ''] = key.split('/', 2) as [string, string?];
  const is = kind === 'fact' && catalog ? rangeOfRigFact(catalog, about) : undefined;
  const fact =
    typeof value === 'number' && is
      ? quantity(value, is.range.unit)
      : typeof value === 'string' && is
        ? readText(value)
        : undefined;
  if (fact) return yield* outside('value', fact, is!);
  if (kind === 'override') yield* clockNumbers('value', value, 'clock');
  if (kind === 'own-upkeep' && typeof value === 'object' && value !== null && !Array.isArray(value)) {
    const clocks = Object.hasOwn(value, 'clocks') ? value.clocks : undefined;
    for (const [at, clock] of (Array.isArray(clocks) ? clocks : []).entries())
      yield* clockNumbers(`value.clocks.${at}`, clock, 'kind');
  }
  yield* anyNumbers('value', value);
}

function* clockNumbers(path: string, clock: unknown, kindIn: 'clock' | 'kind'): Generator<OutOfBounds> {
  if (typeof clock !== 'object' || clock === null) return;
  const record = clock as Readonly<Record<string, unknown>>;
  const kind = String(record[kindIn]);
  const fields = Object.hasOwn(CLOCKS, kind) ? CLOCKS[kind]! : {};
  for (const [name, is] of Object.entries(fields)) {
    const given = record[name];
    for (const one of Array.isArray(given) ? given : [given]) {
      const q = typeof one === 'number' ? quantity(one, is.range.unit) : quantityOf(one);
      if (q) for (const wrong of outside(`${path}.${name}`, q, is)) yield { ...wrong, never: true };
    }
  }
}

/** A quantity as JSON carries one: `{value, unit}` or a text. */
function quantityOf(value: unknown): Quantity | undefined {
  if (typeof value === 'string') return readText(value);
  if (typeof value !== 'object' || value === null) return undefined;
  const { value: number, unit } = value as { value?: unknown; unit?: unknown };
  if (typeof number !== 'number' || typeof unit !== 'string') return undefined;
  if (isUnitId(unit)) return quantity(number, unit);
  return readText(`${number} ${unit}`);
}

/** Every number in a setting, whatever its shape: none beyond all that can be. Its size is bounded before (`costOf`). */
function* anyNumbers(path: string, value: unknown): Generator<OutOfBounds> {
  if (typeof value === 'number') return yield* tooLarge(path, value);
  const q = quantityOf(value);
  if (q) {
    if (!inRange(q, plausibleRange(q.unit)).ok) yield* outside(path, q, {});
    return;
  }
  if (typeof value !== 'object' || value === null) return;
  for (const [name, inner] of Object.entries(value)) yield* anyNumbers(`${path}.${name}`, inner);
}
