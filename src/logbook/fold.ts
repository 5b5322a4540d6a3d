import type { Catalog } from '../catalog/index.ts';
import type { Entry, EntryOf } from './entry.ts';
import { type Doubt, decidedId, type Judge, judgeAlone, judgeBy, quarantineKey } from './judge.ts';
import { SortedMap } from './sorted-map.ts';

/**
 * The fold. A logbook is a set of *subjects* (a part, a vehicle's odometer, a trip, a setting …); each subject has
 * *aspects* (of a part: its fitting, its pressure readings, its repacks); an aspect is a *chain*: the live entries that speak
 * of it, in the order of the days they speak of. Folding is nothing but putting each entry into its chains, so it does not
 * matter in which order entries arrive, one more entry costs what one entry costs, and striking takes out just what was put in.
 */
export type Chain = readonly Entry[];
export type Subject = ReadonlyMap<string, Chain>;

/** An entry that cannot be true: kept, counted and shown, in no chain. */
export interface SetAside extends Doubt {
  readonly entry: Entry;
  /** What the owner decided. `release` has no effect on what is not releasable. */
  readonly decision?: 'release' | 'reject';
}

/** Records of a logbook that are kept and cannot be read here: by how many, nothing more is known of them. */
export interface Unread {
  /** Written by a newer version of the program. */
  readonly newer: number;
  /** No entries of any version that is known. */
  readonly broken: number;
}

export interface RigState {
  /** Everything ever written, struck entries and those set aside too, by id. */
  readonly entries: SortedMap<Entry>;
  /** Strikes by the id of the entry that they strike. */
  readonly struck: SortedMap<EntryOf<'strike'>>;
  readonly subjects: SortedMap<Subject>;
  /** What cannot be true and the owner has not released, by id; without what is struck. */
  readonly aside: SortedMap<SetAside>;
  /** Any of them may be about safety. */
  readonly unread: Unread;
  readonly judge: Judge;
}

const ALL_READ: Unread = { newer: 0, broken: 0 };

/** The state of a logbook of which some records cannot be read here. */
export const withUnread = (state: RigState, unread: Unread): RigState => ({ ...state, unread });

/** A logbook without an entry. */
export function emptyState(judge: Judge = judgeAlone): RigState {
  return {
    entries: SortedMap.empty(),
    struck: SortedMap.empty(),
    subjects: SortedMap.empty(),
    aside: SortedMap.empty(),
    unread: ALL_READ,
    judge,
  };
}

export const EMPTY: RigState = emptyState();

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
    case 'witness':
      return [[`device/${entry.body.device}`, 'witness']];
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
  const next = { ...state, entries: state.entries.with(entry.id, entry) };
  const doubt = state.judge(entry);
  if (entry.kind === 'strike') return doubt ? setAside(next, entry, doubt) : withStrike(next, entry);
  if (state.struck.has(entry.id)) return next;
  return decided(
    doubt && !isReleased(next, entry, doubt) ? setAside(next, entry, doubt) : inserted(next, entry),
    entry,
  );
}

function withStrike(state: RigState, strike: EntryOf<'strike'>): RigState {
  const id = strike.body.entry;
  const earlier = state.struck.get(id);
  if (earlier && compare(earlier, strike) < 0) return state;
  const next = { ...state, struck: state.struck.with(id, strike) };
  const target = earlier ? undefined : state.entries.get(id);
  // A strike is in no chain: striking one changes nothing.
  if (!target || target.kind === 'strike') return next;
  return decided(
    state.aside.has(id) ? { ...next, aside: state.aside.without(id) } : withoutEntry(next, target),
    target,
  );
}

/**
 * All of `entries` folded, optionally as things stood at the end of an earlier day (`through`, a date: what speaks of later
 * days, strikes too, is left out). `judge` finds what cannot be true; without one, what no catalog is needed for.
 */
