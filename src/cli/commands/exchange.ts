/** `import` and `export`: logbooks as JSON lines, whole or not at all. */
import type { Command } from 'commander';
import { writeEntry } from '../../logbook/index.ts';
import { logbookCsv, ROLES } from '../../sheets/index.ts';
import { ANSWERED, refuse, withRig, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import { isStandard, readSheetText, writeText } from '../files.ts';
import type { Io } from '../io.ts';
import { logbookOf } from '../keeping.ts';
import { writeOptions } from '../writing.ts';
import { type ExportArchiveOptions, exportArchive } from './export-archive.ts';
import { type ImportLinesOptions, importLogbook } from './import-lines.ts';
import { type ImportTableOptions, importTable } from './import-table.ts';
import { type Done, rigCommand } from './options.ts';

interface ImportOptions extends ImportTableOptions, ImportLinesOptions {
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

interface ExportOptions extends ExportArchiveOptions {
  readonly csv?: boolean;
}

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
  if (!isTable) return importLogbook(file, options, io);
  const text = await readSheetText(file, io);
  return text.ok ? importTable(text.value, options, io) : refuse(io, text.problems, options.json);
}

async function sendOut(file: string | undefined, options: ExportOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    if (file !== undefined && /\.zip$/i.test(file) && !options.csv) return exportArchive(rig, file, options, io);
    const book = await logbookOf(rig.store, rig.rig);
    const entries = rig.whole.entries.inOrder();
    // What this version cannot read goes along as it came: a newer one may take it in.
    const lines = [...entries.map(writeEntry), ...book.unread.map(({ raw }) => JSON.stringify(raw))];
    const text = options.csv ? logbookCsv(rig.whole, shippedCatalog()) : `${lines.join('\n')}\n`;
    if (isStandard(file)) {
      io.out(text);
      return ANSWERED;
    }
    const kept = await writeText(file, text, options.force);
    if (!kept.ok) return refuse(io, kept.problems, options.json);
    if (options.json) writeJson(io, { file, rig: rig.rig, entries: lines.length });
    else io.out(`${lines.length} entries of ${rig.rig} are in ${file}.\n`);
    return ANSWERED;
  });
}

/** `rigworthy import FILE` and `rigworthy export [FILE]`. */
export function addExchange(program: Command, io: Io, done: Done): void {
  writeOptions(rigCommand(program, 'import').description('bring in a logbook or a spreadsheet: all of it, or nothing'))
    .argument('<file>', 'JSON lines or a .zip, as export writes them; a spreadsheet as .csv; - for the standard input')
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
    .description('write the whole logbook to a file or the standard output; with photos to a .zip')
    .argument('[file]', 'where to; nothing or - for the standard output; FILE.zip for photos, too')
    .option('--with-places', 'with .zip: photos as they are, with where they were taken')
    .option('--csv', 'a spreadsheet to read; it does not come back in')
    .option('--force', 'replace the file if it is there')
    .action((file: string | undefined, options: ExportOptions) => done(sendOut(file, options, io)));
}
