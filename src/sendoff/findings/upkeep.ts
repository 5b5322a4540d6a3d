import type { Severity, Upkeep, VehicleRole } from '../../catalog/index.ts';
import { formatDate } from '../../dates/index.ts';
import { type ClockOutlook, chanceOnTrip, type OutlookItem } from '../../outlook/index.ts';
import { formatQuantity } from '../../quantity/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { groupOf } from '../groups.ts';
import { cautionsOf, takesDoing, takesLooking, takesOdometer, takesSimply, upkeepOf } from '../takes.ts';
import type { FindingGroup, FindingKind, Takes } from '../types.ts';
import { capital, chanceText, counted, listed } from '../words.ts';
import { atMile, isFresh, type Stale, staleReading, type Window, windowOf } from './window.ts';

/** Minutes to take one reading. Our own estimate. */
const MEASURE_MINUTES = 10;

/** How the headings that look closer at a duty bend the general rule. */
export interface Bend {
  /** Judge as of this severity: the papers stop us whatever a lapse costs. */
  readonly severity?: Severity;
  /** A stop that is a limit here, with what is to be kept to. */
  readonly stopIsLimit?: (item: OutlookItem) => string | undefined;
}

/** The chance that a duty comes due before the return, given that we go: as the outlook counted it, and nothing done to it. */
export const chanceOf = ({ trip }: Context, item: OutlookItem): number => chanceOnTrip(item, trip.id);

/**
 * What each duty means for this trip. Duties with a departure clock are told once for all the parts they cover, as one does them
 * in one round; all others part by part. Kinds of part of which nothing is on record are told once a kind.
 */
export function upkeepFindings(context: Context, items: readonly OutlookItem[], bend: Bend = {}): DraftFinding[] {
  const findings: DraftFinding[] = [];
  const unknown = new Map<string, OutlookItem[]>();
  const rounds = new Map<string, OutlookItem[]>();
  for (const item of items) {
    if (item.part === null) {
      unknown.set(item.kind, [...(unknown.get(item.kind) ?? []), item]);
      continue;
    }
    const upkeep = upkeepOf(context.catalog, item);
    const finding = itemFinding(context, upkeep, item, bend);
    const inRound = upkeep.clocks.some((clock) => clock.kind === 'departure') && isOpenDuty(item, finding);
    if (inRound) rounds.set(upkeep.id, [...(rounds.get(upkeep.id) ?? []), item]);
    else findings.push(finding);
  }
  for (const ofKind of unknown.values()) findings.push(unknownKind(context, ofKind, bend));
  for (const round of rounds.values()) findings.push(roundFinding(context, round, bend));
  return findings;
}

const isOpenDuty = (item: OutlookItem, finding: DraftFinding): boolean =>
  (item.state === 'runs' || item.state === 'due') && (finding.kind === 'stop' || finding.kind === 'limit');

/** One finding for one duty of one part. */
export function itemFinding(context: Context, upkeep: Upkeep, item: OutlookItem, bend: Bend = {}): DraftFinding {
  if (item.state === 'unproven') return unproven(context, upkeep, item, bend);
  if (item.state === 'failed') return failed(context, upkeep, item, bend);
  const severity = bend.severity ?? item.severity;
  const chance = chanceOf(context, item);
  const lasting = chance <= context.alpha(severity);
  const stale = lasting ? staleReading(context, upkeep, item) : null;
  if (stale) return tooOld(context, upkeep, item, stale, bend);
  if (lasting) return lasts(context, item, chance, bend);
  const window = windowOf(context, upkeep);
  if (window.opens !== null && context.now < window.opens) return tooEarly(context, upkeep, [item], window, bend);
  if (canWait(context, upkeep, item)) return onTheWay(context, upkeep, item, chance, bend);
  return runOut(context, upkeep, [item], chance, bend);
}

