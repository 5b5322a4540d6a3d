import { dayNumber, weekdayOf } from '../dates/index.ts';
import { type RigState, settingOf, settingsOf } from '../logbook/index.ts';

/** A day at home on which work can be planned. */
export interface Slot {
  readonly day: number;
  readonly minutes: number;
}

/** As many days as the optimiser is given; more add little, since a job may move by a week or two without harm. */
export const SLOTS_MOST = 26;
/** Free time where the owner has not said: Saturdays and Sundays, six hours. Assumption, told with the plan. */
export const FREE_DAYS_DEFAULT = { weekdays: [0, 6], hours: 6 };

/**
 * The owner's workable days from `from` to `through` (day numbers), at most 26: in each gap between trips the first, the last and
 * days evenly between. Days that a job is pinned to are always among them.
 */
export function slotsOf(
  state: RigState,
  trips: readonly { readonly leave: number; readonly back: number; readonly chance: number }[],
  from: number,
  through: number,
): Slot[] {
  const free = settingOf(state, 'free-days') ?? FREE_DAYS_DEFAULT;
  const byDay = new Map([...settingsOf(state, 'day')].map(([date, { hours }]) => [dayNumber(date), hours]));
  const pinned = new Set(
    [...settingsOf(state, 'pin').values()].filter((pin) => pin.how === 'on').map((pin) => dayNumber(pin.day)),
  );
  const gaps: Slot[][] = [[]];
  let away = false;
  for (let day = from; day <= through; day++) {
    const onTrip = trips.some((trip) => day >= trip.leave && day <= trip.back && trip.chance >= 0.5);
    if (onTrip && !away) gaps.push([]);
    away = onTrip;
    if (onTrip) continue;
    const hours = byDay.get(day) ?? (free.weekdays.includes(weekdayOf(day)) || pinned.has(day) ? free.hours : 0);
    if (hours > 0) gaps.at(-1)!.push({ day, minutes: Math.round(hours * 60) });
  }
  return chosen(
    gaps.filter((gap) => gap.length > 0),
    pinned,
  ).sort((a, b) => a.day - b.day);
}

/** First and last of each gap, then evenly between, in proportion to the gaps' lengths. */
function chosen(gaps: readonly (readonly Slot[])[], pinned: ReadonlySet<number>): Slot[] {
  const total = gaps.reduce((sum, gap) => sum + gap.length, 0);
  const kept = new Map<number, Slot>();
  for (const gap of gaps) for (const slot of gap) if (pinned.has(slot.day)) kept.set(slot.day, slot);
  const keep = (slot: Slot | undefined): void => {
    if (slot && kept.size < SLOTS_MOST) kept.set(slot.day, slot);
  };
  for (const gap of gaps) keep(gap.at(-1));
  for (const gap of gaps) keep(gap[0]);
  const spare = Math.max(0, SLOTS_MOST - kept.size);
  for (const gap of gaps) {
    const share = Math.min(gap.length - 2, Math.floor((spare * gap.length) / total));
    for (let i = 1; i <= share; i++) keep(gap[Math.round((i * (gap.length - 1)) / (share + 1))]);
  }
  return [...kept.values()];
}
