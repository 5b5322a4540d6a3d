/** `backup`, `restore` and `drill`: a copy that was read back whole, its way back, and whether it is one. */
import { rm, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Command } from 'commander';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import {
  type AccessRestored,
  type CheckReport,
  clearAbandonedTemporary,
  decryptCopy,
  type FoundCopy,
  holdDrill,
  listCopies,
  makeCopy,
  newestGoodCopy,
  type Restored,
  readRecipient,
  restoreCopy,
  type Target,
  temporaryFolder,
} from '../../store/index.ts';
import { ANSWERED, NOT_RIGHT, refuse, withKeeping, writeJson } from '../answer.ts';
import type { Io } from '../io.ts';
import { dataFolder, makeFolder, type RigOptions, targetOf } from '../keeping.ts';
import { problemsText } from '../view/problems.ts';
import { paragraph } from '../view/text.ts';
import { type Done, placeOptions } from './options.ts';
import { copiesFolder, keptRecipient, type PhraseOptions, phraseGiven, phraseOption } from './recovery.ts';

interface BackupOptions extends RigOptions {
  readonly out?: string;
  readonly to?: string;
}

interface RestoreOptions extends RigOptions, PhraseOptions {
  readonly from?: string;
}

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
    const recipient = options.to === undefined ? await keptRecipient(folder) : readRecipient(options.to);
    if (!recipient.ok) return refuse(io, recipient.problems, options.json);
    const out = options.out ?? copiesFolder(folder);
    const made = await makeFolder(out, '--out');
    if (!made.ok) return refuse(io, made.problems, options.json);
    const copy = await makeCopy(store, out, io.clock(), recipient.value);
    const { rigs, blobs } = copy.report;
    const madeAt = new Date(copy.madeAt).toISOString();
    if (options.json) writeJson(io, { file: copy.file, madeAt, rigs, blobs, encryptedTo: recipient.value ?? null });
    else {
      const how = recipient.value === undefined ? 'Copied' : `Copied, encrypted to ${recipient.value},`;
      io.out(`${how} and read back whole: ${held(copy.report)}.\n    ${copy.file}\n`);
    }
    return ANSWERED;
  });
}

interface Chosen extends Pick<FoundCopy, 'doubtful'> {
  readonly file: string;
  /** Newer copies that are not good, and were passed over. */
  readonly passedOver: readonly Problem[];
}

/** The copy that is named, or the newest good one of a folder. Problems: `cli.copy-none`, `cli.copy-unreadable`. */
async function copyOf(from: string, now: number): Promise<Result<Chosen>> {
  const found = await stat(from).catch((error: NodeJS.ErrnoException) => error);
  if (found instanceof Error && found.code !== 'ENOENT') {
    return fail({ code: 'cli.copy-unreadable', what: `The copy cannot be read: ${found.message}`, where: from });
  }
  if (!(found instanceof Error) && !found.isDirectory()) return ok({ file: from, passedOver: [], doubtful: [] });
  const nothing: FoundCopy = { bad: [], doubtful: [] };
  const { copy, bad, doubtful } = found instanceof Error ? nothing : await newestGoodCopy(from, now);
  const passedOver = bad.map(({ file, problems }) => ({ ...problems[0]!, where: file }));
  if (copy) return ok({ file: copy.file, passedOver, doubtful });
  const none: Problem = {
    code: 'cli.copy-none',
    what: passedOver.length ? 'None of the copies here is good' : 'There is no copy here',
    where: from,
    expected: 'a copy, or a folder with copies that `rigworthy backup` or `rigworthy serve` made',
    next: 'Name one with --from. Nothing was changed.',
  };
  return { ok: false, problems: [...passedOver, none] };
}

/** Puts a copy back, one that is encrypted by way of a private temporary folder. Problems: those of `decryptCopy` and `restoreCopy`. */
async function putBack(file: string, target: Target, options: RestoreOptions, io: Io): Promise<Result<Restored>> {
  if (!file.endsWith('.age')) return restoreCopy(file, target, io.clock());
  const identity = await phraseGiven(options, io);
  if (!identity.ok) return identity;
  clearAbandonedTemporary();
  const place = await temporaryFolder('restore');
  try {
    const clear = await decryptCopy(file, identity.value, place);
    return clear.ok ? await restoreCopy(clear.value, target, io.clock()) : clear;
  } finally {
    await rm(place, { recursive: true, force: true });
  }
}

