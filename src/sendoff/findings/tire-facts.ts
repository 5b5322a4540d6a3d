import { limitOf } from '../../catalog/index.ts';
import { daysBetween } from '../../dates/index.ts';
import {
  type EntryOf,
  type PartState,
  quantityFact,
  type ReadingFact,
  vehicleOf,
  weighingsOf,
} from '../../logbook/index.ts';
import { ok, type Result } from '../../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../../quantity/index.ts';
import {
  gaugeAt,
  LOAD_RANGE_PSI,
  LOAD_RANGES,
  type TireFamily,
  type TireSpec,
  tirePressureFor,
} from '../../tires/index.ts';
import type { Context } from '../context.ts';

/**
 * The one temperature to which cold pressures are brought: 20 °C (68 °F), at the height of home. Cold pressures on placards and in
 * load tables are understood at about that temperature (common practice, no source).
 */
export const REFERENCE_TEMPERATURE = quantity(20, 'degC');
/** A reading without its temperature was taken within this of the reference: from 38 to 98 °F. Our own choice. */
const UNKNOWN_SPREAD_KELVIN = 16.7;
/** A hand gauge is off by about this much either way. */
export const GAUGE_ERROR = limitOf('tire-gauge-error');
/** A proof of pressure holds so many days before leaving (sendoff, the checks). */
export const PROOF_DAYS = { running: 1, spare: 30, tow: 1 } as const;

/** What is looked at to know the tires: also where no trip is asked about. */
export type TiresSeen = Pick<Context, 'state' | 'parts' | 'show'>;

const ROLES = { tire: 'running', 'spare-tire': 'spare', 'tow-tire': 'tow' } as const;
export type TireRole = (typeof ROLES)[keyof typeof ROLES];

/** A tire of this rig as far as the logbook knows it. */
export interface TireOnRig {
  readonly part: PartState;
  readonly role: TireRole;
  readonly family: TireFamily | null;
  /** What the load tables need to know; null where size or load range are not on record. */
  readonly spec: TireSpec | null;
  readonly speedSymbol: string | null;
  readonly pressureColdMax: Quantity | null;
}

const text = (part: PartState, fact: string): string | null => {
  const value = part.facts[fact];
  return typeof value === 'string' && value.trim() !== '' ? value.trim() : null;
};

/** Every tire on the rig: those that run under the trailer, its spare, and those of the tow vehicle. */
export function tiresOnRig({ parts }: Pick<Context, 'parts'>): readonly TireOnRig[] {
  return parts.flatMap((part) => {
    const role = ROLES[part.kind as keyof typeof ROLES];
    return role === undefined ? [] : [tireOf(part, role)];
  });
}

function tireOf(part: PartState, role: TireRole): TireOnRig {
  const size = text(part, 'size');
  const family = familyOf(size);
  const pressureColdMax = quantityFact(part, 'pressureColdMax');
  const loadRange = text(part, 'loadRange') ?? rangeIn(size) ?? rangeOf(pressureColdMax);
  const load = quantityFact(part, 'loadMax');
  const bare = size?.replace(/\s+(?:LR|load range)?\s*[B-G]$/i, '') ?? null;
  const spec: TireSpec | null =
    bare === null || family === null || loadRange === null
      ? null
      : {
          size: bare,
          family,
          loadRange,
          vehicle: role === 'tow' ? 'truck' : 'trailer',
          ...(load && pressureColdMax ? { sidewall: { load, pressure: pressureColdMax } } : {}),
        };
  return { part, role, family, spec, speedSymbol: text(part, 'speedSymbol'), pressureColdMax };
}

function familyOf(size: string | null): TireFamily | null {
  const letters = /^(ST|LT|P)(?=\d)/i.exec(size ?? '')?.[1]?.toUpperCase();
  if (letters === 'ST' || letters === 'LT' || letters === 'P') return letters;
  return /^[\d./-]+\s*LT\b/i.test(size ?? '') ? 'LT-bias' : null;
}

const rangeIn = (size: string | null): string | null =>
  /\s(?:LR|load range)?\s*([B-G])$/i.exec(size ?? '')?.[1]?.toUpperCase() ?? null;

/** The load range whose usual top pressure is just what the sidewall says: the letter itself changes no row below it. */
function rangeOf(pressureMax: Quantity | null): string | null {
  const psi = pressureMax === null ? null : valueIn(pressureMax, 'psi');
  return psi === null ? null : (LOAD_RANGES.find((range) => Math.abs(LOAD_RANGE_PSI[range]! - psi) < 2.5) ?? null);
}

