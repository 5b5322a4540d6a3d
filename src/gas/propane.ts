/**
 * Propane: what a cylinder holds, and the pressure in it.
 *
 * Sources: weight 4.24 lb a gallon (trailer handbooks; 4.20 in NFPA 58 style tables); heat of the vapor 21,548 BTU a pound,
 * 91,502 a gallon, 2,488 a cubic foot (four published pages); filling limit 42 % of water capacity by weight (49 CFR 173.304a
 * and NFPA 58, from memory) and 80 % by volume (published). Vapor pressure and density of pure propane: the saturation
 * equations of Lemmon, McLinden and Wagner (2009); their coefficients from memory, and confirmed: they return 101.325 kPa at
 * the published boiling point of 231.036 K.
 */

import { exp, power } from '../elementary/index.ts';
import { fail, ok, type Result } from '../problem/index.ts';
import { atmosphere, convert, convertLike, type Quantity, quantity, systemOf, valueIn } from '../quantity/index.ts';

export const PROPANE_LB_A_GALLON = 4.24;
export const PROPANE_BTU_A_POUND = 21_548;
export const PROPANE_BTU_A_GALLON = 91_502;
export const PROPANE_BTU_A_CUBIC_FOOT = 2488;
const FILL_BY_WEIGHT = 0.42;
const FILL_BY_VOLUME = 0.8;
/** Pounds of water in a gallon at 60 °F. */
const WATER_LB_A_GALLON = 8.338;

