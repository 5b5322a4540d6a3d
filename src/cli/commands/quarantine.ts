/** `quarantine`: entries that cannot be true and count for nothing, and what the owner decides about them. */
import type { Command } from 'commander';
import { entryWords, quarantineKey, type SetAside, sortRecords } from '../../logbook/index.ts';
import { fail, ok, type Result } from '../../problem/index.ts';
import { ANSWERED, refuse, withRig, writeJson } from '../answer.ts';
import { ownCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import { logbookOf, type OpenRig, type RigOptions } from '../keeping.ts';
import { paragraph } from '../view/text.ts';
import { type WriteOptions, writeDown, writeOptions } from '../writing.ts';
import { type Done, rigCommand } from './options.ts';

type Decision = 'release' | 'reject';

const WORDS: Readonly<Record<Decision, string>> = { release: 'Let it count', reject: 'Reject' };

async function list(options: RigOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const { unread } = await logbookOf(rig.store, rig.rig);
    const { newer, doubtful } = sortRecords(unread.map(({ raw }) => raw));
    const aside = [...rig.whole.aside.values()];
    if (options.json) {
      const told = aside.map(({ entry, problems, releasable, decision }) => ({
        id: entry.id,
        words: wordsOf(rig, entry),
        problems,
        releasable,
        decision: decision ?? null,
      }));
      writeJson(io, { rig: rig.rig, aside: told, newer, unreadable: doubtful });
      return ANSWERED;
    }
    const lines = aside.map((one) => paragraph(`${one.entry.id}  ${wordsOf(rig, one.entry)}. ${whyOf(one)}`));
    for (const { id, problems } of [...newer, ...doubtful])
      lines.push(paragraph(`${id ?? 'no id'}  cannot be read: ${problems.map(({ what }) => what).join('. ')}`));
    io.out(`${lines.join('\n') || 'Nothing is set aside.'}\n`);
    return ANSWERED;
  });
}

const wordsOf = (rig: OpenRig, entry: SetAside['entry']): string =>
  `${entryWords(entry, { state: rig.whole, catalog: ownCatalog(rig) })} (${entry.on}, ${entry.by})`;

function whyOf({ problems, releasable, decision }: SetAside): string {
  const why = problems.map(({ what }) => what).join('. ');
  const decided = decision === 'reject' ? 'Rejected.' : 'Nobody has decided.';
  return `${why}. ${decided}${releasable ? '' : ' It can be rejected, not released.'}`;
}

/** The decision as an entry to write. Problems: `cli.not-set-aside`, `cli.not-releasable`. */
function decisionOf(id: string, decision: Decision, { whole, now }: OpenRig, words: (one: SetAside) => string) {
  const found = whole.aside.get(id);
  if (!found) return notAside(id, [...whole.aside.keys()]);
  if (decision === 'release' && !found.releasable) {
    return fail<Decided>({
      code: 'cli.not-releasable',
      what: `This entry cannot count: ${found.problems.map(({ what }) => what).join('. ')}`,
      where: id,
      next: 'Reject it, and write down what is right.',
    });
  }
  const body = { key: quarantineKey(id), value: decision };
  return ok<Decided>({
    drafts: [{ kind: 'set', on: now, body }],
    understood: `${WORDS[decision]}: ${words(found)}.`,
  });
}

type Decided = Parameters<typeof writeDown>[0];

const notAside = (id: string, known: readonly string[]): Result<Decided> =>
  fail({
    code: 'cli.not-set-aside',
    what: 'No entry of this id is set aside',
    where: id,
    expected: known.join(', ') || 'an entry that is; none is',
  });

async function decide(id: string, decision: Decision, options: WriteOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const decided = decisionOf(id.toUpperCase(), decision, rig, ({ entry }) => wordsOf(rig, entry));
    return decided.ok ? writeDown(decided.value, rig, options, io) : refuse(io, decided.problems, options.json);
  });
}

/** `rigworthy quarantine list`, `rigworthy quarantine release|reject ID` */
export function addQuarantine(program: Command, io: Io, done: Done): void {
  const quarantine = program
    .command('quarantine')
    .description('entries that cannot be true and count for nothing, until you decide');
  rigCommand(quarantine, 'list')
    .description('what is set aside, and why')
    .action((options: RigOptions) => done(list(options, io)));
  for (const decision of ['release', 'reject'] as const)
    writeOptions(rigCommand(quarantine, decision))
      .description(decision === 'release' ? 'let an entry count all the same' : 'decide that it does not count')
      .argument('<id>', 'its id, as `list` tells it')
      .action((id: string, options: WriteOptions) => done(decide(id, decision, options, io)));
}
