import { addDays, formatDate } from '../dates/index.ts';
import { partOf } from '../logbook/index.ts';
import type { ClockOutlook, OutlookItem } from '../outlook/index.ts';
import type { Context } from './context.ts';
import { lastGood } from './evidence.ts';
import { upkeepOf } from './takes.ts';

/**
 * The outlook counts leavings from today on. A trip whose day of leaving is past and that is not back yet left, or leaves late: what
 * was to be done before leaving and was not, is still to be done.
 */
export function asLeft(context: Context, item: OutlookItem): OutlookItem {
  const { leave } = context.trip.plan.body;
  const part = item.part === null || leave >= context.now ? undefined : partOf(context.state, item.part);
  if (!part || item.state !== 'runs') return item;
  const upkeep = upkeepOf(context.catalog, item);
  const clock = upkeep.clocks.find((one) => one.kind === 'departure');
  if (clock?.kind !== 'departure') return item;
  const last = lastGood(context, part, upkeep);
  if (last !== null && last.on >= addDays(leave, -Math.floor(clock.withinDays))) return item;
  const lastText = last === null ? 'never on record' : `last ${formatDate(last.on, 'day')}`;
  const told: ClockOutlook = {
    kind: 'departure',
    text: `Before each leaving; ${lastText}, and not for this trip, which was to leave on ${formatDate(leave, 'day')}`,
    dueOn: leave,
    evidence: last === null ? [] : [last.entry.id],
    sources: [clock.source],
  };
  return {
    ...item,
    state: 'due',
    clock: 'departure',
    clocks: item.clocks.map((one) => (one.kind === 'departure' ? told : one)),
    dates: { p10: leave, p50: leave, p90: leave },
    chanceByTrip: [{ trip: context.trip.id, return: context.return, chance: 1 }],
  };
}
