/** `verify`: what the signatures of devices prove about a logbook. `device`: this machine's own key, and the others that signed. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command } from 'commander';
import { formatDate } from '../../dates/index.ts';
import { type Entry, readEntries } from '../../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import {
  fingerprint,
  type Head,
  headCode,
  headOf,
  publicKeyOf,
  type Verification,
  verificationLines,
  verifyLogbook,
} from '../../proof/index.ts';
import { openArchive } from '../../store/index.ts';
import { ANSWERED, NOT_RIGHT, refuse, withRig, writeJson } from '../answer.ts';
import { writeText } from '../files.ts';
import type { Io } from '../io.ts';
import { logbookOf, type OpenRig, type RigOptions } from '../keeping.ts';
import { deviceOf, renameDevice, replaceKey, statementsOf } from '../signing.ts';
import { paragraph } from '../view/text.ts';
import { type WriteOptions, writeOptions, writerOf } from '../writing.ts';
import { type Done, rigCommand } from './options.ts';

interface VerifyOptions extends RigOptions {
  readonly head?: readonly string[];
  readonly without?: readonly string[];
  readonly page?: string;
  readonly force?: boolean;
}

/** The page among the files of the browser app. */
const VERIFY_PAGE = 'verify.html';

/** Every entry of a file of JSON lines or an archive. Problems: those of `readEntries` and `openArchive`, `cli.file`. */
async function entriesIn(file: string): Promise<Result<Entry[]>> {
  if (!/\.zip$/i.test(file)) {
    const text = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => error);
    if (typeof text === 'string') return readEntries(text);
    return fail({ code: 'cli.file', what: `This file cannot be read: ${text.message}`, where: file });
  }
  const archive = await openArchive(file);
  if (!archive.ok) return archive;
  const folder = await mkdtemp(join(tmpdir(), 'rigworthy-verify-'));
  try {
    const lines = join(folder, 'logbook.jsonl');
    await archive.value.unpackLogbook(lines);
    return readEntries(await readFile(lines, 'utf8'));
  } finally {
    await archive.value.close();
    await rm(folder, { recursive: true, force: true });
  }
}

/** Keys as a person types them, in groups or not. */
const keysOf = ({ without = [] }: VerifyOptions): string[] =>
  without.map((key) => key.toLowerCase().replace(/\s/g, '')).filter((key) => key.length >= 8);

function headsOf(codes: readonly string[]): Result<Head[]> {
  const heads: Head[] = [];
  for (const code of codes) {
    const head = headOf(code);
    if (!head)
      return fail({
        code: 'cli.head',
        what: `“${code}” is not a code of a statement`,
        where: '--head',
        expected: 'a code as `rigworthy device` prints it, such as 3f9a02c4d1e0aa12-7-a1b2c3d4e5f60718',
      });
    heads.push(head);
  }
  return ok(heads);
}

const LEADS = { wrong: '! ', doubt: '? ', plain: '', verdict: '' } as const;

function report(found: Verification, entries: readonly Entry[], options: VerifyOptions, io: Io): number {
  const { witnessed, ...rest } = found;
  if (options.json) writeJson(io, { ...rest, witnessed: Object.fromEntries(witnessed) });
  else for (const { kind, text } of verificationLines(found, entries)) io.out(`${paragraph(text, LEADS[kind])}\n`);
  return found.whole ? ANSWERED : NOT_RIGHT;
}

/** Writes the page that verifies in any browser, without a network. */
async function writePage(to: string, options: VerifyOptions, io: Io): Promise<number> {
  const built = io.webFolder === undefined ? undefined : join(io.webFolder, VERIFY_PAGE);
  const html = built === undefined ? undefined : await readFile(built, 'utf8').catch(() => undefined);
  if (html === undefined) {
    const what = 'The page has not been built';
    return refuse(io, [{ code: 'cli.page-unbuilt', what, next: 'Run `npm run build`, then try again.' }], options.json);
  }
  const kept = await writeText(to, html, options.force);
  if (!kept.ok) return refuse(io, kept.problems, options.json);
  if (options.json) writeJson(io, { file: to });
  else io.out(`${to} verifies a logbook in any browser. It needs no network and sends nothing.\n`);
  return ANSWERED;
}

