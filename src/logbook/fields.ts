import { type Quantity, type QuantityRange, quantity, range } from '../quantity/index.ts';
import type { Entry } from './entry.ts';

/** What a field of an entry can be, with a usual value for messages. */
export interface FieldRange {
  readonly range: QuantityRange;
  readonly such: Quantity;
}

/** One number of an entry, as a quantity, and what it can be. */
export interface Field extends FieldRange {
  readonly path: string;
  readonly value: Quantity;
}

const field = (least: number, most: number, such: number, unit: QuantityRange['unit']): FieldRange => ({
  range: range(least, most, unit),
  such: quantity(such, unit),
});

/**
 * What the numbers of entries can be, by what they measure. Common practice, no source, but for: 80,000 lb is the most a vehicle may weigh
 * on an Interstate (23 CFR 658.17, from memory); air was measured from −128.6 to 134 °F (World Meteorological Organization's archive of
 * extremes, from memory); the highest roads lie under 20,000 ft, the lowest shore 1,400 ft under the sea.
 */
const FIELDS = {
  /** Six digits are what instruments show. */
  odometer: field(0, 999_999, 64_120, 'mi'),
  /** From the start of a trip. */
  mile: field(0, 100_000, 120, 'mi'),
  air: field(-130, 180, 68, 'degF'),
  height: field(-1500, 20_000, 860, 'ft'),
  rating: field(1, 80_000, 7000, 'lb'),
  weight: field(1, 80_000, 3140, 'lb'),
  tongue: field(0, 20_000, 740, 'lb'),
  /** Of one item aboard; a full water tank among them. */
  item: field(0, 5000, 60, 'lb'),
  /** Steps in which a scale shows weight. */
  step: field(0.1, 1000, 20, 'lb'),
  vehicle: field(0.1, 75, 12, 'ft'),
  cost: field(0, 1_000_000, 64, 'USD'),
  /** Two weeks, day and night. */
  minutes: field(0, 20_160, 80, 'min'),
  hours: field(0, 10_000, 12, 'h'),
} as const;

type Given = Quantity | number | undefined;
type Row = readonly [path: string, of: Given, is: FieldRange];

/** Every number of an entry that is neither a reading nor a fact of a part, with what it can be. */
export function fieldsOf(entry: Entry): Field[] {
  return rowsOf(entry).flatMap(([path, given, is]) =>
    given === undefined
      ? []
      : [{ path, ...is, value: typeof given === 'number' ? quantity(given, is.range.unit) : given }],
  );
}

const each = (path: string, of: object | undefined, is: FieldRange): Row[] =>
  Object.entries(of ?? {}).map(([name, given]): Row => [`${path}.${name}`, given as Given, is]);

function rowsOf({ kind, body }: Entry): Row[] {
  const { odometer, cost, minutes, hours, air, height, weight } = FIELDS;
  switch (kind) {
    case 'enroll':
      return [
        ...Object.entries(body.ratings ?? {}).map(
          ([name, rating]): Row => [`ratings.${name}.value`, rating?.value, FIELDS.rating],
        ),
        ...each('dimensions', body.dimensions, FIELDS.vehicle),
        ['home.elevation', body.home?.elevation, height],
      ];
    case 'fit':
      return [
        ['odometer', body.odometer, odometer],
        ['cost', body.cost, cost],
      ];
    case 'remove':
      return [['odometer', body.odometer, odometer]];
    case 'reading':
      return [
        ...(body.what === 'odometer' ? [['value', body.value, odometer] as const] : []),
        ['temperature', body.temperature, air],
        ['elevation', body.elevation, height],
      ];
    case 'work':
      return [
        ['odometer', body.odometer, odometer],
        ['odometerTow', body.odometerTow, odometer],
        ['minutes', body.minutes, minutes],
        ['cost', body.cost, cost],
      ];
    case 'trip':
      return [
        ['highest', body.highest, air],
        ['lowest', body.lowest, air],
        ['greatestHeight', body.greatestHeight, height],
        ['generatorHours', body.generatorHours, hours],
        ...(body.stops ?? []).map(({ mile }, at): Row => [`stops.${at}.mile`, mile, FIELDS.mile]),
      ];
    case 'trip-done':
      return [
        ['odometer', body.odometer, odometer],
        ['odometerTow', body.odometerTow, odometer],
        ['generatorHours', body.generatorHours, hours],
      ];
    case 'weigh':
      return [
        ...each('solo', body.solo, weight),
        ...each('hitchedSlack', body.hitchedSlack, weight),
        ...each('hitchedSet', body.hitchedSet, weight),
        ['tongue', body.tongue, FIELDS.tongue],
        ['axles', body.axles, weight],
        ['step', body.step, FIELDS.step],
      ];
    case 'carry':
      return [
        ['weight', body.weight, FIELDS.item],
        ['cost', body.cost, cost],
      ];
    case 'drill':
      return [['minutes', body.minutes, minutes]];
    case 'paper':
      return [['cost', body.cost, cost]];
    case 'adjust':
      return [
        ['was', body.was, odometer],
        ['now', body.now, odometer],
      ];
    case 'set':
    case 'waive':
    case 'strike':
    case 'witness':
      return [];
  }
}
