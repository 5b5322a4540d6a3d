import { decodeTireCode } from '../codes/index.ts';
import { dayNumber } from '../dates/index.ts';
import type { PartState } from '../logbook/index.ts';
import { labelRange } from './evidence.ts';

/** First and last day on which a part can have been made: from a date on record, or from its moulded code. */
export function madeRange(part: PartState, today: string): { readonly from: number; readonly to: number } | undefined {
  const { madeOn, code } = part.fit.body;
  if (madeOn) return labelRange(madeOn);
  if (!code) return undefined;
  const decoded = decodeTireCode(code, today);
  if (!decoded.valid || decoded.from === null || decoded.to === null) return undefined;
  return { from: dayNumber(decoded.from), to: dayNumber(decoded.to) };
}
