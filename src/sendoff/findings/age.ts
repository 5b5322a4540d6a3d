import type { Upkeep } from '../../catalog/index.ts';
import { formatDate } from '../../dates/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { cautionsOf, takesDoing } from '../takes.ts';
import { type Bend, chanceOf, itemFinding, runOut } from './upkeep.ts';

/**
 * Things that are renewed by their age: tires, alarms. Between the age from which renewing is advised and the one by which it must
 * be done, leaving is possible and said to be past the advice; at the limit, or where a label's date passes before the return, it
 * stops us. A part that can have been made over a span of days is taken as old as it can be.
 */
export function ageFinding(context: Context, upkeep: Upkeep, item: OutlookItem, bend: Bend = {}): DraftFinding {
  const plain = itemFinding(context, upkeep, item, bend);
  if (item.state === 'unproven' || item.state === 'failed') return plain;
  const ages = item.clocks.find((clock) => clock.kind === 'age')?.ages;
  const chance = chanceOf(context, item);
  if (ages && ages.endsOn <= context.return) {
    // A way of going with limits is for those past the advice, not for those past the end.
    const { goWithLimits: way, ...due } = runOut(context, upkeep, [item], chance, bend);
    return {
      ...due,
      ...(way === undefined || ages.advisedOn < ages.endsOn ? {} : { goWithLimits: way }),
      text: `${due.text.replace(/\.$/, '')}; its limit of age is ${formatDate(ages.endsOn, 'day')}, before we are back.`,
    };
  }
  const past = ages !== undefined && ages.advisedOn <= context.return;
  if (!past && chance <= context.alpha(item.severity)) return plain;
  const until = ages === undefined ? '' : `; the limit is ${formatDate(ages.endsOn, 'day')}`;
  const { onDay: _day, atMiles: _miles, goWithLimits: _way, takes: _takes, ...rest } = plain;
  return {
    ...rest,
    kind: 'limit',
    text: `${plain.text.replace(/\.$/, '')}: past the age from which it is renewed${until}.`,
    keepTo: upkeep.goWithLimits?.text ?? 'a look at every stop',
    takes: takesDoing(context, upkeep, [item]),
    cautions: cautionsOf(context, upkeep),
  };
}
