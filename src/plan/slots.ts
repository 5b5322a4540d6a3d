import { dayNumber, weekdayOf } from '../dates/index.ts';
import { type RigState, type Setting, settingOf, settingsOf } from '../logbook/index.ts';
import { frostOf, winterAt } from '../outlook/index.ts';

/** A day at home on which work can be planned. */
export interface Slot {
  readonly day: number;
  readonly minutes: number;
  /** Whether frost is to be expected at home. */
  readonly frosty: boolean;
}

/** As many days as the optimiser is given; more add little, since a job may move by a week or two without harm. */
export const SLOTS_MOST = 26;
/** Free time where the owner has not said: Saturdays and Sundays, six hours. Assumption, told with the plan. */
export const FREE_DAYS_DEFAULT = { weekdays: [0, 6], hours: 6 };

/**
 * The owner's workable days from `from` to `through` (day numbers), at most 26: in each gap between trips the first, the last and
 * days between, most of them before the next trip. Days that a job is pinned to are always among them.
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
  const frost = frostOf(state);
  const gaps: Slot[][] = [[]];
  let away = false;
  for (let day = from; day <= through; day++) {
    const onTrip = trips.some((trip) => day >= trip.leave && day <= trip.back && trip.chance >= 0.5);
    if (onTrip && !away) gaps.push([]);
    away = onTrip;
    if (onTrip) continue;
    const hours = byDay.get(day) ?? usualHours(free, weekdayOf(day), pinned.has(day));
    if (hours > 0) {
      const frosty = frost !== undefined && winterAt(frost, day).from <= day;
      gaps.at(-1)!.push({ day, minutes: Math.round(hours * 60), frosty });
    }
  }
  return chosen(
    gaps.filter((gap) => gap.length > 0),
    pinned,
    from,
  ).sort((a, b) => a.day - b.day);
}

function usualHours(free: Setting<'free-days'>, weekday: number, pinned: boolean): number {
  if (!free.weekdays.includes(weekday)) return pinned ? free.hours : 0;
  return free.hoursOn?.[`${weekday}` as '0'] ?? free.hours;
}

/** Days before the next leaving are few and precious: this many of them are kept, whatever the rest. */
const FIRST_GAP_MOST = 6;

/** After so many days a hole in the plan matters half as much as tomorrow. */
const HALF_AS_NEAR = 180;

/** The last and the first of each gap, the days before the next trip, then the middle of the widest hole left, near ones first. */
function chosen(gaps: readonly (readonly Slot[])[], pinned: ReadonlySet<number>, from: number): Slot[] {
  const kept = new Map<number, Slot>();
  const keep = (slot: Slot | undefined): void => {
    if (slot && kept.size < SLOTS_MOST) kept.set(slot.day, slot);
  };
  for (const gap of gaps) for (const slot of gap) if (pinned.has(slot.day)) keep(slot);
  for (const gap of gaps) keep(gap.at(-1));
  for (const gap of gaps) keep(gap[0]);
  for (const slot of gaps[0]?.slice(-FIRST_GAP_MOST) ?? []) keep(slot);
  while (kept.size < SLOTS_MOST) {
    const hole = widestHole(gaps, kept, from);
    if (hole.length === 0) break;
    keep(hole[hole.length >> 1]);
  }
  return [...kept.values()];
}

/** The run of free days not kept that counts most, by its length and its nearness. */
function widestHole(
  gaps: readonly (readonly Slot[])[],
  kept: ReadonlyMap<number, Slot>,
  from: number,
): readonly Slot[] {
  let widest: readonly Slot[] = [];
  let most = 0;
  for (const gap of gaps) {
    let start = 0;
    for (let i = 0; i <= gap.length; i++) {
      const slot = gap[i];
      if (slot && !kept.has(slot.day)) continue;
      const hole = gap.slice(start, i);
      start = i + 1;
      const counts = hole.length / (1 + ((hole[0]?.day ?? from) - from) / HALF_AS_NEAR);
      if (counts > most) {
        most = counts;
        widest = hole;
      }
    }
  }
  return widest;
}
