import type { EntryOf, TripState } from '../logbook/index.ts';
import type { Context } from './context.ts';
import { type DraftFinding, weightOf } from './draft.ts';
import type { Finding, FindingGroup, FindingKind, Judgement } from './types.ts';

/** The worst finding that counts. */
export function judgementOf(findings: readonly Finding[]): Judgement {
  if (findings.some((finding) => finding.counts === 'hold')) return 'hold';
  return findings.some((finding) => finding.counts === 'limits') ? 'limits' : 'clear';
}

/** Drafts made findings: named, weighed, the owner's waivers for this trip laid over them, in the order one would act on them. */
export function weigh(context: Context, drafts: readonly DraftFinding[]): readonly Finding[] {
  const places = new Map(context.parts.map((part) => [part.id, part.place]));
  return drafts.map((draft) => finish(context, places, draft)).sort(order);
}

function finish(
  { catalog, trip }: Context,
  places: ReadonlyMap<string, string>,
  { failedBy, ...draft }: DraftFinding,
): Finding {
  const waiver = draft.kind === 'pass' ? undefined : waiverOf(trip, draft.id, failedBy);
  const parts = draft.parts ?? (draft.part ? [draft.part] : []);
  return {
    ...draft,
    upkeep: draft.upkeep ?? null,
    title: catalog.upkeeps.get(draft.upkeep ?? '')?.title ?? draft.takes?.action ?? draft.text,
    part: draft.part ?? null,
    parts,
    places: [...new Set(parts.flatMap((part) => places.get(part) || []))],
    cautions: draft.cautions ?? [],
    counts: waiver ? 'nothing' : (draft.counts ?? weightOf(draft.kind, draft.severity)),
    ...(waiver ? { waived: { by: waiver.by, reason: waiver.body.reason, entry: waiver.id } } : {}),
  };
}

/** The owner's newest word on a finding. What failed after it was written is another thing, and needs a word of its own. */
function waiverOf(trip: TripState, finding: string, failedBy: string | undefined): EntryOf<'waive'> | undefined {
  const waiver = trip.waivers.findLast((entry) => entry.body.finding === finding);
  return waiver && failedBy !== undefined && failedBy > waiver.id ? undefined : waiver;
}

const KINDS: readonly FindingKind[] = ['stop', 'unproven', 'limit', 'pass'];
const SEVERITIES = ['safety', 'damage', 'comfort'] as const;
const WEIGHTS = ['hold', 'limits', 'nothing'] as const;
const GROUPS: readonly FindingGroup[] = [
  'rig',
  'tires',
  'upkeep',
  'follow-ups',
  'loads',
  'brakes',
  'gas',
  'papers',
  'kit',
  'practice',
];

/** Stops by minutes to lift, unproven with safety first, limits, passes; what no longer counts after what does. */
function order(a: Finding, b: Finding): number {
  return (
    KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) ||
    WEIGHTS.indexOf(a.counts) - WEIGHTS.indexOf(b.counts) ||
    (a.kind === 'stop' ? minutesOf(a) - minutesOf(b) : 0) ||
    SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) ||
    (a.atMiles ?? Infinity) - (b.atMiles ?? Infinity) ||
    GROUPS.indexOf(a.group) - GROUPS.indexOf(b.group) ||
    (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
  );
}

const minutesOf = (finding: Finding): number => finding.takes?.minutes ?? Infinity;
