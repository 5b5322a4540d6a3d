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
 * limit on the first trip of a season; on the later ones it is said, and no more.
 */
export function practiceFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const first = isFirstOfSeason(context);
  return items.map((item) => drill(context, item, first));
}

function drill(context: Context, item: OutlookItem, firstTrip: boolean): DraftFinding {
  const finding = itemFinding(context, upkeepOf(context.catalog, item), item);
  if (finding.kind === 'pass') return finding;
  const counts: Weight = firstTrip && item.severity !== 'comfort' ? 'limits' : 'nothing';
  if (finding.kind === 'unproven') return { ...finding, counts };
  const { onDay: _day, atMiles: _mile, goWithLimits: _way, ...rest } = finding;
  return { ...rest, kind: 'limit', counts, keepTo: 'practise before leaving' };
}

/** Whether no other trip of this calendar year left before this one. */
function isFirstOfSeason({ state, trip }: Context): boolean {
  const { leave } = trip.plan.body;
  return !tripsOf(state).some((other) => {
    const left = other.done?.body.left ?? other.plan.body.leave;
    return other.id !== trip.id && yearOf(left) === yearOf(leave) && left < leave;
  });
}
