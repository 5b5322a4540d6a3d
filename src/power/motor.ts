/**
 * `motor-start`: what a motor takes to start, and whether a source gives it.
 *
 * Sources: NEC table 430.248: full-load current of single-phase motors at 115 V (four copies agree); locked-rotor code letters
 * in kVA a horsepower (NEC table 430.7(B), from memory): the highest of the letter is taken.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

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

/** The voltage the table's currents are for. */
const TABLE_VOLTS = 115;

export interface MotorStart {
  readonly currentFull: Quantity;
  readonly currentStart: Quantity;
  readonly powerStart: Quantity;
  /** False: it will not start. True: it may. Null where no source was given. */
  readonly starts: boolean | null;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** Horsepower of a size as the table writes it: `1 1/2` is 1.5. */
function horsepowerOf(size: string): number {
  return size
    .split(' ')
    .map((part) => part.split('/').map(Number))
    .reduce((sum, [over, under]) => sum + over! / (under ?? 1), 0);
}

/**
 * @param input.source what generator, inverter or outlet gives for an instant (surge), in VA or W
 * @example 1 hp, code K, 120 V → 74.9 A for an instant
 */
export function motorStart(input: {
  readonly horsepower: string;
  readonly code: string;
  readonly voltage: Quantity;
  readonly source?: Quantity | undefined;
}): Result<MotorStart> {
  const size = input.horsepower
    .replace(/\s*hp$/i, '')
    .replace(/[-\s]+/, ' ')
    .trim();
  const full = Object.hasOwn(MOTOR_FULL_LOAD, size) ? MOTOR_FULL_LOAD[size] : undefined;
  const letter = input.code.trim().toUpperCase();
  const kva = Object.hasOwn(LOCKED_ROTOR_KVA, letter) ? LOCKED_ROTOR_KVA[letter] : undefined;
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
  const volts = valueIn(input.voltage, 'V');
  if (!(volts >= 80 && volts <= 140))
    return fail({
      code: 'power.voltage',
      what: `${volts} V is no 120 V outlet.`,
      where: 'voltage',
      expected: '80 to 140 V, such as 120 V',
    });
  const voltAmperes = kva * horsepowerOf(size) * 1000;
  const starts = input.source === undefined ? null : valueIn(input.source, 'W') >= voltAmperes;
  return ok({
    // A loaded motor keeps its power: at a lower voltage it draws more.
    currentFull: quantity(full * Math.max(1, TABLE_VOLTS / volts), 'A'),
    currentStart: quantity(voltAmperes / volts, 'A'),
    powerStart: quantity(voltAmperes, 'W'),
    starts,
    limitedBy: 'the instant of starting',
    cautions: [
      ...(starts === false
        ? [
            'It will not start on this source: the motor stalls, hums and overheats, and the source trips. Switch off at once if it does not turn.',
          ]
        : []),
      'Highest value of the code letter: a loaded compressor starts no easier. A source that gives just this may still fail hot, high up or on a long cord.',
    ],
  });
}
