import { formatDate } from '../../../dates/index.ts';
import { cannotBeShown, type Entry, entryWords, partOf, partWords } from '../../../logbook/index.ts';
import type { Quantity } from '../../../quantity/index.ts';
import { quantityText, type Told } from './told.ts';

/** An entry in readable words. */
export interface EntryLine {
  readonly id: string;
  readonly on: string;
  readonly day: string;
  readonly by: string;
  readonly kind: Entry['kind'];
  /** `Spare tire, rear bumper: pressure cold 41 psi`. */
  readonly head: string;
  /** What it says beside: a note. */
  readonly more: string;
  readonly struck: string | null;
  /** Why it cannot be true and does not count, where it is set aside; whether the owner may let it count. */
  readonly aside: { readonly why: string; readonly releasable: boolean; readonly rejected: boolean } | null;
  readonly photos: readonly string[];
}

/** `Spare tire, rear bumper`: what a part is and where it sits. */
export function partName(told: Told, id: string): string {
  return partOf(told.state, id) ? partWords(id, told) : id.replaceAll('-', ' ');
}

/** `cold pressure`: what was read, as a person says it. */
export function readingName(what: string): string {
  const [first, ...rest] = what.split('-');
  return first === 'pressure' && rest.length > 0 ? `${rest.join(' ')} pressure` : what.replaceAll('-', ' ');
}

/** `pressureColdMin` → `cold pressure, at least`. */
export function factName(fact: string): string {
  const words = fact.replace(/([A-Z])/g, ' $1').toLowerCase();
  const bound = / (min|max)$/.exec(words)?.[1];
  const name = words.replace(/ (min|max)$/, '').replace(/^pressure cold\b/, 'cold pressure');
  return bound === undefined ? name : `${name}, at ${bound === 'min' ? 'least' : 'most'}`;
}

export function factText(told: Pick<Told, 'system'>, value: string | number | Quantity): string {
  return typeof value === 'object' ? quantityText(told, value) : String(value);
}

/** Total: of an entry that breaks what its words rest on there is a line with its id. */
export function entryLine(told: Told, entry: Entry): EntryLine {
  try {
    return lineOf(told, entry);
  } catch {
    const { id, kind } = entry;
    const [on, by] = [String(entry.on), String(entry.by)];
    return { id, on, day: on, by, kind, head: cannotBeShown(id), more: '', struck: null, aside: null, photos: [] };
  }
}

function lineOf(told: Told, entry: Entry): EntryLine {
  const strike = told.state.struck.get(entry.id);
  const { body } = entry;
  return {
    id: entry.id,
    on: entry.on,
    day: formatDate(entry.on, 'short'),
    by: entry.by,
    kind: entry.kind,
    head: entryWords(entry, told),
    more: 'note' in body && body.note ? body.note : '',
    struck: strike ? `Struck by ${strike.by}: ${strike.body.reason}` : null,
    aside: asideOf(told, entry.id),
    photos: entry.blobs ?? [],
  };
}

function asideOf({ state }: Told, id: string): EntryLine['aside'] {
  const set = state.aside.get(id);
  if (!set) return null;
  const why = set.problems
    .map(({ what, expected }) => (expected ? `${what} (expected: ${expected})` : what))
    .join('. ');
  return { why, releasable: set.releasable, rejected: set.decision === 'reject' };
}

/** Entries by id in words, for answers that name evidence. */
export function linesOf(told: Told, ids: Iterable<string>): Record<string, EntryLine> {
  const lines: Record<string, EntryLine> = {};
  for (const id of ids) {
    const entry = told.state.entries.get(id);
    if (entry) lines[id] = entryLine(told, entry);
  }
  return lines;
}

/** A source as it is cited. */
export interface SourceLine {
  readonly title: string;
  readonly kind: string;
  readonly note: string;
}

export function sourcesOf({ catalog }: Told, ids: Iterable<string>): Record<string, SourceLine> {
  const lines: Record<string, SourceLine> = {};
  for (const id of ids) {
    const source = catalog.sources.get(id);
    if (!source) continue;
    const edition = source.edition ? `, ${source.edition}` : '';
    const memory = source.seen === 'memory' ? ['From memory, to be verified.'] : [];
    lines[id] = {
      title: `${source.title}${edition}`,
      kind: source.owner ? 'your own' : source.kind,
      note: [source.note, ...memory].filter((text) => text !== undefined).join(' '),
    };
  }
  return lines;
}
