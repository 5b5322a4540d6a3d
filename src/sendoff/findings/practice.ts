import { yearOf } from '../../dates/index.ts';
import { tripsOf } from '../../logbook/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { upkeepOf } from '../takes.ts';
import type { Weight } from '../types.ts';
import { itemFinding } from './upkeep.ts';

/**
 * Drills: who can change a wheel, crank the jack, shut the gas. Never a stop. What was never practised, or not lately, counts as a
 * limit on the first trip of a season; on the later ones it is said, and no more. A drill on one wheel serves for all.
 */
export function practiceFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const first = isFirstOfSeason(context);
  const byDrill = new Map<string, OutlookItem>();
  for (const item of items) {
    const other = byDrill.get(item.upkeep);
    if (!other || lastsLonger(item, other)) byDrill.set(item.upkeep, item);
  }
  return [...byDrill.values()].map((item) => drill(context, item, first));
}

/** Whether this one was practised later than the other. */
function lastsLonger(item: OutlookItem, other: OutlookItem): boolean {
  const rank = ({ state }: OutlookItem): number => (state === 'unproven' ? 0 : state === 'failed' ? 1 : 2);
  const until = ({ clocks }: OutlookItem): string => clocks[0]?.dueOn ?? '';
  return rank(item) > rank(other) || (rank(item) === rank(other) && until(item) > until(other));
}

function drill(context: Context, item: OutlookItem, firstTrip: boolean): DraftFinding {
  const upkeep = upkeepOf(context.catalog, item);
  const finding = { ...itemFinding(context, upkeep, item), id: `practice/${upkeep.id}` };
  if (finding.kind === 'pass') return finding;
  const counts: Weight = firstTrip && item.severity !== 'comfort' ? 'limits' : 'nothing';
  if (finding.kind === 'unproven')
    return { ...finding, text: `${upkeep.title}: never practised. ${upkeep.look}`, counts };
  const { onDay: _day, atMiles: _mile, goWithLimits: _way, ...rest } = finding;
  const told = item.state === 'failed' ? item.why : `${item.clocks[0]?.text ?? item.why}.`;
  return { ...rest, kind: 'limit', text: `${upkeep.title}: ${told}`, counts, keepTo: 'practise before leaving' };
}

/** Whether no other trip of this calendar year left before this one. */
function isFirstOfSeason({ state, trip }: Context): boolean {
  const { leave } = trip.plan.body;
  return !tripsOf(state).some((other) => {
    const left = other.done?.body.left ?? other.plan.body.leave;
    return other.id !== trip.id && yearOf(left) === yearOf(leave) && left < leave;
  });
}
