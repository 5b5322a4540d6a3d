import type { Catalog } from '../catalog/index.ts';
import { formatDate, formatLabelDate } from '../dates/index.ts';
import { formatQuantity, type Quantity, type System } from '../quantity/index.ts';
import type { Entry, EntryOf } from './entry.ts';
import { chainOf, type RigState } from './fold.ts';
import { settingWords } from './setting-words.ts';

/** What an entry is told against: names of parts and upkeeps, and the reader's units. */
export interface Teller {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly system?: System;
  /** Tell of work only what concerns this part and this upkeep: an entry may hold a whole afternoon. */
  readonly about?: { readonly part?: string | null; readonly upkeep?: string | null };
}

/** A record that no words can be found for: one line, and never the end of a page. */
export const cannotBeShown = (id: string | null): string => `cannot be shown (${id ?? 'no id'})`;

/**
 * One entry in a few plain words, without its date: `Repack the wheel bearings (axle 1, left), at 64,120.4 mi`. Total: an entry that
 * breaks what its words rest on is one line with its id.
 */
export function entryWords(entry: Entry, teller: Teller): string {
  try {
    return wordsOf(entry, teller);
  } catch {
    return cannotBeShown(entry.id);
  }
}

function wordsOf(entry: Entry, teller: Teller): string {
  const show = (q: Quantity): string => formatQuantity(q, teller.system ? { system: teller.system } : {});
  const day = (date: string): string => formatDate(date, 'day');
  const part = (id: string): string => partWords(id, teller);
  switch (entry.kind) {
    case 'enroll':
      return `${entry.body.vehicle === 'trailer' ? 'Trailer' : 'Tow vehicle'} enrolled: ${entry.body.name}`;
    case 'fit':
      return `${entry.body.isNew ? 'Fitted new' : 'Found on the rig'}: ${part(entry.body.part)}${madeWords(entry.body)}`;
    case 'remove':
      return `Removed: ${part(entry.body.part)} (${entry.body.reason})`;
    case 'reading':
      return readingWords(entry, show, part);
    case 'work':
      return workWords(entry, teller, show);
    case 'drill':
      return `${upkeepTitle(entry.body.upkeep, teller)}, by ${entry.body.who}${entry.body.outcome === 'failed' ? ': failed' : ''}`;
    case 'trip': {
      const { name, leave, return: back, miles, chance, cancelled } = entry.body;
      if (cancelled) return `Trip given up: ${name}`;
      return `Trip planned: ${name}, ${day(leave)} to ${day(back)}, ${show(miles)}${chance < 1 ? `, ${Math.round(chance * 100)} % sure` : ''}`;
    }
    case 'trip-done':
      return `Back from ${tripName(entry.body.trip, teller)}: ${show(entry.body.miles)}, ${day(entry.body.left)} to ${day(entry.body.back)}`;
    case 'weigh':
      return `Weighed${entry.body.place ? ` at ${entry.body.place}` : ''}${entry.body.cargo ? `: ${entry.body.cargo}` : ''}`;
    case 'carry':
      return `${itemName(entry.body.item, teller)} ${entry.body.aboard ? 'aboard' : 'no longer aboard'}${entry.body.where ? `, ${entry.body.where}` : ''}`;
    case 'paper':
      return `${part(entry.body.part)}: good through ${day(entry.body.goodThrough)}`;
    case 'set':
      return settingWords(entry.body.key, entry.body.value, {
        catalog: teller.catalog,
        part,
        upkeep: (id) => upkeepTitle(id, teller),
      });
    case 'adjust':
      return `Odometer of the ${entry.body.vehicle === 'trailer' ? 'trailer' : 'tow vehicle'} replaced: it showed ${show(entry.body.was)}, now ${show(entry.body.now)}`;
    case 'waive':
      return `Overruled for ${tripName(entry.body.trip, teller)}: ${entry.body.finding}, because ${entry.body.reason}`;
    case 'witness':
      return `Signed by ${entry.body.name}: ${entry.body.holds.length} ${entry.body.holds.length === 1 ? 'entry' : 'entries'}`;
    case 'strike':
      return `Struck: ${struckWords(entry, teller)} (${entry.body.reason})`;
  }
}

