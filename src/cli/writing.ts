/** Writing down: said first, then asked, then written; all of it or nothing. */
import type { Command } from 'commander';
import { monotonicFactory } from 'ulid';
import { addEntry, admit, type Draft, ENTRY_VERSION, type Entry, readEntry } from '../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import type { Appended } from '../store/index.ts';
import { ANSWERED, REFUSED, refuse, writeJson } from './answer.ts';
import { shippedCatalog } from './catalog.ts';
import type { Io } from './io.ts';
import type { OpenRig, RigOptions } from './keeping.ts';
import { deviceOf, statementsOf } from './signing.ts';
import { paragraph } from './view/text.ts';

export interface WriteOptions extends RigOptions {
  readonly yes?: boolean;
  readonly by?: string;
}

/** The options of everything that writes. */
export function writeOptions(command: Command): Command {
  return command
    .option('--yes', 'write without asking')
    .option('--by <name>', 'who writes (default: the name of the login)');
}

export const writerOf = (options: WriteOptions, io: Io): string =>
  options.by ?? io.env.USER ?? io.env.USERNAME ?? 'owner';

export const NOT_CONFIRMED: Problem = {
  code: 'cli.not-confirmed',
  what: 'Nothing was written: nobody is here to confirm it',
  next: 'If it was understood rightly, run it again with --yes.',
};

/** Drafts that belong together, and where they come from: `line 12`. */
export interface DraftsFrom {
  readonly drafts: readonly Draft[];
  readonly where?: string;
}

/** Drafts as entries of now, every one admitted after the one before it. */
export function entriesOfDrafts(from: readonly DraftsFrom[], rig: OpenRig, by: string, io: Io): Result<Entry[]> {
  const catalog = shippedCatalog();
  const nextId = monotonicFactory(io.random);
  const entries: Entry[] = [];
  const problems: Problem[] = [];
  let state = rig.whole;
  for (const { drafts, where } of from) {
    for (const draft of drafts) {
      const now = io.clock();
      const envelope = { id: nextId(now), rig: rig.rig, at: new Date(now).toISOString(), by, v: ENTRY_VERSION };
      const read = readEntry({ ...envelope, ...draft }, `${draft.kind} of ${draft.on}`);
      const found = read.ok ? admit(state, read.value, { catalog, today: rig.now }) : read.problems;
      problems.push(...found.map((problem) => (where ? { ...problem, where: `${where}, ${problem.where}` } : problem)));
      // What is refused is not there for what comes after: one slip of the pen is told once.
      if (!read.ok || found.length > 0) continue;
      state = addEntry(state, read.value);
      entries.push(read.value);
    }
  }
  const [first, ...more] = problems;
  return first ? fail(first, ...more) : ok(entries);
}

/** Whether a person at the terminal says yes. */
export async function confirmed(options: WriteOptions, io: Io): Promise<boolean> {
  return options.yes === true || /^y(es)?$/i.test((await io.ask!('Write it down? [y/N] ')).trim());
}

/** Nobody can be asked, and nobody said yes beforehand. */
export const mustRefuse = (options: WriteOptions, io: Io): boolean =>
  !options.yes && (options.json === true || !io.ask);

/**
 * Writes entries together with what this machine signs about them: all of it or nothing. The demo's throw-away copy is not signed.
 * Problems: those of `Store.append` and `deviceOf`.
 */
export async function keepSigned(
  rig: OpenRig,
  entries: readonly Entry[],
  { by, via, io }: { by: string; via: string; io: Io },
): Promise<Result<Appended>> {
  if (rig.demo || entries.length === 0) return rig.store.append(entries, { via });
  const device = await deviceOf(rig.folder);
  if (!device.ok) return device;
  const holds = [...rig.whole.entries.values(), ...entries];
  const statements = await statementsOf(device.value, rig.rig, holds, { by, on: rig.now, io });
  return rig.store.append([...entries, ...statements], { via });
}

/** Says what the drafts were understood as, asks, and writes them. `understood`: in words. `cautions` are told to a person first. */
export async function writeDown(
  { drafts, understood, cautions = [] }: { drafts: readonly Draft[]; understood: string; cautions?: readonly string[] },
  rig: OpenRig,
  options: WriteOptions,
  io: Io,
): Promise<number> {
  const by = writerOf(options, io);
  const entries = entriesOfDrafts([{ drafts }], rig, by, io);
  if (!options.json) {
    io.out(`${paragraph(`Understood: ${understood}`)}\n`);
    for (const caution of cautions) io.out(`${paragraph(`Caution: ${caution}`, '  ')}\n`);
  }
  if (!entries.ok) return refuse(io, entries.problems, options.json);
  if (mustRefuse(options, io)) {
    if (options.json) writeJson(io, { understood, entries: entries.value, written: false, problems: [NOT_CONFIRMED] });
    return refuse(io, [NOT_CONFIRMED]);
  }
  if (!(await confirmed(options, io))) {
    io.err('Nothing was written.\n');
    return REFUSED;
  }
  const written = await keepSigned(rig, entries.value, { by, via: by, io });
  if (!written.ok) return refuse(io, written.problems, options.json);
  if (options.json) writeJson(io, { understood, entries: entries.value, written: true });
  else
    io.out(
      `Written, by ${by}: ${entries.value.map((entry) => entry.id).join(' ')}${rig.demo ? ' (in the throw-away copy of the demo)' : ''}\n`,
    );
  return ANSWERED;
}
