/** One run of Stryker over the chosen mutants of a room; results gather in the file it keeps between runs. */

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Stryker } from '@stryker-mutator/core';
import { forgetUnrun } from './mutants.ts';
import { type MutationRoom, root } from './rooms.ts';

/** Options that are the same for every room; a busy machine is no mutant killed, so the time limit is generous. */
const OPTIONS = 'test/mutation/stryker.json';

/**
 * @param places mutants to run, by `Mutant.place`; with none, the run only lists what there is
 * @param folder where the results of the room are kept
 */
export async function runStryker(
  room: MutationRoom,
  places: readonly string[],
  folder: string,
  concurrency: number,
): Promise<string> {
  const results = join(folder, 'results.json');
  const batch = join(folder, 'batch.json');
  writeFileSync(batch, JSON.stringify(places));
  process.env.MUTATE_ROOT = root;
  process.env.MUTATE_BATCH = batch;
  process.env.MUTATE_TESTS = JSON.stringify(room.tests);
  forgetUnrun(results);
  await new Stryker({
    configFile: OPTIONS,
    plugins: ['@stryker-mutator/vitest-runner', fileURLToPath(new URL('sample-checker.mjs', import.meta.url))],
    mutate: [...room.mutate],
    incrementalFile: results,
    concurrency,
  }).runMutationTest();
  return results;
}
