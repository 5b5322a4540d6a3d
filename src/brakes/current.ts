/**
 * `brake-current`: what electric brakes draw, and which of them a reading proves.
 *
 * Two families of figures, never merged. In service: an axle maker's system values at full application, 3.0 A a brake (2.5 A for
 * 7 in), and a light-tower maker's manual (2016) whose two healthy brakes draw 5.5 to 6.0 A together and are replaced below. Of a
 * magnet: a parts seller's resistances (3.2 to 3.5 Ω for 10 and 12 in, 3.8 to 4.0 Ω for 7 in) and its maxima at 12 to 13 V, which
 * are Ohm's law. Copper gains 0.393 % of its resistance for each °C above 20 °C (IEC 60028), so a cold magnet draws more and a hot
 * one less.
 *
 * A total says how many sound magnets can be behind it, not which. Where fewer than all can draw as much, it proves nothing:
 * each axle or wheel is read alone. A magnet partly shorted beside a dead one is seen only wheel by wheel.
 */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { inRange, type Quantity, quantity, range, valueIn } from '../quantity/index.ts';

export type DrumSize = '7 in' | '10 in' | '12 in';
export const DRUM_SIZES = ['7 in', '10 in', '12 in'] as const;

/** Amperes a brake at full application, 12 V. Source: axle maker's service table as relayed by a trailer maker. */
const SYSTEM_AMPERES: Readonly<Record<DrumSize, number>> = { '7 in': 2.5, '10 in': 3, '12 in': 3 };
/** Least and most resistance of a sound magnet, Ω, cold. Source: a trailer parts seller's technical sheet. */
const OHMS: Readonly<Record<DrumSize, readonly [least: number, most: number]>> = {
  '7 in': [3.8, 4],
  '10 in': [3.2, 3.5],
  '12 in': [3.2, 3.5],
};
/** 5.5 of 6.0 A still counts as healthy (light-tower manual). */
const HEALTHY_SHARE = 5.5 / 6;
const SYSTEM_VOLTS = 12;
/** The parts seller's maxima are for 12 to 13 V: a voltage that was not read may be either. */
const MAXIMUM_VOLTS = 13;
/** Engine running or charger on, and a corroded plug: what a voltage that was not read may be (common practice, no source). */
const CHARGING_VOLTS = 14.5;
const POOR_VOLTS = 10;
/** Less than this is no current but a meter's zero, A. */
const OPEN_AMPERES = 0.1;
const COPPER_PER_CELSIUS = 0.00393;
/** A winter morning, and a magnet after a long descent (common practice, no source). */
const COLDEST_CELSIUS = -20;
const HOTTEST_CELSIUS = 120;

export const BRAKES_MOST = 12;
export const BRAKE_VOLTS = range(6, 15, 'V');
export const BRAKE_AMPERES = range(0, 100, 'A');

/**
 * `in-service`: all of them draw what sound magnets do. `cannot-tell`: fewer sound magnets could draw as much, the voltage leaves
 * it open, or not all were read. `low`: less than all of them in service. `open`: no current. `short`: more than sound ones can.
 */
export type BrakeVerdict = 'in-service' | 'cannot-tell' | 'low' | 'open' | 'short';
/** The mildest first. */
export const BRAKE_VERDICTS = ['in-service', 'cannot-tell', 'low', 'open', 'short'] as const;

export interface Span {
  readonly low: Quantity;
  readonly high: Quantity;
}

/** One reading: of a wheel (1 brake), an axle (2), or all. */
export interface BrakeReading {
  readonly where: string;
  readonly brakes: number;
  readonly current: Quantity;
}

export interface JudgedReading extends BrakeReading {
  readonly verdict: BrakeVerdict;
  /** How many sound magnets can be behind it. */
  readonly drawing: { readonly least: number; readonly most: number };
}

