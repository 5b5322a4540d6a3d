import { parseQuantity, type Quantity } from '../quantity/index.ts';
import type { Entry, EntryOf } from './entry.ts';
import { type Chain, chainOf, newest, type RigState, type Subject } from './fold.ts';

/** One value read off a part, wherever it was written down (a reading, or in the course of work). */
export interface ReadingFact {
  readonly on: string;
  readonly value: Quantity;
  readonly temperature?: Quantity;
  readonly elevation?: Quantity;
  readonly entry: Entry;
}

/** One time an upkeep was done on a part. */
export interface WorkFact {
  readonly on: string;
  readonly upkeep: string;
  readonly outcome: 'good' | 'failed';
  readonly goodThrough?: string;
  /** What was found wrong before, and put right by this work. */
  readonly mended?: readonly WorkFact[];
  readonly entry: EntryOf<'work'> | EntryOf<'drill'>;
}

/** A part as it stands: what it is, since when, and all that was read and done on it since it was fitted. */
export interface PartState {
  readonly id: string;
  readonly kind: string;
  readonly place: string;
  readonly vehicle?: 'trailer' | 'tow';
  /** The entry that fitted it (the newest `fit` of this id). */
  readonly fit: EntryOf<'fit'>;
  readonly facts: Readonly<Record<string, string | number | Quantity>>;
  /** The newest paper, for papers. */
  readonly paper?: EntryOf<'paper'>;
  /** By what was read; oldest first; since fitting. */
  readonly readings: ReadonlyMap<string, readonly ReadingFact[]>;
  /** By upkeep; oldest first; since fitting. What was found wrong and then put right stands with the work that did it (`mended`). */
  readonly work: ReadonlyMap<string, readonly WorkFact[]>;
}

const partMemo = new WeakMap<Subject, PartState | null>();

