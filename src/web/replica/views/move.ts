import { formatDate } from '../../../dates/index.ts';
import { addEntry, ENTRY_VERSION, type EntryOf } from '../../../logbook/index.ts';
import { makePlan, type YardDay } from '../../../plan/index.ts';
import type { Problem } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { planOf } from './planned.ts';
import { hours, money } from './season.ts';

/** What moving some jobs to another day would cost, all else planned anew. */
export interface MovePrice {
  readonly day: string;
  readonly dayText: string;
  readonly money: number;
  readonly minutes: number;
  readonly text: string;
  readonly problems: readonly Problem[];
}

export const pinKey = (item: string): string => `pin/${item.replace('@', '.')}`;

export function movePrice(keeper: Keeper, items: readonly string[], day: string): MovePrice {
  const before = planOf(keeper);
  const model = keeper.desk().outlookModel();
  const state = items.reduce(
    (pinned, item, index) => addEntry(pinned, pinEntry(keeper, item, day, index)),
    keeper.state,
  );
  const after = makePlan({ ...model, scene: { ...model.scene, state } });
  const dayText = formatDate(day, 'no-year');
  if (!before.ok || !after.ok) {
    const problems = !before.ok ? before.problems : after.ok ? [] : after.problems;
    return { day, dayText, money: 0, minutes: 0, text: problems[0]?.what ?? '', problems };
  }
  const was = before.value;
  const is = after.value.plan;
  const landed = items.every((item) =>
    is.days.some((one) => one.date === day && one.jobs.some((job) => job.item === item)),
  );
  const cost = Math.round(is.cost - was.cost);
  const minutes = Math.round(total(is.days) - total(was.days));
  const risk = riskText(keeper, items, day);
  const warned = is.warnings.filter((warning) => !was.warnings.includes(warning));
  const opened = is.days
    .filter((one) => !was.days.some((other) => other.date === one.date))
    .map((one) => formatDate(one.date, 'no-year'));
  const text = [
    landed ? priceText(cost, minutes, dayText) : `${dayText} cannot hold it; the plan keeps it elsewhere.`,
    opened.length > 0 && landed ? `It opens ${opened.join(' and ')} as a yard day.` : '',
    risk,
    ...warned,
  ];
  return { day, dayText, money: cost, minutes, text: text.filter((one) => one !== '').join(' '), problems: [] };
}

const total = (days: readonly YardDay[]): number => days.reduce((sum, day) => sum + day.minutes, 0);

function priceText(cost: number, minutes: number, dayText: string): string {
  const time = minutes === 0 ? '' : ` and ${hours(Math.abs(minutes))} ${minutes > 0 ? 'more' : 'less'}`;
  if (cost === 0 && minutes === 0) return `On ${dayText} it costs the same.`;
  if (cost >= 0)
    return `On ${dayText} it costs ${money(cost)} more${time.replace(' more', '')} over the plan’s eighteen months.`;
  return `On ${dayText} it costs ${money(-cost)} less${time} over the plan’s eighteen months.`;
}

/** The chance that it runs out on a trip made before the day. */
function riskText(keeper: Keeper, items: readonly string[], day: string): string {
  const trips = keeper
    .desk()
    .outlook()
    .trips.filter((trip) => trip.leave < day && trip.leave >= keeper.today);
  const last = trips.at(-1);
  if (!last) return '';
  const chance = Math.max(
    ...keeper
      .desk()
      .outlook()
      .items.filter((item) => items.includes(item.id))
      .map((item) => item.chanceByTrip.find((one) => one.trip === last.trip)?.chance ?? 0),
    0,
  );
  if (chance < 0.005) return '';
  const percent = chance > 0.995 ? 'surely' : `with ${Math.max(1, Math.round(chance * 100))} % chance`;
  return `By then it has run out ${percent} (${last.name} is home ${formatDate(last.return, 'no-year')}).`;
}

/** A pin as it would be written; only ever folded here. */
function pinEntry(keeper: Keeper, item: string, day: string, index: number): EntryOf<'set'> {
  return {
    id: `7ZZZZZZZZZZZZZZZZZZZZZZZ${String(index % 90).padStart(2, '0')}`,
    ...{
      rig: keeper.rig,
      kind: 'set',
      on: keeper.today,
      at: `${keeper.today}T23:59:59Z`,
      by: keeper.by,
      v: ENTRY_VERSION,
    },
    body: { key: pinKey(item), value: { day, how: 'on' } },
  };
}