async function restore(options: RestoreOptions, io: Io): Promise<number> {
  const target = targetOf(options, io);
  if (!target.ok) return refuse(io, target.problems, options.json);
  const chosen = await copyOf(options.from ?? copiesFolder(dataFolder(options, io)), io.clock());
  if (!chosen.ok) return refuse(io, chosen.problems, options.json);
  const { file, passedOver, doubtful } = chosen.value;
  const restored = await putBack(file, target.value, options, io);
  if (!restored.ok) return refuse(io, restored.problems, options.json);
  const { report, replaced, access } = restored.value;
  if (options.json) {
    const { rigs, blobs } = report;
    writeJson(io, { file, rigs, blobs, replaced: replaced ?? null, passedOver, doubtful, access });
    return ANSWERED;
  }
  if (passedOver.length) io.err(`Passed over, newer but not good:\n${problemsText(passedOver)}`);
  if (doubtful.length) {
    io.err('The newest was chosen by what the copies hold, since these names are not to be believed:\n');
    for (const one of doubtful) io.err(`${paragraph(`${one.doubt} (${one.file}).`, '! ')}\n`);
  }
  io.out(
    [
      `Put back: ${held(report)}.`,
      `From ${file}${await madeWhen(file, io)}.`,
      replaced ? `What was there before is kept: ${replaced}.` : 'There was nothing in its place.',
      paragraph('Devices that keep the logbook, too, will hand in again what is not in the copy.'),
      ...accessTold(access).map((text) => paragraph(text)),
      '',
    ].join('\n'),
  );
  return ANSWERED;
}

/** What the restore changed about who may come in. */
function accessTold({ kind, people, links, ownerless }: AccessRestored): string[] {
  const who = counted(people, 'account', 'accounts');
  const what = counted(links, 'link or invitation', 'links and invitations');
  const ownerlessTold = ownerless.map(
    (rig) => `Nobody here is an owner of ${rig}: \`rigworthy account role NAME --rig ${rig}\` makes somebody one.`,
  );
  switch (kind) {
    case 'none':
      return [];
    case 'kept':
      return [
        `Who may come in stays as it was here before: ${who} with today’s passwords and roles, ${what}. Nothing of the kind is taken from the copy. Everybody must sign in again.`,
        ...ownerlessTold,
      ];
    case 'copy':
      return [
        `This is a new place: ${who} with the passwords and roles of the copy. Who was removed, or changed a password, after it was made is back as before: look at \`rigworthy account list\`. ${what} of the copy are void; make new ones. Everybody must sign in again.`,
        ...ownerlessTold,
      ];
    case 'locked':
      return [
        `What was here about access cannot be read any more, so nobody can tell who was shut out since the copy. ${who} are back as in the copy, and none can sign in until \`rigworthy account password NAME\` gives a new one. Look at \`rigworthy account list\` first, and remove who is not to come back. ${what} of the copy are void.`,
        ...ownerlessTold,
      ];
  }
}

/** `, made on 2026-05-27 at 18:00 UTC`, where the copy’s name says so. */
async function madeWhen(file: string, io: Io): Promise<string> {
  const copy = (await listCopies(dirname(file), io.clock())).find((one) => one.file === file);
  const at = copy && new Date(copy.madeAt).toISOString();
  if (at === undefined) return '';
  return `, made on ${at.slice(0, 10)} at ${at.slice(11, 16)} UTC${copy?.doubt ? ' by a clock that was wrong' : ''}`;
}

async function drill(options: RestoreOptions, io: Io): Promise<number> {
  const folder = options.from ?? copiesFolder(dataFolder(options, io));
  const isEncrypted = (await listCopies(folder, io.clock()))[0]?.encrypted === true;
  const isGiven = options.phraseFile !== undefined || io.env.RIGWORTHY_PHRASE !== undefined || io.ask !== undefined;
  const identity = isEncrypted && isGiven ? await phraseGiven(options, io) : undefined;
  if (identity && !identity.ok) return refuse(io, identity.problems, options.json);
  const report = await holdDrill(folder, io.clock(), identity?.value);
  if (options.json) writeJson(io, report);
  else io.out(`${paragraph(`Restore drill: ${report.what}.`)}\n`);
  return report.outcome === 'failed' || report.outcome === 'none' ? NOT_RIGHT : ANSWERED;
}

/** `rigworthy backup`, `rigworthy restore` and `rigworthy drill`. */
export function addCopies(program: Command, io: Io, done: Done): void {
  placeOptions(program.command('backup'))
    .description('copy everything kept, while it is in use, and read the copy back')
    .option('--out <folder>', 'where copies are kept (default: copies in the data folder)')
    .option('--to <recipient>', 'encrypt the copy to this age recipient, age1… (default: that of `rigworthy recovery`)')
    .action((options: BackupOptions) => done(backup(options, io)));
  phraseOption(placeOptions(program.command('restore')))
    .description('go back to a copy; what is there now is kept beside it')
    .option('--from <copy>', 'a copy, or a folder: its newest good one (default: copies in the data folder)')
    .action((options: RestoreOptions) => done(restore(options, io)));
  phraseOption(placeOptions(program.command('drill')))
    .description('try whether the newest copy comes back, in a place of its own')
    .option('--from <folder>', 'a folder with copies (default: copies in the data folder)')
    .action((options: RestoreOptions) => done(drill(options, io)));
}
