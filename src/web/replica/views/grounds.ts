import type { Keeper } from '../keeper.ts';
import { type EntryLine, linesOf, type SourceLine, sourcesOf } from './entry-text.ts';
import { toldBy } from './told.ts';

/** What a statement rests on: entries in readable words and sources as they are cited, by id. */
export interface GroundsView {
  readonly lines: Readonly<Record<string, EntryLine>>;
  readonly titles: Readonly<Record<string, SourceLine>>;
}

export interface GroundsAsk {
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
  /** The part it is about: of an afternoon's work only what was done on it is told. */
  readonly part?: string | undefined;
}

export function groundsView(keeper: Keeper, { evidence, sources, part }: GroundsAsk): GroundsView {
  const told = { ...toldBy(keeper), ...(part === undefined ? {} : { about: { part } }) };
  return { lines: linesOf(told, evidence), titles: sourcesOf(told, sources) };
}
