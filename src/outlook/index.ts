/**
 * What lives here: when each upkeep of the rig runs out. The usage model learned from the logbook, sample paths of the coming
 * use, the clocks and their first passage along those paths, and the sentence that explains each. Pure, and the same inputs
 * always give the same answer; see README.md beside this file.
 */
export { type Look, lookAhead, type OutlookModel } from './look.ts';
export { ALPHA_DEFAULT, type LookOptions, PATHS_DEFAULT } from './scene.ts';
export { chanceIfMade, chanceOnTrip } from './tell.ts';
export type { ClockOutlook, OdometerNow, Outlook, OutlookItem, Spread, TripAhead, UpkeepState } from './types.ts';
export { frostOf, winterAt } from './winter.ts';
