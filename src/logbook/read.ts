import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { costOf } from './cost.ts';
import { ENTRY_KINDS, ENTRY_VERSION, type Entry, entrySchema } from './entry.ts';

/** How an entry body of version `n` becomes one of version `n + 1`. Empty until there is a version 2. */
const upcasts: ReadonlyMap<number, (raw: Record<string, unknown>) => Record<string, unknown>> = new Map();

/** What a newer version of this program may have written: a version, a kind of entry or a field that this one does not know. */
const NEWER: ReadonlySet<string> = new Set(['logbook.entry-newer', 'logbook.entry-kind', 'logbook.entry-field']);

/** True where nothing is wrong but that this version does not know it. */
export function needsNewerVersion(problems: readonly Problem[]): boolean {
  return problems.length > 0 && problems.every(({ code }) => NEWER.has(code));
}

/**
 * Any JSON value as an entry of today's version: older versions are upcast, newer ones refused. What it may cost is judged first, so that
 * no value, however deep or long, holds this up.
 *
 * @param where said in every problem: `line 12`.
 * Problems: `logbook.entry-cost` (too long, too deep), `logbook.entry-newer` (written by a newer program), `logbook.entry-kind` (a kind
 * not known), `logbook.entry-field` (a field not known), `logbook.entry-invalid` (all else, one a field).
 */
export function readEntry(raw: unknown, where: string): Result<Entry> {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) {
    return fail({ code: 'logbook.entry-invalid', what: 'This is not an entry', where, expected: 'a JSON object' });
  }
  const cost = costOf(raw, where);
  if (cost) return fail(cost);
  let record = raw as Record<string, unknown>;
  const written = record.v;
  if (typeof written === 'number' && written > ENTRY_VERSION) {
    return fail({
      code: 'logbook.entry-newer',
      what: `The entry is of version ${written}; this program knows versions up to ${ENTRY_VERSION}`,
      where,
      next: 'Update Rigworthy, then try again. Nothing was changed.',
    });
  }
  for (let v = Number(record.v); v < ENTRY_VERSION; v++) {
    const upcast = upcasts.get(v);
    if (!upcast) break;
    record = { ...upcast(record), v: v + 1 };
  }
  if (!ENTRY_KINDS.includes(record.kind as Entry['kind'])) {
    return fail({
      code: 'logbook.entry-kind',
      what: `There is no kind of entry “${typeof record.kind === 'string' ? record.kind.slice(0, 60) : typeof record.kind}”`,
      where,
      expected: ENTRY_KINDS.join(', '),
    });
  }
  const parsed = entrySchema.safeParse(record);
  if (parsed.success) return ok(parsed.data);
  const problems = parsed.error.issues.map(
    (issue): Problem => ({
      code: issue.code === 'unrecognized_keys' ? 'logbook.entry-field' : 'logbook.entry-invalid',
      what: issue.message.charAt(0).toUpperCase() + issue.message.slice(1),
      where: `${where}, ${record.kind}${issue.path.length ? `: ${issue.path.join('.')}` : ''}`,
    }),
  );
  return fail(...(problems as [Problem, ...Problem[]]));
}

/**
 * JSON lines as entries: all, or none and every problem. A torn last line is a problem of that line.
 * Blank lines are passed over.
 */
export function readEntries(jsonLines: string): Result<Entry[]> {
  const entries: Entry[] = [];
  const problems: Problem[] = [];
  jsonLines.split('\n').forEach((line, index) => {
    if (line.trim() === '') return;
    const where = `line ${index + 1}`;
    const read = readLine(line, where);
    if (read.ok) entries.push(read.value);
    else problems.push(...read.problems);
  });
  return problems.length ? fail(...(problems as [Problem, ...Problem[]])) : ok(entries);
}

/** One line of JSON as an entry. Problems: `logbook.json-torn`, and those of `readEntry`. */
function readLine(line: string, where: string): Result<Entry> {
  let raw: unknown;
  try {
    raw = JSON.parse(line);
  } catch {
    return fail({
      code: 'logbook.json-torn',
      what: 'The line is not complete JSON; the file may be cut short',
      where,
      expected: 'one entry a line, as written by export',
    });
  }
  return readEntry(raw, where);
}

/** One entry as its line of JSON, keys in a fixed order, so that equal logbooks are equal text. */
export function writeEntry(entry: Entry): string {
  const { id, rig, kind, on, at, by, v, body, blobs } = entry;
  return JSON.stringify({ id, rig, kind, on, at, by, v, body: sorted(body), ...(blobs?.length ? { blobs } : {}) });
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const record = value as Record<string, unknown>;
  return Object.fromEntries(
    Object.keys(record)
      .sort()
      .map((key) => [key, sorted(record[key])]),
  );
}
