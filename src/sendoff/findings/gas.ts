import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { upkeepOf } from '../takes.ts';
import { ageFinding } from './age.ts';
import { type Expected, expectedFindings } from './expected.ts';
import { type Bend, upkeepFindings } from './upkeep.ts';

/** What a rig with gas, and one that people sleep in, has one of. */
const EXPECTED: readonly Expected[] = [
  { group: 'gas', kinds: ['lp-cylinder'], severity: 'safety', with: 'lp-system' },
  { group: 'gas', kinds: ['lp-alarm', 'co-lp-alarm'], severity: 'safety', with: 'lp-system' },
  { group: 'gas', kinds: ['co-alarm', 'co-lp-alarm'], severity: 'safety' },
  { group: 'gas', kinds: ['smoke-alarm'], severity: 'safety' },
];

/** A cylinder out of date may be used up; it may not be filled (49 CFR 180.205, 173.301). */
const CYLINDER_KEEP = 'Use up what is in it; it may not be filled again before it is requalified.';

/**
 * Gas: the leak test of this season, cylinders in date, alarms alive and within their life. What failed, and an alarm past its life,
 * stops us; a cylinder past its date is a limit: what is in it, and no more.
 */
export function gasFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const byAge = (item: OutlookItem): boolean =>
    item.part !== null && item.clocks.every((clock) => clock.kind === 'age');
  const rest = items.filter((item) => !byAge(item));
  const aged = items.filter(byAge).map((item) => {
    const upkeep = upkeepOf(context.catalog, item);
    const bend: Bend =
      item.kind === 'lp-cylinder' ? { stopIsLimit: () => upkeep.goWithLimits?.text ?? CYLINDER_KEEP } : {};
    return ageFinding(context, upkeep, item, bend);
  });
  return [...aged, ...upkeepFindings(context, rest), ...expectedFindings(context, EXPECTED)];
}
