/**
 * `co-alarm`: whether a carbon monoxide alarm had to be silent, may sound, or must have sounded; and what a person does meanwhile.
 *
 * Sources: UL 2034 alarm points, three makers' handbooks agreeing: 30 ppm not for 30 days; 70 ppm after 60 to 240 minutes; 150 ppm
 * after 10 to 50; 400 ppm after 4 to 15. An alarm's silence is no clearance: people are judged by the shorter times of the WHO Air
 * Quality Guidelines for Europe (90 ppm 15 minutes, 50 ppm 30, 25 ppm an hour, 10 ppm 8 hours), and from the lowest alarm point on
 * there is no time at all.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, valueIn } from '../quantity/index.ts';

export type CoVerdict = 'must-be-silent' | 'may-sound' | 'must-have-sounded';
export const CO_VERDICTS = ['must-be-silent', 'may-sound', 'must-have-sounded'] as const;

export type CoAction = 'watch' | 'air-and-find' | 'leave-now';
/** The mildest first. */
export const CO_ACTIONS = ['watch', 'air-and-find', 'leave-now'] as const;

export interface CoAlarm {
  readonly verdict: CoVerdict;
  /** What to do, whatever the alarm does. */
  readonly action: CoAction;
  readonly limitedBy: string;
  readonly cautions: readonly string[];
}

/** [ppm, earliest minute it may sound, minute by which it must have sounded] */
const POINTS: readonly (readonly [ppm: number, earliest: number, latest: number])[] = [
  [70, 60, 240],
  [150, 10, 50],
  [400, 4, 15],
];

const SILENT_PPM = 30;
const SILENT_MINUTES = 30 * 24 * 60;

/** WHO: [ppm, minutes within which it is left], the least first. */
const EXPOSURE: readonly (readonly [ppm: number, minutes: number])[] = [
  [10, 480],
  [25, 60],
  [50, 30],
  [90, 15],
];
const LEAVE_PPM = 70;
/** Outdoor air in a town; more than this indoors has a source (common practice, no source). */
const CLEAN_PPM = 5;

const ADVICE: Readonly<Record<CoAction, string>> = {
  'leave-now':
    'LEAVE NOW, everybody and every animal, into the open air. Call 911 for anyone with headache, nausea or sleepiness. Do not go back for anything.',
  'air-and-find':
    'Carbon monoxide indoors has a source. Burners, heaters and generator off, doors and windows open, out until it is found. Headache or nausea: leave at once, call 911.',
  watch: 'None is good. If it rises, or anyone has headache or nausea, leave at once.',
};

function actionOf(ppm: number, minutes: number): CoAction {
  const allowed = EXPOSURE.find(([point]) => ppm <= point)?.[1] ?? 0;
  if (ppm >= LEAVE_PPM || (ppm > CLEAN_PPM && minutes >= allowed)) return 'leave-now';
  return ppm > CLEAN_PPM ? 'air-and-find' : 'watch';
}

/** Judges a steady concentration over a time against the alarm points; between them nothing is required either way. */
export function coAlarm(input: { readonly concentration: Quantity; readonly time: Quantity }): Result<CoAlarm> {
  const ppm = valueIn(input.concentration, 'ppmv');
  const minutes = valueIn(input.time, 'min');
  if (!(ppm >= 0) || !(minutes >= 0))
    return fail({
      code: 'gas.carbon-monoxide',
      what: 'Concentration and time are zero or more.',
      where: !(ppm >= 0) ? 'concentration' : 'time',
      expected: 'such as 70 ppm and 60 min',
    });
  // What a lower point demands, a higher concentration demands as well.
  const due = POINTS.some(([point, , latest]) => ppm >= point && minutes >= latest);
  // A concentration may sound it no earlier than the next point above would allow.
  const above = POINTS.find(([point]) => ppm <= point);
  const silent = ppm <= SILENT_PPM ? minutes <= SILENT_MINUTES : above !== undefined && minutes < above[1];
  const action = actionOf(ppm, minutes);
  return ok({
    verdict: due ? 'must-have-sounded' : silent ? 'must-be-silent' : 'may-sound',
    action,
    limitedBy: 'UL 2034 alarm points',
    cautions: [
      ADVICE[action],
      'The verdict is about the alarm, never about the air: it sounds too late for children, the old and the ill. Leave at any alarm; air, then look for the cause.',
    ],
  });
}
