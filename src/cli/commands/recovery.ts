/** `recovery`: to whom copies are encrypted, and the phrase that is the only way back. */
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Command } from 'commander';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { identityOf, makePhrase, readRecipient, recipientOf, writeWhole } from '../../store/index.ts';
import { ANSWERED, REFUSED, refuse, writeJson } from '../answer.ts';
import type { Io } from '../io.ts';
import { dataFolder, makeFolder, type RigOptions } from '../keeping.ts';
import { paragraph } from '../view/text.ts';
import { type Done, placeOptions } from './options.ts';

/** Where `serve` keeps the copies that it makes by itself. */
export const copiesFolder = (folder: string): string => join(folder, 'copies');

/** Only the public half is kept. */
const recipientFile = (folder: string): string => join(folder, 'recipient.txt');

/** To whom copies are encrypted by themselves; undefined: to nobody. Problems: `store.recipient` (the file holds something else). */
export async function keptRecipient(folder: string): Promise<Result<string | undefined>> {
  const file = recipientFile(folder);
  const text = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  if (text === undefined) return ok(undefined);
  const recipient = readRecipient(text);
  return recipient.ok ? recipient : fail({ ...recipient.problems[0]!, where: file });
}

export interface PhraseOptions {
  readonly phraseFile?: string;
}

export const phraseOption = (command: Command): Command =>
  command.option('--phrase-file <file>', 'where the recovery phrase stands; - for the standard input');

/**
 * The identity of the phrase that is given: by `--phrase-file`, in the environment as `RIGWORTHY_PHRASE`, or typed by whoever is at
 * the terminal. Never as an argument, which other users of the machine can see.
 *
 * Problems: `cli.phrase-needed`, `cli.file-unreadable`, `store.phrase`.
 */
export async function phraseGiven({ phraseFile }: PhraseOptions, io: Io): Promise<Result<string>> {
  if (phraseFile === '-') return identityOf(await io.input());
  if (phraseFile !== undefined) {
    const text = await readFile(phraseFile, 'utf8').catch((error: Error) => error);
    if (typeof text === 'string') return identityOf(text);
    return fail({ code: 'cli.file-unreadable', what: `The file cannot be read: ${text.message}`, where: phraseFile });
  }
  const { RIGWORTHY_PHRASE } = io.env;
  if (RIGWORTHY_PHRASE !== undefined) return identityOf(RIGWORTHY_PHRASE);
  if (io.ask) return identityOf(await io.ask('Recovery phrase: ', true));
  return fail({
    code: 'cli.phrase-needed',
    what: 'This copy is encrypted, and its recovery phrase was not given',
    expected: '--phrase-file FILE, RIGWORTHY_PHRASE in the environment, or somebody at the terminal',
    next: 'Nothing was changed.',
  });
}

async function keep(recipient: string, options: RigOptions, io: Io): Promise<number> {
  const folder = dataFolder(options, io);
  const made = await makeFolder(folder, '--data');
  if (!made.ok) return refuse(io, made.problems, options.json);
  await writeWhole(recipientFile(folder), `${recipient}\n`);
  if (options.json) writeJson(io, { recipient });
  else {
    io.out(`Copies made from now on are encrypted to ${recipient}.\n`);
    io.out(
      `${paragraph('Those made before stay as they are; delete them in the folder of copies if they shall not.')}\n`,
    );
  }
  return ANSWERED;
}

const NOBODY: Problem = {
  code: 'cli.recovery-terminal',
  what: 'A recovery phrase is shown to a person at a terminal, once, and nobody is there',
  next: 'Run it at a terminal, or make a key with an age program and set its recipient with `rigworthy recovery set age1…`.',
};

async function makeNew(options: RigOptions, io: Io): Promise<number> {
  if (!io.ask || options.json) return refuse(io, [NOBODY], options.json);
  const phrase = makePhrase();
  const words = phrase.split(' ').map((word, at) => `${String(at + 1).padStart(2)} ${word.padEnd(10)}`);
  io.err('Recovery phrase: write these twelve words on paper, in this order.\n\n');
  for (let row = 0; row < 12; row += 4) io.err(`    ${words.slice(row, row + 4).join('')}\n`);
  io.err(
    `\n${paragraph('They are shown this once and kept nowhere. Whoever has them can read your encrypted copies; without them nobody can, not even you.')}\n\n`,
  );
  const typed = await identityOf(await io.ask('Type them from the paper: '));
  const identity = await identityOf(phrase);
  if (!typed.ok || !identity.ok || typed.value !== identity.value) {
    io.err('These are not the same words. Nothing was set; start again for a new phrase.\n');
    return REFUSED;
  }
  return keep(await recipientOf(identity.value), options, io);
}

async function set(text: string, options: RigOptions, io: Io): Promise<number> {
  const recipient = readRecipient(text);
  return recipient.ok ? keep(recipient.value, options, io) : refuse(io, recipient.problems, options.json);
}

async function show(options: RigOptions, io: Io): Promise<number> {
  const recipient = await keptRecipient(dataFolder(options, io));
  if (!recipient.ok) return refuse(io, recipient.problems, options.json);
  if (options.json) writeJson(io, { recipient: recipient.value ?? null });
  else io.out(recipient.value ? `Copies are encrypted to ${recipient.value}.\n` : 'Copies are not encrypted.\n');
  return ANSWERED;
}

async function off(options: RigOptions, io: Io): Promise<number> {
  await rm(recipientFile(dataFolder(options, io)), { force: true });
  if (options.json) writeJson(io, { recipient: null });
  else io.out('Copies made from now on are not encrypted. Those made before need their phrase as ever.\n');
  return ANSWERED;
}

/** `rigworthy recovery new|set|show|off` */
export function addRecovery(program: Command, io: Io, done: Done): void {
  const recovery = program.command('recovery').description('to whom copies are encrypted, and the way back to them');
  placeOptions(recovery.command('new'))
    .description('make a recovery phrase, shown once and kept nowhere; copies are then encrypted to it')
    .action((options: RigOptions) => done(makeNew(options, io)));
  placeOptions(recovery.command('set'))
    .description('encrypt copies to the recipient of a key that an age program made')
    .argument('<recipient>', 'age1…')
    .action((recipient: string, options: RigOptions) => done(set(recipient, options, io)));
  placeOptions(recovery.command('show'))
    .description('to whom copies are encrypted')
    .action((options: RigOptions) => done(show(options, io)));
  placeOptions(recovery.command('off'))
    .description('make copies that are not encrypted')
    .action((options: RigOptions) => done(off(options, io)));
}
