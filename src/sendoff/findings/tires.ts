import { settingOf } from '../../logbook/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { upkeepOf } from '../takes.ts';
import { ageFinding } from './age.ts';
import { tiresOnRig } from './tire-facts.ts';
import { speedFindings, tireLoadFindings } from './tire-load.ts';
import { pressureFindings, pressureUpkeep } from './tire-pressure.ts';
import { upkeepFindings } from './upkeep.ts';

/**
 * The tires: cold pressure, load, speed, age, and their other duties. The duty of setting a pressure is told by what the gauge said,
 * not by the drift of the outlook: a tire filled to the mark sinks below it within the trip, and is topped up on the way.
 */
export function tireFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const tires = tiresOnRig(context);
  const byGauge = (item: OutlookItem): boolean =>
    item.part !== null && pressureUpkeep(context, item.kind)?.id === item.upkeep;
  const byAge = (item: OutlookItem): boolean =>
    item.part !== null && item.clocks.every((clock) => clock.kind === 'age');
  const failed = (item: OutlookItem): boolean => item.state === 'failed';
  const rest = items.filter((item) => (!byGauge(item) && !byAge(item)) || failed(item));
  const aged = items.filter((item) => byAge(item) && !failed(item));
  const own = settingOf(context.state, 'speed-max');
  return [
    ...pressureFindings(context, tires),
    ...tireLoadFindings(context, tires),
    ...speedFindings(context, tires, own),
    ...aged.map((item) => ageFinding(context, upkeepOf(context.catalog, item), item)),
    ...upkeepFindings(context, rest),
  ];
}
