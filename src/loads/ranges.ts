/**
 * What the figures of this room can be; what lies outside was misread or mistyped.
 *
 * Source of the weights: 23 CFR 658.17 (from memory): 20,000 lb on one axle, 34,000 lb on two side by side, 80,000 lb in all. The rest is
 * common practice, no source, each end well beyond any rig.
 */

import { range } from '../quantity/index.ts';

export const AXLE_WEIGHT = range(0, 20_000, 'lb');
/** All axles of a trailer together. */
export const AXLES_WEIGHT = range(0, 34_000, 'lb');
/** A whole vehicle, or the whole rig. */
export const RIG_WEIGHT = range(0, 80_000, 'lb');
export const TONGUE_WEIGHT = range(-10_000, 10_000, 'lb');
/** Something that people put aboard. */
export const ITEM_WEIGHT = range(0, 10_000, 'lb');
/** A rating on a label or a stamp; of chains a breaking strength. */
export const RATING = range(0, 200_000, 'lb');
/** The smallest change a scale shows. */
export const SCALE_STEPS = range(0.1, 200, 'lb');
/** A share of the trailer as a band in a handbook. */
export const BAND_SHARE = range(1, 40, '%');
export const WHEELBASE = range(1, 10, 'm');
/** Rear axle to ball. */
export const OVERHANG = range(0.1, 6, 'm');
/** Ball to the middle of the trailer's axles. */
export const BALL_TO_AXLES = range(0.5, 20, 'm');
/** Where something stands, ahead of the axles or behind them. */
export const PLACE = range(-20, 20, 'm');
/** From the fixed end of a beam. */
export const LEVER_ARM = range(1, 500, 'in');
/** Ground to the edge of a front wheel opening. */
export const FENDER_HEIGHT = range(5, 80, 'in');
/** Moment of weight distribution at the ball. */
export const MOMENT = range(0, 20_000, 'lb-ft');
/** Share of the front axle's loss that is restored. */
export const RESTORE = range(0, 150, '%');
export const GRADE = range(-40, 40, '%');