function madeWords({ madeOn, code, goodThrough }: EntryOf<'fit'>['body']): string {
  const known = [
    madeOn && `made ${formatLabelDate(madeOn)}`,
    code && `code ${code}`,
    goodThrough && `good through ${formatLabelDate(goodThrough)}`,
  ].filter(Boolean);
  return known.length ? `, ${known.join(', ')}` : '';
}

function readingWords(
  { body }: EntryOf<'reading'>,
  show: (q: Quantity) => string,
  part: (id: string) => string,
): string {
  const of = body.part === undefined ? (body.vehicle === 'tow' ? 'Tow vehicle' : 'Trailer') : part(body.part);
  const air = body.temperature ? ` at ${show(body.temperature)}` : '';
  return `${of}: ${body.what.replaceAll('-', ' ')} ${show(body.value)}${air}`;
}

function workWords({ body }: EntryOf<'work'>, teller: Teller, show: (q: Quantity) => string): string {
  const byUpkeep = new Map<string, string[]>();
  for (const done of concerning(body.done, teller.about)) {
    const read = (done.readings ?? []).map((reading) => `${reading.what.replaceAll('-', ' ')} ${show(reading.value)}`);
    const told = [placeOf(done.part, teller), done.outcome === 'failed' ? 'FAILED' : '', read.join(', ')].filter(
      Boolean,
    );
    byUpkeep.set(done.upkeep, [...(byUpkeep.get(done.upkeep) ?? []), told.join(': ')]);
  }
  const jobs = [...byUpkeep].map(([id, told]) => {
    const places = told.filter(Boolean);
    return `${upkeepTitle(id, teller)}${places.length ? ` (${places.join('; ')})` : ''}`;
  });
  return `${jobs.join('. ')}${body.odometer ? `, at ${show(body.odometer)}` : ''}${body.doneBy ? `, by ${body.doneBy}` : ''}${body.mends ? ', put right' : ''}`;
}

type Done = EntryOf<'work'>['body']['done'];

/** What of the work concerns a part or an upkeep; all of it where nothing does. */
function concerning(done: Done, about: Teller['about']): Done {
  const of = done.filter(
    ({ part, upkeep }) => (!about?.part || part === about.part) && (!about?.upkeep || upkeep === about.upkeep),
  );
  if (of.length > 0) return of;
  const near = done.filter(({ part, upkeep }) => part === about?.part || upkeep === about?.upkeep);
  return near.length > 0 ? near : done;
}

function placeOf(id: string, { state }: Teller): string {
  const fit = chainOf(state, `part/${id}`, 'fit').findLast((entry) => entry.kind === 'fit');
  return fit?.kind === 'fit' ? (fit.body.place ?? '') : id;
}

function struckWords({ body }: EntryOf<'strike'>, teller: Teller): string {
  const target = teller.state.entries.get(body.entry);
  // A strike of a strike has no effect, and could lead round in a circle.
  if (!target || target.kind === 'strike') return body.entry;
  return `${wordsOf(target, teller)}, of ${formatDate(target.on, 'day')}`;
}

/** A part by its kind's name and its place: `wheel bearings (axle 1, left)`. */
export function partWords(id: string, { state, catalog }: Teller): string {
  const fit = chainOf(state, `part/${id}`, 'fit').findLast((entry) => entry.kind === 'fit');
  if (fit?.kind !== 'fit') return id;
  const name = catalog.partKinds.get(fit.body.kind)?.name ?? fit.body.kind.replaceAll('-', ' ');
  return fit.body.place ? `${name} (${fit.body.place})` : name;
}

const upkeepTitle = (id: string, { catalog }: Teller): string =>
  catalog.upkeeps.get(id)?.title ?? id.replaceAll('-', ' ');
const itemName = (id: string, { catalog }: Teller): string => catalog.kit.get(id)?.name ?? id.replaceAll('-', ' ');

function tripName(id: string, { state }: Teller): string {
  const plan = chainOf(state, `trip/${id}`, 'plan').findLast((entry) => entry.kind === 'trip');
  return plan?.kind === 'trip' ? plan.body.name : id;
}