/** A reading that will be too old on leaving: to be taken again on leaving, or, once that can be done, unproven. */
function tooOld(context: Context, upkeep: Upkeep, item: OutlookItem, stale: Stale, bend: Bend): DraftFinding {
  const { reading, on, days, daysMost, from } = stale;
  const what = capital(reading.replaceAll('-', ' '));
  const place = item.place === '' ? '' : ` (${item.place})`;
  const old = `read on ${formatDate(on, 'day')}; ${days} days old on leaving, and it proves nothing after ${daysMost}`;
  const early = context.now < from;
  const entry = { kind: 'reading', part: item.part!, what: reading } as const;
  const finding = early
    ? tooEarly(context, upkeep, [item], { opens: from, again: false }, bend)
    : unproven(context, upkeep, item, bend);
  return {
    ...finding,
    text: early ? `${what} to be read again on leaving${place}: ${old}.` : `${what}${place}: ${old}. ${upkeep.look}`,
    takes: takesSimply(upkeep.look, MEASURE_MINUTES, entry),
  };
}

/** Can it be done on the way, once it runs out there? */
function canWait(context: Context, upkeep: Upkeep, item: OutlookItem): boolean {
  if (isFresh(context, upkeep, item)) return true;
  if (upkeep.place !== 'anywhere' || item.state !== 'runs') return false;
  // What is to be done before leaving cannot be done on the way.
  const kind = inTheWay(context, item)?.kind;
  if (kind === 'departure' || kind === 'season') return false;
  const { p50 } = item.dates;
  return p50 === null || p50 > context.leave || context.tripsBefore.length > 0;
}

function roundFinding(context: Context, round: readonly OutlookItem[], bend: Bend): DraftFinding {
  const first = round[0]!;
  const upkeep = upkeepOf(context.catalog, first);
  const window = windowOf(context, upkeep);
  const chance = Math.max(...round.map((item) => chanceOf(context, item)));
  const early = window.opens !== null && context.now < window.opens;
  const waiting = round.every((item) => canWait(context, upkeep, item));
  const finding = early
    ? tooEarly(context, upkeep, round, window, bend)
    : waiting
      ? onTheWay(context, upkeep, first, chance, bend)
      : runOut(context, upkeep, round, chance, bend);
  return {
    ...finding,
    id: `${finding.group}/${upkeep.id}`,
    part: round.length === 1 ? first.part : null,
    parts: round.flatMap((item) => (item.part === null ? [] : [item.part])),
    evidence: unique(round.flatMap((item) => item.evidence)),
  };
}

const unique = (ids: readonly string[]): readonly string[] => [...new Set(ids)];

/** `Repack the wheel bearings, axle 2, left`. */
export function subject(upkeep: Upkeep, items: readonly OutlookItem[]): string {
  const places = items.map((item) => item.place).filter((place) => place !== '');
  return places.length === 0 ? upkeep.title : `${upkeep.title} (${listed(places)})`;
}

export function governing(item: OutlookItem): ClockOutlook | undefined {
  return item.clocks.find((clock) => clock.kind === item.clock) ?? item.clocks[0];
}

/** The clock that is in the way: the governing one, unless its day lies beyond the return and another is counted in use. */
function inTheWay({ return: back }: Context, item: OutlookItem): ClockOutlook | undefined {
  const first = governing(item);
  if (first?.dueOn === undefined || first.dueOn <= back) return first;
  return item.clocks.find((clock) => clock.dueOn === undefined && clock.left !== undefined) ?? first;
}

const textOf = (clock: ClockOutlook | undefined): string => (clock?.text ?? '').replace(/\.$/, '');

function base(context: Context, items: readonly OutlookItem[], bend: Bend) {
  const first = items[0]!;
  const group: FindingGroup = groupOf(context, first);
  return {
    id: `${group}/${first.id}`,
    group,
    severity: bend.severity ?? first.severity,
    upkeep: first.upkeep,
    part: first.part,
    evidence: unique(items.flatMap((item) => item.evidence)),
    sources: unique(items.flatMap((item) => item.sources)),
  } satisfies Partial<DraftFinding>;
}

