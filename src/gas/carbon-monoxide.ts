/**
 * `co-alarm`: whether a carbon monoxide alarm had to be silent, may sound, or must have sounded.
 *
 * Source: UL 2034 alarm points, three makers' handbooks agreeing: 30 ppm not for 30 days; 70 ppm after 60 to 240 minutes; 150 ppm
 * after 10 to 50; 400 ppm after 4 to 15.
 */

import { fail, ok, type Result } from '../problem/index.ts';
import { type Quantity, valueIn } from '../quantity/index.ts';

export interface CoAlarm {
  readonly verdict: 'must-be-silent' | 'may-sound' | 'must-have-sounded';
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

/** Judges a steady concentration over a time against the alarm points; between them nothing is required either way. */
export function coAlarm(input: { readonly concentration: Quantity; readonly time: Quantity }): Result<CoAlarm> {
  const ppm = valueIn(input.concentration, 'ppmv');
  const minutes = valueIn(input.time, 'min');
  if (ppm < 0 || minutes < 0)
    return fail({
      code: 'gas.carbon-monoxide',
      what: 'Concentration and time are zero or more.',
      where: ppm < 0 ? 'concentration' : 'time',
      expected: 'such as 70 ppm and 60 min',
    });
  // What a lower point demands, a higher concentration demands as well.
  const due = POINTS.some(([point, , latest]) => ppm >= point && minutes >= latest);
  // A concentration may sound it no earlier than the next point above would allow.
  const above = POINTS.find(([point]) => ppm <= point);
  const silent = ppm <= SILENT_PPM ? minutes <= SILENT_MINUTES : above !== undefined && minutes < above[1];
  const cautions = [
    'An alarm sounds too late for some: leave at once at any alarm, headache or nausea; air, then look for the cause.',
  ];
  return ok({
    verdict: due ? 'must-have-sounded' : silent ? 'must-be-silent' : 'may-sound',
    limitedBy: 'UL 2034 alarm points',
    cautions,
  });
}
