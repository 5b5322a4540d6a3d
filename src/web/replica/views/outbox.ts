import type { Problem } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import { type EntryLine, entryLine } from './entry-text.ts';
import { toldBy } from './told.ts';

/** What waits here to be sent, what was refused first, each with the server's reasons. */
export interface OutboxView {
  readonly lines: readonly { readonly line: EntryLine; readonly problems: readonly Problem[] }[];
  /** How many more wait than are listed. */
  readonly more: number;
}

const LISTED = 100;

export async function outboxView(keeper: Keeper): Promise<OutboxView> {
  const told = toldBy(keeper);
  const refused = new Map(keeper.refused.map(({ id, problems }) => [id, problems]));
  const waiting = await keeper.waitingEntries();
  waiting.sort((a, b) => Number(refused.has(b.id)) - Number(refused.has(a.id)) || (a.id < b.id ? 1 : -1));
  return {
    lines: waiting
      .slice(0, LISTED)
      .map((entry) => ({ line: entryLine(told, entry), problems: refused.get(entry.id) ?? [] })),
    more: Math.max(0, waiting.length - LISTED),
  };
}