function withGoing(upkeep: Upkeep, sources: readonly string[]): { goWithLimits?: string; sources: readonly string[] } {
  const way = upkeep.goWithLimits;
  return way ? { goWithLimits: way.text, sources: unique([...sources, way.source]) } : { sources };
}

const homeOn = (context: Context): string => formatDate(context.return, 'no-year');

function lasts(context: Context, item: OutlookItem, chance: number, bend: Bend): DraftFinding {
  const upkeep = upkeepOf(context.catalog, item);
  const text = `${subject(upkeep, [item])}: ${textOf(governing(item))}; chance to run out before ${homeOn(context)}: ${chanceText(chance)}.`;
  return { ...base(context, [item], bend), kind: 'pass', text, takes: null };
}

/** Has run out, or will before the return, and nothing can be done about it on the way. */
export function runOut(
  context: Context,
  upkeep: Upkeep,
  items: readonly OutlookItem[],
  chance: number,
  bend: Bend,
): DraftFinding {
  const first = items[0]!;
  const common = base(context, items, bend);
  const now = items.some((item) => item.state === 'due');
  const odds = now ? '' : `; chance to run out before ${homeOn(context)}: ${chanceText(chance)}`;
  const text = `${subject(upkeep, items)}: ${textOf(inTheWay(context, first))}${odds}.`;
  const rest = {
    ...common,
    takes: takesDoing(context, upkeep, items),
    cautions: cautionsOf(context, upkeep),
    ...withGoing(upkeep, common.sources),
  };
  const kept = bend.stopIsLimit?.(first);
  if (kept !== undefined) return { ...rest, kind: 'limit', text: `${text} ${kept}`, keepTo: kept };
  if (common.severity === 'safety') return { ...rest, kind: 'stop', text };
  return { ...rest, kind: 'limit', text: `${text} ${priceOfGoing(upkeep)}` };
}

function priceOfGoing({ failure }: Upkeep): string {
  const cost = failure.cost > 0 ? `about ${formatQuantity({ value: failure.cost, unit: 'USD' })}` : 'little money';
  return `Going risks ${cost}: ${failure.consequence.replace(/\.$/, '')}.`;
}

/** It runs out on the way, and is done there; or it was done afresh and still cannot last so long a trip. */
function onTheWay(context: Context, upkeep: Upkeep, item: OutlookItem, chance: number, bend: Bend): DraftFinding {
  const told = inTheWay(context, item);
  const mile = atMile(context, told);
  const day = item.dates.p50 !== null && item.dates.p50 > context.leave ? item.dates.p50 : undefined;
  const when =
    mile !== undefined
      ? `by mile ${mile} of this trip`
      : day !== undefined && day <= context.return
        ? `by ${formatDate(day, 'no-year')}`
        : `before ${homeOn(context)}`;
  const how = upkeep.place === 'anywhere' ? 'at a stop' : 'at a shop on the way, or before leaving';
  const text = `${subject(upkeep, [item])}: ${textOf(told)}; chance to run out before ${homeOn(context)}: ${chanceText(chance)}. To do ${how}, ${when}.`;
  return {
    ...base(context, [item], bend),
    kind: 'limit',
    text,
    takes: takesDoing(context, upkeep, [item]),
    keepTo: when,
    ...(mile === undefined ? {} : { atMiles: mile }),
    ...(mile === undefined && day !== undefined && day <= context.return ? { onDay: day } : {}),
    cautions: cautionsOf(context, upkeep),
  };
}

