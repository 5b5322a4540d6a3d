/** Which parts, upkeeps and kit items the words of a sentence can mean. Every word must be accounted for; nothing is dropped. */
import type { Catalog, KitItem, PartKind, Upkeep } from '../../catalog/index.ts';
import type { RigState } from '../fold.ts';
import { type PartState, partsOf, vehicleOf } from '../state.ts';
import { stem } from './stems.ts';

/** Words that carry no meaning of their own here. */
const SILENT = new Set(
  'a an the my our its is was were are be been has have had at of on in to for with by from now again it them up all both every each us we i new fresh good ok fine passed works worked reads read reading reading done did do'
    .split(' ')
    .map(stem),
);
const PLURAL_HINTS = new Set(['all', 'both', 'every', 'each']);
const FAILED_WORDS = new Set(['fail', 'bad', 'dead', 'not', 'no', 'hold', 'pass', "didn't", 'didn', 't'].map(stem));

/** The stems of a piece that must be accounted for. */
export function meaning(words: readonly string[]): string[] {
  return words.map(stem).filter((word) => !SILENT.has(word));
}

/** Stems of the words of a name; parts joined by hyphens count whole and apart. */
export const stemsOf = (text: string): string[] => {
  const words = text
    .toLowerCase()
    .split(/[^a-z0-9-]+/)
    .flatMap((word) => (word.includes('-') ? [word, ...word.split('-')] : [word]));
  return words.filter((word) => word !== '').map(stem);
};

/** Verbs that mean the same to a person writing in haste. */
const SAME_VERBS: readonly (readonly string[])[] = [
  ['renew', 'replace', 'change', 'swap'],
  ['set', 'inflate', 'pump', 'air'],
  ['check', 'inspect', 'look', 'examine'],
  ['lubricate', 'grease', 'oil'],
  ['retorque', 'torque', 'tighten'],
  ['practise', 'drill', 'rehearse'],
  ['test', 'try', 'prove'],
  ['weigh', 'scale'],
  ['lay', 'winterize'],
].map((verbs) => verbs.map(stem));

const sameVerb = (a: string, b: string): boolean =>
  a === b || SAME_VERBS.some((verbs) => verbs.includes(a) && verbs.includes(b));

/** First words of titles that are no verbs. */
const NO_VERBS = new Set(['leak', 'leak-drop', 'new'].map(stem));

/** The verbs of an upkeep: what its id and its title begin with. */
function verbsOf(upkeep: Upkeep): string[] {
  return [stem(upkeep.id.split('-', 1)[0]!), stemsOf(upkeep.title)[0]!].filter(
    (word, index, all) => !NO_VERBS.has(word) && all.indexOf(word) === index,
  );
}

/** Where the words name one kind of part in full (`tires`, not `spare tires`), the parts of that kind alone. */
export function ofKindNamed<T extends { readonly part: PartState }>(
  parts: readonly T[],
  stems: readonly string[],
): readonly T[] {
  const named = parts.filter((one) => one.part.kind.split('-').every((word) => stems.includes(stem(word))));
  return named.length ? named : parts;
}

export interface Names {
  readonly parts: readonly NamedPart[];
  readonly verbs: ReadonlySet<string>;
  readonly catalog: Catalog;
}

export interface NamedPart {
  readonly part: PartState;
  readonly kind: PartKind | undefined;
  /** Stems that name it or its place. */
  readonly stems: ReadonlySet<string>;
  readonly upkeeps: readonly Upkeep[];
}

/**
 * The corner that owners and shops write for short: `LF` of `axle 1, left` where there are axles behind it, `RR` of `axle 2, right`
 * where there is none; the same of `front left`. Common practice, no source.
 */
function cornerOf(place: string, axles: number): string {
  const side = /\b(left|right)\b/i.exec(place)?.[1]?.[0];
  const axle = Number(/\baxle (\d)\b/i.exec(place)?.[1]);
  const end = axle
    ? axles < 2
      ? ''
      : axle === 1
        ? 'f'
        : axle === axles
          ? 'r'
          : ''
    : /\b(front|rear)\b/i.exec(place)?.[1]?.[0];
  return side && end ? `${side}${end}` : '';
}

/** All the names of a rig. */
export function namesOf(state: RigState, catalog: Catalog): Names {
  const vehicles = { trailer: vehicleOf(state, 'trailer')?.body.name, tow: vehicleOf(state, 'tow')?.body.name };
  const axles = { trailer: vehicleOf(state, 'trailer')?.body.axles ?? 1, tow: 2 };
  const parts = partsOf(state).map((part): NamedPart => {
    const kind = catalog.partKinds.get(part.kind);
    const role = part.vehicle ?? kind?.vehicle ?? 'trailer';
    const said = [part.id, part.kind, part.place, kind?.name, vehicles[role], role, cornerOf(part.place, axles[role])];
    return {
      part,
      kind,
      stems: new Set(said.flatMap((text) => stemsOf(text ?? ''))),
      upkeeps: catalog.upkeepsOf.get(part.kind) ?? [],
    };
  });
  const verbs = new Set([...catalog.upkeeps.values()].flatMap(verbsOf));
  for (const group of SAME_VERBS) if (group.some((verb) => verbs.has(verb))) for (const verb of group) verbs.add(verb);
  return { parts, verbs, catalog };
}

