/**
 * `leak-drop`: whether a pressure test held, and from the drop the size of the leak.
 *
 * Only a test by a published method proves anything: its start pressure, its time, its gauge, no change of temperature
 * (leak-methods.ts). Anything short is no test, neither passed nor failed; a drop that was seen is a leak however it was seen.
 * Physics: a closed volume V that loses ΔP in t leaks V·ΔP/(air·t) of free gas, at constant temperature.
 */

import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import {
  atmosphere,
  convertLike,
  formatQuantity,
  type Quantity,
  quantity,
  rangeText,
  systemOf,
  valueIn,
} from '../quantity/index.ts';
import { LEAK_TESTS, type LeakMethod } from './leak-methods.ts';
import { PROPANE_BTU_A_CUBIC_FOOT } from './propane.ts';

export type LeakVerdict = 'held' | 'not-a-test' | 'leaks';
/** The mildest first. */
export const LEAK_VERDICTS = ['held', 'not-a-test', 'leaks'] as const;

export interface LeakDrop {
  readonly verdict: LeakVerdict;
  /** What is missing to be a test of the method; empty where nothing is. */
  readonly missing: readonly string[];
  /** Null where the volume was not given. */
  readonly leak: Quantity | null;
  /** The same as heat, if the gas is propane. */
  readonly heat: Quantity | null;
  /** A leak up to this moves the gauge by less than its smallest step in that time. */
  readonly hidden: Quantity | null;
  readonly limitedBy: string;
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
}

export interface LeakDropInput {
  readonly method: LeakMethod;
  readonly startPressure: Quantity;
  /** Pressure lost; zero where it held. */
  readonly drop: Quantity;
  readonly time: Quantity;
  /** The smallest change that can be seen on the gauge. */
  readonly gaugeStep: Quantity;
  /** Burners and pilots off, air and pipe at one temperature, no sun on them, from start to end. */
  readonly steady: boolean;
  /** Inside volume of the piping under test: 100 ft of 3/8 in tube is about 0.1 ft³. */
  readonly volume?: Quantity | undefined;
  readonly elevation?: Quantity | undefined;
}

/** For figures that went from one unit to another and back. */
const LAST_BIT = 1e-9;

function problemOf(input: LeakDropInput): Problem | null {
  const drop = valueIn(input.drop, 'Pa');
  const start = valueIn(input.startPressure, 'Pa');
  const above = (where: string) => ({
    code: 'gas.leak-test',
    what: 'A test has a start pressure, takes time and is read on a gauge.',
    where,
    expected: 'a value above zero',
  });
  if (!(start > 0)) return above('startPressure');
  if (!(valueIn(input.time, 'min') > 0)) return above('time');
  if (!(valueIn(input.gaugeStep, 'Pa') > 0)) return above('gaugeStep');
  if (input.volume !== undefined && !(valueIn(input.volume, 'ft3') > 0)) return above('volume');
  if (drop < 0)
    return {
      code: 'gas.leak-rise',
      what: 'The pressure rose.',
      where: 'drop',
      expected: 'a drop of zero or more',
      next: 'A rise means the cylinder valve leaks by, or the pipe warmed up. Shut the valve, wait, test again.',
    };
  if (drop > start * (1 + LAST_BIT))
    return {
      code: 'gas.leak-drop',
      what: 'More was lost than there was.',
      where: 'drop',
      expected: `a drop up to the start pressure, ${formatQuantity(input.startPressure)}`,
    };
  return null;
}

/** What keeps it from being a test of its method. */
function missingOf(input: LeakDropInput): readonly string[] {
  const { start, minutes, stepMost, gauge, source } = LEAK_TESTS[input.method];
  const began = valueIn(input.startPressure, start.unit);
  return [
    ...(valueIn(input.time, 'min') < minutes * (1 - LAST_BIT) ? [`time: ${minutes} min at least (${source})`] : []),
    ...(began < start.least * (1 - LAST_BIT) || began > start.most * (1 + LAST_BIT)
      ? [`startPressure: ${rangeText(start)} (${source})`]
      : []),
    ...(valueIn(input.gaugeStep, 'Pa') > stepMost * (1 + LAST_BIT)
      ? [`gaugeStep: a gauge that shows ${gauge} or less`]
      : []),
    ...(input.steady ? [] : ['steady: burners and pilots off, air and pipe at one temperature, no sun on them']),
  ];
}

const CAUTIONS: Readonly<Record<LeakVerdict, readonly string[]>> = {
  held: [
    'It held by this method, at this pressure, today. It says nothing of the high-pressure side: soap the cylinder valves and pigtails.',
  ],
  'not-a-test': [
    'NOT A TEST: neither passed nor failed. Do it again by the method; until then the gas stays off.',
    'Never more than 14 in. w.c. on connected appliances: it ruins their controls.',
  ],
  leaks: [
    'It leaks. However small: shut the cylinders, air the trailer, no flame, no switch; find it with leak fluid free of ammonia and chlorine, or call a gas fitter.',
    'Do not use the gas until the test holds.',
  ],
};

/**
 * @example appliances connected, 11 in. w.c., no drop in 10 min → held; in 10 s → not a test
 * @example 0.05 ft³ losing 1 in. w.c. in 3 min → 0.00246 ft³/h, 6.12 BTU/h
 */
export function leakDrop(input: LeakDropInput): Result<LeakDrop> {
  const wrong = problemOf(input);
  if (wrong !== null) return fail(wrong);
  const air = atmosphere(input.elevation ?? quantity(0, 'ft'));
  if (!air.ok) return fail({ ...air.problems[0]!, where: 'elevation' });
  const { volume } = input;
  /** Free gas, ft³ an hour, that takes off a pressure in the time of the test. */
  const flow = (pascal: number) =>
    volume === undefined
      ? null
      : (valueIn(volume, 'ft3') * pascal) / (valueIn(air.value, 'Pa') * valueIn(input.time, 'h'));
  const heat = (cubicFeet: number | null) => {
    if (cubicFeet === null) return null;
    const btu = quantity(cubicFeet * PROPANE_BTU_A_CUBIC_FOOT, 'BTU/h');
    return systemOf(volume!.unit) === 'metric' ? quantity(valueIn(btu, 'W'), 'W') : btu;
  };
  const missing = missingOf(input);
  const lost = valueIn(input.drop, 'Pa');
  const leak = flow(lost);
  const verdict: LeakVerdict = lost > 0 ? 'leaks' : missing.length > 0 ? 'not-a-test' : 'held';
  return ok({
    verdict,
    missing,
    leak: leak === null ? null : convertLike(quantity(leak, 'ft3/h'), volume!),
    heat: heat(leak),
    hidden: heat(flow(valueIn(input.gaugeStep, 'Pa'))),
    limitedBy: verdict === 'not-a-test' ? 'what the method asks for' : 'the smallest drop the gauge shows',
    assumed: input.elevation === undefined && volume !== undefined ? ['elevation: sea level'] : [],
    cautions: CAUTIONS[verdict],
  });
}
