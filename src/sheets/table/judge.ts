/** A whole spreadsheet judged: what each line would write, and every line that cannot be taken. Nothing is written here. */
import { type Draft, ENTRY_VERSION, type Entry, writeEntry } from '../../logbook/index.ts';
import type { Problem, Result } from '../../problem/index.ts';
import { type About, type LineRead, readLine } from './line.ts';
import type { Mapping } from './mapping.ts';
import type { Table } from './read.ts';

/** A line that cannot be taken, with its reasons. */
export interface Refused {
  readonly line: number;
  readonly cells: readonly string[];
  readonly problems: readonly Problem[];
}

export interface Judged {
  readonly accepted: readonly { readonly line: number; readonly said: string }[];
  /** Lines that the logbook has already: bringing a file twice is harmless. */
  readonly known: number;
  readonly rejected: readonly Refused[];
  /** Lines passed over, and why: sums, headings said again, and what the owner left out knowingly. */
  readonly passed: Table['passed'];
  /** Every entry; or every reason against, and none: an import takes all lines that are not left out, or nothing. */
  readonly made: Result<Entry[]>;
}

/** Drafts that belong together, and where they come from: `line 12`. */
export interface DraftsFrom {
  readonly drafts: readonly Draft[];
  readonly where: string;
}

interface JudgedAbout extends About {
  /** Lines that the owner leaves out knowingly. */
  readonly leaveOut: readonly number[];
  /** Drafts as entries, each admitted after those before it; a problem's `where` begins with the drafts' own. */
  readonly prepare: (drafts: readonly DraftsFrom[]) => Result<Entry[]>;
}

/** Reads and judges every line. Older days are judged first: an odometer is judged by what went before. */
export function judgeTable(table: Table, mapping: Mapping, about: JudgedAbout): Judged {
  const read: (LineRead & { readonly line: number })[] = [];
  const rejected: Refused[] = [];
  const left = new Set(about.leaveOut);
  for (const { line, cells } of table.rows) {
    if (left.has(line)) continue;
    const one = readLine(table, line, cells, mapping, about);
    if (one.ok) read.push({ line, ...one.value });
    else rejected.push({ line, cells, problems: one.problems });
  }
  const fresh = newOf(read, about);
  const made = about.prepare(fresh.map(({ line, drafts }) => ({ drafts, where: `line ${line}` })));
  for (const [line, problems] of byLine(made.ok ? [] : made.problems))
    rejected.push({ line, cells: table.rows.find((row) => row.line === line)?.cells ?? [], problems });
  const not = new Set(rejected.map(({ line }) => line));
  const inOrder = <T extends { readonly line: number }>(lines: readonly T[]): T[] =>
    [...lines].sort((a, b) => a.line - b.line);
  const refused = inOrder(rejected);
  const reasons = refused.flatMap(({ problems }) => problems);
  return {
    accepted: inOrder(fresh.filter(({ line }) => !not.has(line)).map(({ line, said }) => ({ line, said }))),
    known: read.length - fresh.length,
    rejected: refused,
    passed: inOrder([
      ...table.passed,
      ...table.rows.filter(({ line }) => left.has(line)).map(({ line }) => ({ line, why: 'left out by you' })),
    ]),
    made: reasons.length > 0 ? { ok: false, problems: reasons } : made,
  };
}

/** Lines with the drafts that the logbook does not have yet, older days first; an odometer that two lines give is written once. */
function newOf(read: readonly (LineRead & { readonly line: number })[], { state }: About): typeof read {
  const there = new Set([...state.entries.values()].filter(({ id }) => !state.struck.has(id)).map(contentOf));
  const given = new Set<string>();
  const isNew = (draft: Draft): boolean => {
    const content = contentOf({ id: '', rig: '', at: '', by: '', v: ENTRY_VERSION, ...draft } as Entry);
    if (there.has(content) || given.has(content)) return false;
    if (draft.kind === 'reading' && draft.body.what === 'odometer') given.add(content);
    return true;
  };
  return [...read]
    .sort((a, b) => (dayOf(a) < dayOf(b) ? -1 : dayOf(a) > dayOf(b) ? 1 : a.line - b.line))
    .map((line) => ({ ...line, drafts: line.drafts.filter(isNew) }))
    .filter(({ drafts }) => drafts.length > 0);
}

const dayOf = ({ drafts }: LineRead): string => drafts[0]!.on;

function byLine(problems: readonly Problem[]): Map<number, Problem[]> {
  const lines = new Map<number, Problem[]>();
  for (const problem of problems) {
    const line = Number(/^line (\d+)/.exec(problem.where ?? '')?.[1]);
    lines.set(line, [...(lines.get(line) ?? []), problem]);
  }
  return lines;
}

/** What an entry says, whoever wrote it whenever. */
const contentOf = (entry: Entry): string => writeEntry({ ...entry, id: '', rig: '', at: '', by: '' } as Entry);
