import { addDays, dateOf, formatDate } from '../../../dates/index.ts';
import { partsOf, placesText, settingOf, tripsOf } from '../../../logbook/index.ts';
import type { OutlookItem, TripAhead } from '../../../outlook/index.ts';
import { otherDays, type Plan, type PlannedJob, type YardDay } from '../../../plan/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { formatQuantity } from '../../../quantity/index.ts';
import type { Proof } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { pinAbout, planModelOf, planOf } from './planned.ts';
import { BARE, provenText, roadText, sentenceOf, wayText } from './season-words.ts';
import { quantityText, type Told, toldBy } from './told.ts';

export interface SeasonTrip {
  readonly id: string;
  readonly name: string;
  readonly leave: string;
  readonly home: string;
  readonly leaveText: string;
  readonly homeText: string;
  readonly miles: string;
  readonly tentative: boolean;
  /** It has begun, so that it can be finished. */
  readonly begun: boolean;
  /** The plan as it stands, for changing it. */
  readonly known: Readonly<Record<string, string>>;
  /** What is done on leaving and on the road, each with its mile. */
  readonly onTheWay: readonly { readonly at: string; readonly title: string; readonly why: string }[];
}

/** One duty on one or several parts, planned for one day. */
export interface SeasonJob {
  readonly key: string;
  readonly items: readonly string[];
  readonly title: string;
  readonly places: string;
  readonly minutes: number;
  readonly pinned: boolean;
  /** A day the owner keeps it off, in words; empty where there is none. */
  readonly keptOff: string;
  /** What each other free day would cost, all else kept; null where it cannot be held. By date. */
  readonly otherDays: Readonly<Record<string, number | null>>;
  readonly why: readonly string[];
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
  /** The entry that would write it down. */
  readonly proof: Proof | null;
}

export interface SeasonDay {
  readonly date: string;
  readonly text: string;
  /** `7 Jun`, for the drawing. */
  readonly shortText: string;
  readonly minutes: number;
  readonly minutesFree: number;
  readonly cost: number;
  readonly setups: readonly { readonly title: string; readonly jobs: number }[];
  readonly jobs: readonly SeasonJob[];
  readonly tools: readonly { readonly name: string; readonly where: string }[];
  readonly parts: readonly { readonly what: string; readonly quantity: string; readonly order: string }[];
}

/** When an upkeep runs out, for its band over the line. */
export interface SeasonBand {
  readonly item: string;
  readonly title: string;
  readonly p10: string;
  readonly p50: string;
  readonly p90: string;
  readonly text: string;
}

export interface SeasonView {
  readonly from: string;
  readonly to: string;
  readonly today: string;
  /** No part is on record: there is nothing to plan for, and that says nothing of the rig. */
  readonly bare: boolean;
  readonly sentence: string;
  readonly proven: string;
  readonly trips: readonly SeasonTrip[];
  readonly days: readonly SeasonDay[];
  /** Yard days after the season that is drawn. */
  readonly after: readonly {
    readonly date: string;
    readonly text: string;
    readonly minutes: number;
    readonly titles: readonly string[];
  }[];
  readonly slots: readonly { readonly date: string; readonly text: string }[];
  readonly bands: Readonly<Record<string, SeasonBand>>;
  readonly later: readonly { readonly item: string; readonly text: string; readonly runsOut: string }[];
  readonly warnings: readonly string[];
  readonly problems: readonly Problem[];
}