/** The verb among the stems of a piece, if one stands there. */
export function verbIn(names: Names, stems: readonly string[]): string | undefined {
  const [first] = stems;
  if (first !== undefined && names.verbs.has(first)) return first;
  return stems.findLast((word) => names.verbs.has(word) && !names.parts.some((one) => one.stems.has(word)));
}

export interface Duty {
  readonly upkeep: Upkeep;
  readonly parts: readonly NamedPart[];
}

/**
 * The upkeeps that account for every word: for each its parts. An upkeep that begins with the very verb outranks one that begins
 * with another of the same meaning.
 */
export function dutiesNamed(names: Names, stems: readonly string[], verb: string): Duty[] {
  const nouns = stems.filter((word) => word !== verb && !FAILED_WORDS.has(word));
  const pairs = names.parts.flatMap((named) =>
    named.upkeeps.flatMap((upkeep) => {
      const verbs = verbsOf(upkeep);
      const read = upkeep.readings.flatMap((reading) => stemsOf(reading.what));
      const title = new Set([...stemsOf(upkeep.title), ...stemsOf(upkeep.id), ...read]);
      const same = verbs.some((other) => sameVerb(verb, other));
      if (!same && !title.has(verb)) return [];
      if (!nouns.every((word) => named.stems.has(word) || title.has(word))) return [];
      return [{ named, part: named.part, upkeep, rank: verbs.includes(verb) ? 0 : same ? 1 : 2 }];
    }),
  );
  const fitting = ofKindNamed(pairs, stems);
  const best = Math.min(...fitting.map((pair) => pair.rank));
  const duties = new Map<string, { upkeep: Upkeep; parts: NamedPart[] }>();
  for (const { upkeep, named, rank } of fitting) {
    if (rank !== best) continue;
    const duty = duties.get(upkeep.id);
    if (duty) duty.parts.push(named);
    else duties.set(upkeep.id, { upkeep, parts: [named] });
  }
  return [...duties.values()];
}

/** Titles of the upkeeps of whatever parts the words name beside the verb. */
export function dutiesOfNamed(names: Names, stems: readonly string[], verb: string): string[] {
  const nouns = stems.filter((word) => word !== verb);
  const parts = names.parts.filter((one) => nouns.length > 0 && nouns.every((word) => one.stems.has(word)));
  return [...new Set(parts.flatMap((one) => one.upkeeps.map((upkeep) => `${upkeep.title} (${upkeep.id})`)))];
}

/** The parts that account for every word, with the readings of one dimension that are taken on them. */
export function partsNamed(names: Names, stems: readonly string[]): readonly NamedPart[] {
  const parts = names.parts.filter((one) => stems.every((word) => one.stems.has(word) || readingStems(one).has(word)));
  return ofKindNamed(parts, stems);
}

const readingStems = (one: NamedPart): Set<string> =>
  new Set(one.upkeeps.flatMap((upkeep) => upkeep.readings.flatMap((reading) => stemsOf(reading.what))));

/** Words of a piece that no part, upkeep or verb of this rig can account for. */
export function unknownWords(names: Names, words: readonly string[]): string[] {
  const known = new Set(names.verbs);
  for (const one of names.parts) {
    for (const word of [...one.stems, ...readingStems(one)]) known.add(word);
    for (const upkeep of one.upkeeps)
      for (const word of [...stemsOf(upkeep.title), ...stemsOf(upkeep.id)]) known.add(word);
  }
  return words.filter((word) => !SILENT.has(stem(word)) && !known.has(stem(word)));
}

/** True where the words ask for several parts: `all`, `both`, or a plural of the part's own name. */
export function asksForSeveral(words: readonly string[], parts: readonly NamedPart[]): boolean {
  if (words.some((word) => PLURAL_HINTS.has(word))) return true;
  const names = new Set(parts.flatMap((one) => stemsOf(`${one.part.id} ${one.part.kind} ${one.kind?.name ?? ''}`)));
  return words.some(
    (word) => word.endsWith('s') && !word.endsWith('ss') && word !== stem(word) && names.has(stem(word)),
  );
}

/** Kit items that account for every word; one that is named by its id alone outranks the rest. */
export function kitNamed(catalog: Catalog, words: readonly string[]): KitItem[] {
  const stems = meaning(words);
  if (stems.length === 0) return [];
  const items = [...catalog.kit.values()];
  const ids = items.filter((item) => {
    const own = item.id.split('-').map(stem);
    return own.length === stems.length && stems.every((word) => own.includes(word));
  });
  if (ids.length) return ids;
  return items.filter((item) => {
    const own = new Set([...stemsOf(item.id), ...stemsOf(item.name)]);
    return stems.every((word) => own.has(word));
  });
}
