/** `strike`: an entry that is wrong no longer counts. It is never erased. */
import type { Command } from 'commander';
import { formatDate } from '../../dates/index.ts';
import { type Draft, type Entry, entryWords } from '../../logbook/index.ts';
import { fail, ok, type Result } from '../../problem/index.ts';
import { refuse, withRig } from '../answer.ts';
import { ownCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import type { OpenRig } from '../keeping.ts';
import { type WriteOptions, writeDown, writeOptions } from '../writing.ts';
import { type Done, rigCommand } from './options.ts';

interface StrikeOptions extends WriteOptions {
  readonly reason?: string;
}

/** What a person wrote last. */
export function newestEntry({ whole }: OpenRig): Entry | undefined {
  return whole.entries.inOrder().findLast((entry) => entry.kind !== 'witness');
}

/**
 * A strike to be confirmed. Problems: `cli.strike-nothing`, `cli.strike-reason`, `cli.struck`; an id that nobody has and a strike
 * that is to be struck are refused when it is written.
 */
export function strikeOf(
  id: string | undefined,
  reason: string | undefined,
  rig: OpenRig,
): Result<{ drafts: readonly Draft[]; understood: string }> {
  if (id === undefined) return fail({ code: 'cli.strike-nothing', what: 'There is no entry to strike' });
  if (!reason?.trim()) {
    return fail({
      code: 'cli.strike-reason',
      what: 'A strike needs its reason',
      expected: 'why the entry is wrong: --reason "misread the gauge", or “strike that - misread the gauge”',
    });
  }
  const { whole, now } = rig;
  const by = [...whole.entries.values()].find((entry) => entry.kind === 'strike' && entry.body.entry === id);
  if (by) {
    return fail({
      code: 'cli.struck',
      what: `This entry was struck on ${formatDate(by.on, 'day')} by ${by.by}`,
      where: id,
    });
  }
  const body = { entry: id, reason: reason.trim() };
  const target = whole.entries.get(id);
  const words = target
    ? `${entryWords(target, { state: whole, catalog: ownCatalog(rig) })} (written by ${target.by} for ${formatDate(target.on)})`
    : id;
  return ok({
    drafts: [{ kind: 'strike', on: now, body }],
    understood: `Strike ${id}: ${words}, because: ${body.reason}.`,
  });
}

async function strike(id: string, options: StrikeOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const struck = strikeOf(id.toUpperCase(), options.reason, rig);
    return struck.ok ? writeDown(struck.value, rig, options, io) : refuse(io, struck.problems, options.json);
  });
}

/** `rigworthy strike ID --reason WHY` */
export function addStrike(program: Command, io: Io, done: Done): void {
  writeOptions(
    rigCommand(program, 'strike').description('strike an entry that is wrong; it is shown struck, never erased'),
  )
    .argument('<id>', 'id of the entry, as `log` told it and `sendoff --why` names it')
    .option('--reason <text>', 'why it is wrong')
    .action((id: string, options: StrikeOptions) => done(strike(id, options, io)));
}
