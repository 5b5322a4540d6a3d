/** `backup` and `restore`: a copy that was read back whole, and its way back. */
import { stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Command } from 'commander';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { type CheckReport, listCopies, makeCopy, newestGoodCopy, restoreCopy } from '../../store/index.ts';
import { ANSWERED, refuse, withKeeping, writeJson } from '../answer.ts';
import type { Io } from '../io.ts';
import { dataFolder, makeFolder, type RigOptions, targetOf } from '../keeping.ts';
import { problemsText } from '../view/problems.ts';
import { paragraph } from '../view/text.ts';
import { type Done, placeOptions } from './options.ts';

interface BackupOptions extends RigOptions {
  readonly out?: string;
}

interface RestoreOptions extends RigOptions {
  readonly from?: string;
}

/** Where `serve` keeps the copies that it makes by itself. */
export const copiesFolder = (folder: string): string => join(folder, 'copies');

const counted = (count: number, one: string, many: string): string =>
  `${count.toLocaleString('en-US')} ${count === 1 ? one : many}`;

/** `marigold 447 entries, and 3 photos and papers`. */
function held({ rigs, blobs }: Pick<CheckReport, 'rigs' | 'blobs'>): string {
  const each = rigs.map(({ rig, entries }) => `${rig} ${counted(entries, 'entry', 'entries')}`).join(', ');
  return `${each}; ${counted(blobs.count, 'photo or paper', 'photos and papers')}`;
}

async function backup(options: BackupOptions, io: Io): Promise<number> {
  return withKeeping(options, io, async ({ store, folder }) => {
    // A copy of nothing would be the newest good one.
    if ((await store.rigs()).length === 0) {
      const what = 'There is no logbook here to copy';
      return refuse(io, [{ code: 'cli.backup-empty', what, where: store.place.where }], options.json);
    }
    const out = options.out ?? copiesFolder(folder);
    const made = await makeFolder(out, '--out');
    if (!made.ok) return refuse(io, made.problems, options.json);
    const copy = await makeCopy(store, out, io.clock());
    const { rigs, blobs } = copy.report;
    const madeAt = new Date(copy.madeAt).toISOString();
    if (options.json) writeJson(io, { file: copy.file, madeAt, rigs, blobs });
    else io.out(`Copied and read back whole: ${held(copy.report)}.\n    ${copy.file}\n`);
    return ANSWERED;
  });
}

interface Chosen {
  readonly file: string;
  /** Newer copies that are not good, and were passed over. */
  readonly passedOver: readonly Problem[];
}

/** The copy that is named, or the newest good one of a folder. Problems: `cli.copy-none`, `cli.copy-unreadable`. */
async function copyOf(from: string): Promise<Result<Chosen>> {
  const found = await stat(from).catch((error: NodeJS.ErrnoException) => error);
  if (found instanceof Error && found.code !== 'ENOENT') {
    return fail({ code: 'cli.copy-unreadable', what: `The copy cannot be read: ${found.message}`, where: from });
  }
  if (!(found instanceof Error) && !found.isDirectory()) return ok({ file: from, passedOver: [] });
  const { copy, bad } = found instanceof Error ? { bad: [] } : await newestGoodCopy(from);
  const passedOver = bad.map(({ file, problems }) => ({ ...problems[0]!, where: file }));
  if (copy) return ok({ file: copy.file, passedOver });
  const none: Problem = {
    code: 'cli.copy-none',
    what: passedOver.length ? 'None of the copies here is good' : 'There is no copy here',
    where: from,
    expected: 'a copy, or a folder with copies that `rigworthy backup` or `rigworthy serve` made',
    next: 'Name one with --from. Nothing was changed.',
  };
  return { ok: false, problems: [...passedOver, none] };
}

async function restore(options: RestoreOptions, io: Io): Promise<number> {
  const target = targetOf(options, io);
  if (!target.ok) return refuse(io, target.problems, options.json);
  const chosen = await copyOf(options.from ?? copiesFolder(dataFolder(options, io)));
  if (!chosen.ok) return refuse(io, chosen.problems, options.json);
  const { file, passedOver } = chosen.value;
  const restored = await restoreCopy(file, target.value, io.clock());
  if (!restored.ok) return refuse(io, restored.problems, options.json);
  const { report, replaced } = restored.value;
  if (options.json) {
    const { rigs, blobs } = report;
    writeJson(io, { file, rigs, blobs, replaced: replaced ?? null, passedOver });
    return ANSWERED;
  }
  if (passedOver.length) io.err(`Passed over, newer but not good:\n${problemsText(passedOver)}`);
  io.out(
    [
      `Put back: ${held(report)}.`,
      `From ${file}${await madeWhen(file)}.`,
      replaced ? `What was there before is kept: ${replaced}.` : 'There was nothing in its place.',
      paragraph('Devices that keep the logbook, too, will hand in again what is not in the copy.'),
      '',
    ].join('\n'),
  );
  return ANSWERED;
}

/** `, made on 2026-05-27 at 18:00 UTC`, where the copy’s name says so. */
async function madeWhen(file: string): Promise<string> {
  const copy = (await listCopies(dirname(file))).find((one) => one.file === file);
  const at = copy && new Date(copy.madeAt).toISOString();
  return at === undefined ? '' : `, made on ${at.slice(0, 10)} at ${at.slice(11, 16)} UTC`;
}

/** `rigworthy backup` and `rigworthy restore`. */
export function addCopies(program: Command, io: Io, done: Done): void {
  placeOptions(program.command('backup'))
    .description('copy everything kept, while it is in use, and read the copy back')
    .option('--out <folder>', 'where copies are kept (default: copies in the data folder)')
    .action((options: BackupOptions) => done(backup(options, io)));
  placeOptions(program.command('restore'))
    .description('go back to a copy; what is there now is kept beside it')
    .option('--from <copy>', 'a copy, or a folder: its newest good one (default: copies in the data folder)')
    .action((options: RestoreOptions) => done(restore(options, io)));
}
