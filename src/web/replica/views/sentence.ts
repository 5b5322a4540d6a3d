import { type Draft, understand } from '../../../logbook/index.ts';
import type { Problem } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';

/** A sentence as drafts, said back in words; or what is not understood. */
export function sentenceView(
  { state, catalog, today, by }: Keeper,
  text: string,
): { readonly drafts: readonly Draft[]; readonly said: string; readonly problems: readonly Problem[] } {
  const read = understand(text, { state, catalog, today, by });
  if (!read.ok) return { drafts: [], said: '', problems: read.problems };
  return { drafts: read.value.drafts, said: read.value.understood, problems: [] };
}