export function foldEntries(entries: Iterable<Entry>, through?: string, judge: Judge = judgeAlone): RigState {
  const all = new Map<string, Entry>();
  const struck = new Map<string, EntryOf<'strike'>>();
  const doubts = new Map<string, Doubt>();
  const decisions = new Map<string, EntryOf<'set'>>();
  for (const entry of entries) {
    if (through !== undefined && entry.on > through) continue;
    if (all.has(entry.id)) continue;
    all.set(entry.id, entry);
    const doubt = judge(entry);
    if (doubt) doubts.set(entry.id, doubt);
    if (entry.kind !== 'strike' || doubt) continue;
    const earlier = struck.get(entry.body.entry);
    if (!earlier || compare(entry, earlier) < 0) struck.set(entry.body.entry, entry);
  }
  for (const entry of all.values()) {
    const id = doubts.has(entry.id) || struck.has(entry.id) ? undefined : decidedId(entry);
    const before = id === undefined ? undefined : decisions.get(id);
    if (id !== undefined && (!before || compare(before, entry) < 0)) decisions.set(id, entry as EntryOf<'set'>);
  }
  const aside: [string, SetAside][] = [];
  const subjects = new Map<string, Map<string, Entry[]>>();
  for (const entry of all.values()) {
    const doubt = doubts.get(entry.id);
    if (entry.kind !== 'strike' && struck.has(entry.id)) continue;
    const decision = doubt && decisionOf(decisions.get(entry.id));
    if (doubt && !(decision === 'release' && doubt.releasable)) {
      aside.push([entry.id, asideOf(entry, doubt, decision)]);
      continue;
    }
    for (const [subject, aspect] of placesOf(entry)) {
      const aspects = subjects.get(subject) ?? new Map<string, Entry[]>();
      subjects.set(subject, aspects);
      const chain = aspects.get(aspect);
      if (chain) chain.push(entry);
      else aspects.set(aspect, [entry]);
    }
  }
  for (const aspects of subjects.values()) for (const chain of aspects.values()) chain.sort(compare);
  return {
    entries: SortedMap.of(all),
    struck: SortedMap.of(struck),
    subjects: SortedMap.of(subjects),
    aside: SortedMap.of(aside),
    unread: ALL_READ,
    judge,
  };
}

/** The same logbook as things stood at the end of an earlier day. */
export function stateThrough({ entries, judge, unread }: RigState, through: string): RigState {
  return withUnread(foldEntries(entries.values(), through, judge), unread);
}

type Decision = 'release' | 'reject';

const decisionOf = (entry: EntryOf<'set'> | undefined): Decision | undefined =>
  (entry?.body.value as Decision | null | undefined) ?? undefined;

const asideOf = (entry: Entry, doubt: Doubt, decision: Decision | undefined): SetAside => ({
  entry,
  ...doubt,
  ...(decision ? { decision } : {}),
});

const decisionIn = (state: RigState, id: string): Decision | undefined =>
  decisionOf(newest(chainOf(state, `setting/${quarantineKey(id)}`, 'set'), 'set'));

const isReleased = (state: RigState, entry: Entry, doubt: Doubt): boolean =>
  doubt.releasable && decisionIn(state, entry.id) === 'release';

const setAside = (state: RigState, entry: Entry, doubt: Doubt): RigState => ({
  ...state,
  aside: state.aside.with(entry.id, asideOf(entry, doubt, decisionIn(state, entry.id))),
});

/** State after a decision about another entry came or went: that entry is put where the decision wants it. */
function decided(state: RigState, decision: Entry): RigState {
  const id = decidedId(decision);
  const entry = id === undefined ? undefined : state.entries.get(id);
  const doubt = entry && state.judge(entry);
  if (!entry || !doubt || (entry.kind !== 'strike' && state.struck.has(entry.id))) return state;
  if (!isReleased(state, entry, doubt)) {
    const out = state.aside.has(entry.id) ? state : withoutEntry(state, entry);
    return setAside(out, entry, doubt);
  }
  return state.aside.has(entry.id) ? inserted({ ...state, aside: state.aside.without(entry.id) }, entry) : state;
}

const inserted = (state: RigState, entry: Entry): RigState =>
  changed(state, entry, (chain) => chain.toSpliced(indexIn(chain, entry), 0, entry));
const withoutEntry = (state: RigState, entry: Entry): RigState =>
  changed(state, entry, (chain) => chain.filter((other) => other.id !== entry.id));

function changed(state: RigState, entry: Entry, change: (chain: Chain) => Chain): RigState {
  let { subjects } = state;
  for (const [subject, aspect] of placesOf(entry)) {
    const aspects = new Map(subjects.get(subject));
    const chain = change(aspects.get(aspect) ?? []);
    if (chain.length) aspects.set(aspect, chain);
    else aspects.delete(aspect);
    subjects = aspects.size ? subjects.with(subject, aspects) : subjects.without(subject);
  }
  return { ...state, subjects };
}

const sound = new WeakMap<RigState, WeakMap<object, RigState>>();

/**
 * The state without entries that the judge of a catalog doubts: the same one where it was folded by that judge or holds none, else
 * folded again. Whatever works something out of a state begins with this, so that no single entry can end an answer.
 */
export function soundState(state: RigState, catalog: Catalog): RigState {
  const judge = judgeBy(catalog);
  if (state.judge === judge) return state;
  const before = sound.get(state) ?? new WeakMap<object, RigState>();
  sound.set(state, before);
  const known = before.get(catalog);
  if (known) return known;
  const doubtful = [...state.entries.values()].some(
    (entry) => !state.aside.has(entry.id) && !state.struck.has(entry.id) && judge(entry) !== undefined,
  );
  const made = doubtful ? withUnread(foldEntries(state.entries.values(), undefined, judge), state.unread) : state;
  before.set(catalog, made);
  return made;
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
