import { limitIn, limitSource } from '../../catalog/index.ts';
import { addMonths, formatDate } from '../../dates/index.ts';
import { loadLimit } from '../../loads/index.ts';
import { type EntryOf, settingOf, weighingsOf } from '../../logbook/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import { valueIn } from '../../quantity/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { type HeldLoad, heldLoads } from '../load-margins.ts';
import { takesSimply } from '../takes.ts';
import { counted, listed } from '../words.ts';
import { changedSince } from './load-change.ts';
import { type LoadFigures, loadFigures } from './load-figures.ts';
import { WEIGH_MINUTES } from './tire-load.ts';

/** Under this share of a rating left, what is left is said as a limit (a choice of this project). */
const MARGIN_TIGHT_PERCENT = 5;

/** A weighing counts for so many months. */
const WEIGHING_MONTHS = limitIn('weighing-good-for', 'month');

/**
 * The loads of the newest weighing against every rating on record: axles, trailer, tongue, hitch, tow vehicle, combination. What was
 * not weighed or has no rating on record is unproven. The duties of weighing are told here, by the tickets themselves.
 */
export function loadFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const weighing = weighingsOf(context.state).at(-1);
  const told = { upkeep: items[0]?.upkeep ?? null, part: items[0]?.part ?? null };
  if (!weighing) return [neverWeighed(told)];
  const figures = loadFigures(weighing);
  if (!figures.ok) {
    const what = figures.problems[0]!.what.replace(/\.$/, '');
    return [unproven('weighing', `The tickets of ${day(weighing.on)} cannot be right: ${what}`, [weighing.id], told)];
  }
  const held = heldLoads(context.state);
  return [
    ...held.flatMap((one) => againstRating(context, one, figures.value, weighing)),
    ...unratedFinding(held, figures.value),
    ...unweighedFinding(held, figures.value, weighing),
    ...shareFinding(context, figures.value, weighing),
    weighingFinding(context, weighing, told, held, figures.value),
  ];
}

const day = (date: string): string => formatDate(date, 'day');

function unproven(
  id: string,
  text: string,
  evidence: readonly string[],
  told: Partial<DraftFinding> = {},
): DraftFinding {
  return {
    id: `loads/${id}`,
    group: 'loads',
    kind: 'unproven',
    severity: 'safety',
    text: `${text}.`,
    takes: takesSimply('Weigh the loaded rig: tow vehicle alone, then coupled', WEIGH_MINUTES, { kind: 'weigh' }),
    evidence,
    sources: ['fmvss-110'],
    ...told,
  };
}

function neverWeighed(told: Partial<DraftFinding>): DraftFinding {
  return unproven(
    'weighing',
    'The loaded rig was never weighed, so no margin of axles, tongue and hitch is known',
    [],
    told,
  );
}

function againstRating(
  context: Context,
  held: HeldLoad,
  figures: LoadFigures,
  weighing: EntryOf<'weigh'>,
): DraftFinding[] {
  const load = figures[held.load];
  if (load === undefined || held.rated === null) return [];
  const limit = loadLimit(held.name, load, held.rated);
  const left = { value: Math.abs(limit.margin.value), unit: limit.margin.unit };
  const percent = Math.round(valueIn(limit.used, '%'));
  const text = `${first(held.name)}: ${context.show(load, 0)} of ${context.show(limit.rating, 0)} (${limit.origin}), ${percent} %`;
  const common = {
    id: `loads/${held.id}`,
    group: 'loads' as const,
    severity: 'safety' as const,
    evidence: [weighing.id, ...held.evidence],
    sources: held.id === 'chains' ? ['cfr-chains'] : ['fmvss-110'],
  };
  if (limit.margin.value < 0) {
    const action = `Take ${context.show(left, 0)} off the ${held.name}, and weigh again`;
    const cautions = [
      'An overloaded axle, tire or hitch fails without a warning. Do not tow until it is under its rating.',
    ];
    return [
      {
        ...common,
        kind: 'stop',
        text: `${text}: over by ${context.show(left, 0)}.`,
        takes: takesSimply(action, WEIGH_MINUTES, { kind: 'weigh' }),
        cautions,
      },
    ];
  }
  if (100 - valueIn(limit.used, '%') < MARGIN_TIGHT_PERCENT) {
    const keepTo = `no more than ${context.show(left, 0)} more on the ${held.name}`;
    return [
      {
        ...common,
        kind: 'limit',
        text: `${text}: ${context.show(left, 0)} left.`,
        keepTo,
        takes: takesSimply(`Move load off the ${held.name}, and weigh again`, WEIGH_MINUTES, { kind: 'weigh' }),
      },
    ];
  }
  return [{ ...common, kind: 'pass', text: `${text}: ${context.show(left, 0)} left.`, takes: null }];
}

const first = (name: string): string => name.charAt(0).toUpperCase() + name.slice(1);

/** Ratings that are not on record, for loads that are. */
function unratedFinding(held: readonly HeldLoad[], figures: LoadFigures): DraftFinding[] {
  const missing = held.filter((one) => one.rated === null && figures[one.load] !== undefined);
  if (missing.length === 0) return [];
  const names = missing.map((one) => one.name);
  const trailer = missing.some((one) => ['trailer-axles', 'trailer', 'coupler', 'chains'].includes(one.id));
  return [
    {
      ...unproven('ratings', `Not on record: the ${names.length === 1 ? 'rating' : 'ratings'} of ${listed(names)}`, []),
      takes: takesSimply(`Read the labels and stamps: ${listed(names)}`, 15, {
        kind: 'enroll',
        vehicle: trailer ? 'trailer' : 'tow',
      }),
    },
  ];
}

