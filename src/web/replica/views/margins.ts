import { formatDate } from '../../../dates/index.ts';
import { type EntryOf, vehicleOf, weighingsOf } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import type { Quantity } from '../../../quantity/index.ts';
import { type LoadFigures, loadFigures, loadMargins } from '../../../sendoff/index.ts';
import type { Keeper } from '../keeper.ts';
import { quantityText, type Told, toldBy } from './told.ts';

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

/** What of the weighing stands beside the judgement. */
export interface MarginsView {
  /** The day of the newest weighing; null where the rig was never weighed. */
  readonly weighedOn: string | null;
  readonly sentence: string;
  readonly margins: readonly MarginRow[];
}

/** What the weighing comes to, with the pass that is drawn: as the rig is driven. */
export interface Figures extends LoadFigures {
  readonly drawn: { readonly front: Quantity; readonly rear: Quantity; readonly axles: Quantity } | null;
  readonly problems: readonly Problem[];
}

/** Loads against ratings at the newest weighing. */
export function marginsView(keeper: Keeper): MarginsView {
  const newest = weighingsOf(keeper.state).at(-1);
  const { margins } = marginsOf(keeper, toldBy(keeper), figuresOf(newest));
  return {
    weighedOn: newest ? formatDate(newest.on, 'day') : null,
    sentence: sentenceOf(newest !== undefined, margins),
    margins,
  };
}

/** What a weighing comes to; nothing where there is none. */
export function figuresOf(weighing: EntryOf<'weigh'> | undefined): Figures {
  if (weighing === undefined) return { drawn: null, cautions: [], problems: [] };
  const { hitchedSlack, hitchedSet } = weighing.body;
  const drawn = hitchedSet ?? hitchedSlack ?? null;
  const figures = loadFigures(weighing);
  return figures.ok ? { ...figures.value, drawn, problems: [] } : { drawn, cautions: [], problems: figures.problems };
}

/** Every load with a rating, and the names of those without. */
export function marginsOf(
  keeper: Keeper,
  told: Told,
  figures: LoadFigures,
): { margins: MarginRow[]; unrated: string[] } {
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

/** The margins in a sentence. */
export function sentenceOf(weighed: boolean, margins: readonly MarginRow[]): string {
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
