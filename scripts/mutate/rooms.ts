/** Which sources of a room are mutated, and which tests must notice: its own, and those against published values. Never browser or slow tests. */

import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));

export interface MutationRoom {
  /** Files, from the root of the repository. */
  readonly mutate: readonly string[];
  /** Files. `docs/calculations.md` equal to its own output is no test of a figure, so `src/calculations` is not among them. */
  readonly tests: readonly string[];
}

/** Files under a folder, or the file itself, from the root and with forward slashes. */
export function filesUnder(path: string): readonly string[] {
  if (statSync(join(root, path)).isFile()) return [path];
  return readdirSync(join(root, path), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(root.length).replaceAll('\\', '/'))
    .sort();
}

const isTest = (file: string) => /\.(test|contract)\.tsx?$/.test(file);

function room(
  name: string,
  outside: readonly string[] = [],
  sources: readonly string[] = [`src/${name}`],
  slow: readonly string[] = [],
): MutationRoom {
  return {
    mutate: sources.flatMap(filesUnder).filter((file) => file.endsWith('.ts') && !isTest(file)),
    tests: [
      ...filesUnder(`src/${name}`).filter((file) => file.endsWith('.test.ts') && !slow.includes(file)),
      ...outside.map((file) => `test/outside/${file}.test.ts`),
    ],
  };
}

export const mutationRooms: Readonly<Record<string, () => MutationRoom>> = {
  tires: () => room('tires', ['tires']),
  loads: () => room('loads', ['loads']),
  brakes: () => room('brakes', ['brakes']),
  gas: () => room('gas', ['gas']),
  power: () => room('power', ['power']),
  // These judge the whole demo or hundreds of invented rigs: with every mutant's switch in the code they take minutes.
  sendoff: () =>
    room(
      'sendoff',
      [],
      undefined,
      ['demo', 'hostile', 'laws'].map((file) => `src/sendoff/${file}.test.ts`),
    ),
  logbook: () =>
    room(
      'logbook',
      [],
      ['admit', 'bounds', 'cost', 'fields', 'fold', 'judge', 'measured'].map((file) => `src/logbook/${file}.ts`),
    ),
  outlook: () => room('outlook'),
  plan: () => room('plan'),
};
