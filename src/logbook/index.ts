/**
 * What lives here: the only truth. Entries (their schemas, one version, upcasting), the fold of entries to the rig's state,
 * the views of that state (parts, trips, odometers, kit, settings), what may be written down (`admit`), and short sentences
 * understood as entries. Pure: ids, instants and writers are given by whoever writes.
 */
export { type Admission, admit } from './admit.ts';
export { costOf, ENTRY_LIMITS } from './cost.ts';
export {
  bodySchema,
  type Draft,
  ENTRY_KINDS,
  ENTRY_VERSION,
  type Entry,
  type EntryKind,
  type EntryOf,
  entrySchema,
  type Rating,
  WITNESSED_MAX,
} from './entry.ts';
export {
  addEntry,
  type Chain,
  chainOf,
  EMPTY,
  emptyState,
  foldEntries,
  newest,
  type RigState,
  type SetAside,
  soundState,
  stateThrough,
  type Unread,
  withUnread,
} from './fold.ts';
export { type Doubt, type Judge, judgeAlone, judgeBy, quarantineKey } from './judge.ts';
export {
  type OdometerPoint,
  type OdometerTrack,
  odometerTrack,
  shownFromTotal,
  shownMiles,
  totalMilesAt,
  type VehicleRole,
} from './odometer.ts';
export { placesText } from './places.ts';
export { needsNewerVersion, readEntries, readEntry, writeEntry } from './read.ts';
export { countUnread, type DoubtfulRecord, type RecordAside, type SortedRecords, sortRecords } from './records.ts';
export type { Sentences } from './sentence/context.ts';
export { SENTENCES, type Understood, understand } from './sentence/understand.ts';
export { type Setting, type SettingKey, settingSchemas } from './setting-kinds.ts';
export { type SettingNames, settingWords } from './setting-words.ts';
export { settingOf, settingsOf } from './settings.ts';
export {
  disagreements,
  kitAboard,
  type PartState,
  partOf,
  partsOf,
  quantityFact,
  type ReadingFact,
  type TripState,
  tripsOf,
  vehicleOf,
  type WorkFact,
  weighingsOf,
  workOf,
} from './state.ts';
export { cannotBeShown, entryWords, partWords, type Teller } from './words.ts';