async function verify(file: string | undefined, options: VerifyOptions, io: Io): Promise<number> {
  if (options.page !== undefined) return writePage(options.page, options, io);
  const heads = headsOf(options.head ?? []);
  if (!heads.ok) return refuse(io, heads.problems, options.json);
  if (file === undefined)
    return withRig(options, io, async (rig) => {
      const { entries } = await logbookOf(rig.store, rig.rig);
      return report(verifyLogbook(entries, heads.value, keysOf(options)), entries, options, io);
    });
  const entries = await entriesIn(file);
  if (!entries.ok) return refuse(io, entries.problems, options.json);
  const rigs = [...new Set(entries.value.map((entry) => entry.rig))];
  const rig = options.rig ?? rigs[0];
  if (rigs.length > 1 && options.rig === undefined)
    return refuse(
      io,
      [
        {
          code: 'cli.rig-many',
          what: `The file has ${rigs.length} rigs`,
          where: file,
          expected: `--rig with one of ${rigs.join(', ')}`,
        },
      ],
      options.json,
    );
  const own = entries.value.filter((entry) => entry.rig === rig);
  return report(verifyLogbook(own, heads.value, keysOf(options)), own, options, io);
}

/** Signs what this machine holds and has not signed, and says which code to keep elsewhere. */
async function sign(rig: OpenRig, options: WriteOptions, io: Io, retires: readonly string[] = []): Promise<number> {
  const device = await deviceOf(rig.folder);
  if (!device.ok) return refuse(io, device.problems, options.json);
  const holds = [...rig.whole.entries.values()];
  const by = writerOf(options, io);
  const statements = await statementsOf(device.value, rig.rig, holds, { by, on: rig.now, io, retires });
  const written = await rig.store.append(statements, { via: by });
  if (!written.ok) return refuse(io, written.problems, options.json);
  const own = publicKeyOf(device.value.secret);
  const head = verifyLogbook([...holds, ...statements]).devices.find((one) => one.device === own)?.head;
  const signed = statements.reduce((sum, entry) => sum + (entry.kind === 'witness' ? entry.body.holds.length : 0), 0);
  if (options.json) writeJson(io, { device: own, name: device.value.name, signed, head: head ? headCode(head) : null });
  else
    io.out(
      `${signed === 0 ? 'Nothing new to sign' : `Signed ${signed} ${signed === 1 ? 'entry' : 'entries'}`} as “${device.value.name}” (${fingerprint(own)}).\n${
        head ? `Keep this code somewhere else, on paper or another device:\n    ${headCode(head)}\n` : ''
      }`,
    );
  return ANSWERED;
}

const unknownDevice = (key: string, known: readonly string[]): Problem => ({
  code: 'cli.device',
  what: `No device with the key “${key}” has signed this logbook`,
  expected: known.length ? known.map((one) => fingerprint(one)).join(', ') : 'a device; none has signed yet',
});

/** Ends the key of a device that was lost, or this machine's own, which then gets a new one. */
async function end(key: string | undefined, options: WriteOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const device = await deviceOf(rig.folder);
    if (!device.ok) return refuse(io, device.problems, options.json);
    const own = publicKeyOf(device.value.secret);
    const known = verifyLogbook(rig.whole.entries.values()).devices.map((one) => one.device);
    const plain = (text: string): string => text.toLowerCase().replace(/\s/g, '');
    const ended =
      key === undefined
        ? own
        : known.find(
            (one) =>
              plain(key).length >= 8 && (one.startsWith(plain(key)) || plain(fingerprint(one)).startsWith(plain(key))),
          );
    if (ended === undefined) return refuse(io, [unknownDevice(key!, known)], options.json);
    const code = await sign(rig, options, io, [ended]);
    if (code === ANSWERED && ended === own) await replaceKey(rig.folder, device.value.name);
    if (code === ANSWERED && !options.json)
      io.out(`What is signed with the key ${fingerprint(ended)} from now on does not count.\n`);
    return code;
  });
}

