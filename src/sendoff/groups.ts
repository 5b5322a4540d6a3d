import type { OutlookItem } from '../outlook/index.ts';
import type { Context } from './context.ts';
import { upkeepOf } from './takes.ts';
import type { FindingGroup } from './types.ts';

/** Chapters of the catalog (`PartKind.group`) that the send-off asks after under a heading of their own. */
const BY_CHAPTER: Readonly<Record<string, FindingGroup>> = {
  brakes: 'brakes',
  'hitch and coupling': 'brakes',
  'LP gas': 'gas',
};

/** Kinds of part that belong under another heading than their chapter. */
const BY_KIND: Readonly<Record<string, FindingGroup>> = {
  tire: 'tires',
  'spare-tire': 'tires',
  'tow-tire': 'tires',
  'lp-alarm': 'gas',
  'co-alarm': 'gas',
  'co-lp-alarm': 'gas',
  'smoke-alarm': 'gas',
  registration: 'papers',
  insurance: 'papers',
  inspection: 'papers',
  'rig-weights': 'loads',
};

/** Under which heading a duty is told. */
export function groupOf({ catalog }: Pick<Context, 'catalog'>, item: OutlookItem): FindingGroup {
  if (item.clock === 'after' && item.part !== null) return 'follow-ups';
  if (upkeepOf(catalog, item).drill) return 'practice';
  return BY_KIND[item.kind] ?? BY_CHAPTER[catalog.partKinds.get(item.kind)?.group ?? ''] ?? 'upkeep';
}
