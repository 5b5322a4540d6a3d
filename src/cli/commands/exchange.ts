/** `import` and `export`: logbooks as JSON lines, whole or not at all. */
import type { Command } from 'commander';
import { addEntry, admit, type Entry, foldEntries, readEntries, writeEntry } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import { logbookCsv, ROLES } from '../../sheets/index.ts';
import { ANSWERED, refuse, withKeeping, withRig, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import { isStandard, readSheetText, readText, writeText } from '../files.ts';
import type { Io } from '../io.ts';
import { entriesOf, type Keeping, type RigOptions } from '../keeping.ts';
import { problemsText } from '../view/problems.ts';
import { writeOptions } from '../writing.ts';
import { type ImportTableOptions, importTable } from './import-table.ts';
import { type Done, rigCommand } from './options.ts';

interface ImportOptions extends ImportTableOptions {
  readonly asIs?: boolean;
  readonly csv?: boolean;
}

/** Options that say something about a spreadsheet only. */
const OF_TABLES = {
  dateOrder: '--date-order',
  decimal: '--decimal',
  odometerUnit: '--odometer-unit',
  readingUnit: '--reading-unit',
  leaveOut: '--leave-out',
  column: '--column',
  rig: '--rig',
  by: '--by',
  yes: '--yes',
  all: '--all',
} as const;

interface ExportOptions extends RigOptions {
  readonly csv?: boolean;
  readonly force?: boolean;
}

/** What the logbook would not admit, entry by entry in the order of writing. */
async function refused(entries: readonly Entry[], { store, now }: Keeping): Promise<Problem[]> {
  const catalog = shippedCatalog();
  const problems: Problem[] = [];
  for (const rig of new Set(entries.map((entry) => entry.rig))) {
    let state = foldEntries(await entriesOf(store, rig));
    const own = entries.filter((entry) => entry.rig === rig).sort((a, b) => (a.id < b.id ? -1 : 1));
    for (const entry of own) {
      if (!state.entries.has(entry.id)) problems.push(...admit(state, entry, { catalog, today: now }));
      state = addEntry(state, entry);
    }
  }
  return problems;
}

const NOTHING: Problem = {
  code: 'cli.import-empty',
  what: 'There is no entry in it',
  expected: 'JSON lines, as `rigworthy export` writes them',
  next: 'Nothing was imported.',
};

async function bringIn(file: string, options: ImportOptions, io: Io): Promise<number> {
  const isTable = options.csv === true || /\.([ct]sv|xlsx?|ods)$/i.test(file);
  const unused = isTable
    ? options.asIs && '--as-is'
    : Object.entries(OF_TABLES).find(([option]) => options[option as keyof typeof OF_TABLES] !== undefined)?.[1];
  if (unused) {
    const what = `${unused} says nothing about ${isTable ? 'a spreadsheet' : 'a logbook of JSON lines'}`;
    const next = isTable ? 'Leave it out.' : 'Leave it out, or add --csv if the file is a spreadsheet.';
    return refuse(io, [{ code: 'cli.option-unused', what, where: file, next }], options.json);
  }
  const text = isTable ? await readSheetText(file, io) : await readText(file, io);
  if (!text.ok) return refuse(io, text.problems, options.json);
  return isTable ? importTable(text.value, options, io) : importLogbook(text.value, options, io);
}

async function importLogbook(text: string, options: ImportOptions, io: Io): Promise<number> {
  return withKeeping(options, io, async (keeping) => {
    const read = readEntries(text);
    if (!read.ok)
      return refuse(
        io,
        [
          ...read.problems,
          { code: 'cli.import-whole', what: 'Nothing was imported', expected: 'a file that is whole' },
        ],
        options.json,
      );
    if (read.value.length === 0) return refuse(io, [NOTHING], options.json);
    const odd = await refused(read.value, keeping);
    if (odd.length && !options.asIs) {
      const how: Problem = {
        code: 'cli.import-whole',
        what: 'Nothing was imported',
        next: 'If these entries were kept before and shall come in as they are, add --as-is.',
      };
      return refuse(io, [...odd, how], options.json);
    }
    const appended = await keeping.store.append(read.value, { via: 'import' });
    if (!appended.ok) return refuse(io, appended.problems, options.json);
    const { added, known } = appended.value;
    const rigs = [...appended.value.cursors.keys()];
    if (odd.length) io.err(problemsText(odd));
    if (options.json) writeJson(io, { added, known, rigs, odd });
    else
      io.out(
        `Imported ${added} ${added === 1 ? 'entry' : 'entries'} of ${rigs.join(', ')}${known ? `; ${known} were there already` : ''}.\n`,
      );
    return ANSWERED;
  });
}

async function sendOut(file: string | undefined, options: ExportOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const all = foldEntries(await entriesOf(rig.store, rig.rig));
    const entries = all.entries.inOrder();
    const text = options.csv ? logbookCsv(all, shippedCatalog()) : `${entries.map(writeEntry).join('\n')}\n`;
    if (isStandard(file)) {
      io.out(text);
      return ANSWERED;
    }
    const kept = await writeText(file, text, options.force);
    if (!kept.ok) return refuse(io, kept.problems, options.json);
    if (options.json) writeJson(io, { file, rig: rig.rig, entries: entries.length });
    else io.out(`${entries.length} entries of ${rig.rig} are in ${file}.\n`);
    return ANSWERED;
  });
}

/** `rigworthy import FILE` and `rigworthy export [FILE]`. */
export function addExchange(program: Command, io: Io, done: Done): void {
  writeOptions(rigCommand(program, 'import').description('bring in a logbook or a spreadsheet: all of it, or nothing'))
    .argument('<file>', 'JSON lines, as export writes them; a spreadsheet as .csv; - for the standard input')
    .option('--as-is', 'also take entries that could not be written down today; they are told')
    .option('--csv', 'it is a spreadsheet, whatever its name')
    .option(
      '--column <role=name>',
      `what a column means (${ROLES.join(', ')}); ROLE=- for none`,
      (one, all: string[] | undefined) => [...(all ?? []), one],
    )
    .option('--date-order <order>', 'ymd, dmy or mdy')
    .option('--decimal <sign>', '. or ,')
    .option('--odometer-unit <unit>', 'mi or km')
    .option('--reading-unit <unit>', 'psi, kPa or bar')
    .option('--leave-out <lines>', 'lines not to be brought in: 5,9-12')
    .option('--all', 'show every line that would be written')
    .action((file: string, options: ImportOptions) => done(bringIn(file, options, io)));
  rigCommand(program, 'export')
    .description('write the whole logbook to a file or the standard output')
    .argument('[file]', 'where to; nothing or - for the standard output')
    .option('--csv', 'a spreadsheet to read; it does not come back in')
    .option('--force', 'replace the file if it is there')
    .action((file: string | undefined, options: ExportOptions) => done(sendOut(file, options, io)));
}
