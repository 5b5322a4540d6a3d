import { formatDate } from '../../../dates/index.ts';
import { partsOf, vehicleOf } from '../../../logbook/index.ts';
import { ok, type Result } from '../../../problem/index.ts';
import { parseQuantity, type Quantity, quantity, valueIn } from '../../../quantity/index.ts';
import {
  pressureForLoad,
  REFERENCE_TEMPERATURE,
  requiredPressure,
  type TireOnRig,
  type TiresSeen,
  tiresOnRig,
  wheelLoad,
} from '../../../sendoff/index.ts';
import { oneWheelLost, tireLoad, tireSetNow } from '../../../tires/index.ts';
import type { Keeper } from '../keeper.ts';
import { quantityText, type Told } from './told.ts';

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

const seenBy = ({ state }: Keeper, told: Told): TiresSeen => ({
  state,
  parts: partsOf(state),
  show: (q, digits) => quantityText(told, q, digits),
});

/** Every running tire of the trailer, as the send-off knows it. The load of one is its share of the weighed group. */
export function tireRows(keeper: Keeper, told: Told): TireRow[] {
  const seen = seenBy(keeper, told);
  const load = wheelLoad(seen)?.load ?? null;
  return tiresOnRig(seen)
    .filter(({ role }) => role === 'running')
    .map((tire) => rowOf(seen, tire, load));
}

function rowOf(seen: TiresSeen, tire: TireOnRig, load: Quantity | null): TireRow {
  const { part, spec } = tire;
  const reading = part.readings.get('pressure-cold')?.at(-1);
  const may = reading && spec ? tireLoad({ ...spec, pressure: reading.value }) : null;
  const needs = pressureForLoad(seen, tire);
  const notes: string[] = [];
  if (!spec) notes.push('Size or load range not on record');
  if (!reading) notes.push('Pressure never read');
  if (may && !may.ok) notes.push(may.problems[0]!.what);
  if (needs && !needs.ok) notes.push(needs.problems[0]!.what);
  const target = requiredPressure(seen, tire)?.pressure ?? null;
  const left = may?.ok && load ? quantity(valueIn(may.value.load, 'lb') - valueIn(load, 'lb'), 'lb') : null;
  return {
    part: part.id,
    place: part.place,
    pressure: reading ? `${seen.show(reading.value)} on ${formatDate(reading.on, 'no-year')}` : '–',
    load: load ? seen.show(load, 0) : '–',
    may: may?.ok ? seen.show(may.value.load, 0) : '–',
    margin: left ? seen.show(left, 0) : '–',
    setTo: target ? seen.show(target) : '–',
    target,
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
  for (const { place, target } of tireRows(keeper, told)) {
    if (!target) continue;
    const made = tireSetNow({
      target,
      targetTemperature: REFERENCE_TEMPERATURE,
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
  const tire = tiresOnRig(seenBy(keeper, told)).find(({ role }) => role === 'running');
  const spec = tire?.spec;
  const pressure = tire?.part.readings.get('pressure-cold')?.at(-1)?.value;
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
