/**
 * `outlet-budget` and `motor-start`: what may run on an outlet, and what can start on it.
 *
 * Sources: NEC 210.20(A): a load of three hours or more counts for at most 80 % of the breaker (from memory); NEC table
 * 551.73: sites of 30 A give 3,600 VA, 50 A two-leg 9,600 VA, 20 A 2,400 VA; NEC table 430.248: full-load current of single-phase
 * motors at 115 V; locked-rotor code letters in kVA a horsepower (from memory).
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

export interface OutletBudget {
  readonly power: Quantity;
  readonly current: Quantity;
  readonly continuousMax: Quantity;
  readonly margin: Quantity;
  readonly holds: boolean;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

const CONTINUOUS_SHARE = 0.8;

/** @param input.loads what runs at the same time, with its rated power; `continuous` for three hours or more */
export function outletBudget(input: {
  readonly breaker: Quantity;
  readonly voltage: Quantity;
  readonly loads: readonly { readonly what: string; readonly power: Quantity; readonly continuous: boolean }[];
}): Result<OutletBudget> {
  const amps = valueIn(input.breaker, 'A');
  const volts = valueIn(input.voltage, 'V');
  if (amps <= 0 || volts < 80 || volts > 260)
    return fail({
      code: 'power.outlet',
      what: 'An outlet has a breaker, and 104 to 127 V (or twice that).',
      where: amps <= 0 ? 'breaker' : 'voltage',
      expected: 'such as 30 A and 120 V',
    });
  const power = input.loads.reduce((sum, load) => sum + valueIn(load.power, 'W'), 0);
  // Continuous loads count for a quarter more, which is the same as 80 % of the breaker for them alone.
  const counted = input.loads.reduce(
    (sum, load) => sum + valueIn(load.power, 'W') / (load.continuous ? CONTINUOUS_SHARE : 1),
    0,
  );
  const margin = amps - counted / volts;
  const cautions =
    volts < 108 ? ['Low voltage: motors and air conditioners overheat below about 108 V at the outlet.'] : [];
  return ok({
    power: quantity(power, 'W'),
    current: quantity(power / volts, 'A'),
    continuousMax: quantity(CONTINUOUS_SHARE * amps, 'A'),
    margin: quantity(margin, 'A'),
    holds: margin >= 0,
    limitedBy: input.loads.some((load) => load.continuous) ? 'the breaker, continuous loads at 80 %' : 'the breaker',
    cautions: [
      ...cautions,
      'A breaker that trips is doing its work: never a larger one on the same wire. 120 V work is for a licensed electrician.',
    ],
  });
}

/** Full-load amperes at 115 V by horsepower. */
export const MOTOR_FULL_LOAD: Readonly<Record<string, number>> = {
  '1/6': 4.4,
  '1/4': 5.8,
  '1/3': 7.2,
  '1/2': 9.8,
  '3/4': 13.8,
  '1': 16,
  '1 1/2': 20,
  '2': 24,
  '3': 34,
};

/** Highest kVA a horsepower of a locked-rotor code letter; from memory. */
export const LOCKED_ROTOR_KVA: Readonly<Record<string, number>> = { G: 6.29, H: 7.09, J: 7.99, K: 8.99, L: 9.99 };

export interface MotorStart {
  readonly currentFull: Quantity;
  readonly currentStart: Quantity;
  readonly powerStart: Quantity;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** @example 1 hp, code K, 120 V → 74.9 A for an instant */
export function motorStart(input: {
  readonly horsepower: string;
  readonly code: string;
  readonly voltage: Quantity;
}): Result<MotorStart> {
  const size = input.horsepower
    .replace(/\s*hp$/i, '')
    .replace('-', ' ')
    .trim();
  const full = MOTOR_FULL_LOAD[size];
  const kva = LOCKED_ROTOR_KVA[input.code.trim().toUpperCase()];
  if (full === undefined)
    return fail({
      code: 'power.motor',
      what: `\`${input.horsepower}\` is no motor of the table.`,
      where: 'horsepower',
      expected: Object.keys(MOTOR_FULL_LOAD).join(', '),
    });
  if (kva === undefined)
    return fail({
      code: 'power.motor-code',
      what: `\`${input.code}\` is no code letter of the table.`,
      where: 'code',
      expected: Object.keys(LOCKED_ROTOR_KVA).join(', '),
    });
  const [whole, fraction] = size.includes(' ') ? size.split(' ') : size.includes('/') ? ['0', size] : [size, '0/1'];
  const [over, under] = (fraction ?? '0/1').split('/').map(Number);
  const horsepower = Number(whole) + over! / under!;
  const volts = valueIn(input.voltage, 'V');
  if (volts <= 0)
    return fail({
      code: 'power.voltage',
      what: 'A voltage is above zero.',
      where: 'voltage',
      expected: 'such as 120 V',
    });
  return ok({
    currentFull: quantity(full, 'A'),
    currentStart: quantity((kva * horsepower * 1000) / volts, 'A'),
    powerStart: quantity(kva * horsepower * 1000, 'W'),
    limitedBy: 'the instant of starting',
    cautions: [
      'Highest value of the code letter: a loaded compressor starts no easier. An inverter must give this for an instant.',
    ],
  });
}