/** Every part on the rig now, in order of id. */
export function partsOf(state: RigState): PartState[] {
  const parts: PartState[] = [];
  for (const [_name, subject] of state.subjects.under('part/')) {
    const part = partOfSubject(subject);
    if (part) parts.push(part);
  }
  return parts.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** One part, if it is on the rig now. */
export function partOf(state: RigState, id: string): PartState | undefined {
  const subject = state.subjects.get(`part/${id}`);
  return subject ? (partOfSubject(subject) ?? undefined) : undefined;
}

function partOfSubject(subject: Subject): PartState | null {
  const known = partMemo.get(subject);
  if (known !== undefined) return known;
  const part = readPart(subject);
  partMemo.set(subject, part);
  return part;
}

function readPart(subject: Subject): PartState | null {
  const last = subject.get('fit')?.at(-1);
  if (last?.kind !== 'fit') return null;
  const fit = last;
  const readings = new Map<string, ReadingFact[]>();
  const work = new Map<string, readonly WorkFact[]>();
  const since = (entry: Entry): boolean => entry.on >= fit.on;
  for (const [aspect, chain] of subject) {
    const [of, name] = aspect.split('/', 2) as [string, string?];
    if (of === 'reading')
      readings.set(
        name!,
        chain.filter(since).flatMap((entry) => readingsIn(entry, fit.body.part, name!)),
      );
    if (of === 'work')
      work.set(name!, settled(chain.filter(since).flatMap((entry) => workIn(entry, fit.body.part, name!))));
  }
  const paper = newest(subject.get('paper') ?? [], 'paper');
  return {
    id: fit.body.part,
    kind: fit.body.kind,
    place: fit.body.place ?? '',
    ...(fit.body.vehicle ? { vehicle: fit.body.vehicle } : {}),
    fit,
    facts: fit.body.facts ?? {},
    ...(paper ? { paper } : {}),
    readings,
    work,
  };
}

function readingsIn(entry: Entry, part: string, what: string): ReadingFact[] {
  if (entry.kind === 'reading') {
    const { value, temperature, elevation } = entry.body;
    return [
      { on: entry.on, value, ...(temperature ? { temperature } : {}), ...(elevation ? { elevation } : {}), entry },
    ];
  }
  if (entry.kind !== 'work') return [];
  return entry.body.done
    .filter((done) => done.part === part)
    .flatMap((done) => done.readings ?? [])
    .filter((reading) => reading.what === what)
    .map((reading) => ({ on: entry.on, value: reading.value, entry }));
}

function workIn(entry: Entry, part: string, upkeep: string): WorkFact[] {
  if (entry.kind === 'drill') return [{ on: entry.on, upkeep, outcome: entry.body.outcome, entry }];
  if (entry.kind !== 'work') return [];
  return entry.body.done
    .filter((done) => done.part === part && done.upkeep === upkeep)
    .map(({ outcome, goodThrough }) => ({
      on: entry.on,
      upkeep,
      outcome,
      ...(goodThrough ? { goodThrough } : {}),
      entry,
    }));
}

const mendsOf = ({ entry, outcome }: WorkFact): readonly string[] =>
  entry.kind === 'work' && outcome === 'good' ? (entry.body.mends ?? []) : [];

/** Facts of one upkeep of one part; those found wrong that others name as put right stand with these, whatever the clocks said. */
function settled(facts: readonly WorkFact[]): readonly WorkFact[] {
  const mended = new Set(facts.flatMap(mendsOf));
  if (mended.size === 0) return facts;
  const isMended = (fact: WorkFact): boolean => fact.outcome === 'failed' && mended.has(fact.entry.id);
  return facts
    .filter((fact) => !isMended(fact))
    .map((fact) => {
      const own = facts.filter((other) => isMended(other) && mendsOf(fact).includes(other.entry.id));
      return own.length === 0 ? fact : { ...fact, mended: own };
    });
}

/** A fact of a part as a quantity, written down as one or as a text that reads as one (`65 psi`); null where it is neither. */
export function quantityFact(part: PartState, fact: string): Quantity | null {
  const value = part.facts[fact];
  if (typeof value !== 'string') return typeof value === 'object' ? value : null;
  const read = parseQuantity(value);
  return read.ok ? read.value : null;
}

/** A trip as last planned, and how it went if it is done. */
export interface TripState {
  readonly id: string;
  readonly plan: EntryOf<'trip'>;
  readonly done?: EntryOf<'trip-done'>;
  readonly waivers: readonly EntryOf<'waive'>[];
}

const tripMemo = new WeakMap<Subject, TripState | null>();

/** Every trip that was planned and not given up, by day of leaving. */
export function tripsOf(state: RigState): TripState[] {
  const trips: TripState[] = [];
  for (const [_name, subject] of state.subjects.under('trip/')) {
    const known = tripMemo.get(subject);
    const trip = known === undefined ? readTrip(subject) : known;
    tripMemo.set(subject, trip);
    if (trip && !trip.plan.body.cancelled) trips.push(trip);
  }
  return trips.sort((a, b) =>
    a.plan.body.leave < b.plan.body.leave ? -1 : a.plan.body.leave > b.plan.body.leave ? 1 : a.id < b.id ? -1 : 1,
  );
}

function readTrip(subject: Subject): TripState | null {
  const plan = newest(subject.get('plan') ?? [], 'trip');
  if (!plan) return null;
  const done = newest(subject.get('done') ?? [], 'trip-done');
  const waivers = (subject.get('waive') ?? []).filter((entry) => entry.kind === 'waive');
  return { id: plan.body.trip, plan, ...(done ? { done } : {}), waivers };
}

/** The newest enrolment of a vehicle. */
export function vehicleOf(state: RigState, role: 'trailer' | 'tow'): EntryOf<'enroll'> | undefined {
  return newest(chainOf(state, `vehicle/${role}`, 'enroll'), 'enroll');
}

/** Tools, spares and loads aboard, by item. */
export function kitAboard(state: RigState): Map<string, EntryOf<'carry'>> {
  const aboard = new Map<string, EntryOf<'carry'>>();
  for (const [_name, subject] of state.subjects.under('kit/')) {
    const last = newest(subject.get('carry') ?? [], 'carry');
    if (last?.body.aboard) aboard.set(last.body.item, last);
  }
  return aboard;
}

/** Weighings, oldest first. */
export function weighingsOf(state: RigState): EntryOf<'weigh'>[] {
  return chainOf(state, 'weighings', 'weigh') as EntryOf<'weigh'>[];
}

/** Every work entry, oldest first: what follow-ups are born of. */
export function workOf(state: RigState): EntryOf<'work'>[] {
  return chainOf(state, 'work', 'work') as EntryOf<'work'>[];
}

/**
 * Two `work` entries by different people for one upkeep of one part on one day: shown, never settled silently. It is settled where one of
 * them says that it put right what the other found wrong.
 */
export function disagreements(
  state: RigState,
): { readonly part: string; readonly upkeep: string; readonly entries: Chain }[] {
  const found: { part: string; upkeep: string; entries: Chain }[] = [];
  for (const [name, subject] of state.subjects.under('part/')) {
    for (const [aspect, chain] of subject) {
      if (!aspect.startsWith('work/')) continue;
      const [part, upkeep] = [name.slice(5), aspect.slice(5)];
      const standing = settled(chain.flatMap((entry) => workIn(entry, part, upkeep))).map(({ entry }) => entry);
      for (const day of new Set(standing.map((entry) => entry.on))) {
        const entries = [...new Set(standing.filter((entry) => entry.on === day))];
        const writers = new Set(entries.map((entry) => entry.by));
        if (writers.size > 1) found.push({ part, upkeep, entries });
      }
    }
  }
  return found;
}
