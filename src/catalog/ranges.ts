/** What readings and facts can plausibly be: checked when the catalog is loaded, asked when somebody writes one down. */

import type { Problem } from '../problem/index.ts';
import {
  type Dimension,
  dimensionOf,
  inRange,
  PLAUSIBLE,
  type Quantity,
  type QuantityRange,
  quantity,
  rangeText,
  valueIn,
} from '../quantity/index.ts';
import type { Draft, Item } from './draft.ts';
import type { Catalog, PlausibleRange } from './types.ts';
import { dimensionOfUnit } from './unit.ts';

/** What a reading or fact can be, and a usual value of it. */
export interface MeasuredRange {
  readonly range: QuantityRange;
  readonly such: Quantity;
}

const asRange = ({ least, most }: PlausibleRange): QuantityRange => ({
  least: least.value,
  most: valueIn(most, least.unit),
  unit: least.unit,
});

/** The range of an id, else that of the dimension it is declared in, else undefined. */
function rangeOf(catalog: Catalog, id: string, unit: string | undefined): MeasuredRange | undefined {
  const own = catalog.ranges?.get(id);
  if (own) return { range: asRange(own), such: own.such };
  const dimension = unit === undefined ? undefined : dimensionOfUnit(unit);
  if (dimension === undefined) return undefined;
  const range = PLAUSIBLE[dimension];
  return { range, such: quantity(1, range.unit) };
}

const unitsRead = new WeakMap<Catalog, ReadonlyMap<string, string>>();

/** The unit each reading is declared in; a reading of one name is one quantity everywhere (`catalog.reading-two-ways`). */
function unitsOfReadings(catalog: Catalog): ReadonlyMap<string, string> {
  const known = unitsRead.get(catalog);
  if (known) return known;
  const read = new Map<string, string>();
  for (const upkeep of catalog.upkeeps.values())
    for (const { what, unit } of upkeep.readings) if (!read.has(what)) read.set(what, unit);
  unitsRead.set(catalog, read);
  return read;
}

/** What a reading can be; undefined where the catalog knows no reading of this name. */
export function rangeOfReading(catalog: Catalog, what: string): MeasuredRange | undefined {
  return rangeOf(catalog, `reading/${what}`, unitsOfReadings(catalog).get(what));
}

/** What a measured fact of a kind of part can be; undefined where it is no measured fact. */
export function rangeOfFact(catalog: Catalog, kind: string, fact: string): MeasuredRange | undefined {
  const units = catalog.partKinds.get(kind)?.factUnits ?? {};
  return rangeOf(catalog, `fact/${kind}.${fact}`, Object.hasOwn(units, fact) ? units[fact] : undefined);
}

/** What a measured fact of the rig can be; undefined where it is one of words. */
export function rangeOfRigFact(catalog: Catalog, id: string): MeasuredRange | undefined {
  return rangeOf(catalog, `rig-fact/${id}`, catalog.rigFacts?.get(id)?.unit);
}

/** The dimension of what a range is about, by the unit it is declared in. */
function dimensionOfSubject(draft: Draft, id: string): Dimension | undefined {
  const [of, name = ''] = id.split('/', 2);
  if (of === 'rig-fact') return dimensionOfUnit(draft.rigFacts.get(name)?.value.unit ?? '');
  if (of === 'fact') {
    const [kind = '', fact = ''] = name.split('.', 2);
    return dimensionOfUnit(draft.parts.get(kind)?.value.factUnits?.[fact] ?? '');
  }
  for (const { value } of draft.upkeeps.values())
    for (const reading of value.readings) if (reading.what === name) return dimensionOfUnit(reading.unit);
  return undefined;
}

/** Problems of one range against the rest of the draft. */
export function problemsOfRange(draft: Draft, item: Item<PlausibleRange>): Problem[] {
  const { id, least, most, such, source } = item.value;
  const owner = `range \`${id}\``;
  const wrong = (code: string, what: string, field: string, expected: string): Problem => ({
    code: `catalog.${code}`,
    what: `${owner}: ${what}`,
    where: item.where(field),
    expected,
  });
  if (!draft.sources.has(source))
    return [
      wrong('reference-unknown', `\`${source}\` is not a known source`, 'source', 'the id of an entry under `sources`'),
    ];
  const dimension = dimensionOfSubject(draft, id);
  if (dimension === undefined)
    return [wrong('reference-unknown', 'nothing of this name is measured', 'id', 'a reading or fact with a unit')];
  const other = (['least', 'most', 'such'] as const).find((field) => dimensionOf(item.value[field].unit) !== dimension);
  if (other !== undefined)
    return [wrong('unit-wrong', `\`${other}\` is in ${item.value[other].unit}`, other, dimension.replaceAll('-', ' '))];
  const range = asRange(item.value);
  if (range.least >= range.most || !inRange(such, range).ok)
    return [
      wrong('value-wrong', 'it is empty, or `such` lies outside', 'such', '`least` below `most`, `such` between them'),
    ];
  const widest = PLAUSIBLE[dimension];
  return [least, most].every((end) => inRange(end, widest).ok)
    ? []
    : [wrong('value-wrong', 'it is wider than anything can be', 'most', rangeText(widest, such.unit))];
}

/** Readings and measured facts that have no range of their own. */
export function rangesMissing(catalog: Catalog): Problem[] {
  if (catalog.ranges === undefined) return [];
  const ids = [
    ...[...unitsOfReadings(catalog).keys()].map((what) => `reading/${what}`),
    ...[...catalog.partKinds.values()].flatMap((kind) =>
      Object.keys(kind.factUnits ?? {}).map((fact) => `fact/${kind.id}.${fact}`),
    ),
    ...[...(catalog.rigFacts?.values() ?? [])]
      .filter(({ unit }) => unit !== undefined)
      .map(({ id }) => `rig-fact/${id}`),
  ];
  return ids
    .filter((id) => !catalog.ranges!.has(id))
    .map((id) => ({
      code: 'catalog.range-missing',
      what: `It is not said what \`${id}\` can plausibly be`,
      where: id,
      expected: 'an entry under `ranges`',
    }));
}
