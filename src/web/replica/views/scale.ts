import { addDays, formatDate } from '../../../dates/index.ts';
import { type EntryOf, vehicleOf, weighingsOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { formatQuantity, type Quantity } from '../../../quantity/index.ts';
import { type LoadFigures, loadFigures, loadMargins } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { quantityText, type Told } from './entry-text.ts';
import { toldBy } from './go.ts';
import { type TireRow, tireRows, type WheelLost, wheelLost } from './scale-tires.ts';

/** One load against its rating. */
export interface MarginRow {
  readonly what: string;
  readonly load: string;
  readonly rating: string;
  readonly origin: string;
  readonly margin: string;
  /** Share of the rating used, in per cent; above 100 is over. */
  readonly used: number;
  readonly over: boolean;
}

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

/** What the weighing comes to, with the pass that is drawn: as the rig is driven. */
interface Figures extends LoadFigures {
  readonly drawn: { readonly front: Quantity; readonly rear: Quantity; readonly axles: Quantity } | null;
  readonly problems: readonly Problem[];
}

/** On the scale: the newest weighing, every margin, each tire. */
export function scaleView(keeper: Keeper): ScaleView {
  const told = toldBy(keeper);
  const weighings = weighingsOf(keeper.state);
  const newest = weighings.at(-1);
  const figures: Figures = newest ? figuresOf(newest) : { drawn: null, cautions: [], problems: [] };
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

function figuresOf(weighing: EntryOf<'weigh'>): Figures {
  const { hitchedSlack, hitchedSet } = weighing.body;
  const drawn = hitchedSet ?? hitchedSlack ?? null;
  const figures = loadFigures(weighing);
  return figures.ok ? { ...figures.value, drawn, problems: [] } : { drawn, cautions: [], problems: figures.problems };
}

function marginsOf(keeper: Keeper, told: Told, figures: LoadFigures): { margins: MarginRow[]; unrated: string[] } {
  const tow = vehicleOf(keeper.state, 'tow')?.body.name ?? 'the tow vehicle';
  const name = vehicleOf(keeper.state, 'trailer')?.body.name ?? 'the trailer';
  const titles: Readonly<Record<string, string>> = {
    'front-axle': `Front axle of ${tow}`,
    'rear-axle': `Rear axle of ${tow}`,
    'tow-vehicle': `${tow} as loaded, hitched`,
    'trailer-axles': `Axles of ${name}`,
    trailer: `${name} as loaded`,
    combined: 'The whole combination',
    tongue: 'Tongue on the receiver',
    receiver: 'Trailer on the receiver',
    ball: 'Trailer on the ball',
    coupler: 'Trailer on the coupler',
    chains: 'Trailer on the safety chains',
  };
  const rows = loadMargins(keeper.state, figures).map((row) => ({ ...row, what: titles[row.id] ?? row.what }));
  const margins = rows.flatMap(({ what, load, rating, origin, left, used }) =>
    load && rating && left && used !== null
      ? [
          {
            what,
            load: quantityText(told, load, 0),
            rating: quantityText(told, rating, 0),
            origin: origin ?? '',
            margin: quantityText(told, left, 0),
            used,
            over: left.value < 0,
          },
        ]
      : [],
  );
  return { margins, unrated: rows.filter((row) => row.load && !row.rating).map((row) => row.what) };
}

function sentenceOf(weighed: boolean, margins: readonly MarginRow[]): string {
  if (!weighed) return 'Never weighed. No margin is known.';
  const [tightest] = margins;
  if (!tightest) return 'Weighed, but no rating is on record to hold it against.';
  const over = margins.filter((row) => row.over);
  if (over.length > 0) return `Over: ${over.map((row) => row.what).join(', ')}.`;
  const left = (100 - tightest.used).toFixed(0);
  const what = /^(Front|Rear|Axles|The|Tongue)/.test(tightest.what)
    ? tightest.what.charAt(0).toLowerCase() + tightest.what.slice(1)
    : tightest.what;
  return `Everything under its rating. The tightest is ${what}: ${left} % left, ${tightest.margin}.`;
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
