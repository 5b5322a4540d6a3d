/**
 * What lives here: when each upkeep of the rig runs out. The usage model learned from the logbook, sample paths of the coming
 * use, the clocks and their first passage along those paths, and the sentence that explains each. Pure, and the same inputs
 * always give the same answer; see README.md beside this file.
 */
export { ALPHA_DEFAULT, type Look, type LookOptions, lookAhead, type OutlookModel, PATHS_DEFAULT } from './look.ts';
export type { ClockOutlook, OdometerNow, Outlook, OutlookItem, Spread, TripAhead, UpkeepState } from './types.ts';