/** Nothing done today would still hold on the day of leaving. */
function tooEarly(
  context: Context,
  upkeep: Upkeep,
  items: readonly OutlookItem[],
  { opens, again }: Window,
  bend: Bend,
): DraftFinding {
  const leaving = formatDate(context.leave, 'no-year');
  const keepTo =
    opens === context.leave
      ? `on the morning of leaving, ${leaving}`
      : `from ${formatDate(opens!, 'no-year')} to ${leaving}${again ? ', and again on the way' : ''}`;
  const last =
    items.length === 1 ? ` ${capital(textOf(governing(items[0]!)))}.` : ` ${capital(counted(items.length, 'part'))}.`;
  return {
    ...base(context, items, bend),
    kind: 'limit',
    text: `To do on leaving: ${subject(upkeep, items)}.${last}`,
    takes: takesDoing(context, upkeep, items),
    keepTo,
    onLeaving: true,
    cautions: cautionsOf(context, upkeep),
  };
}

function failed(context: Context, upkeep: Upkeep, item: OutlookItem, bend: Bend): DraftFinding {
  const common = base(context, [item], bend);
  const stop = common.severity === 'safety';
  const kind: FindingKind = stop ? 'stop' : 'limit';
  const text = `${subject(upkeep, [item])}: ${item.why}${stop ? '' : ` ${priceOfGoing(upkeep)}`}`;
  return {
    ...common,
    kind,
    text,
    takes: takesDoing(context, upkeep, [item]),
    cautions: cautionsOf(context, upkeep),
    ...withGoing(upkeep, common.sources),
    ...(item.evidence[0] === undefined ? {} : { failedBy: item.evidence[0] }),
  };
}

function missingOf(item: OutlookItem): string {
  const missing = unique(item.clocks.flatMap((clock) => (clock.missing === undefined ? [] : [clock.missing])));
  return missing.length === 0 ? 'when it was last done' : listed(missing);
}

/** Whose odometer an item counts by. */
function vehicleOfItem({ parts, catalog }: Context, item: OutlookItem): VehicleRole {
  return parts.find((part) => part.id === item.part)?.vehicle ?? catalog.partKinds.get(item.kind)?.vehicle ?? 'trailer';
}

function unproven(context: Context, upkeep: Upkeep, item: OutlookItem, bend: Bend): DraftFinding {
  // Of what else is missing, nothing is said before the odometer is read: it may then be due.
  const odometer = item.clocks.find((clock) => clock.missing !== undefined)?.needs === 'odometer';
  return {
    ...base(context, [item], bend),
    kind: 'unproven',
    text: `${subject(upkeep, [item])}: not on record: ${missingOf(item)}.${odometer ? '' : ` ${upkeep.look}`}`,
    takes: odometer ? takesOdometer(vehicleOfItem(context, item)) : takesLooking(upkeep, item),
    cautions: cautionsOf(context, upkeep),
  };
}

const RANK: Readonly<Record<Severity, number>> = { safety: 0, damage: 1, comfort: 2 };

/** A kind of part that a usual rig has and this logbook does not know: one finding, by the gravest of its duties. */
function unknownKind(context: Context, items: readonly OutlookItem[], bend: Bend): DraftFinding {
  const gravest = [...items].sort((a, b) => RANK[a.severity] - RANK[b.severity])[0]!;
  const upkeep = upkeepOf(context.catalog, gravest);
  const name = context.catalog.partKinds.get(gravest.kind)?.name ?? gravest.kind;
  const titles = items.map((item) => item.title);
  const rest =
    titles.length > 3 ? [...titles.slice(0, 2), `${counted(titles.length - 2, 'other duty', 'other duties')}`] : titles;
  const takes: Takes = takesLooking(upkeep, gravest);
  const finding: DraftFinding = {
    ...base(context, items, bend),
    id: `${groupOf(context, gravest)}/unknown-${gravest.kind}`,
    group: groupOf(context, gravest),
    severity: bend.severity ?? gravest.severity,
    upkeep: items.length === 1 ? gravest.upkeep : null,
    kind: 'unproven',
    text: `${name}: none on record, so nothing shows that these are done: ${listed(rest)}. ${upkeep.look}`,
    takes,
  };
  return finding;
}
