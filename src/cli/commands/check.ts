/** `check`: is everything that is kept whole? `catalog check`: what is legal in the catalog and still looks wrong. */
import type { Command } from 'commander';
import { catalogCheck } from '../../catalog/index.ts';
import { addEntry, admit, disagreements, emptyState, judgeBy } from '../../logbook/index.ts';
import { type Problem, problemText } from '../../problem/index.ts';
import { lastDrill } from '../../store/index.ts';
import { ANSWERED, NOT_RIGHT, withKeeping, writeJson } from '../answer.ts';
import { shippedCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import { type Keeping, logbookOf, type RigOptions, stateOf } from '../keeping.ts';
import { paragraph } from '../view/text.ts';
import { type Done, storeCommand } from './options.ts';
import { copiesFolder } from './recovery.ts';

/** What would not be admitted today, and where two people wrote different things: shown, never settled silently. */
async function oddities({ store, now }: Keeping, rig: string): Promise<Problem[]> {
  const catalog = shippedCatalog();
  const odd: Problem[] = [];
  const book = await logbookOf(store, rig);
  const { entries } = book;
  let state = emptyState(judgeBy(catalog));
  const { aside } = stateOf(book);
  for (const entry of [...entries].sort((a, b) => (a.id < b.id ? -1 : 1))) {
    // What is set aside is told with what can be decided about it.
    if (aside.has(entry.id)) continue;
    odd.push(
      ...admit(state, entry, { catalog, today: now }).map((problem) => ({
        ...problem,
        where: `${rig}, ${entry.id}, ${problem.where ?? ''}`,
      })),
    );
    state = addEntry(state, entry);
  }
  for (const { part, upkeep, entries: both } of disagreements(stateOf(book))) {
    const who = both.map((entry) => entry.by).join(' and ');
    odd.push({
      code: 'check.disagreement',
      what: `${who} wrote down different work on ${both[0]!.on}`,
      where: `${rig}, ${upkeep} of ${part}`,
      next: 'Strike what is wrong; both stand until then.',
    });
  }
  return odd;
}

const unreadTold = (newer: number): string[] =>
  newer === 0
    ? []
    : [
        `${newer === 1 ? '1 entry needs' : `${newer} entries need`} a newer version of this program, and counts for nothing here`,
      ];

/** What cannot be true and counts for nothing until the owner decides. */
async function setAside({ store }: Keeping, rig: string): Promise<Problem[]> {
  const { aside } = stateOf(await logbookOf(store, rig));
  return [...aside.values()].map(({ entry, problems, releasable, decision }) => ({
    code: 'check.set-aside',
    what: `${decision === 'reject' ? 'Rejected' : 'Set aside'}: ${problems.map(({ what }) => what).join('. ')}`,
    where: `${rig}, ${entry.id}, ${entry.kind} of ${entry.on}`,
    next: `${releasable ? `\`rigworthy quarantine release ${entry.id}\` lets it count; ` : ''}\`rigworthy quarantine reject ${entry.id}\` decides that it does not.`,
  }));
}

async function check(options: RigOptions, io: Io): Promise<number> {
  return withKeeping(options, io, async (keeping) => {
    const report = await keeping.store.check();
    const odd: Problem[] = [];
    for (const { rig } of report.ok ? report.rigs : [])
      odd.push(...(await setAside(keeping, rig)), ...(await oddities(keeping, rig)));
    const drill = await lastDrill(copiesFolder(keeping.folder));
    if (options.json) writeJson(io, { ...report, odd, drill: drill ?? null });
    else {
      const lines = report.rigs.map((one) => `${one.rig}: ${one.entries} entries, digest ${one.digest.slice(0, 16)}…`);
      lines.push(`${report.blobs.count} photos and papers, ${report.blobs.bytes.toLocaleString('en-US')} bytes`);
      lines.push(...report.problems.map((problem) => paragraph(problemText(problem), '! ')));
      lines.push(...unreadTold(report.newer));
      lines.push(...odd.map((problem) => paragraph(problemText(problem), '? ')));
      if (drill) lines.push(paragraph(`Restore drill of ${drill.at.slice(0, 10)}: ${drill.what}.`));
      lines.push(report.ok ? 'Everything kept is whole.' : 'Something kept is DAMAGED; see above.');
      io.out(`${lines.join('\n')}\n`);
    }
    return report.ok ? ANSWERED : NOT_RIGHT;
  });
}

async function checkCatalog(options: { json?: boolean }, io: Io): Promise<number> {
  const catalog = shippedCatalog();
  const doubts = catalogCheck(catalog);
  const counts = {
    upkeeps: catalog.upkeeps.size,
    partKinds: catalog.partKinds.size,
    setups: catalog.setups.size,
    mishaps: catalog.mishaps.size,
    kit: catalog.kit.size,
    sources: catalog.sources.size,
  };
  if (options.json) writeJson(io, { ...counts, doubts });
  else {
    io.out(
      `${counts.upkeeps} upkeeps, ${counts.partKinds} kinds of part, ${counts.setups} set-ups, ${counts.mishaps} mishaps, ${counts.kit} kit items, ${counts.sources} sources: every value has its source.\n`,
    );
    io.out(
      doubts.length
        ? `${doubts.map((doubt) => paragraph(`${doubt.code}: ${problemText(doubt)}`, '? ')).join('\n')}\n${doubts.length} to look at.\n`
        : 'Nothing to doubt.\n',
    );
  }
  return doubts.length ? NOT_RIGHT : ANSWERED;
}

/** `rigworthy check` and `rigworthy catalog check`. */
export function addChecks(program: Command, io: Io, done: Done): void {
  storeCommand(program, 'check')
    .description('read everything that is kept, and say whether it is whole')
    .option('--now <date>', 'today, for what cannot have been done yet')
    .action((options: RigOptions) => done(check(options, io)));
  program
    .command('catalog')
    .description('the trade’s knowledge that the program carries')
    .command('check')
    .description('what is legal in the catalog and still looks wrong')
    .option('--json', 'print JSON')
    .action((options: { json?: boolean }) => done(checkCatalog(options, io)));
}
