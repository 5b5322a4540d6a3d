/** How old a tire is, from its code, and what the shared age limits say. */

import { type LimitId, limitIn, limitSource, type Source } from '../catalog/index.ts';
import { addMonths, daysBetween, type PlainDate } from '../dates/index.ts';
import type { TireCode } from './tire.ts';

/** Age limits in years; the owner's own. */
export interface TireAgeLimits {
  /** From here on a tire shop looks for cracks. */
  readonly advise: number;
  /** From here on renewing is advised. */
  readonly strong: number;
  /** At this age it stops being used. */
  readonly stop: number;
}

/** What a tire is used as: each has age limits with a source of its own. */
export const TIRE_USES = ['trailer, ST', 'trailer, LT', 'tow vehicle', 'spare'] as const;
export type TireUse = (typeof TIRE_USES)[number];

const LOOK: LimitId = 'tire-age-expert-look';
const LIMITS: Readonly<Record<TireUse, readonly [advised: LimitId, end: LimitId]>> = {
  'trailer, ST': ['tire-age-trailer-advised', 'tire-age-trailer-end'],
  'trailer, LT': ['tire-age-lt-trailer-advised', 'tire-age-lt-trailer-end'],
  'tow vehicle': ['tire-age-tow-advised', 'tire-age-tow-end'],
  spare: ['tire-age-spare-advised', 'tire-age-spare-end'],
};

/** The shared limits of a use, in years. There is no US federal age limit. */
export function tireAgeLimits(use: TireUse): TireAgeLimits {
  const [advised, end] = LIMITS[use];
  return { advise: limitIn(LOOK, 'year'), strong: limitIn(advised, 'year'), stop: limitIn(end, 'year') };
}

/** Every shared age limit, with its source. */
export const tireAgeSources = (): readonly { readonly of: string; readonly years: number; readonly source: Source }[] =>
  [
    ['look by a tire shop', LOOK] as const,
    ...TIRE_USES.flatMap((use) => [
      [`${use}: renewal advised`, LIMITS[use][0]] as const,
      [`${use}: out of use`, LIMITS[use][1]] as const,
    ]),
  ].map(([of, id]) => ({ of, years: limitIn(id, 'year'), source: limitSource(id) }));

export interface TireAge {
  /** Years since the first day on which it can have been made: the age to judge by. */
  readonly yearsMost: number;
  /** Years since the last day on which it can have been made. */
  readonly yearsLeast: number;
  readonly verdict: 'young' | 'inspect' | 'replace-soon' | 'stop';
  /** The day the verdict became or becomes `stop`, counted from the first day. */
  readonly stopOn: PlainDate;
}

const DAYS_A_YEAR = 365.2425;

/** The age on a day of a tire whose code is valid; null where it is not. Judges by the oldest it can be. */
export function tireAge(code: TireCode, today: PlainDate, limits: TireAgeLimits): TireAge | null {
  if (!code.valid || code.from === null || code.to === null) return null;
  const reached = (years: number) => addMonths(code.from!, Math.floor(years * 12)) <= today;
  const verdict = reached(limits.stop)
    ? 'stop'
    : reached(limits.strong)
      ? 'replace-soon'
      : reached(limits.advise)
        ? 'inspect'
        : 'young';
  return {
    yearsMost: daysBetween(code.from, today) / DAYS_A_YEAR,
    yearsLeast: Math.max(0, daysBetween(code.to, today)) / DAYS_A_YEAR,
    verdict,
    stopOn: addMonths(code.from, Math.floor(limits.stop * 12)),
  };
}
