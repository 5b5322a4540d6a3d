import { daysBetween, formatDate } from '../../../dates/index.ts';
import { partsOf, placesText } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { type DutyTold, type Finding, findingsTold, minutesTogether, type SendOff } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';

export interface TripChoice {
  readonly id: string;
  readonly name: string;
  /** `Fri 12 Jun`. */
  readonly leave: string;
  readonly home: string;
  /** The day of leaving, for a form. */
  readonly left: string;
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
  /** No part is on record yet. */
  readonly bare: boolean;
  readonly stops: readonly FindingGroupView[];
  readonly unproven: readonly FindingGroupView[];
  readonly leaving: readonly FindingGroupView[];
  readonly limits: readonly FindingGroupView[];
  readonly onTheWay: readonly FindingGroupView[];
  readonly waived: readonly FindingGroupView[];
  readonly passes: readonly FindingGroupView[];
}

/** May we go on this trip (or the next one)? */
export function goView(keeper: Keeper, asked: string | null): GoView {
  const desk = keeper.desk();
  const trips = tripChoices(keeper);
  const chosen = trips.find((trip) => trip.id === asked) ?? trips[0];
  const bare = partsOf(keeper.state).length === 0;
  const answer = desk.sendoff(chosen?.id);
  if (!answer.ok) {
    return {
      ...{ trips, trip: chosen ?? null, judgement: null, sentence: answer.problems[0]!.what, firstStep: null },
      ...{
        problems: answer.problems,
        stops: [],
        unproven: [],
        leaving: [],
        limits: [],
        onTheWay: [],
        waived: [],
        passes: [],
      },
      bare,
    };
  }
  const { findings, judgement, sentence, firstStep } = answer.value;
  const under = findingsTold(findings);
  const grouped = (duties: readonly DutyTold[]): FindingGroupView[] => groups(keeper, duties);
  return {
    trips,
    trip: chosen ?? null,
    judgement,
    sentence,
    firstStep,
    problems: [],
    bare,
    stops: grouped(under.stops),
    unproven: grouped(under.unproven),
    leaving: grouped(under.leaving),
    limits: grouped(under.limits),
    onTheWay: grouped(mileByMile(under.onTheWay)),
    waived: grouped(under.waived),
    passes: grouped(under.passes),
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
      left: trip.leave,
      inDays: daysBetween(keeper.today, trip.leave),
      miles: `${number(trip.planned.value)} ${trip.planned.unit} planned, ${number(trip.miles.p10.value)} to ${number(trip.miles.p90.value)} to be expected`,
      tentative: trip.chance < 1,
    }));
}

/** One duty at several miles is one line: whoever drives wants to know at which miles. */
function mileByMile(duties: readonly DutyTold[]): DutyTold[] {
  const together = new Map<string, DutyTold>();
  for (const duty of duties) {
    const key = duty.findings[0].upkeep ?? duty.key;
    const known = together.get(key);
    const findings = [...(known?.findings ?? []), ...duty.findings] as unknown as DutyTold['findings'];
    together.set(key, { ...duty, key, findings });
  }
  return [...together.values()];
}

/** Duties with what they take and how long they last. */
function groups(keeper: Keeper, duties: readonly DutyTold[]): FindingGroupView[] {
  const { items, trips } = keeper.desk().outlook();
  const slackOf = new Map(items.map((item) => [item.id, item.state === 'unproven' ? [] : [item.slackTrips]]));
  return duties.map((duty) => {
    const slacks = duty.findings.flatMap(({ id }) => slackOf.get(id.slice(id.indexOf('/') + 1)) ?? []);
    return {
      key: duty.key,
      title: titleOf(duty),
      findings: duty.findings,
      minutes: minutesTogether(keeper.catalog, duty.findings),
      slack: slacks.length === 0 ? null : Math.min(...slacks),
      notches: Math.min(6, trips.length),
    };
  });
}

/** Longer lists of places are left to the explanation. */
const PLACES_READABLE = 46;

function titleOf({ title, places, findings }: DutyTold): string {
  const [first] = findings;
  // A list of things stands behind its count.
  if (first.group === 'kit') return first.text.split(':')[0]!;
  // Where there is something to keep to, that is what matters.
  if (first.upkeep === null && first.kind === 'limit' && first.keepTo) return capital(first.keepTo);
  if (first.upkeep === null) return title;
  const named = placesText(places);
  return named === '' || named.length > PLACES_READABLE ? title : `${title}: ${named}`;
}

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
