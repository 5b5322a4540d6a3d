/**
 * What lives here: the one shape in which anything goes wrong on purpose.
 *
 * Bad input is a value, not an exception: a `Problem` tells a person what happened, where, what was expected and what to do
 * next, and carries a stable code to switch on. A broken invariant (our own mistake) throws instead.
 */

/** One thing a person can act on. `code` is stable; the texts may be reworded. */
export interface Problem {
  /** Stable, dotted, lower case: `quantity.unit-unknown`. */
  readonly code: string;
  /** One sentence: what is wrong. */
  readonly what: string;
  /** Where: a field, a line, an entry id, a file and line. */
  readonly where?: string;
  /** What would have been accepted. */
  readonly expected?: string;
  /** The next step that mends it. */
  readonly next?: string;
}

/** A value, or the problems that kept it from being one (at least one). */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Wrap a good value. */
export function ok<T>(value: T): Result<T> {
  return { ok: true, value };
}

/** Wrap one or more problems. */
export function fail<T = never>(first: Problem, ...more: readonly Problem[]): Result<T> {
  return { ok: false, problems: [first, ...more] };
}

/** One line for a terminal or a page: `what (where); expected …. next`. */
export function problemText(problem: Problem): string {
  const where = problem.where === undefined ? '' : ` (${problem.where})`;
  const expected = problem.expected === undefined ? '' : `; expected ${problem.expected}`;
  const next = problem.next === undefined ? '' : ` ${problem.next}`;
  return `${problem.what}${where}${expected}.${next}`;
}

/** Thrown where a `Result` would only be unwrapped again; carries the problems to the edge (command, API, page). */
export class ProblemError extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map(problemText).join('\n'));
    this.name = 'ProblemError';
    this.problems = problems;
  }
}

/** The value, or throw `ProblemError`. */
export function unwrap<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new ProblemError(result.problems);
}
