import type { UpkeepState } from '../../outlook/index.ts';
import type { Judgement } from '../../sendoff/index.ts';

/** A notch a coming trip, filled as far as the upkeep lasts; the count beside it says the same in words. */
export function notches(slackTrips: number, trips: number): string {
  const filled = Math.min(slackTrips, trips);
  return `${'▮'.repeat(filled)}${'▯'.repeat(trips - filled)} ${filled} of ${trips}`;
}

/** The judgement as a shape and a word: an octagon for a hold. */
export const JUDGEMENTS: Readonly<Record<Judgement, string>> = {
  hold: '⯃ HOLD',
  limits: '◇ CLEAR WITH LIMITS',
  clear: '▭ CLEAR',
};

/** State as a shape and a word; unproven is an open circle. */
export const STATES: Readonly<Record<UpkeepState, string>> = {
  failed: '× failed',
  due: '■ run out',
  unproven: '○ unproven',
  runs: '· runs',
};
