import { addDays, formatDate } from '../../../dates/index.ts';
import {
  loadLimits,
  type OriginRating,
  weighSingleAxle,
  weighThreePass,
  weighTongueScale,
} from '../../../loads/index.ts';
import { type EntryOf, type Rating, vehicleOf, weighingsOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import { formatQuantity, type Quantity, quantity } from '../../../quantity/index.ts';
import { type LoadFigures, loadFigures } from '../../../sendoff/index.ts';
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

/** What a weighing comes to, by whichever way it was weighed. */
interface Figures {
  readonly tongue?: Quantity;
  readonly tongueShare?: Quantity;
  readonly trailer?: Quantity;
  readonly axles?: Quantity;
  readonly front?: Quantity;
  readonly rear?: Quantity;
  readonly restored?: Quantity | null;
  readonly toAxles?: Quantity;
  readonly doubt?: string;
  readonly cautions: readonly string[];
  readonly problems: readonly Problem[];
}

/** On the scale: the newest weighing, every margin, each tire. */
export function scaleView(keeper: Keeper): ScaleView {
  const told = toldBy(keeper);
  const weighings = weighingsOf(keeper.state);
  const newest = weighings.at(-1);
  const figures: Figures = newest ? figuresOf(told, newest.body) : { cautions: [], problems: [] };
  // Held against the ratings is the greater of slack and set: an axle must bear both.
  const held = newest ? loadFigures(newest) : undefined;
  const { margins, unrated } = marginsOf(keeper, told, held?.ok ? held.value : {});
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
    tires: tireRows(keeper, told, figures.axles ?? null, axles),
    lost: figures.axles ? wheelLost(keeper, told, figures.axles, axles) : null,
    cautions: [...new Set(figures.cautions)],
    problems: figures.problems,
    axles,
    towAxles: tow?.axles ?? 2,
    names: `${tow?.name ?? 'Tow vehicle'} and ${trailer?.name ?? 'trailer'} from the side`,
  };
}

function figuresOf(told: Told, body: EntryOf<'weigh'>['body']): Figures {
  const { solo, hitchedSlack, hitchedSet, step } = body;
  const coupled = hitchedSet ?? hitchedSlack;
  const bare = {
    ...(coupled ? { front: coupled.front, rear: coupled.rear, axles: coupled.axles } : {}),
    cautions: [],
    problems: [],
  };
  if (solo && hitchedSlack && hitchedSet) {
    const made = weighThreePass({ solo, hitchedSlack, hitchedSet, step });
    if (!made.ok) return { ...bare, problems: made.problems };
    const { tongue, tongueShare, trailer, toAxles, frontRestored, uncertainty, cautions } = made.value;
    const doubt = `${quantityText(told, uncertainty.tongue.low, 0)} to ${quantityText(told, uncertainty.tongue.high, 0)} within the scale’s step`;
    return { ...bare, tongue, tongueShare, trailer, toAxles, restored: frontRestored, doubt, cautions };
  }
  if (solo && hitchedSlack) {
    const { front, rear, axles } = hitchedSlack;
    const made = weighSingleAxle({ solo, hitched: { front, rear, axles: [axles] }, step });
    if (!made.ok) return { ...bare, problems: made.problems };
    const { tongue, tongueShare, trailer, cautions } = made.value;
    return { ...bare, tongue, tongueShare, trailer, cautions };
  }
  const axles = body.axles ?? coupled?.axles;
  if (!body.tongue || !axles)
    return { ...bare, ...(axles ? { axles } : {}), ...(body.tongue ? { tongue: body.tongue } : {}) };
  const made = weighTongueScale({ reading: body.tongue, axles });
  if (!made.ok) return { ...bare, axles, problems: made.problems };
  const { tongue, tongueShare, trailer, cautions } = made.value;
  return { ...bare, axles, tongue, tongueShare, trailer, cautions };
}

function marginsOf(keeper: Keeper, told: Told, figures: LoadFigures): { margins: MarginRow[]; unrated: string[] } {
  const trailer = vehicleOf(keeper.state, 'trailer')?.body;
  const tow = vehicleOf(keeper.state, 'tow')?.body;
  const rated = (given: Rating | undefined): OriginRating | undefined =>
    given ? { rating: given.value, origin: given.origin } : undefined;
  const group = trailer?.ratings?.gawrAxle;
  const axleGroup = group
    ? {
        rating: quantity(group.value.value * (trailer?.axles ?? 1), group.value.unit),
        origin: `${group.origin}, ${trailer?.axles ?? 1} axles`,
      }
    : undefined;
  const [towName, name] = [tow?.name ?? 'the tow vehicle', trailer?.name ?? 'the trailer'];
  const pairs: readonly (readonly [string, Quantity | undefined, OriginRating | undefined])[] = [
    [`Front axle of ${towName}`, figures.front, rated(tow?.ratings?.gawrFront)],
    [`Rear axle of ${towName}`, figures.rear, rated(tow?.ratings?.gawrRear)],
    [`${towName} as loaded, hitched`, figures.towVehicle, rated(tow?.ratings?.gvwr)],
    [`Axles of ${name}`, figures.axles, axleGroup],
    [`${name} as loaded`, figures.trailer, rated(trailer?.ratings?.gvwr)],
    ['The whole combination', figures.combined, rated(tow?.ratings?.gcwr)],
    ['Tongue on the receiver', figures.tongue, rated(tow?.ratings?.receiverTongue)],
    ['Trailer on the receiver', figures.trailer, rated(tow?.ratings?.receiver)],
    ['Trailer on the ball', figures.trailer, rated(tow?.ratings?.ball)],
    ['Trailer on the coupler', figures.trailer, rated(trailer?.ratings?.coupler)],
  ];
  const known = pairs.flatMap(([what, load, rating]) => (load ? [[what, load, rating] as const] : []));
  const margins = loadLimits(known).map((limit) => ({
    what: limit.what,
    load: quantityText(told, limit.load, 0),
    rating: quantityText(told, limit.rating, 0),
    origin: limit.origin,
    margin: quantityText(told, limit.margin, 0),
    used: limit.used.value,
    over: limit.margin.value < 0,
  }));
  return { margins, unrated: known.filter(([, , rating]) => rating === undefined).map(([what]) => what) };
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

function loadsOf(told: Told, { front, rear, axles, tongue }: Figures): ScaleView['loads'] {
  if (!front || !rear || !axles || !tongue) return null;
  const text = (q: Quantity): string => quantityText(told, q, 0);
  return { front: text(front), rear: text(rear), axles: text(axles), tongue: text(tongue) };
}

function namedFigures(told: Told, figures: Figures): [string, string][] {
  const rows: [string, string][] = [];
  const add = (name: string, q: Quantity | null | undefined, more = ''): void => {
    if (q) rows.push([name, `${quantityText(told, q, q.unit === 'ratio' || q.unit === '%' ? 1 : 0)}${more}`]);
  };
  add('Tongue', figures.tongue, figures.doubt ? ` (${figures.doubt})` : '');
  if (figures.tongueShare)
    rows.push(['Tongue’s share of the trailer', formatQuantity(figures.tongueShare, { digits: 1, unit: '%' })]);
  add('Trailer, tongue and axles', figures.trailer);
  add('Moved to the trailer’s axles by weight distribution', figures.toAxles);
  if (figures.restored)
    rows.push([
      'Front axle brought back by weight distribution',
      formatQuantity(figures.restored, { digits: 0, unit: '%' }),
    ]);
  return rows;
}
