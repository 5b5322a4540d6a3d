/** Mutants as the report of a run lists them, what identifies each, and the seeded choice among them. */

import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';

interface Position {
  /** From 1. */
  readonly line: number;
  readonly column: number;
}
interface ReportedMutant {
  readonly mutatorName: string;
  readonly replacement: string;
  readonly location: { readonly start: Position; readonly end: Position };
  readonly status: string;
  /** Tests that ran to an end with the mutant in place. */
  readonly testsCompleted?: number;
}
interface Report {
  readonly files: Record<string, { readonly source: string; mutants: ReportedMutant[] }>;
}

export interface Mutant {
  readonly file: string;
  /** From 1. */
  readonly lineNumber: number;
  /** The source line it starts in, trimmed. */
  readonly line: string;
  readonly mutator: string;
  readonly original: string;
  readonly replacement: string;
  /** Killed, Timeout, Survived, NoCoverage, RuntimeError; `null` while it has not run. */
  readonly status: string | null;
  /** Where it stands and what it changes, as the checker spells it. */
  readonly place: string;
  /** File, line of text, change, and which of several alike: the same as long as that line is. */
  readonly identity: string;
}

function textBetween(lines: readonly string[], start: Position, end: Position): string {
  const rows = lines.slice(start.line - 1, end.line);
  rows[rows.length - 1] = rows.at(-1)!.slice(0, end.column - 1);
  rows[0] = rows[0]!.slice(start.column - 1);
  return rows.join('\n');
}

/**
 * `null` for what has not run. Where code fails while it is loaded, no test of the file is left to fall, and Stryker calls that survived;
 * the test run itself fails, so it counts as killed.
 */
function statusOf({ status, testsCompleted }: ReportedMutant): string | null {
  if (status === 'CompileError') return null;
  return status === 'Survived' && testsCompleted === 0 ? 'Killed' : status;
}

/** All mutants of the report Stryker keeps between runs, but those of a kind that is left out (string literals). */
export function readMutants(file: string): readonly Mutant[] {
  const report: Report = JSON.parse(readFileSync(file, 'utf8'));
  const alike = new Map<string, number>();
  return Object.entries(report.files)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .flatMap(([name, { source, mutants }]) => {
      const lines = source.split('\n');
      return mutants
        .filter((mutant) => mutant.status !== 'Ignored')
        .toSorted(
          (a, b) => a.location.start.line - b.location.start.line || a.location.start.column - b.location.start.column,
        )
        .map((mutant): Mutant => {
          const { start, end } = mutant.location;
          const line = lines[start.line - 1]!.trim();
          const original = textBetween(lines, start, end);
          const text = [name, line, mutant.mutatorName, original, mutant.replacement].join('\0');
          const nth = alike.get(text) ?? 0;
          alike.set(text, nth + 1);
          return {
            file: name,
            lineNumber: start.line,
            line,
            mutator: mutant.mutatorName,
            original,
            replacement: mutant.replacement,
            status: statusOf(mutant),
            place: [name, start.line, start.column, end.line, end.column, mutant.mutatorName, mutant.replacement].join(
              '\n',
            ),
            identity: `${text}\0${nth}`,
          };
        });
    });
}

/** Takes the mutants that did not run out of the report, or the next run would take their mark for a result. */
export function forgetUnrun(file: string): void {
  if (!existsSync(file)) return;
  const report: Report = JSON.parse(readFileSync(file, 'utf8'));
  for (const one of Object.values(report.files)) one.mutants = one.mutants.filter((m) => m.status !== 'CompileError');
  writeFileSync(file, JSON.stringify(report));
}

/** The `most` mutants that come first by a digest of seed and identity: the same in every run, whatever moved elsewhere. */
export function choose(mutants: readonly Mutant[], seed: number, most: number): readonly Mutant[] {
  const rank = new Map(
    mutants.map((mutant) => [mutant, createHash('sha256').update(`${seed}\0${mutant.identity}`).digest('hex')]),
  );
  return mutants.toSorted((a, b) => (rank.get(a)! < rank.get(b)! ? -1 : 1)).slice(0, most);
}
