import type { Entry, EntryOf } from './entry.ts';
import { EntryIndex } from './entry-index.ts';

/**
 * The fold. A logbook is a set of *subjects* (a part, a vehicle's odometer, a trip, a setting …); each subject has
 * *aspects* (of a part: its fitting, its pressure readings, its repacks); an aspect is a *chain*: the live entries that speak
 * of it, in the order of the days they speak of. Folding is nothing but putting each entry into its chains, so it does not
 * matter in which order entries arrive, one more entry costs what one entry costs, and striking takes out just what was put in.
 */
export type Chain = readonly Entry[];
export type Subject = ReadonlyMap<string, Chain>;

export interface RigState {
  /** Everything ever written, struck entries too, by id. */
  readonly entries: EntryIndex;
  /** Strikes by the id of the entry that they strike. */
  readonly struck: ReadonlyMap<string, EntryOf<'strike'>>;
  readonly subjects: ReadonlyMap<string, Subject>;
}

export const EMPTY: RigState = { entries: EntryIndex.of([]), struck: new Map(), subjects: new Map() };

type Place = readonly [subject: string, aspect: string];

/** In which chains an entry belongs. */
export function placesOf(entry: Entry): readonly Place[] {
  switch (entry.kind) {
    case 'enroll':
      return [[`vehicle/${entry.body.vehicle}`, 'enroll']];
    case 'fit':
    case 'remove':
      return [[`part/${entry.body.part}`, 'fit'], ...odometerPlaces(entry.body)];
    case 'reading':
      return entry.body.part === undefined
        ? [[`odometer/${entry.body.vehicle ?? 'trailer'}`, 'reading']]
        : [[`part/${entry.body.part}`, `reading/${entry.body.what}`]];
    case 'work':
      return workPlaces(entry);
    case 'drill':
      return [[`part/${entry.body.part}`, `work/${entry.body.upkeep}`]];
    case 'paper':
      return [[`part/${entry.body.part}`, 'paper']];
    case 'trip':
      return [[`trip/${entry.body.trip}`, 'plan']];
    case 'trip-done':
      return [[`trip/${entry.body.trip}`, 'done'], ...odometerPlaces(entry.body)];
    case 'adjust':
      return [[`odometer/${entry.body.vehicle}`, 'reading']];
    case 'weigh':
      return [['weighings', 'weigh']];
    case 'carry':
      return [[`kit/${entry.body.item}`, 'carry']];
    case 'set':
      return [[`setting/${entry.body.key}`, 'set']];
    case 'waive':
      return [[`trip/${entry.body.trip}`, 'waive']];
    case 'strike':
      return [];
  }
}

function odometerPlaces(body: { odometer?: unknown; odometerTow?: unknown }): Place[] {
  const places: Place[] = [];
  if (body.odometer !== undefined) places.push(['odometer/trailer', 'reading']);
  if (body.odometerTow !== undefined) places.push(['odometer/tow', 'reading']);
  return places;
}

function workPlaces(entry: EntryOf<'work'>): Place[] {
  const places = odometerPlaces(entry.body);
  const seen = new Set<string>();
  const put = (subject: string, aspect: string): void => {
    const key = `${subject} ${aspect}`;
    if (!seen.has(key)) places.push([subject, aspect]);
    seen.add(key);
  };
  for (const done of entry.body.done) {
    put(`part/${done.part}`, `work/${done.upkeep}`);
    for (const reading of done.readings ?? []) put(`part/${done.part}`, `reading/${reading.what}`);
  }
  put('work', 'work');
  return places;
}

/** Order within a chain: by the day spoken of, then by when it was first written down (a ULID begins with its instant). */
function compare(a: Entry, b: Entry): number {
  return a.on < b.on ? -1 : a.on > b.on ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}

/** Where `entry` is, or belongs, in `chain`. */
function indexIn(chain: Chain, entry: Entry): number {
  let low = 0;
  let high = chain.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (compare(chain[middle]!, entry) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** State with one more entry. An entry already there changes nothing. Costs a copy of what it touches. */
export function addEntry(state: RigState, entry: Entry): RigState {
  if (state.entries.has(entry.id)) return state;
  const entries = state.entries.with(entry);
  if (entry.kind === 'strike') {
    const earlier = state.struck.get(entry.body.entry);
    if (earlier && compare(earlier, entry) < 0) return { ...state, entries };
    const struck = new Map(state.struck).set(entry.body.entry, entry);
    const target = earlier ? undefined : state.entries.get(entry.body.entry);
    return { entries, struck, subjects: target ? changed(state.subjects, target, without) : state.subjects };
  }
  if (state.struck.has(entry.id)) return { ...state, entries };
  return { entries, struck: state.struck, subjects: changed(state.subjects, entry, inserted) };
}

/**
 * All of `entries` folded, optionally as things stood at the end of an earlier day (`through`, a date: what speaks of later
 * days, strikes too, is left out).
 */
export function foldEntries(entries: Iterable<Entry>, through?: string): RigState {
  const all = new Map<string, Entry>();
  const struck = new Map<string, EntryOf<'strike'>>();
  for (const entry of entries) {
    if (through !== undefined && entry.on > through) continue;
    if (all.has(entry.id)) continue;
    all.set(entry.id, entry);
    if (entry.kind !== 'strike') continue;
    const earlier = struck.get(entry.body.entry);
    if (!earlier || compare(entry, earlier) < 0) struck.set(entry.body.entry, entry);
  }
  const subjects = new Map<string, Map<string, Entry[]>>();
  for (const entry of all.values()) {
    if (entry.kind === 'strike' || struck.has(entry.id)) continue;
    for (const [subject, aspect] of placesOf(entry)) {
      const aspects = subjects.get(subject) ?? new Map<string, Entry[]>();
      subjects.set(subject, aspects);
      const chain = aspects.get(aspect);
      if (chain) chain.push(entry);
      else aspects.set(aspect, [entry]);
    }
  }
  for (const aspects of subjects.values()) for (const chain of aspects.values()) chain.sort(compare);
  return { entries: EntryIndex.of(all.values()), struck, subjects };
}

const inserted = (chain: Chain, entry: Entry): Chain => chain.toSpliced(indexIn(chain, entry), 0, entry);
const without = (chain: Chain, entry: Entry): Chain => chain.filter((other) => other.id !== entry.id);

function changed(
  subjects: RigState['subjects'],
  entry: Entry,
  change: (chain: Chain, entry: Entry) => Chain,
): RigState['subjects'] {
  const next = new Map(subjects);
  for (const [subject, aspect] of placesOf(entry)) {
    const aspects = new Map(next.get(subject));
    const chain = change(aspects.get(aspect) ?? [], entry);
    if (chain.length) aspects.set(aspect, chain);
    else aspects.delete(aspect);
    if (aspects.size) next.set(subject, aspects);
    else next.delete(subject);
  }
  return next;
}

/** The chain of one aspect of one subject; empty where nothing was written. */
export function chainOf(state: RigState, subject: string, aspect: string): Chain {
  return state.subjects.get(subject)?.get(aspect) ?? [];
}

/** The newest live entry of a chain, as its kind. */
export function newest<K extends Entry['kind']>(chain: Chain, kind: K): EntryOf<K> | undefined {
  for (let i = chain.length - 1; i >= 0; i--) if (chain[i]!.kind === kind) return chain[i] as EntryOf<K>;
  return undefined;
}