/** The season: trips, yard days with their jobs, and when each upkeep runs out. */
export function seasonView(keeper: Keeper): SeasonView {
  const desk = keeper.desk();
  const outlook = desk.outlook();
  const told = toldBy(keeper);
  const made = planOf(keeper);
  const lastHome = outlook.trips.at(-1)?.return ?? addDays(keeper.today, 90);
  const from = addDays(keeper.today, -10);
  const to = addDays([lastHome, addDays(keeper.today, 90)].sort().at(-1)!, 24);
  const items = new Map(outlook.items.map((item) => [item.id, item]));
  const plan = made.ok ? made.value : null;
  const bare = partsOf(keeper.state).length === 0;
  const days = (plan?.days ?? []).map((day) => seasonDay(keeper, day, items));
  const within = days.filter((day) => day.date <= to);
  return {
    from,
    to,
    today: keeper.today,
    bare,
    sentence: bare ? BARE : plan ? sentenceOf(within, plan) : 'No plan can be made yet.',
    proven: plan && !bare ? `${roadText(plan)}${provenText(plan)}` : '',
    trips: [...overdue(keeper, told), ...outlook.trips.map((trip) => seasonTrip(keeper, trip, plan))],
    days: within,
    after: days
      .filter((day) => day.date > to)
      .map(({ date, text, minutes, jobs }) => ({
        ...{ date, text: `${text} ${date.slice(0, 4)}`, minutes },
        titles: jobs.map((job) => job.title.toLowerCase()),
      })),
    slots: slotsOf(keeper),
    bands: Object.fromEntries(outlook.items.flatMap((item) => bandOf(item) ?? []).map((band) => [band.item, band])),
    later: (plan?.later ?? []).map((one) => ({
      item: one.item,
      text: one.place === '' ? one.title : `${one.title}: ${one.place}`,
      runsOut: one.runsOut === null ? 'not in sight' : formatDate(one.runsOut, 'month'),
    })),
    warnings: plan?.warnings ?? [],
    problems: made.ok ? [] : made.problems,
  };
}

function seasonTrip(keeper: Keeper, trip: TripAhead, plan: Plan | null): SeasonTrip {
  return {
    ...{ id: trip.trip, name: trip.name, leave: trip.leave, home: trip.return },
    leaveText: formatDate(trip.leave, 'no-year'),
    homeText: formatDate(trip.return, 'no-year'),
    miles: formatQuantity(trip.planned, { digits: 0 }),
    tentative: trip.chance < 1,
    begun: trip.leave <= keeper.today,
    known: plannedAs(keeper, trip.trip),
    onTheWay: (plan?.onTheWay ?? []).filter((one) => one.trip === trip.trip).map(wayText),
  };
}

/** Trips that should be over and were never written down as finished. */
function overdue(keeper: Keeper, told: Told): SeasonTrip[] {
  return tripsOf(keeper.state)
    .filter((trip) => !trip.done && trip.plan.body.return < keeper.today)
    .map(({ id, plan: { body } }) => ({
      ...{ id, name: body.name, leave: body.leave, home: body.return },
      leaveText: formatDate(body.leave, 'no-year'),
      homeText: formatDate(body.return, 'no-year'),
      miles: quantityText(told, body.miles, 0),
      ...{ tentative: body.chance < 1, begun: true, known: plannedAs(keeper, id), onTheWay: [] },
    }));
}

/** What the form for changing a trip begins with. */
function plannedAs(keeper: Keeper, id: string): Record<string, string> {
  const body = tripsOf(keeper.state).find((trip) => trip.id === id)?.plan.body;
  if (!body) return {};
  const known: Record<string, string> = {};
  for (const [name, value] of Object.entries(body)) {
    if (typeof value === 'string' || typeof value === 'number') known[name] = String(value);
    else if (typeof value === 'object' && 'unit' in value) known[name] = formatQuantity(value, { digits: 1 });
  }
  return known;
}

function bandOf(item: OutlookItem): SeasonBand | undefined {
  const { p10, p50, p90 } = item.dates;
  if (p10 === null || p50 === null || p90 === null || item.state === 'unproven') return undefined;
  const title = item.place === '' ? item.title : `${item.title}: ${item.place}`;
  const day = (date: string): string => formatDate(date, 'day');
  const text =
    p10 === p90 ? `Runs out on ${day(p50)}` : `Runs out: 10 % by ${day(p10)}, half by ${day(p50)}, 90 % by ${day(p90)}`;
  return { item: item.id, title, p10, p50, p90, text };
}

