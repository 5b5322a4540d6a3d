/**
 * What lives here: the trade's knowledge. The types everyone else reads it by, the loader that reads `catalog/*.yaml` and refuses
 * a value without a source, the owner's own figures laid over it, the smallest kit for a set of mishaps, the check for what is
 * legal but suspicious, and the pages of the readable reference. Pure: the files come in as text.
 */

export { type Ages, agesOf } from './ages.ts';
export { catalogCheck } from './check.ts';
export type { CatalogFile } from './document.ts';
export { hazardsOf } from './hazards.ts';
export type { KitCover, KitGap, KitMeasure, KitNeed, KitReason } from './kit.ts';
export { coverKit, kitGaps, kitReasons, mishapsOfParts, needsOf } from './kit.ts';
export { type LimitId, limitIn, limitOf, limitSource, limitWords } from './limits.ts';
export { type CatalogLists, catalogOfLists, listsOf } from './lists.ts';
export { loadCatalog } from './load.ts';
export type { OwnerCatalog, OwnerSetting } from './owner.ts';
export { upkeepOfPart, upkeepsOfPart, withOverrides } from './owner.ts';
export { clockText, monthsText } from './phrase.ts';
export { type MeasuredRange, rangeOfFact, rangeOfReading, rangeOfRigFact } from './ranges.ts';
export type { Page } from './reference/page.ts';
export { referencePages } from './reference/pages.ts';
export { seasonUpkeeps } from './season.ts';
export type {
  Catalog,
  Clock,
  ClockKind,
  Consumable,
  Figure,
  Hazard,
  HazardCaution,
  KitItem,
  Limit,
  Mishap,
  PartKind,
  PlausibleRange,
  RigFact,
  SetUp,
  Severity,
  Skill,
  Source,
  SourceKind,
  Upkeep,
  VehicleRole,
} from './types.ts';
