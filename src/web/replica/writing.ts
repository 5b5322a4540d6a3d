import { ulid } from 'ulid';
import { addEntry, admit, type Draft, ENTRY_VERSION, type Entry, readEntry } from '../../logbook/index.ts';
import { fail, ok, type Problem, type Result, unwrap } from '../../problem/index.ts';
import { type Keeper, READS_ONLY } from './keeper.ts';
import type { Proposal, Written } from './protocol.ts';
import { entryLine } from './views/entry-text.ts';
import { toldBy } from './views/told.ts';

/**
 * Drafts as entries by this device's person, now; or every reason against them. One is judged with those before it in place; `where`
 * says where one comes from.
 */
export function prepare(keeper: Keeper, drafts: readonly unknown[], blobs: readonly string[] = []): Result<Entry[]> {
  if (!keeper.mayWrite) return fail(READS_ONLY);
  const entries: Entry[] = [];
  const problems: Problem[] = [];
  let seen = keeper.state;
  const instant = new Date();
  for (const [index, draft] of drafts.entries()) {
    const { kind, on, body, where } = draft as Draft & { readonly where?: string };
    const placed = (problem: Problem): Problem =>
      where === undefined ? problem : { ...problem, where: problem.where ? `${where}, ${problem.where}` : where };
    const raw = {
      id: ulid(instant.getTime() + index),
      rig: keeper.rig,
      kind,
      on,
      at: instant.toISOString(),
      by: keeper.by,
      v: ENTRY_VERSION,
      body,
      ...(index === 0 && blobs.length > 0 ? { blobs } : {}),
    };
    const read = readEntry(raw, kind);
    if (!read.ok) {
      problems.push(...read.problems.map(placed));
      continue;
    }
    const against = admit(seen, read.value, { catalog: keeper.shipped, today: keeper.today });
    problems.push(...against.map(placed));
    // What is refused is not there for what comes after: one slip of the pen is told once.
    if (against.length > 0) continue;
    entries.push(read.value);
    seen = addEntry(seen, read.value);
  }
  const [first, ...more] = problems;
  return first === undefined ? ok(entries) : fail(first, ...more);
}

/** Drafts as they would be written, or why not. Nothing is written. */
export function proposal(keeper: Keeper, drafts: readonly unknown[]): Proposal {
  const prepared = prepare(keeper, drafts);
  if (!prepared.ok) return { drafts: [], said: '', problems: prepared.problems };
  const told = toldBy(keeper);
  const said = prepared.value
    .map((entry) => entryLine(told, entry))
    .map(({ head, more }) => (more === '' ? `${head}.` : `${head}. ${more}.`));
  return {
    drafts: prepared.value.map(({ kind, on, body }) => ({ kind, on, body }) as never),
    said: said.join(' '),
    problems: [],
  };
}

/** Writes drafts down, the photos with the first of them. Throws a `ProblemError` where one does not hold; nothing is written then. */
export async function write(
  keeper: Keeper,
  drafts: readonly unknown[],
  blobs: readonly string[] = [],
): Promise<Written> {
  const entries = unwrap(prepare(keeper, drafts, blobs));
  await keeper.write(entries);
  const told = toldBy(keeper);
  return { ids: entries.map(({ id }) => id), said: entries.map((entry) => entryLine(told, entry).head).join('. ') };
}
