/** `import FILE.csv`: what each line would write is shown first; all of them are written, or none. */
import { type Draft, type Entry, writeEntry } from '../../logbook/index.ts';
import type { Problem, Result } from '../../problem/index.ts';
import { previewTable, readTable } from '../../sheets/index.ts';
import { ANSWERED, REFUSED, refuse, withRig, writeJson } from '../answer.ts';
import { ownCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { OpenRig } from '../keeping.ts';
import { type Mapped, type MappingOptions, mapTable } from '../mapping.ts';
import { type Line, type TablePreview, tablePreviewText } from '../view/table-preview.ts';
import { confirmed, entriesOfDrafts, mustRefuse, NOT_CONFIRMED, type WriteOptions, writerOf } from '../writing.ts';

export interface ImportTableOptions extends WriteOptions, MappingOptions {
  readonly all?: boolean;
}

/** Brings a spreadsheet into the logbook of one rig. */
export async function importTable(text: string, options: ImportTableOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const table = readTable(text);
    if (!table.ok) return refuse(io, table.problems, options.json);
    const mapped = mapTable(table.value, options);
    if (!mapped.ok) return refuse(io, [...mapped.problems, NOTHING_WRITTEN], options.json);
    const by = writerOf(options, io);
    const judged = judge(mapped.value, rig, by, io);
    const { preview, entries } = judged;
    if (!options.json) io.out(tablePreviewText(preview, options.all === true));
    const stopped = preview.rejected.length
      ? NOT_WHOLE
      : mustRefuse(options, io) && entries.length
        ? NOT_CONFIRMED
        : null;
    if (stopped) {
      if (options.json) {
        const reasons = preview.rejected.flatMap(({ problems }) => problems);
        writeJson(io, { ...preview, entries, written: false, problems: [...reasons, stopped] });
      }
      return refuse(io, [stopped]);
    }
    if (entries.length && !(await confirmed(options, io))) {
      io.err('Nothing was written.\n');
      return REFUSED;
    }
    const appended = await rig.store.append(entries, { via: 'import' });
    if (!appended.ok) return refuse(io, appended.problems, options.json);
    if (options.json) writeJson(io, { ...preview, entries, written: true });
    else io.out(entries.length ? `Written, by ${by}: ${entries.length} entries of ${rig.rig}.\n` : 'Nothing is new.\n');
    return ANSWERED;
  });
}

const NOTHING_WRITTEN: Problem = {
  code: 'cli.import-whole',
  what: 'Nothing was imported',
  next: 'Answer what is asked, and run it again.',
};
const NOT_WHOLE: Problem = {
  code: 'cli.import-whole',
  what: 'Nothing was imported',
  expected: 'every line understood',
  next: 'Mend or take out the lines that were not, or say what a column means with --column ROLE=NAME.',
};

/** Every line understood and admitted, or its reasons. Lines that the logbook has already are passed over: importing twice is harmless. */
function judge(mapped: Mapped, rig: OpenRig, by: string, io: Io): { preview: TablePreview; entries: readonly Entry[] } {
  const { table, mapping, names, leftOut } = mapped;
  const { accepted, rejected } = previewTable(table, mapping, {
    state: rig.whole,
    catalog: ownCatalog(rig),
    today: rig.now,
  });
  const there = new Set([...rig.whole.entries.values()].filter(({ id }) => !rig.whole.struck.has(id)).map(contentOf));
  const fresh = accepted.filter(({ drafts }) => !drafts.every((draft) => there.has(contentOf(asEntry(draft, rig)))));
  // Older days first: an odometer is judged by what went before.
  const lines = [...fresh].sort((a, b) =>
    a.drafts[0]!.on < b.drafts[0]!.on ? -1 : a.drafts[0]!.on > b.drafts[0]!.on ? 1 : 0,
  );
  const made = entriesOfDrafts(
    lines.map(({ line, drafts }) => ({ drafts, where: `line ${line}` })),
    rig,
    by,
    io,
  );
  const { dateOrder, decimal, units } = mapping;
  const cellsOf = new Map(table.rows.map(({ line, cells }) => [line, cells]));
  const notNow = notAdmitted(made, cellsOf);
  const refused = [...rejected, ...notNow].sort((a, b) => a.line - b.line);
  const preview = {
    lines: table.rows.length,
    columns: names,
    leftOut,
    dateOrder,
    decimal,
    units,
    accepted: fresh
      .filter(({ line }) => !notNow.some((one) => one.line === line))
      .map(({ line, said }) => ({ line, said })),
    known: accepted.length - fresh.length,
    rejected: refused,
  };
  return { preview, entries: made.ok ? made.value : [] };
}

function notAdmitted(made: Result<unknown>, cellsOf: ReadonlyMap<number, readonly string[]>): Line[] {
  if (made.ok) return [];
  const byLine = new Map<number, Problem[]>();
  for (const problem of made.problems) {
    const line = Number(/^line (\d+)/.exec(problem.where ?? '')?.[1]);
    byLine.set(line, [...(byLine.get(line) ?? []), problem]);
  }
  return [...byLine].map(([line, problems]) => ({ line, cells: cellsOf.get(line) ?? [], problems }));
}

/** A draft as an entry of nobody, to be compared by what it says. */
const asEntry = (draft: Draft, { rig }: OpenRig): Entry => ({ id: '', rig, at: '', by: '', v: 1, ...draft }) as Entry;

/** What an entry says, whoever wrote it whenever. */
const contentOf = (entry: Entry): string => writeEntry({ ...entry, id: '', at: '', by: '' } as Entry);
