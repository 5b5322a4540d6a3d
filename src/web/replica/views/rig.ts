import { upkeepsOfPart } from '../../../catalog/index.ts';
import { formatDate, formatLabelDate, monthsBetween } from '../../../dates/index.ts';
import {
  type Entry,
  type PartState,
  partOf,
  partsOf,
  quantityFact,
  type ReadingFact,
  vehicleOf,
} from '../../../logbook/index.ts';
import type { OutlookItem } from '../../../outlook/index.ts';
import { convert, type Quantity, unitSymbol } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import { type EntryLine, entryLine, factName, factText, readingName } from './entry-text.ts';
import { labelOf } from './form-fields.ts';
import { quantityText, type Told, toldBy } from './told.ts';

/** How a part or a place stands: the worst of its duties. */
export type Standing = 'out' | 'unproven' | 'good';

export interface PartLine {
  readonly id: string;
  readonly name: string;
  readonly place: string;
  readonly vehicle: 'trailer' | 'tow';
  readonly group: string;
  readonly standing: Standing;
  /** `65.5 psi`, where something is read off it. */
  readonly reading: string;
  readonly made: string;
}

export interface RigView {
  readonly trailer: string;
  readonly tow: string;
  readonly axles: number;
  readonly towAxles: number;
  readonly odometer: string;
  readonly parts: readonly PartLine[];
}

const worst = (items: readonly OutlookItem[]): Standing => {
  if (items.some((item) => item.state === 'due' || item.state === 'failed')) return 'out';
  return items.some((item) => item.state === 'unproven' && item.severity !== 'comfort') ? 'unproven' : 'good';
};

/** The whole rig: its parts, where they sit, and how each stands. */
export function rigView(keeper: Keeper): RigView {
  const told = toldBy(keeper);
  const outlook = keeper.desk().outlook();
  const byPart = itemsByPart(outlook.items);
  const shown = outlook.odometer.trailer;
  return {
    trailer: vehicleOf(keeper.state, 'trailer')?.body.name ?? 'Trailer',
    tow: vehicleOf(keeper.state, 'tow')?.body.name ?? 'Tow vehicle',
    axles: vehicleOf(keeper.state, 'trailer')?.body.axles ?? 2,
    towAxles: vehicleOf(keeper.state, 'tow')?.body.axles ?? 2,
    odometer: shown
      ? `${quantityText(told, shown.shown, 1)} on ${formatDate(shown.on, 'day')}`
      : 'Odometer not on record',
    parts: partsOf(keeper.state).map((part) => partLine(keeper, told, part, byPart.get(part.id) ?? [])),
  };
}

function itemsByPart(items: readonly OutlookItem[]): Map<string, OutlookItem[]> {
  const by = new Map<string, OutlookItem[]>();
  for (const item of items) {
    if (item.part === null) continue;
    const known = by.get(item.part);
    if (known) known.push(item);
    else by.set(item.part, [item]);
  }
  return by;
}

function partLine(keeper: Keeper, told: Told, part: PartState, items: readonly OutlookItem[]): PartLine {
  const kind = keeper.catalog.partKinds.get(part.kind);
  const last = [...part.readings.values()]
    .flatMap((facts) => facts.at(-1) ?? [])
    .sort((a, b) => (a.on < b.on ? 1 : -1))[0];
  return {
    id: part.id,
    name: kind?.name ?? labelOf(part.kind),
    place: part.place,
    vehicle: part.vehicle ?? kind?.vehicle ?? 'trailer',
    group: kind?.group ?? '',
    standing: worst(items),
    reading: last ? quantityText(told, last.value) : '',
    made: part.fit.body.madeOn?.slice(0, 4) ?? '',
  };
}

export interface DutyView {
  readonly id: string;
  readonly title: string;
  readonly state: OutlookItem['state'];
  readonly stateText: string;
  readonly slack: number;
  readonly notches: number;
  readonly why: string;
  readonly clocks: readonly string[];
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
  readonly upkeep: string;
  readonly drill: boolean;
  readonly fits: boolean;
}

/** Readings of one kind over time, with the limit they drift to and when they may cross it. Values in `unit`. */
export interface ReadingSeries {
  readonly what: string;
  readonly label: string;
  readonly unit: string;
  readonly points: readonly { readonly on: string; readonly value: number; readonly text: string }[];
  readonly limit: { readonly value: number; readonly side: 'below' | 'above'; readonly text: string } | null;
  readonly crosses: { readonly p10: string; readonly p50: string; readonly p90: string; readonly text: string } | null;
}

export interface PartView {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  readonly place: string;
  readonly facts: readonly (readonly [name: string, value: string])[];
  readonly duties: readonly DutyView[];
  readonly series: readonly ReadingSeries[];
  readonly readable: readonly { readonly what: string; readonly label: string }[];
  readonly history: readonly EntryLine[];
}

