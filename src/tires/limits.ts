/** Limits that this room shares with others, in the units in which it reckons. They stand in the catalog. */

import { limitIn } from '../catalog/index.ts';

/** Part of a rated load left unused, at the least. */
export const RESERVE_LEAST = limitIn('tire-reserve-least', 'ratio');
/** A hand gauge is off by about this much either way, psi. */
export const GAUGE_ERROR_PSI = limitIn('tire-gauge-error', 'psi');
/** A tire that ran at this share below its pressure is inspected off the rim. */
export const RUN_LOW_SHARE = limitIn('tire-run-low', 'ratio');
/** ST tires are rated at this speed where no symbol is marked, mph. */
export const ST_MPH = limitIn('tire-speed-unmarked', 'mph');
