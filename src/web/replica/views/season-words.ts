import type { Plan } from '../../../plan/index.ts';
import { formatQuantity, type Quantity } from '../../../quantity/index.ts';

const COUNT = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten'];
export const money = (value: number): string => formatQuantity({ value, unit: 'USD' }, { digits: 0 });
export const hours = (minutes: number): string => {
  const whole = Math.round(minutes);
  if (whole < 60) return `${whole} min`;
  return whole % 60 === 0 ? `${whole / 60} h` : `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')}`;
};

/** A chance below this is told as none. */
const ROAD_CHANCE_TOLD = 0.005;

export const BARE = 'Nothing is on record yet, so nothing can be planned.';
/** A figure and its unit stay on one line of a heading. */
const unbroken = (text: string): string => text.replaceAll(' ', '\u00a0');

export function sentenceOf(days: readonly { readonly minutes: number; readonly cost: number }[], plan: Plan): string {
  const minutes = days.reduce((sum, day) => sum + day.minutes, 0);
  const cost = days.reduce((sum, day) => sum + day.cost, 0);
  const count = COUNT[days.length] ?? String(days.length);
  const ahead =
    days.length === 0
      ? 'No yard day this season.'
      : `${count} yard ${days.length === 1 ? 'day' : 'days'}, ${unbroken(hours(minutes))}, ${money(cost)}.`;
  const late = plan.warnings.filter((warning) => warning.startsWith('No free day before'));
  if (late.length > 0) return `${ahead} Not everything can be done in time.`;
  return plan.chanceOnRoad < ROAD_CHANCE_TOLD
    ? `${ahead} Nothing we know of runs out on the road.`
    : `${ahead} A chance of ${unbroken(`${Math.round(plan.chanceOnRoad * 100)} %`)} that safety work runs out on the road.`;
}

/** Upkeeps named of those that a plan leaves to chance. */
const ROAD_NAMED = 2;

export function roadText({ chanceOnRoad, onRoad }: Plan): string {
  if (chanceOnRoad < ROAD_CHANCE_TOLD) return '';
  const named = onRoad
    .slice(0, ROAD_NAMED)
    .map(({ title, place, chance }) => `${title}${place === '' ? '' : `, ${place}`} (${(100 * chance).toFixed(1)} %)`);
  return `Likeliest on the road: ${named.join('; ')}. `;
}

export function provenText({ cost, bound }: Plan): string {
  const gap = cost <= 0 ? 0 : ((cost - bound) / cost) * 100;
  if (gap < 0.05) return 'No plan on these days is cheaper; that is proven.';
  return `No plan on these days is more than ${gap < 1 ? gap.toFixed(1) : Math.ceil(gap)} % cheaper; that is proven.`;
}

export function wayText(one: Plan['onTheWay'][number]): {
  readonly at: string;
  readonly title: string;
  readonly why: string;
} {
  const at = one.at === 'leaving' ? 'On leaving' : `At ${formatQuantity(one.at as Quantity, { digits: 0 })}`;
  return { at, title: one.title, why: one.why };
}