/** Jobs of one duty side by side become one line. */
function seasonDay(keeper: Keeper, day: YardDay, items: ReadonlyMap<string, OutlookItem>): SeasonDay {
  const groups: PlannedJob[][] = [];
  for (const job of day.jobs) {
    const last = groups.findLast((group) => group[0]!.upkeep === job.upkeep && group[0]!.title === job.title);
    if (last) last.push(job);
    else groups.push([job]);
  }
  const aboard = keeper.catalog.kit;
  return {
    date: day.date,
    text: formatDate(day.date, 'no-year'),
    shortText: formatDate(day.date, 'no-year').slice(4),
    minutes: day.minutes,
    minutesFree: day.minutesFree,
    cost: day.cost,
    setups: day.setups.map(({ id, title }) => ({
      title,
      jobs: day.jobs.filter((job) => job.setups.includes(id)).length,
    })),
    jobs: groups.map((jobs) => ({
      key: `${day.date}/${jobs[0]!.item}`,
      items: jobs.map((job) => job.item),
      title: jobs[0]!.title,
      places: placesText(jobs.map((job) => job.place)),
      minutes: jobs.reduce((sum, job) => sum + job.minutes, 0),
      pinned: jobs.some((job) => job.pinned),
      keptOff: keptOff(keeper, jobs),
      otherDays: pricesOf(keeper, jobs, day.date),
      why: [...new Set(jobs.map((job) => job.why))],
      evidence: [...new Set(jobs.flatMap((job) => job.evidence))],
      sources: [...new Set(jobs.flatMap((job) => job.sources))],
      proof: proofOf(keeper, jobs, items),
    })),
    tools: day.tools.map((name) => ({
      name,
      where: whereAboard(keeper, [...aboard.values()].find((item) => item.name === name)?.id),
    })),
    parts: day.parts.map(({ what, quantity, orderBy }) => ({
      what,
      quantity,
      order:
        orderBy === undefined
          ? ''
          : orderBy < keeper.today
            ? 'order today'
            : `order by ${formatDate(orderBy, 'no-year')}`,
    })),
  };
}

function keptOff({ state, today }: Keeper, jobs: readonly PlannedJob[]): string {
  const days = jobs.flatMap(({ item }) => {
    const pin = settingOf(state, 'pin', pinAbout(item));
    return pin?.how === 'not on' && pin.day >= today ? [formatDate(pin.day, 'no-year')] : [];
  });
  return [...new Set(days)].join(', ');
}

function pricesOf(keeper: Keeper, jobs: readonly PlannedJob[], date: string): SeasonJob['otherDays'] {
  const model = planModelOf(keeper);
  if (!model.ok) return {};
  const items = jobs.map((job) => job.item);
  return Object.fromEntries(otherDays(model.value.placement, items, date).map((one) => [one.date, one.more]));
}

function whereAboard(keeper: Keeper, item: string | undefined): string {
  const carried = item === undefined ? undefined : keeper.state.subjects.get(`kit/${item}`)?.get('carry')?.at(-1);
  if (carried?.kind !== 'carry' || !carried.body.aboard) return 'not aboard';
  return carried.body.where ?? 'aboard';
}

function proofOf(keeper: Keeper, jobs: readonly PlannedJob[], items: ReadonlyMap<string, OutlookItem>): Proof | null {
  const first = jobs[0]!;
  const upkeep = keeper.catalog.upkeeps.get(first.upkeep);
  const item = items.get(first.item);
  if (first.part === null) return item ? { kind: 'fit', part: null, partKind: item.kind } : null;
  if (upkeep?.drill) return { kind: 'drill', upkeep: first.upkeep, part: first.part };
  if (item?.clock === 'age' && upkeep?.restores) return { kind: 'fit', part: first.part, partKind: item.kind };
  return { kind: 'work', upkeep: first.upkeep, parts: jobs.flatMap((job) => job.part ?? []) };
}

function slotsOf(keeper: Keeper): SeasonView['slots'] {
  const model = planModelOf(keeper);
  if (!model.ok) return [];
  return model.value.placement.horizon.slots.map(({ day }) => ({
    date: dateOf(day),
    text: formatDate(dateOf(day), 'short'),
  }));
}