/** One part: what it is, how it stands, what was read and done. */
export function partView(keeper: Keeper, id: string): PartView | null {
  const part = partOf(keeper.state, id);
  if (!part) return null;
  const told: Told = { ...toldBy(keeper), about: { part: id } };
  const outlook = keeper.desk().outlook();
  const items = outlook.items.filter((item) => item.part === id);
  const kind = keeper.catalog.partKinds.get(part.kind);
  const upkeeps = keeper.catalog.upkeepsOf.get(part.kind) ?? [];
  const readable = [...new Set(upkeeps.flatMap((upkeep) => upkeep.readings.map((reading) => reading.what)))];
  return {
    id,
    kind: part.kind,
    name: kind?.name ?? labelOf(part.kind),
    place: part.place,
    facts: factsOf(keeper, told, part),
    duties: items.map((item) => dutyOf(keeper, item, Math.min(6, outlook.trips.length))),
    series: [...part.readings].flatMap(([what, facts]) => seriesOf(keeper, told, part, what, facts, items) ?? []),
    readable: readable.map((what) => ({ what, label: labelOf(readingName(what)) })),
    history: historyOf(keeper, id).map((entry) => entryLine(told, entry)),
  };
}

function factsOf(keeper: Keeper, told: Told, part: PartState): [string, string][] {
  const { body, on } = part.fit;
  const facts: [string, string][] = [[body.isNew ? 'Fitted new' : 'On record since', formatDate(on, 'day')]];
  if (body.madeOn) facts.push(['Made', `${formatLabelDate(body.madeOn)}${ageText(body.madeOn, keeper.today)}`]);
  if (body.code) facts.push(['Code', body.code]);
  const good = part.paper?.body.goodThrough ?? body.goodThrough;
  if (good) facts.push(['Good through', formatLabelDate(good)]);
  for (const [name, value] of Object.entries(part.facts)) facts.push([labelOf(factName(name)), factText(told, value)]);
  if (body.cost !== undefined) facts.push(['Cost', `$${body.cost}`]);
  if (body.note) facts.push(['Note', body.note]);
  return facts;
}

/** Age from a label that may give only a year or a month: at least so many whole years. */
function ageText(madeOn: string, today: string): string {
  const latest = madeOn.length === 4 ? `${madeOn}-12-31` : madeOn.length === 7 ? `${madeOn}-28` : madeOn;
  if (latest > today) return '';
  const months = monthsBetween(latest, today);
  if (months < 24) return `, ${months} months old`;
  return `, ${Math.floor(months / 12)} years old`;
}

const STATES: Readonly<Record<OutlookItem['state'], string>> = {
  runs: '',
  due: 'Run out',
  failed: 'Failed',
  unproven: 'Unproven',
};

function dutyOf(keeper: Keeper, item: OutlookItem, notches: number): DutyView {
  const upkeep = keeper.catalog.upkeeps.get(item.upkeep);
  return {
    id: item.id,
    title: item.follows ? `${item.title} (${item.follows.atMiles} mi after)` : item.title,
    state: item.state,
    stateText: STATES[item.state],
    slack: item.slackTrips,
    notches,
    why: item.why,
    clocks: item.clocks.map((clock) => clock.text),
    evidence: item.evidence,
    sources: item.sources,
    upkeep: item.upkeep,
    drill: upkeep?.drill ?? false,
    fits: item.clock === 'age' && (upkeep?.restores ?? false),
  };
}

function seriesOf(
  keeper: Keeper,
  told: Told,
  part: PartState,
  what: string,
  facts: readonly ReadingFact[],
  items: readonly OutlookItem[],
): ReadingSeries | undefined {
  if (facts.length === 0) return undefined;
  const unit = facts.at(-1)!.value.unit;
  const limit = limitOf(keeper, told, part, what, unit);
  const item = items.find(
    (one) =>
      one.clocks.some((clock) => clock.kind === 'limit') &&
      keeper.catalog.upkeeps.get(one.upkeep)?.clocks.some((clock) => clock.kind === 'limit' && clock.reading === what),
  );
  const { p10, p50, p90 } = item?.dates ?? { p10: null, p50: null, p90: null };
  const day = (date: string): string => formatDate(date, 'day');
  return {
    what,
    label: labelOf(readingName(what)),
    unit: unitSymbol(unit),
    points: facts.map((fact) => ({
      on: fact.on,
      value: convert(fact.value, unit).value,
      text: `${day(fact.on)}: ${quantityText(told, fact.value)}`,
    })),
    limit,
    crosses:
      limit && p10 && p50 && p90 && p50 > keeper.today
        ? { p10, p50, p90, text: `Past its limit: 10 % by ${day(p10)}, half by ${day(p50)}, 90 % by ${day(p90)}` }
        : null,
  };
}

function limitOf(
  keeper: Keeper,
  told: Told,
  part: PartState,
  what: string,
  unit: Quantity['unit'],
): ReadingSeries['limit'] {
  for (const upkeep of upkeepsOfPart(keeper.desk().catalog, part.kind, part.id)) {
    for (const clock of upkeep.clocks) {
      if (clock.kind !== 'limit' || clock.reading !== what) continue;
      const fact = clock.limitFact === undefined ? null : quantityFact(part, clock.limitFact);
      const limit = fact ?? clock.limit;
      if (limit)
        return { value: convert(limit, unit).value, side: clock.side, text: `limit ${quantityText(told, limit)}` };
    }
  }
  return null;
}

/** Every entry that speaks of the part, newest first. */
function historyOf(keeper: Keeper, id: string): Entry[] {
  const subject = keeper.state.subjects.get(`part/${id}`);
  const entries = new Map<string, Entry>();
  for (const chain of subject?.values() ?? []) for (const entry of chain) entries.set(entry.id, entry);
  return [...entries.values()].sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : a.id < b.id ? 1 : -1));
}
