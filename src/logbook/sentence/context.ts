import type { Catalog } from '../../catalog/index.ts';
import { formatDate } from '../../dates/index.ts';
import { fail, type Result } from '../../problem/index.ts';
import type { Draft } from '../entry.ts';
import type { RigState } from '../fold.ts';
import type { NamedPart, Names } from './names.ts';
import type { Tokens } from './tokens.ts';

/** What a sentence is understood against. */
export interface Sentences {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly today: string;
  /** Who writes; a drill needs it. */
  readonly by?: string;
}

export interface SentenceContext extends Sentences {
  readonly names: Names;
  readonly tokens: Tokens;
}

/** One entry to be confirmed, and it in words. */
export interface Reading {
  readonly draft: Draft;
  readonly said: string;
}

/** One way of understanding: undefined where the sentence is not of this kind. */
export type Understanding = (context: SentenceContext) => Result<Reading[]> | undefined;

/** `Wed 27 May 2026`. */
export const dayText = (on: string): string => formatDate(on);

/** `axle 2, left` with what sits there, or the part's id where it has no place. */
export function partText({ part, kind }: NamedPart): string {
  const name = (kind?.name ?? part.kind).toLowerCase();
  return part.place === '' ? `${name} (${part.id})` : `${name} at ${part.place}`;
}

/** Several things fit: say which, guess none. */
export function ambiguous(what: string, candidates: readonly string[], next: string): Result<never> {
  const shown = candidates.slice(0, 8);
  const more = candidates.length > shown.length ? ` and ${candidates.length - shown.length} more` : '';
  return fail({ code: 'sentence.ambiguous', what, expected: `one of: ${shown.join('; ')}${more}`, next });
}

/** Words that nothing accounts for. */
export function wordsUnknown(words: readonly string[], where: string): Result<never> {
  return fail({
    code: 'sentence.words-unknown',
    what: `Nothing on this rig goes by ${words.map((word) => `“${word}”`).join(', ')}`,
    where,
    expected: 'names of its parts, their places, and what is done to them',
    next: 'Put what is only a remark after a dash: “tested breakaway - pin was stiff”.',
  });
}
