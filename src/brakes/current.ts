/**
 * `brake-current`: what electric brakes should draw, and what a reading says.
 *
 * Two families of figures, never merged. In service: an axle maker's system values at full application, 3.0 A a brake (2.5 A for
 * 7 in), and a light-tower maker's manual (2016) whose two healthy brakes draw 5.5 to 6.0 A together and are replaced below. Upper
 * bound: a parts seller's maxima by magnet resistance (3.2 to 3.5 Ω for 10 and 12 in, 3.8 to 4.0 Ω for 7 in), which is Ohm's law.
 * Nothing: open. Above the upper bound: a short.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, quantity, valueIn } from '../quantity/index.ts';

export type DrumSize = '7 in' | '10 in' | '12 in';
export const DRUM_SIZES = ['7 in', '10 in', '12 in'] as const;

/** Amperes a brake at full application, 12 V. Source: axle maker's service table as relayed by a trailer maker. */
const SYSTEM_AMPERES: Readonly<Record<DrumSize, number>> = { '7 in': 2.5, '10 in': 3, '12 in': 3 };
/** Lowest resistance of a sound magnet, Ω. Source: a trailer parts seller's technical sheet. */
const OHMS_LOWEST: Readonly<Record<DrumSize, number>> = { '7 in': 3.8, '10 in': 3.2, '12 in': 3.2 };
/** 5.5 of 6.0 A still counts as healthy (light-tower manual). */
const HEALTHY_SHARE = 5.5 / 6;
const SYSTEM_VOLTS = 12;
/** Less than this is no current but a meter's zero, A. */
const OPEN_AMPERES = 0.1;

export interface BrakeCurrent {
  /** In service at this voltage: from the replacement limit to the system value. */
  readonly expected: { readonly low: Quantity; readonly high: Quantity };
  /** The most sound magnets can draw at this voltage. */
  readonly most: Quantity;
  readonly verdict: 'open' | 'low' | 'in-service' | 'above-service' | 'short' | null;
  /** Magnets that may be without current, where it is low. */
  readonly magnetsOut: number | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const CAUTIONS = [
  'A current is no braking: adjust, then test each wheel, and stop from 20 mph on a clear level road.',
  'Wheels chocked before any work under the trailer.',
] as const;

/** What to do about each verdict. */
const ADVICE: Readonly<Record<NonNullable<BrakeCurrent['verdict']>, string | null>> = {
  open: 'No current: broken wire, plug, ground or controller. The trailer has no brakes.',
  low: 'Too little: a magnet without current, a worn coil, a thin or corroded wire or ground. Measure at each brake.',
  'in-service': null,
  'above-service':
    'More than the service value, less than the magnets allow: voltage is high or a magnet new; measure its resistance.',
  short: 'More than sound magnets can draw: a shorted magnet or wire. Do not tow until it is found.',
};

/**
 * @param input.brakes number of electric brakes: 2, 4 or 6
 * @param input.current measured in the brake wire, full application; none: only the expected figures
 * @param input.voltage at the brakes meanwhile; 12 V where not given
 * @example 4 brakes of 12 in at 12 V → 11.0 to 12.0 A, at most 15.0 A
 */
export function brakeCurrent(input: {
  readonly brakes: number;
  readonly size: DrumSize;
  readonly current?: Quantity | undefined;
  readonly voltage?: Quantity | undefined;
}): Result<BrakeCurrent> {
  if (!Number.isInteger(input.brakes) || input.brakes < 1 || input.brakes > 12) {
    return fail({ code: 'brakes.count', what: 'Brakes are counted whole.', where: 'brakes', expected: '2, 4 or 6' });
  }
  const volts = input.voltage === undefined ? SYSTEM_VOLTS : valueIn(input.voltage, 'V');
  const amperes = input.current === undefined ? null : valueIn(input.current, 'A');
  if (volts < 6 || volts > 15 || (amperes !== null && amperes < 0)) {
    return fail({
      code: 'brakes.reading',
      what: 'Full application puts 9 to 14 V on the brakes and draws a current of zero or more.',
      where: volts < 6 || volts > 15 ? 'voltage' : 'current',
      expected: 'readings at full manual application, engine running',
    });
  }
  const system = (input.brakes * SYSTEM_AMPERES[input.size] * volts) / SYSTEM_VOLTS;
  const most = (input.brakes * volts) / OHMS_LOWEST[input.size];
  const low = system * HEALTHY_SHARE;
  const verdict =
    amperes === null
      ? null
      : amperes < OPEN_AMPERES
        ? 'open'
        : amperes < low
          ? 'low'
          : amperes <= system
            ? 'in-service'
            : amperes <= most
              ? 'above-service'
              : 'short';
  const advice = verdict === null ? null : ADVICE[verdict];
  return ok({
    expected: { low: quantity(low, 'A'), high: quantity(system, 'A') },
    most: quantity(most, 'A'),
    verdict,
    magnetsOut:
      verdict === 'low' && amperes !== null
        ? Math.max(1, Math.round(input.brakes * (1 - amperes / system)))
        : verdict === 'open'
          ? input.brakes
          : null,
    limitedBy: 'the resistance of the magnets',
    assumed: input.voltage === undefined ? ['voltage: 12 V at the brakes'] : [],
    cautions: advice === null ? [...CAUTIONS] : [advice, ...CAUTIONS],
  });
}

/** The range of a parts seller's maxima: brakes · volts / ohms, at the ends of both ranges. */
export function magnetMaximum(brakes: number, volts: number, ohms: number): number {
  return (brakes * volts) / ohms;
}
