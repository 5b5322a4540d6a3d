import { formatDate } from '../../../dates/index.ts';
import { whatIf } from '../../../desk/index.ts';
import { ENTRY_VERSION, type EntryOf } from '../../../logbook/index.ts';
import { chanceOnTrip } from '../../../outlook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { pinAbout, planModelOf } from './planned.ts';
import { hours, money } from './season-words.ts';

/** What moving some jobs to another day would cost, all else planned anew. */
export interface MovePrice {
  readonly day: string;
  readonly dayText: string;
  readonly money: number;
  readonly minutes: number;
  readonly text: string;
  readonly problems: readonly Problem[];
}

export const pinKey = (item: string): string => `pin/${pinAbout(item)}`;

export function movePrice(keeper: Keeper, items: readonly string[], day: string): MovePrice {
  const dayText = formatDate(day, 'no-year');
  const failed = (problems: readonly Problem[]): MovePrice => ({
    ...{ day, dayText, money: 0, minutes: 0, text: problems[0]?.what ?? '', problems },
  });
  const before = planModelOf(keeper);
  if (!before.ok) return failed(before.problems);
  const pins = items.map((item, index) => pinEntry(keeper, item, day, index));
  const tried = whatIf(before.value, pins, { now: keeper.today });
  if (!tried.ok) return failed(tried.problems);
  const was = before.value.plan;
  const is = tried.value.planModel.plan;
  const landed = items.every((item) =>
    is.days.some((one) => one.date === day && one.jobs.some((job) => job.item === item)),
  );
  const cost = Math.round(tried.value.price.money);
  const minutes = Math.round(tried.value.price.minutes);
  const warned = is.warnings.filter((warning) => !was.warnings.includes(warning));
  const opened = is.days
    .filter((one) => !was.days.some((other) => other.date === one.date))
    .map((one) => formatDate(one.date, 'no-year'));
  const text = [
    landed ? priceText(cost, minutes, dayText) : `${dayText} cannot hold it; the plan keeps it elsewhere.`,
    opened.length > 0 && landed ? `It opens ${opened.join(' and ')} as a yard day.` : '',
    riskText(keeper, items, day),
    ...warned,
  ];
  return { day, dayText, money: cost, minutes, text: text.filter((one) => one !== '').join(' '), problems: [] };
}

function priceText(cost: number, minutes: number, dayText: string): string {
  const time = minutes === 0 ? '' : ` and ${hours(Math.abs(minutes))} ${minutes > 0 ? 'more' : 'less'}`;
  if (cost === 0 && minutes === 0) return `On ${dayText} it costs the same.`;
  if (cost >= 0) return `On ${dayText} it costs ${money(cost)} more${time.replace(' more', '')} over eighteen months.`;
  return `On ${dayText} it costs ${money(-cost)} less${time} over eighteen months.`;
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
      .map((item) => chanceOnTrip(item, last.trip)),
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
