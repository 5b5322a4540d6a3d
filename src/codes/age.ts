/** How old a tire is, from its code, and what the usual age limits say. */

import { addMonths, daysBetween, type PlainDate } from '../dates/index.ts';
import type { TireCode } from './tire.ts';

/** Age limits in years; the owner's own. */
export interface TireAgeLimits {
  readonly advise: number;
  readonly strong: number;
  readonly stop: number;
}

/**
 * Sources: inspect from 5 years (trailer and car makers' owner manuals), replace at 6 (a car maker's owner information,
 * 2018), out of service at 10 at the latest (a car maker's owner manual). There is no US federal age limit.
 */
export const TIRE_AGE_LIMITS: TireAgeLimits = { advise: 5, strong: 6, stop: 10 };

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
export function tireAge(code: TireCode, today: PlainDate, limits: TireAgeLimits = TIRE_AGE_LIMITS): TireAge | null {
  if (!code.valid || code.from === null || code.to === null) return null;
  const reached = (years: number) => addMonths(code.from!, Math.round(years * 12)) <= today;
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
    stopOn: addMonths(code.from, Math.round(limits.stop * 12)),
  };
}
