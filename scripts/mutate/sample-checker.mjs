/**
 * A checker for Stryker that lets only chosen mutants run. Stryker chooses by file and range, and a range holds every mutant nested in
 * it; a seeded sample needs each by itself. Plain JavaScript, as Stryker's processes load it without a compiler.
 */
import { readFileSync } from 'node:fs';
import { relative } from 'node:path';

/** How a mutant outside the batch is marked; what is marked so is taken out of the results afterwards. */
const NOT_CHOSEN = { status: 'compileError', reason: 'not in this batch' };

class SampleChecker {
  async init() {
    this.root = process.env.MUTATE_ROOT;
    this.chosen = new Set(JSON.parse(readFileSync(process.env.MUTATE_BATCH, 'utf8')));
  }

  async group(mutants) {
    return [mutants.map((mutant) => mutant.id)];
  }

  async check(mutants) {
    return Object.fromEntries(
      mutants.map((mutant) => [mutant.id, this.chosen.has(this.place(mutant)) ? { status: 'passed' } : NOT_CHOSEN]),
    );
  }

  /** Spelled as `Mutant.place`; lines and columns count from 0 here, and from 1 in the report. */
  place({ fileName, location: { start, end }, mutatorName, replacement }) {
    const file = relative(this.root, fileName).replaceAll('\\', '/');
    const bounds = [start.line + 1, start.column + 1, end.line + 1, end.column + 1];
    return [file, ...bounds, mutatorName, replacement].join('\n');
  }
}

export const strykerPlugins = [{ kind: 'Checker', name: 'sample', injectableClass: SampleChecker }];
