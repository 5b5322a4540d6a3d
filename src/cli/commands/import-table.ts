/** `import FILE.csv`: what each line would write is shown first; all of them are written, or none. */
import type { Entry } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import { judgeTable, type Mapping, readTable, type Table } from '../../sheets/index.ts';
import { ANSWERED, REFUSED, refuse, withRig, writeJson } from '../answer.ts';
import { ownCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { OpenRig } from '../keeping.ts';
import { linesLeftOut, type MappingOptions, mappingOf } from '../mapping.ts';
import { type TablePreview, tablePreviewText } from '../view/table-preview.ts';
import {
  confirmed,
  entriesOfDrafts,
  keepSigned,
  mustRefuse,
  NOT_CONFIRMED,
  type WriteOptions,
  writerOf,
} from '../writing.ts';

export interface ImportTableOptions extends WriteOptions, MappingOptions {
  readonly all?: boolean;
}

/** Brings a spreadsheet into the logbook of one rig. */
export async function importTable(text: string, options: ImportTableOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const table = readTable(text);
    if (!table.ok) return refuse(io, table.problems, options.json);
    const mapping = mappingOf(table.value, options);
    if (!mapping.ok) return refuse(io, [...mapping.problems, NOTHING_WRITTEN], options.json);
    const left = linesLeftOut(table.value, options.leaveOut);
    if (!left.ok) return refuse(io, [...left.problems, NOTHING_WRITTEN], options.json);
    const by = writerOf(options, io);
    const { preview, entries } = judge(table.value, mapping.value, left.value, rig, by, io);
    if (!options.json) io.out(tablePreviewText(preview, options.all === true));
    const stopped = preview.rejected.length
      ? notWhole(preview)
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
    const appended = await keepSigned(rig, entries, { by, via: 'import', io });
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
const notWhole = ({ rejected }: TablePreview): Problem => ({
  code: 'cli.import-whole',
  what: 'Nothing was imported',
  expected: 'every line understood',
  next: `Mend the lines that were not, or say what a column means with --column ROLE=NAME, or leave them out knowingly: --leave-out ${spans(rejected.map(({ line }) => line))}.`,
});

/** `5,9-12`. */
function spans(lines: readonly number[]): string {
  const ends: [from: number, to: number][] = [];
  for (const line of lines) {
    const last = ends.at(-1);
    if (last && line === last[1] + 1) last[1] = line;
    else ends.push([line, line]);
  }
  return ends.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(',');
}

function judge(
  table: Table,
  mapping: Mapping,
  leaveOut: readonly number[],
  rig: OpenRig,
  by: string,
  io: Io,
): { preview: TablePreview; entries: readonly Entry[] } {
  const { accepted, known, rejected, passed, made } = judgeTable(table, mapping, {
    state: rig.whole,
    catalog: ownCatalog(rig),
    today: rig.now,
    leaveOut,
    prepare: (drafts) => entriesOfDrafts(drafts, rig, by, io),
  });
  const { dateOrder, decimal } = mapping;
  const columns = table.columns.map((name, index) => ({
    name,
    role: mapping.roles[index]!,
    ...(mapping.units[index] === undefined ? {} : { unit: mapping.units[index] }),
  }));
  const preview = { lines: table.rows.length, columns, dateOrder, decimal, accepted, known, passed, rejected };
  return { preview, entries: made.ok ? made.value : [] };
}