export interface BrakeCurrent {
  /** In service, all brakes together: from the replacement limit to the system value. */
  readonly expected: Span;
  /** The most all magnets can draw, sound and at 20 °C. */
  readonly most: Quantity;
  /** What 1, 2, … sound magnets can draw, from hot to cold. */
  readonly spans: readonly (Span & { readonly magnets: number })[];
  readonly readings: readonly JudgedReading[];
  /** The worst of the readings; null where nothing was measured. */
  readonly verdict: BrakeVerdict | null;
  /** Brakes in no reading. */
  readonly unread: number;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

const CAUTIONS = [
  'A current is no braking: adjust, then test each wheel, and stop from 20 mph on a clear level road.',
  'Wheels chocked before any work under the trailer; the tow vehicle in park with its brake on.',
] as const;

/** What to do about each verdict. */
const ADVICE: Readonly<Record<BrakeVerdict, string>> = {
  open: 'No current: broken wire, plug, ground or controller. What was read has no brakes: do not tow.',
  low: 'Too little: a magnet without current, a worn coil, a thin or corroded wire or ground; hot magnets draw less too. Measure at each brake, cold.',
  'cannot-tell':
    'This reading cannot tell: fewer sound magnets could draw as much, or the voltage leaves it open. Measure at each wheel, with the voltage at the brakes.',
  'in-service': 'All of them draw. A magnet partly shorted beside a dead one shows only wheel by wheel.',
  short: 'More than sound magnets can draw: a shorted magnet or wire. Do not tow until it is found.',
};

/** Equal but for the last digits that a change of units leaves; always to the reading's disadvantage. */
const SAME = 1e-9;

/** What one sound magnet draws, A, on each side of every doubt. */
interface MagnetFigures {
  /** Least in service: as published at 12 V, more at more; never less for a low voltage. */
  readonly service: number;
  /** Above this a sound one cannot be at the lowest voltage it may have had. */
  readonly sound: number;
  /** Above this a sound one cannot be at all, at 20 °C. */
  readonly short: number;
  readonly coldest: number;
  readonly hottest: number;
}

function magnet(size: DrumSize, volts: number | null): MagnetFigures {
  const [least, most] = OHMS[size];
  const ohms = (at20: number, celsius: number) => at20 * (1 + COPPER_PER_CELSIUS * (celsius - 20));
  return {
    service: SYSTEM_AMPERES[size] * HEALTHY_SHARE * Math.max(1, (volts ?? SYSTEM_VOLTS) / SYSTEM_VOLTS),
    sound: (volts ?? SYSTEM_VOLTS) / least,
    short: (volts ?? MAXIMUM_VOLTS) / least,
    coldest: (volts ?? CHARGING_VOLTS) / ohms(least, COLDEST_CELSIUS),
    hottest: (volts ?? POOR_VOLTS) / ohms(most, HOTTEST_CELSIUS),
  };
}

function judged(reading: BrakeReading, figures: MagnetFigures): JudgedReading {
  const amperes = valueIn(reading.current, 'A');
  const count = reading.brakes;
  const verdict: BrakeVerdict =
    amperes < OPEN_AMPERES
      ? 'open'
      : amperes > count * figures.short
        ? 'short'
        : amperes < count * figures.service
          ? 'low'
          : amperes > count * figures.sound || amperes <= (count - 1) * figures.coldest * (1 + SAME)
            ? 'cannot-tell'
            : 'in-service';
  const least = verdict === 'open' ? 0 : Math.min(count, Math.ceil((amperes / figures.coldest) * (1 - SAME)));
  const most =
    verdict === 'open' ? 0 : Math.min(count, Math.max(least, Math.floor((amperes / figures.hottest) * (1 + SAME))));
  return { ...reading, verdict, drawing: { least, most } };
}

function problemOf(input: BrakeCurrentInput, readings: readonly BrakeReading[]): Problem | null {
  const whole = (count: number) => Number.isInteger(count) && count >= 1 && count <= BRAKES_MOST;
  if (!whole(input.brakes))
    return { code: 'brakes.count', what: 'Brakes are counted whole.', where: 'brakes', expected: '2, 4 or 6' };
  if (input.current !== undefined && input.readings !== undefined)
    return {
      code: 'brakes.readings',
      what: 'Give the readings, or one current of all brakes together: not both.',
      where: 'current',
      expected: 'readings of each wheel or axle',
    };
  const voltage = input.voltage === undefined ? null : inRange(input.voltage, BRAKE_VOLTS);
  if (voltage !== null && !voltage.ok) return { ...voltage.problems[0]!, code: 'brakes.reading', where: 'voltage' };
  for (const [i, reading] of readings.entries()) {
    const place = input.readings === undefined ? 'current' : `readings.${i}.current`;
    const current = inRange(reading.current, BRAKE_AMPERES);
    if (!current.ok) return { ...current.problems[0]!, code: 'brakes.reading', where: place };
    if (!whole(reading.brakes))
      return {
        code: 'brakes.count',
        what: 'Brakes are counted whole.',
        where: `readings.${i}.brakes`,
        expected: '1 for a wheel, 2 for an axle',
      };
  }
  const read = readings.reduce((sum, reading) => sum + reading.brakes, 0);
  if (read > input.brakes)
    return {
      code: 'brakes.readings',
      what: `The readings are of ${read} brakes, and there are ${input.brakes}.`,
      where: 'readings',
      expected: 'each brake in one reading',
    };
  return null;
}

export interface BrakeCurrentInput {
  /** Number of electric brakes: 2, 4 or 6. */
  readonly brakes: number;
  readonly size: DrumSize;
  /** Each wheel or axle, at full application. */
  readonly readings?: readonly BrakeReading[] | undefined;
  /** All brakes together in one reading; proves little of more than two. */
  readonly current?: Quantity | undefined;
  /** At the brakes meanwhile; where not given, what it may have been is counted against the reading. */
  readonly voltage?: Quantity | undefined;
}

/**
 * @example 4 brakes of 12 in at 12 V, 11.25 A together → cannot tell: three cold magnets draw as much
 * @example the same, 5.8 A on each axle → in service
 */
export function brakeCurrent(input: BrakeCurrentInput): Result<BrakeCurrent> {
  const readings =
    input.readings ??
    (input.current === undefined ? [] : [{ where: 'all brakes', brakes: input.brakes, current: input.current }]);
  const wrong = problemOf(input, readings);
  if (wrong !== null) return fail(wrong);
  const volts = input.voltage === undefined ? null : valueIn(input.voltage, 'V');
  const figures = magnet(input.size, volts);
  const results = readings.map((reading) => judged(reading, figures));
  const unread = input.brakes - readings.reduce((sum, reading) => sum + reading.brakes, 0);
  const worst = Math.max(
    ...results.map((one) => BRAKE_VERDICTS.indexOf(one.verdict)),
    unread > 0 ? BRAKE_VERDICTS.indexOf('cannot-tell') : 0,
  );
  const verdict = results.length === 0 ? null : BRAKE_VERDICTS[worst]!;
  const service = SYSTEM_AMPERES[input.size] * Math.max(1, (volts ?? SYSTEM_VOLTS) / SYSTEM_VOLTS);
  const all = (each: number) => quantity(input.brakes * each, 'A');
  return ok({
    expected: { low: all(figures.service), high: all(service) },
    most: all(figures.sound),
    spans: Array.from({ length: input.brakes }, (_, i) => ({
      magnets: i + 1,
      low: quantity((i + 1) * figures.hottest, 'A'),
      high: quantity((i + 1) * figures.coldest, 'A'),
    })),
    readings: results,
    verdict,
    unread,
    limitedBy: 'the resistance of the magnets',
    assumed: volts === null ? ['voltage: 10 to 14.5 V, what counts against the reading'] : [],
    cautions: [
      ...(verdict === null ? [] : [ADVICE[verdict]]),
      ...(verdict !== null && unread > 0 ? [`${unread} of ${input.brakes} brakes were not read.`] : []),
      ...(volts !== null && volts < SYSTEM_VOLTS
        ? ['Under 12 V at full application: the brakes are weak from a low battery, thin wire or a poor ground.']
        : []),
      ...CAUTIONS,
    ],
  });
}
