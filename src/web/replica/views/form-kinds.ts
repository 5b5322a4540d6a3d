import type { EntryKind } from '../../../logbook/index.ts';

const TITLES: Readonly<Record<EntryKind, string>> = {
  enroll: 'A vehicle of the rig',
  fit: 'A part fitted or found',
  remove: 'A part taken off',
  reading: 'Something read off a gauge or a label',
  work: 'Work done',
  trip: 'A trip planned',
  'trip-done': 'A trip finished',
  weigh: 'A weighing',
  carry: 'Something aboard, or no longer',
  drill: 'Something practised',
  paper: 'A paper renewed',
  set: 'A figure of your own',
  adjust: 'An odometer replaced',
  waive: 'Overruled for one trip',
  witness: 'Signed by a device',
  strike: 'An entry struck',
};

/**
 * Kinds of entry that can be begun from nothing, in the order of use. The others begin where what they speak of stands: an own figure
 * among the settings or in the season, an overruling at its finding, a strike at its entry.
 */
export const KINDS_OFFERED: readonly EntryKind[] = [
  ...(['work', 'reading', 'trip', 'trip-done', 'weigh', 'fit', 'carry'] as const),
  ...(['paper', 'drill', 'remove', 'adjust', 'enroll'] as const),
];

export const kindTitle = (kind: EntryKind): string => TITLES[kind];
