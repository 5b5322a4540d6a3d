import { addDays, formatDate } from '../../../dates/index.ts';
import { vehicleOf, weighingsOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { formatQuantity, type Quantity } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import { type Figures, figuresOf, type MarginRow, marginsOf, sentenceOf } from './margins.ts';
import { type TireRow, tireRows, type WheelLost, wheelLost } from './scale-tires.ts';
import { quantityText, type Told, toldBy } from './told.ts';

export interface ScaleView {
  readonly weighing: {
    readonly id: string;
    readonly day: string;
    readonly place: string;
    readonly cargo: string;
    readonly old: boolean;
  } | null;
  readonly earlier: readonly { readonly id: string; readonly day: string; readonly place: string }[];
  readonly sentence: string;
  /** For the drawing from the side. */
  readonly loads: {
    readonly front: string;
    readonly rear: string;
    readonly axles: string;
    readonly tongue: string;
  } | null;
  readonly figures: readonly (readonly [name: string, value: string])[];
  readonly margins: readonly MarginRow[];
  /** Ratings nobody has written down. */
  readonly unrated: readonly string[];
  readonly tires: readonly TireRow[];
  readonly lost: WheelLost | null;
  readonly cautions: readonly string[];
  readonly problems: readonly Problem[];
  readonly axles: number;
  readonly towAxles: number;
  readonly names: string;
}

/** On the scale: the newest weighing, every margin, each tire. */
export function scaleView(keeper: Keeper): ScaleView {
  const told = toldBy(keeper);
  const weighings = weighingsOf(keeper.state);
  const newest = weighings.at(-1);
  const figures = figuresOf(newest);
  const { margins, unrated } = marginsOf(keeper, told, figures);
  const trailer = vehicleOf(keeper.state, 'trailer')?.body;
  const tow = vehicleOf(keeper.state, 'tow')?.body;
  const axles = trailer?.axles ?? 2;
  return {
    weighing: newest
      ? {
          ...{
            id: newest.id,
            day: formatDate(newest.on, 'day'),
            place: newest.body.place ?? '',
            cargo: newest.body.cargo ?? '',
          },
          old: newest.on < addDays(keeper.today, -365),
        }
      : null,
    earlier: weighings
      .slice(0, -1)
      .reverse()
      .map(({ id, on, body }) => ({ id, day: formatDate(on, 'day'), place: body.place ?? '' })),
    sentence: sentenceOf(newest !== undefined, margins),
    loads: loadsOf(told, figures),
    figures: namedFigures(told, figures),
    margins,
    unrated,
    tires: tireRows(keeper, told),
    lost: figures.axles ? wheelLost(keeper, told, figures.axles, axles) : null,
    cautions: [...new Set(figures.cautions)],
    problems: figures.problems,
    axles,
    towAxles: tow?.axles ?? 2,
    names: `${tow?.name ?? 'Tow vehicle'} and ${trailer?.name ?? 'trailer'} from the side`,
  };
}

function loadsOf(told: Told, { drawn, tongue }: Figures): ScaleView['loads'] {
  if (!drawn || !tongue) return null;
  const { front, rear, axles } = drawn;
  const text = (q: Quantity): string => quantityText(told, q, 0);
  return { front: text(front), rear: text(rear), axles: text(axles), tongue: text(tongue) };
}

function namedFigures(told: Told, figures: Figures): [string, string][] {
  const rows: [string, string][] = [];
  const add = (name: string, q: Quantity | null | undefined, more = ''): void => {
    if (q) rows.push([name, `${quantityText(told, q, q.unit === 'ratio' || q.unit === '%' ? 1 : 0)}${more}`]);
  };
  const bounds = figures.tongueBounds;
  const doubt = bounds
    ? ` (${quantityText(told, bounds.low, 0)} to ${quantityText(told, bounds.high, 0)} within the scale’s step)`
    : '';
  add('Tongue', figures.tongue, doubt);
  if (figures.tongueShare)
    rows.push(['Tongue’s share of the trailer', formatQuantity(figures.tongueShare, { digits: 1, unit: '%' })]);
  add('Trailer, tongue and axles', figures.trailer);
  add('Moved to the trailer’s axles by weight distribution', figures.toAxles);
  if (figures.frontRestored)
    rows.push([
      'Front axle brought back by weight distribution',
      formatQuantity(figures.frontRestored, { digits: 0, unit: '%' }),
    ]);
  return rows;
}
