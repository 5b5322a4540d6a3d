/**
 * The current a low-voltage circuit has to carry: as given, or what an inverter draws from a low battery.
 *
 * An inverter keeps its power as the battery falls, so it draws most just before it cuts out: I = power / (efficiency · cut-out
 * volts). Sources: 85 % efficiency, a cable seller's sizing sheet; 10.5 V as the cut-out of a 12 V system, common practice, no source.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

/** What a circuit is asked for by: a current, or an inverter. */
export interface CircuitInput {
  readonly current?: Quantity | undefined;
  /** What the inverter gives without end, on its plate. */
  readonly inverterPower?: Quantity | undefined;
  /** The battery voltage at which it switches off. */
  readonly inverterCutout?: Quantity | undefined;
  readonly inverterEfficiency?: Quantity | undefined;
  /** Nominal, 12 V where not given. */
  readonly voltage?: Quantity | undefined;
  /** One way. */
  readonly length: Quantity;
}

export interface Circuit {
  readonly amperes: number;
  /** The voltage at which that current flows: nominal, or the inverter's cut-out. */
  readonly volts: number;
  readonly feet: number;
  readonly assumed: readonly string[];
}

const NOMINAL = quantity(12, 'V');
/** Of the nominal voltage. */
const CUTOUT_SHARE = 10.5 / 12;
const EFFICIENCY = 0.85;
/** Above it the low-voltage tables end (33 CFR 183.425 and ABYC E-11: under 50 V). */
const LOW_VOLTAGE_MOST = 50;

const needs = (where: string, what: string, expected: string) => ({ code: 'power.circuit', what, where, expected });

/** @example 2,000 W at 85 % and 10.5 V → 224 A */
export function circuit(input: CircuitInput): Result<Circuit> {
  const nominal = valueIn(input.voltage ?? NOMINAL, 'V');
  const feet = valueIn(input.length, 'ft');
  if (!(feet > 0)) return fail(needs('length', 'A circuit has a length.', 'a length one way, such as 12 ft'));
  if (!(nominal > 0 && nominal <= LOW_VOLTAGE_MOST))
    return fail({
      ...needs('voltage', 'This is for direct current under 50 V.', 'a battery voltage, such as 12 V or 24 V'),
      next: '120 V wiring is for a licensed electrician.',
    });
  if ((input.current === undefined) === (input.inverterPower === undefined))
    return fail(
      needs('current', 'Give the current, or the power of the inverter: one of the two.', 'such as current 20 A'),
    );
  const voltsAssumed = input.voltage === undefined ? ['voltage: 12 V'] : [];
  if (input.current !== undefined) {
    const amperes = valueIn(input.current, 'A');
    if (!(amperes > 0)) return fail(needs('current', 'A circuit has a current.', 'a current above zero, such as 20 A'));
    return ok({ amperes, volts: nominal, feet, assumed: voltsAssumed });
  }
  const watts = valueIn(input.inverterPower!, 'W');
  const cutout = input.inverterCutout === undefined ? CUTOUT_SHARE * nominal : valueIn(input.inverterCutout, 'V');
  const efficiency = input.inverterEfficiency === undefined ? EFFICIENCY : valueIn(input.inverterEfficiency, 'ratio');
  if (!(watts > 0)) return fail(needs('inverterPower', 'An inverter has a power.', 'such as 2,000 W'));
  if (!(cutout >= nominal / 2 && cutout <= nominal * 1.1))
    return fail(
      needs('inverterCutout', 'An inverter cuts out a little below the nominal voltage.', 'such as 10.5 V of 12 V'),
    );
  if (!(efficiency >= 0.5 && efficiency <= 1))
    return fail(needs('inverterEfficiency', 'An inverter passes on most of what it draws.', '50 to 100 %'));
  return ok({
    amperes: watts / (efficiency * cutout),
    volts: cutout,
    feet,
    assumed: [
      ...voltsAssumed,
      ...(input.inverterCutout === undefined ? [`inverterCutout: ${Number(cutout.toFixed(2))} V`] : []),
      ...(input.inverterEfficiency === undefined ? ['inverterEfficiency: 85 %'] : []),
    ],
  });
}