/** Loads that this way of weighing does not give, though a rating waits for them. */
function unweighedFinding(held: readonly HeldLoad[], figures: LoadFigures, weighing: EntryOf<'weigh'>): DraftFinding[] {
  const missing = held.filter((one) => one.rated !== null && figures[one.load] === undefined).map((one) => one.name);
  if (missing.length === 0) return [];
  return [unproven('unweighed', `The weighing of ${day(weighing.on)} does not say: ${listed(missing)}`, [weighing.id])];
}

/** The band in which a tongue lies by most handbooks: outside it is a limit, also where the rig's own band is not on record. */
const BAND: readonly [low: number, high: number] = [
  limitIn('tongue-share-least', '%'),
  limitIn('tongue-share-most', '%'),
];

/**
 * Tongue weight as a share of the trailer, against the band that the owner's handbook gives. Where that is not on record a share in the
 * usual band proves nothing, and one outside it is a limit.
 */
function shareFinding(context: Context, figures: LoadFigures, weighing: EntryOf<'weigh'>): DraftFinding[] {
  const { tongueShare, trailer } = figures;
  if (!tongueShare || !trailer) return [];
  const band = bandOf(settingOf(context.state, 'fact', 'tongue-share'));
  const sources = context.catalog.rigFacts?.get('tongue-share')?.disagree.map((one) => one.source) ?? [];
  const share = valueIn(tongueShare, '%');
  const text = `Tongue: ${share.toFixed(1)} % of the trailer`;
  const common = {
    id: 'loads/tongue-share',
    group: 'loads' as const,
    severity: 'damage' as const,
    evidence: [weighing.id],
  };
  if (!band && share >= BAND[0] && share <= BAND[1]) {
    const ask = context.catalog.rigFacts?.get('tongue-share')?.ask ?? 'Read the handbook of the tow vehicle.';
    return [
      {
        ...common,
        kind: 'unproven',
        text: `${text}; the band it must lie in is not on record. ${ask}`,
        takes: takesSimply(ask, 10, null),
        sources,
      },
    ];
  }
  const [low, high] = band ?? BAND;
  const said = `${text}, ${band ? 'the handbook asks for' : 'most handbooks ask for'} ${low} to ${high} %`;
  if (share >= low && share <= high) return [{ ...common, kind: 'pass', text: `${said}.`, takes: null, sources: [] }];
  const at = (percent: number): string =>
    context.show({ value: (trailer.value * percent) / 100, unit: trailer.unit }, 0);
  const keepTo = `${at(low)} to ${at(high)} on the tongue`;
  const action = share < low ? 'Move load ahead of the axles' : 'Move load behind the axles, or lighten the front';
  const takes = takesSimply(`${action}, and weigh again`, WEIGH_MINUTES, { kind: 'weigh' });
  const bandSources = band ? [] : [limitSource('tongue-share-least').id];
  return [{ ...common, kind: 'limit', text: `${said}.`, keepTo, takes, sources: bandSources }];
}

/** `10 to 15 %`, `10-15`: the band; null where it is not on record or cannot be read. */
function bandOf(fact: string | number | undefined): readonly [low: number, high: number] | null {
  const found = [...String(fact ?? '').matchAll(/\d+(?:\.\d+)?/g)].map((match) => Number(match[0]));
  const [low, high] = found;
  return low !== undefined && high !== undefined && low < high && high <= 100 ? [low, high] : null;
}

/** Whether the weighing itself still speaks of the rig as it stands. */
function weighingFinding(
  context: Context,
  weighing: EntryOf<'weigh'>,
  told: Partial<DraftFinding>,
  held: readonly HeldLoad[],
  figures: LoadFigures,
): DraftFinding {
  const changed = changedSince(context.state, weighing);
  const until = addMonths(weighing.on, WEIGHING_MONTHS);
  const common = {
    ...unproven('weighing', '', [weighing.id, ...changed.entries.map((entry) => entry.id)], told),
    sources: ['practice'],
  };
  const tightest = tightestPounds(held, figures);
  if (changed.pounds > 0 && tightest !== null && changed.pounds > tightest) {
    const more = context.show({ value: changed.pounds, unit: 'lb' }, 0);
    return {
      ...common,
      text: `${more} came aboard since the weighing of ${day(weighing.on)}, more than the ${context.show({ value: tightest, unit: 'lb' }, 0)} that were left: weigh again.`,
    };
  }
  if (changed.entries.length > 0) {
    const text = `The load changed since the weighing of ${day(weighing.on)}: ${counted(changed.entries.length, 'entry', 'entries')} since.`;
    return { ...common, kind: 'limit', text, keepTo: 'weigh at the first scale on the way' };
  }
  if (until < context.leave) {
    return {
      ...common,
      kind: 'limit',
      text: `Last weighed on ${day(weighing.on)}, over a year before leaving.`,
      keepTo: 'weigh at the first scale on the way',
    };
  }
  return { ...common, kind: 'pass', text: `Weighed on ${day(weighing.on)}, nothing heavier since.`, takes: null };
}

/** The smallest margin in pounds that is known; null where none is. */
function tightestPounds(held: readonly HeldLoad[], figures: LoadFigures): number | null {
  const margins = held.flatMap(({ load, rated }) => {
    const carried = figures[load];
    return carried && rated ? [valueIn(rated.rating, 'lb') - valueIn(carried, 'lb')] : [];
  });
  return margins.length === 0 ? null : Math.min(...margins);
}
