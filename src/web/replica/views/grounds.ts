import type { Keeper } from '../keeper.ts';
import { type EntryLine, linesOf, type SourceLine, sourcesOf } from './entry-text.ts';
import { toldBy } from './told.ts';

/** What a statement rests on: entries in readable words and sources as they are cited, by id. */
export interface GroundsView {
  readonly lines: Readonly<Record<string, EntryLine>>;
  readonly titles: Readonly<Record<string, SourceLine>>;
}

export function groundsView(keeper: Keeper, evidence: readonly string[], sources: readonly string[]): GroundsView {
  const told = toldBy(keeper);
  return { lines: linesOf(told, evidence), titles: sourcesOf(told, sources) };
}