export interface CylinderContent {
  readonly propane: Quantity;
  readonly volume: Quantity;
  readonly energy: Quantity;
  /** How long it lasts at the draw; null where none was given. */
  readonly time: Quantity | null;
  /** Share of what it may hold; null where its size was not given. */
  readonly fill: Quantity | null;
  readonly uncertainty: {
    readonly propane: { readonly low: Quantity; readonly high: Quantity };
    /** From the least the scale leaves open; null where no draw was given. */
    readonly timeLeast: Quantity | null;
  };
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** A hanging or bathroom scale is good to about half a pound (common practice, no source). */
const SCALE_ERROR_LB = 0.5;

/**
 * `cylinder-content`: propane left, from the scale and the tare stamped on the collar.
 *
 * @param input.hardware what else hung on the scale: hook, hose
 * @param input.nominal the cylinder's size (20 lb, 30 lb)
 * @param input.draw the heat the appliances burn together
 * @example scale 29.5 lb, tare 17.0 lb, draw 30,000 BTU/h → 12.5 lb, 269,350 BTU, 8.98 h
 */
export function cylinderContent(input: {
  readonly scale: Quantity;
  readonly tare: Quantity;
  readonly hardware?: Quantity | undefined;
  readonly nominal?: Quantity | undefined;
  readonly draw?: Quantity | undefined;
}): Result<CylinderContent> {
  const pounds = (q: Quantity | undefined) => (q === undefined ? 0 : valueIn(q, 'lb'));
  const left = pounds(input.scale) - pounds(input.tare) - pounds(input.hardware);
  if (pounds(input.hardware) < 0)
    return fail({
      code: 'gas.hardware',
      what: 'What hangs along weighs something.',
      where: 'hardware',
      expected: 'a mass of zero or more',
    });
  if (!(pounds(input.tare) > 0) || left < -SCALE_ERROR_LB) {
    return fail({
      code: 'gas.below-tare',
      what: 'A cylinder cannot weigh less than its own tare.',
      where: !(pounds(input.tare) > 0) ? 'tare' : 'scale',
      expected: 'a scale weight at or above the tare (TW on the collar)',
      next: 'Read TW again, or zero the scale.',
    });
  }
  const nominal = input.nominal === undefined ? null : pounds(input.nominal);
  if (nominal !== null && !(nominal > 0))
    return fail({
      code: 'gas.nominal',
      what: 'A cylinder has a size.',
      where: 'nominal',
      expected: 'such as 20 lb or 30 lb',
    });
  if (nominal !== null && left > nominal + SCALE_ERROR_LB) {
    return fail({
      code: 'gas.over-filled',
      what: `${left.toFixed(1)} lb is more than a ${Number(nominal.toFixed(1))} lb cylinder may hold.`,
      where: 'scale',
      expected: `up to ${nominal} lb of propane`,
      next: 'Weigh and read again. If it is so, do not use or move it indoors: a gas dealer must bleed it.',
    });
  }
  const draw = input.draw === undefined ? null : valueIn(input.draw, 'BTU/h');
  if (draw !== null && !(draw > 0))
    return fail({
      code: 'gas.draw',
      what: 'A draw is above zero.',
      where: 'draw',
      expected: 'the heat rating of what burns, in BTU/h or kW',
    });
  const held = Math.max(0, left);
  const mass = (lb: number) => convert(quantity(lb, 'lb'), input.scale.unit);
  const least = Math.max(0, held - SCALE_ERROR_LB);
  const btu = held * PROPANE_BTU_A_POUND;
  return ok({
    propane: mass(held),
    volume: convertLike(quantity(held / PROPANE_LB_A_GALLON, 'gal'), input.scale),
    energy: convertLike(quantity(btu, 'BTU'), input.scale, 'BTU'),
    time: draw === null ? null : quantity(btu / draw, 'h'),
    fill: nominal === null ? null : quantity((100 * held) / nominal, '%'),
    uncertainty: {
      propane: { low: mass(least), high: mass(held + SCALE_ERROR_LB) },
      timeLeast: draw === null ? null : quantity((least * PROPANE_BTU_A_POUND) / draw, 'h'),
    },
    limitedBy: draw === null ? 'the scale' : 'the draw',
    assumed: input.hardware === undefined ? ['hardware: none on the scale'] : [],
    cautions: ['In the cold a low cylinder may not give its gas fast enough: see vaporization.'],
  });
}

export interface CylinderFill {
  /** The lower of both rules. */
  readonly propaneMax: Quantity;
  readonly energy: Quantity;
  /** By weight: 42 % of the water capacity. */
  readonly propaneByWeight: Quantity;
  /** By volume: 80 %; about 3 % less. */
  readonly propaneAt80: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** `cylinder-fill`: the most a cylinder may be filled with, from WC on its collar: by weight or by volume, whichever is less. */
export function cylinderFill(input: { readonly waterCapacity: Quantity }): Result<CylinderFill> {
  const water = valueIn(input.waterCapacity, 'lb');
  if (!(water > 0))
    return fail({
      code: 'gas.water-capacity',
      what: 'A cylinder holds some water.',
      where: 'waterCapacity',
      expected: 'WC on the collar, such as 47.6 lb',
    });
  const byWeight = FILL_BY_WEIGHT * water;
  const byVolume = (water / WATER_LB_A_GALLON) * FILL_BY_VOLUME * PROPANE_LB_A_GALLON;
  const most = Math.min(byWeight, byVolume);
  const mass = (pounds: number) => convert(quantity(pounds, 'lb'), input.waterCapacity.unit);
  return ok({
    propaneMax: mass(most),
    energy: convertLike(
      quantity((most / PROPANE_LB_A_GALLON) * PROPANE_BTU_A_GALLON, 'BTU'),
      input.waterCapacity,
      'BTU',
    ),
    propaneByWeight: mass(byWeight),
    propaneAt80: mass(byVolume),
    limitedBy: byWeight < byVolume ? 'the weight' : 'the 80 % stop of the valve',
    cautions: ['Only a qualified filler fills a cylinder; liquid propane needs the empty fifth to expand into.'],
  });
}

/** The most that published tables of commercial propane stand above pure propane, psi. */
const COMMERCIAL_PSI_MOST = 30;
const CRITICAL_KELVIN = 369.89;
const CRITICAL_PASCAL = 4_251_200;
/** Colder and hotter than any cylinder on a rig; the saturation line goes further both ways. */
const COLDEST_KELVIN = 200;
const HOTTEST_KELVIN = 340;

/** Absolute vapor pressure of pure propane, pascal, from its temperature in kelvin (85.5 K to 369.9 K). */
export function propaneVaporPascal(kelvin: number): number {
  const theta = 1 - kelvin / CRITICAL_KELVIN;
  const sum =
    -6.7722 * theta +
    1.6938 * power(theta, 1.5) -
    1.3341 * power(theta, 2.2) -
    3.1876 * power(theta, 4.8) +
    0.94937 * power(theta, 6.2);
  return CRITICAL_PASCAL * exp((CRITICAL_KELVIN / kelvin) * sum);
}

export interface VaporPressure {
  /** Gauge pressure of pure propane in the cylinder. */
  readonly gauge: Quantity;
  /** Commercial propane runs higher because of the ethane in it: 17 psi at 70 °F, 22 at 100 °F, up to 30 at 110 °F in published tables. */
  readonly gaugeCommercial: { readonly low: Quantity; readonly high: Quantity };
  readonly absolute: Quantity;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

/** `vapor-pressure`: the pressure in a cylinder at the temperature of its liquid. */
export function vaporPressure(input: {
  readonly temperature: Quantity;
  readonly elevation?: Quantity | undefined;
}): Result<VaporPressure> {
  const kelvin = valueIn(input.temperature, 'K');
  if (!(kelvin >= COLDEST_KELVIN && kelvin <= HOTTEST_KELVIN)) {
    return fail({
      code: 'gas.temperature',
      what: 'No cylinder on a rig is that cold or that hot.',
      where: 'temperature',
      expected: 'a temperature between −73 °C (−100 °F) and 67 °C (152 °F)',
    });
  }
  const air = atmosphere(input.elevation ?? quantity(0, 'ft'));
  if (!air.ok) return fail({ ...air.problems[0]!, where: 'elevation' });
  const absolute = propaneVaporPascal(kelvin);
  const gauge = absolute - valueIn(air.value, 'Pa');
  const unit = systemOf(input.temperature.unit) === 'us' ? 'psi' : 'kPa';
  const pressure = (pascal: number) => convert(quantity(pascal, 'Pa'), unit);
  const psi = valueIn(quantity(1, 'psi'), 'Pa');
  const cautions = gauge <= 0 ? ['Below its boiling point propane gives no pressure at all: nothing will burn.'] : [];
  return ok({
    gauge: pressure(gauge),
    gaugeCommercial: { low: pressure(gauge), high: pressure(gauge + COMMERCIAL_PSI_MOST * psi) },
    absolute: pressure(absolute),
    limitedBy: 'the temperature of the liquid',
    assumed: input.elevation === undefined ? ['elevation: sea level'] : [],
    cautions,
  });
}
