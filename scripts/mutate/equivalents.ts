/** Mutants that behave as the original does, each with its reason: `test/mutation/equivalents.json`. */

import { readFileSync } from 'node:fs';
import { z } from 'zod';
import type { Mutant } from './mutants.ts';

const schema = z.array(
  z.strictObject({
    file: z.string(),
    /** The source line it starts in, trimmed. */
    line: z.string(),
    mutator: z.string(),
    original: z.string(),
    replacement: z.string(),
    reason: z.string().min(20),
  }),
);
export type Equivalent = z.infer<typeof schema>[number];

/** At most this share of a room's mutants may be called equivalent. */
export const EQUIVALENT_SHARE_MOST = 0.05;

export function readEquivalents(): readonly Equivalent[] {
  const file = new URL('../../test/mutation/equivalents.json', import.meta.url);
  return schema.parse(JSON.parse(readFileSync(file, 'utf8')));
}

export const isEquivalent = (mutant: Mutant, equivalents: readonly Equivalent[]): boolean =>
  equivalents.some(
    (one) =>
      one.file === mutant.file &&
      one.line === mutant.line &&
      one.mutator === mutant.mutator &&
      one.original === mutant.original &&
      one.replacement === mutant.replacement,
  );
