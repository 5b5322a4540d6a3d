/**
 * The band in which the tongue's share of the trailer must lie, and how far weight distribution brings the front axle back: what to say
 * where a figure is outside, or may be. The band stands in the catalog's limits; the owner's handbook outranks it.
 */

import { limitIn } from '../catalog/index.ts';
import type { Problem } from '../problem/index.ts';
import { formatNumber, type Quantity, rangeProblem, valueIn } from '../quantity/index.ts';
import { BAND_SHARE } from './ranges.ts';

/** The owner's handbook: least and most of the tongue as a share of the loaded trailer. */
export interface TongueBand {
  readonly least: Quantity;
  readonly most: Quantity;
}

/** The problem of a band, or null. */
export function bandProblem(band: TongueBand | undefined): Problem | null {
  if (band === undefined) return null;
  const wrong = rangeProblem([
    ['band.least', band.least, BAND_SHARE],
    ['band.most', band.most, BAND_SHARE],
  ]);
  if (wrong !== null) return wrong;
  if (valueIn(band.least, 'ratio') < valueIn(band.most, 'ratio')) return null;
  return {
    code: 'loads.band',
    what: 'The least of a band is below its most.',
    where: 'band.least',
    expected: 'two shares as in the handbook, such as 10 % and 15 %',
  };
}

/** Shares in per cent that a figure may have, by the doubt of its readings. */
export interface ShareDoubt {
  readonly low: number;
  readonly high: number;
}

const percent = (share: number): string => `${formatNumber(share, 1)} %`;
/** Rounded away from the band, so that 9.96 % is never shown as 10. */
const under = (share: number): string => percent(Math.floor(share * 10) / 10);
const above = (share: number): string => percent(Math.ceil(share * 10) / 10);

/** What the tongue's share of the trailer says about how the rig will drive; per cent. */
export function tongueCautions(
  share: number,
  band: TongueBand | undefined,
  doubt: ShareDoubt = { low: share, high: share },
): readonly string[] {
  if (share <= 0) return ['The trailer lifts the ball: it will sway. Do not tow; move load ahead of the axles.'];
  const least = band === undefined ? limitIn('tongue-share-least', '%') : valueIn(band.least, '%');
  const most = band === undefined ? limitIn('tongue-share-most', '%') : valueIn(band.most, '%');
  const asked =
    band === undefined
      ? `most handbooks ask for ${percent(least)} to ${percent(most)}; yours holds`
      : `your handbook asks for ${percent(least)} to ${percent(most)}`;
  if (share < least * (1 - SAME))
    return [
      `Light tongue, ${under(share)} of the trailer: ${asked}. A light tongue sways; move load ahead of the axles.`,
    ];
  if (share > most * (1 + SAME))
    return [
      `Heavy tongue, ${above(share)} of the trailer: ${asked}. A heavy tongue takes load off the steering and overloads the hitch.`,
    ];
  const cautions: string[] = [];
  if (doubt.low < least * (1 - SAME))
    cautions.push(
      `The scale leaves open that the tongue is light, ${under(doubt.low)}: ${asked}. Weigh on a finer scale.`,
    );
  if (doubt.high > most * (1 + SAME))
    cautions.push(
      `The scale leaves open that the tongue is heavy, ${above(doubt.high)}: ${asked}. Weigh on a finer scale.`,
    );
  return cautions;
}

/** Equal but for the last digits that a change of units leaves. */
const SAME = 1e-9;

/**
 * The least restoration of the front axle that any handbook or hitch maker asks for, per cent: half-way (truck makers 2012 and 2014, hitch
 * makers' instructions); others ask for all of it.
 */
const RESTORED_LEAST = 50;

/** What a restoration of the front axle says, per cent of what the tongue took off it. */
export function restoredCautions(restored: number): readonly string[] {
  if (restored > 100 * (1 + SAME))
    return [
      'More than full restoration: the front axle carries more than alone, weight distribution is set too hard. Ease it. Never set it so.',
    ];
  if (restored < RESTORED_LEAST * (1 - SAME))
    return [
      `Restored by ${under(restored)}: no handbook that asks for weight distribution is content with less than half. Light front wheels steer and brake badly.`,
    ];
  return [];
}
