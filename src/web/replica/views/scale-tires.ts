import { formatDate } from '../../../dates/index.ts';
import { type PartState, partsOf, vehicleOf } from '../../../logbook/index.ts';
import { ok, type Result } from '../../../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../../../quantity/index.ts';
import {
  LOAD_RANGE_PSI,
  LOAD_RANGES,
  oneWheelLost,
  type TireFamily,
  type TireSpec,
  tireLoad,
  tirePressureFor,
  tireSetNow,
} from '../../../tires/index.ts';
import type { Keeper } from '../keeper.ts';
import { quantityText, type Told } from './entry-text.ts';

/** One tire of the trailer: what it carries, what it may carry, what to set it to. */
export interface TireRow {
  readonly part: string;
  readonly place: string;
  readonly pressure: string;
  readonly load: string;
  readonly may: string;
  readonly margin: string;
  /** Cold pressure at 68 °F. */
  readonly setTo: string;
  readonly target: Quantity | null;
  readonly note: string;
}

export interface WheelLost {
  readonly text: string;
  readonly cautions: readonly string[];
}

/** Temperature for which pressures are meant unless the air now is known; said beside every figure. */
const REFERENCE: Quantity = quantity(68, 'degF');

function measured(part: PartState, fact: string): Quantity | undefined {
  const value = part.facts[fact];
  if (typeof value === 'object') return value;
  const read = typeof value === 'string' ? parseQuantity(value) : undefined;
  return read?.ok ? read.value : undefined;
}

/** A tire as the load tables know it; undefined where its label was never written down. */
function specOf(part: PartState): TireSpec | undefined {
  const size = typeof part.facts.size === 'string' ? part.facts.size : undefined;
  const family = /^(ST|LT|P)/.exec(size ?? '')?.[1] as TireFamily | undefined;
  const load = measured(part, 'loadMax');
  const pressure = measured(part, 'pressureColdMax');
  const range =
    typeof part.facts.loadRange === 'string'
      ? part.facts.loadRange
      : pressure
        ? LOAD_RANGES.find((letter) => LOAD_RANGE_PSI[letter] === Math.round(valueIn(pressure, 'psi')))
        : undefined;
  if (size === undefined || family === undefined || range === undefined) return undefined;
  return {
    size,
    family,
    loadRange: range,
    vehicle: 'trailer',
    ...(load && pressure ? { sidewall: { load, pressure } } : {}),
  };
}

/** Every running tire of the trailer. The load of one is its share of the axles' load, taken even where wheels were not weighed alone. */
export function tireRows(keeper: Keeper, told: Told, axleLoad: Quantity | null, axles: number): TireRow[] {
  const each = axleLoad ? quantity(axleLoad.value / (axles * 2), axleLoad.unit) : null;
  return partsOf(keeper.state)
    .filter((part) => part.kind === 'tire' && (part.vehicle ?? 'trailer') === 'trailer')
    .map((part) => rowOf(told, part, each));
}

function rowOf(told: Told, part: PartState, load: Quantity | null): TireRow {
  const reading = part.readings.get('pressure-cold')?.at(-1);
  const spec = specOf(part);
  const may = reading && spec ? tireLoad({ ...spec, pressure: reading.value }) : null;
  const needs = spec && load ? tirePressureFor({ ...spec, load }) : null;
  const notes: string[] = [];
  if (!spec) notes.push('Size or load range not on record');
  if (!reading) notes.push('Pressure never read');
  if (may && !may.ok) notes.push(may.problems[0]!.what);
  if (needs && !needs.ok) notes.push(needs.problems[0]!.what);
  const own = measured(part, 'pressureColdMin');
  const least = needs?.ok ? needs.value.pressure : null;
  const target = own && least ? (valueIn(own, 'psi') >= valueIn(least, 'psi') ? own : least) : (own ?? least);
  return {
    part: part.id,
    place: part.place,
    pressure: reading ? `${quantityText(told, reading.value)} on ${formatDate(reading.on, 'no-year')}` : '–',
    load: load ? quantityText(told, load, 0) : '–',
    may: may?.ok ? quantityText(told, may.value.load, 0) : '–',
    margin:
      may?.ok && load
        ? quantityText(told, quantity(valueIn(may.value.load, 'lb') - valueIn(load, 'lb'), 'lb'), 0)
        : '–',
    setTo: target ? quantityText(told, target) : '–',
    target: target ?? null,
    note: notes.join('. '),
  };
}

/** What each gauge must show in this air, so that the tire holds its target at 68 °F: by place, in the owner's unit. */
export function setNow(
  keeper: Keeper,
  told: Told,
  air: string,
): Result<readonly (readonly [place: string, pressure: string])[]> {
  const temperature = parseQuantity(air, 'temperature');
  if (!temperature.ok) return temperature;
  const elevation = vehicleOf(keeper.state, 'trailer')?.body.home?.elevation ?? quantity(0, 'ft');
  const rows: [string, string][] = [];
  for (const { place, target } of tireRows(keeper, told, null, 2)) {
    if (!target) continue;
    const made = tireSetNow({
      target,
      targetTemperature: REFERENCE,
      targetElevation: elevation,
      temperature: temperature.value,
      elevation,
    });
    if (!made.ok) return made;
    rows.push([place, quantityText(told, made.value.gauge)]);
  }
  return ok(rows);
}

/** With one wheel gone: what the one beside it would carry. Bounds, never a permission. */
export function wheelLost(keeper: Keeper, told: Told, axleLoad: Quantity, axles: number): WheelLost | null {
  const trailer = vehicleOf(keeper.state, 'trailer')?.body;
  const rating = trailer?.ratings?.gawrAxle?.value;
  const tire = partsOf(keeper.state).find((part) => part.kind === 'tire');
  const spec = tire ? specOf(tire) : undefined;
  const pressure = tire?.readings.get('pressure-cold')?.at(-1)?.value;
  const may = spec && pressure ? tireLoad({ ...spec, pressure }) : null;
  if (axles !== 2 || !rating || !may?.ok) return null;
  const made = oneWheelLost({
    axleLoad,
    tireRating: may.value.load,
    axleRating: rating,
    suspension: trailer?.suspension ?? 'leaf',
  });
  if (!made.ok) return null;
  const { sameSide, unloadTo, over } = made.value;
  const text = `The wheel left on that side would carry up to ${quantityText(told, sameSide.high, 0)}. ${over ? `That is over a limit; the axles would have to come down to ${quantityText(told, unloadTo, 0)}.` : 'That is within its limits.'}`;
  return { text, cautions: made.value.cautions };
}