/** What each running trailer tire carries by the newest weighing, shared equally: the group is weighed as one. */
export function wheelLoad(context: TiresSeen): { readonly load: Quantity; readonly entry: EntryOf<'weigh'> } | null {
  const tires = tiresOnRig(context).filter((tire) => tire.role === 'running').length;
  const axles = vehicleOf(context.state, 'trailer')?.body.axles;
  const entry = weighingsOf(context.state).at(-1);
  if (!entry || tires < 2 || (axles !== undefined && tires !== axles * 2)) return null;
  const { hitchedSlack, hitchedSet, axles: alone } = entry.body;
  const groups = [hitchedSlack?.axles, hitchedSet?.axles, alone].flatMap((group) => (group ? [group] : []));
  if (groups.length === 0) return null;
  const most = groups.reduce((a, b) => (valueIn(b, 'lb') > valueIn(a, 'lb') ? b : a));
  return { load: { value: most.value / tires, unit: most.unit }, entry };
}

/** The least cold pressure a tire may have, and what says so. */
export interface RequiredPressure {
  readonly pressure: Quantity;
  readonly why: string;
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
}

/** What the weighed load needs by the tables; null where the tire or its load is not known, a Problem where it is overloaded. */
export function pressureForLoad(context: TiresSeen, tire: TireOnRig): Result<RequiredPressure> | null {
  const carried = tire.role === 'tow' ? null : wheelLoad(context);
  if (!tire.spec || !carried) return null;
  const needed = tirePressureFor({ ...tire.spec, load: carried.load });
  if (!needed.ok) return needed;
  return ok({
    pressure: needed.value.pressureLeast,
    why: `for ${context.show(carried.load, 0)} a tire`,
    evidence: [carried.entry.id, tire.part.fit.id],
    sources: needed.value.sourcesUsed,
  });
}

/** The higher of what is on record as the least, and what the weighed load needs; null where neither is known. */
export function requiredPressure(context: TiresSeen, tire: TireOnRig): RequiredPressure | null {
  const label = quantityFact(tire.part, 'pressureColdMin');
  const found: RequiredPressure[] = [];
  if (label) found.push({ pressure: label, why: 'on record', evidence: [tire.part.fit.id], sources: ['fmvss-110'] });
  const needed = pressureForLoad(context, tire);
  if (needed?.ok) found.push(needed.value);
  return found.reduce<RequiredPressure | null>(
    (most, one) => (most === null || valueIn(one.pressure, 'psi') > valueIn(most.pressure, 'psi') ? one : most),
    null,
  );
}

/** A cold pressure at the reference: what it is, and between which bounds where the reading's temperature is not on record. */
export interface ColdPressure {
  readonly low: Quantity;
  readonly high: Quantity;
  readonly temperatureKnown: boolean;
  readonly reading: ReadingFact;
  readonly daysOld: number;
}

const homeHeight = ({ state }: Context): Quantity | null => vehicleOf(state, 'trailer')?.body.home?.elevation ?? null;

/** The newest cold pressure of a tire, brought to the reference; null where none was read since it was fitted. */
export function coldPressure(context: Context, part: PartState): ColdPressure | null {
  const reading = part.readings.get('pressure-cold')?.at(-1);
  if (!reading) return null;
  const at = (kelvin: number): Quantity | null => {
    const elevation = reading.elevation ?? homeHeight(context) ?? quantity(0, 'ft');
    const there = gaugeAt(
      reading.value,
      { temperature: quantity(kelvin, 'K'), elevation },
      { temperature: REFERENCE_TEMPERATURE, elevation: homeHeight(context) ?? elevation },
    );
    return there.ok ? there.value : null;
  };
  const reference = valueIn(REFERENCE_TEMPERATURE, 'K');
  const known = reading.temperature ? valueIn(reading.temperature, 'K') : null;
  const low = at(known ?? reference + UNKNOWN_SPREAD_KELVIN);
  const high = at(known ?? reference - UNKNOWN_SPREAD_KELVIN);
  if (!low || !high) return null;
  const daysOld = daysBetween(reading.on, context.leave);
  return { low, high, temperatureKnown: known !== null, reading, daysOld };
}

/** What a gauge shows at the coldest of the trip for a tire that stands at `pressure` at the reference. */
export function atColdest(
  context: Context,
  pressure: Quantity,
): { readonly pressure: Quantity; readonly temperature: Quantity } | null {
  const temperature = context.trip.plan.body.lowest;
  if (!temperature) return null;
  const elevation = homeHeight(context) ?? quantity(0, 'ft');
  const there = gaugeAt(pressure, { temperature: REFERENCE_TEMPERATURE, elevation }, { temperature, elevation });
  return there.ok ? { pressure: there.value, temperature } : null;
}

/** `a` less `b`, in psi: for comparing only. */
export const psiOver = (a: Quantity, b: Quantity): number => valueIn(a, 'psi') - valueIn(b, 'psi');
