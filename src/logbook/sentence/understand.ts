import { fail, ok, type Result } from '../../problem/index.ts';
import type { Draft } from '../entry.ts';
import { carriedIn } from './carry.ts';
import type { Sentences } from './context.ts';
import { namesOf } from './names.ts';
import { notDone } from './not-done.ts';
import { odometerIn, paperIn, tripDoneIn } from './plain.ts';
import { readingsIn } from './readings.ts';
import { tokensOf } from './tokens.ts';
import { workIn } from './work.ts';

export interface Understood {
  readonly drafts: readonly Draft[];
  /** In words, what will be written: one sentence a draft. */
  readonly understood: string;
}

/** Sentences that are understood, for messages and fields. */
export const SENTENCES: readonly string[] = [
  'spare 41 psi, 12 C',
  'repacked axle 2 at 64,120',
  'odometer 64,120.4',
  'tested breakaway',
  'back from palouse, 655 mi',
  'registration to 2027-05-31',
  'bought a seal driver, front locker',
];

/**
 * A short sentence as entries to be confirmed. It never guesses: words that nothing accounts for, and names that fit several
 * things, are a Problem with the candidates. What stands after a dash (` - `) becomes the note. A sentence with a negation, an intention,
 * an exception, a doubt, a question or a failure is asked about and never becomes work that was done and is good.
 *
 * Problems: `sentence.empty`, `sentence.long`, `sentence.days`, `sentence.not-done`, `sentence.words-unknown`, `sentence.ambiguous`, `sentence.nothing`,
 * `sentence.figure-missing`, `sentence.figure-many`, `sentence.who-missing`, `sentence.trip-unknown`,
 * `sentence.item-unknown`, `quantity.*`, `date.*`.
 *
 * @example understand('spare 41 psi, 12 C', { state, catalog, today: '2026-05-27' })
 * // one draft: a reading of `spare`, pressure-cold 41 psi at 12 °C, on 2026-05-27
 */
export function understand(text: string, about: Sentences): Result<Understood> {
  const tokens = tokensOf(text, about.today);
  if (!tokens.ok) return tokens;
  const question = notDone(tokens.value);
  if (question) return question;
  const context = { ...about, names: namesOf(about.state, about.catalog), tokens: tokens.value };
  for (const kind of [carriedIn, tripDoneIn, odometerIn, paperIn, workIn, readingsIn]) {
    const read = kind(context);
    if (read === undefined) continue;
    if (!read.ok) return read;
    return ok({ drafts: read.value.map((one) => one.draft), understood: read.value.map((one) => one.said).join(' ') });
  }
  return fail({
    code: 'sentence.nothing',
    what: `“${text.trim()}” says neither what was done nor what was read`,
    expected: `something like ${SENTENCES.slice(0, 4)
      .map((one) => `“${one}”`)
      .join(', ')}`,
  });
}