async function rename(name: string, options: WriteOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const plain = name.trim();
    if (plain === '' || plain.length > 80)
      return refuse(
        io,
        [
          {
            code: 'cli.device-name',
            what: 'This is no name for a device',
            expected: 'up to 80 characters, such as “Kitchen laptop”',
          },
        ],
        options.json,
      );
    const device = await renameDevice(rig.folder, plain);
    if (!device.ok) return refuse(io, device.problems, options.json);
    if (options.json) writeJson(io, { name: device.value.name, device: publicKeyOf(device.value.secret) });
    else io.out(`This machine signs as “${device.value.name}” from now on.\n`);
    return ANSWERED;
  });
}

async function list(options: RigOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const { devices } = verifyLogbook(rig.whole.entries.values());
    if (options.json) writeJson(io, { devices: devices.map((one) => ({ ...one, code: headCode(one.head) })) });
    else if (devices.length === 0) io.out('No device has signed this logbook yet. Sign it: rigworthy device sign\n');
    else
      for (const one of devices) {
        const until = formatDate(one.last.slice(0, 10));
        io.out(
          `${paragraph(`${one.name} (${fingerprint(one.device)})${one.ended ? ', ended' : ''}: ${one.statements} ${one.statements === 1 ? 'statement' : 'statements'}, the last on ${until}`)}\n    ${headCode(one.head)}\n`,
        );
      }
    return ANSWERED;
  });
}

/** `rigworthy verify [FILE]` and `rigworthy device …`. */
export function addProof(program: Command, io: Io, done: Done): void {
  rigCommand(program, 'verify')
    .description('what the signatures of devices prove about a logbook')
    .argument('[file]', 'JSON lines or a .zip, as export writes them; nothing for your own logbook')
    .option(
      '--head <code>',
      'a code kept elsewhere: nothing before it may be missing',
      (one, all: string[] | undefined) => [...(all ?? []), one],
    )
    .option(
      '--without <key>',
      'leave out what a device says whose key you do not trust; the key as `device list --json` gives it',
      (one, all: string[] | undefined) => [...(all ?? []), one],
    )
    .option('--page <file>', 'write the page that does the same in any browser, to hand on with the logbook')
    .option('--force', 'with --page: replace the file if it is there')
    .action((file: string | undefined, options: VerifyOptions) => done(verify(file, options, io)));
  const device = program.command('device').description('devices that sign the logbook, and this machine’s own key');
  rigCommand(device, 'list')
    .description('which devices have signed, with the code of the last statement of each')
    .action((options: RigOptions) => done(list(options, io)));
  writeOptions(
    rigCommand(device, 'sign').description('sign all that this machine holds, and print the code to keep elsewhere'),
  ).action((options: WriteOptions) => done(withRig(options, io, (rig) => sign(rig, options, io))));
  writeOptions(rigCommand(device, 'name').description('what this machine signs as'))
    .argument('<name>', 'such as “Kitchen laptop”')
    .action((name: string, options: WriteOptions) => done(rename(name, options, io)));
  writeOptions(rigCommand(device, 'lost').description('end the key of a device that was lost or sold'))
    .argument('<key>', 'its key, as `device list` prints it; the first eight digits will do')
    .action((key: string, options: WriteOptions) => done(end(key, options, io)));
  writeOptions(rigCommand(device, 'retire').description('end this machine’s own key, and make a new one')).action(
    (options: WriteOptions) => done(end(undefined, options, io)),
  );
}
