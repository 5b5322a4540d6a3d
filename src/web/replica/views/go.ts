import { daysBetween, formatDate } from '../../../dates/index.ts';
import { settingOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { type Finding, minutesTogether, type SendOff } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { type EntryLine, linesOf, type SourceLine, sourcesOf, type Told } from './entry-text.ts';

export interface TripChoice {
  readonly id: string;
  readonly name: string;
  /** `Fri 12 Jun`. */
  readonly leave: string;
  readonly home: string;
  readonly inDays: number;
  /** `640 mi, 620 to 745 by your own habit`. */
  readonly miles: string;
  readonly tentative: boolean;
}

/** Findings of one duty on several parts, told once. */
export interface FindingGroupView {
  readonly key: string;
  readonly title: string;
  readonly findings: readonly Finding[];
  readonly minutes: number;
  readonly slack: number | null;
  /** Slack is drawn as so many notches. */
  readonly notches: number;
}

export interface GoView {
  readonly trips: readonly TripChoice[];
  readonly trip: TripChoice | null;
  readonly judgement: SendOff['judgement'] | null;
  readonly sentence: string;
  readonly firstStep: string | null;
  readonly problems: readonly Problem[];
  readonly stops: readonly FindingGroupView[];
  readonly unproven: readonly FindingGroupView[];
  readonly limits: readonly FindingGroupView[];
  readonly onTheWay: readonly FindingGroupView[];
  readonly waived: readonly FindingGroupView[];
  readonly passes: readonly FindingGroupView[];
  readonly lines: Readonly<Record<string, EntryLine>>;
  readonly sources: Readonly<Record<string, SourceLine>>;
}

export const toldBy = (keeper: Keeper): Told => ({
  state: keeper.state,
  catalog: keeper.catalog,
  system: settingOf(keeper.state, 'units') ?? 'us',
});

/** May we go on this trip (or the next one)? */
export function goView(keeper: Keeper, asked: string | null): GoView {
  const desk = keeper.desk();
  const told = toldBy(keeper);
  const trips = tripChoices(keeper);
  const chosen = trips.find((trip) => trip.id === asked) ?? trips[0];
  const answer = desk.sendoff(chosen?.id);
  if (!answer.ok) {
    return {
      ...{ trips, trip: chosen ?? null, judgement: null, sentence: answer.problems[0]!.what, firstStep: null },
      ...{ problems: answer.problems, stops: [], unproven: [], limits: [], onTheWay: [], waived: [], passes: [] },
      ...{ lines: {}, sources: {} },
    };
  }
  const { findings, judgement, sentence, firstStep } = answer.value;
  const waived = findings.filter((finding) => finding.waived);
  const live = findings.filter((finding) => !finding.waived);
  const onWay = (finding: Finding): boolean => finding.atMiles !== undefined || finding.onDay !== undefined;
  const grouped = (chosen: readonly Finding[]): FindingGroupView[] => groups(keeper, chosen);
  return {
    trips,
    trip: chosen ?? null,
    judgement,
    sentence,
    firstStep,
    problems: [],
    stops: grouped(live.filter((finding) => finding.kind === 'stop')),
    unproven: grouped(live.filter((finding) => finding.kind === 'unproven')),
    limits: grouped(live.filter((finding) => finding.kind === 'limit' && !onWay(finding))),
    onTheWay: grouped(live.filter((finding) => finding.kind === 'limit' && onWay(finding))),
    waived: grouped(waived),
    passes: grouped(live.filter((finding) => finding.kind === 'pass')),
    lines: linesOf(
      told,
      findings.flatMap((finding) => [...finding.evidence, ...(finding.waived ? [finding.waived.entry] : [])]),
    ),
    sources: sourcesOf(
      told,
      findings.flatMap((finding) => finding.sources),
    ),
  };
}

export function tripChoices(keeper: Keeper): TripChoice[] {
  const number = (value: number): string => Math.round(value).toLocaleString('en-US');
  return keeper
    .desk()
    .outlook()
    .trips.map((trip) => ({
      id: trip.trip,
      name: trip.name,
      leave: formatDate(trip.leave, 'no-year'),
      home: formatDate(trip.return, 'no-year'),
      inDays: daysBetween(keeper.today, trip.leave),
      miles: `${number(trip.planned.value)} ${trip.planned.unit} planned, ${number(trip.miles.p10.value)} to ${number(trip.miles.p90.value)} to be expected`,
      tentative: trip.chance < 1,
    }));
}

/** One duty on four wheels is one thing to a person: told once, with its places. */
function groups(keeper: Keeper, findings: readonly Finding[]): FindingGroupView[] {
  const items = new Map(
    keeper
      .desk()
      .outlook()
      .items.map((item) => [item.id, item]),
  );
  const byDuty = new Map<string, Finding[]>();
  for (const finding of findings) {
    const key = finding.upkeep === null ? finding.id : `${finding.upkeep}/${finding.atMiles ?? ''}`;
    byDuty.set(key, [...(byDuty.get(key) ?? []), finding]);
  }
  const trips = Math.min(6, keeper.desk().outlook().trips.length);
  return [...byDuty].map(([key, members]) => {
    const slacks = members.flatMap((finding) => {
      const item = items.get(finding.id.slice(finding.id.indexOf('/') + 1));
      return item && item.state !== 'unproven' ? [item.slackTrips] : [];
    });
    return {
      key,
      title: titleOf(keeper, members),
      findings: members,
      minutes: minutesTogether(keeper.catalog, members),
      slack: slacks.length === 0 ? null : Math.min(...slacks),
      notches: trips,
    };
  });
}

/** Longer lists of places are left to the explanation. */
const PLACES_READABLE = 46;

function titleOf(keeper: Keeper, members: readonly Finding[]): string {
  const [first] = members;
  const upkeep = first!.upkeep === null ? undefined : keeper.catalog.upkeeps.get(first!.upkeep);
  if (!upkeep) return first!.takes?.action ?? first!.text;
  const places = [...new Set(members.flatMap((finding) => finding.parts))].map((id) => {
    const item = keeper
      .desk()
      .outlook()
      .items.find((one) => one.part === id);
    return item?.place ?? '';
  });
  const named = placesText(places);
  return named === '' || named.length > PLACES_READABLE ? upkeep.title : `${upkeep.title}: ${named}`;
}

/** `axle 2, left` and `axle 2, right` as `axle 2, left and right`; too many to be read are left out. */
export function placesText(places: readonly string[]): string {
  const sides = new Map<string, string[]>();
  for (const place of new Set(places)) {
    if (place === '') continue;
    const [at, ...side] = place.split(', ');
    sides.set(at!, [...(sides.get(at!) ?? []), ...(side.length === 0 ? [] : [side.join(', ')])]);
  }
  return [...sides].map(([at, of]) => (of.length === 0 ? at : `${at}, ${of.join(' and ')}`)).join('; ');
}
