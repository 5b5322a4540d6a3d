/** `log "spare 41 psi, 12 C"`: a short sentence, understood, shown, and written when that is confirmed. */
import type { Command } from 'commander';
import { ulid } from 'ulid';
import type { Catalog } from '../../catalog/index.ts';
import { openDesk } from '../../desk/index.ts';
import { addEntry, admit, type Draft, ENTRY_VERSION, type Entry, readEntry, understand } from '../../logbook/index.ts';
import { fail, ok, type Problem, type Result } from '../../problem/index.ts';
import { ANSWERED, REFUSED, refuse, withRig, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { OpenRig, RigOptions } from '../keeping.ts';
import { paragraph } from '../view/text.ts';
import { type Done, rigCommand } from './options.ts';

interface LogOptions extends RigOptions {
  readonly yes?: boolean;
  readonly by?: string;
}

const NOTHING_WRITTEN: Problem = {
  code: 'cli.not-confirmed',
  what: 'Nothing was written: nobody is here to confirm it',
  next: 'If it was understood rightly, run it again with --yes.',
};

/** Drafts as entries of now, every one admitted after the one before it. */
function entriesOfDrafts(
  drafts: readonly Draft[],
  rig: OpenRig,
  catalog: Catalog,
  by: string,
  io: Io,
): Result<Entry[]> {
  const entries: Entry[] = [];
  const problems: Problem[] = [];
  let state = rig.whole;
  for (const draft of drafts) {
    const at = new Date(io.clock()).toISOString();
    const read = readEntry(
      { id: ulid(io.clock(), io.random), rig: rig.rig, at, by, v: ENTRY_VERSION, ...draft },
      `${draft.kind} of ${draft.on}`,
    );
    if (!read.ok) {
      problems.push(...read.problems);
      continue;
    }
    problems.push(...admit(state, read.value, { catalog, today: rig.now }));
    state = addEntry(state, read.value);
    entries.push(read.value);
  }
  const [first, ...more] = problems;
  return first ? fail(first, ...more) : ok(entries);
}

async function log(sentence: string, options: LogOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const by = options.by ?? io.env.USER ?? io.env.USERNAME ?? 'owner';
    const { catalog } = openDesk(rig.whole, shippedCatalog(), { now: rig.now });
    const read = understand(sentence, { state: rig.whole, catalog, today: rig.now, by });
    if (!read.ok) return refuse(io, read.problems, options.json);
    const entries = entriesOfDrafts(read.value.drafts, rig, catalog, by, io);
    if (!entries.ok) {
      if (!options.json) io.out(`${paragraph(`Understood: ${read.value.understood}`)}\n`);
      return refuse(io, entries.problems, options.json);
    }
    if (!options.json) io.out(`${paragraph(`Understood: ${read.value.understood}`)}\n`);
    if (!options.yes && (options.json || !io.ask)) {
      if (options.json)
        writeJson(io, {
          understood: read.value.understood,
          entries: entries.value,
          written: false,
          problems: [NOTHING_WRITTEN],
        });
      return refuse(io, [NOTHING_WRITTEN]);
    }
    if (!options.yes && !/^y(es)?$/i.test((await io.ask!('Write it down? [y/N] ')).trim())) {
      io.err('Nothing was written.\n');
      return REFUSED;
    }
    const written = await rig.store.append(entries.value, { via: by });
    if (!written.ok) return refuse(io, written.problems, options.json);
    if (options.json) writeJson(io, { understood: read.value.understood, entries: entries.value, written: true });
    else
      io.out(
        `Written, by ${by}: ${entries.value.map((entry) => entry.id).join(' ')}${rig.demo ? ' (in the throw-away copy of the demo)' : ''}\n`,
      );
    return ANSWERED;
  });
}

/** `rigworthy log SENTENCE …` */
export function addLog(program: Command, io: Io, done: Done): void {
  rigCommand(program, 'log')
    .description('write down a short sentence, such as "spare 41 psi, 12 C" or "repacked axle 2 at 64,120"')
    .argument('<sentence...>', 'what was done or read')
    .option('--yes', 'write without asking')
    .option('--by <name>', 'who writes (default: the name of the login)')
    .action((words: string[], options: LogOptions) => done(log(words.join(' '), options, io)));
}
